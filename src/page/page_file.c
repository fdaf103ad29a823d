/* The page as a file: the template around its data. */

#include <stdlib.h>
#include <string.h>

#include "page/page_private.h"
#include "roof/edges.h"
#include "write/ranking.h"

static void put_pair(struct text *out, const char *name, const char *value)
{
    text_printf(out, ",\n\"%s\":", name);
    text_json(out, value);
}

static void put_units(struct text *out, const struct write_settings *set)
{
    text_printf(out, ",\n\"units\":{\"length\":\"%s\",\"area\":\"%s\",",
                set->units->length.suffix, set->units->area.suffix);
    text_printf(out, "\"pressure\":\"%s\",\"currency\":", set->units->pressure.suffix);
    text_json(out, set->currency);
    text_putc(out, '}');
}

static void put_totals(struct text *out, const struct totals *totals,
                       const struct write_settings *set)
{
    text_printf(out, ",\n\"totals\":{\"roofs\":%zu,\"zoned\":%zu,\"buildings\":%zu",
                totals->roofs, totals->zoned, totals->buildings);
    text_puts(out, ",\"area\":");
    text_fixed(out, totals->area / set->units->area.factor,
               columns_units(set) == UNITS_SI ? 2 : 1);
    text_puts(out, ",\"states\":{");
    for (int i = STATE_UNKNOWN; i <= STATE_NOT_MET; i++)
        text_printf(out, "%s\"%s\":%zu", i ? "," : "", zone_state_name(i),
                    totals->states[i]);
    text_puts(out, "}}");
}

/* What is estimated and assumed, in words. */
static void put_reasons(struct text *out, const struct unit_system *units)
{
    text_puts(out, ",\n\"reasons\":{");
    for (int i = 0; i < ESTIMATES; i++) {
        text_puts(out, i ? ",\n" : "\n");
        text_json(out, estimate_name(i));
        text_putc(out, ':');
        units_choose_json(out, estimate_reason(i), units);
    }
    for (int i = 0; i < ASSUMPTIONS; i++) {
        text_puts(out, ",\n");
        text_json(out, assumption_name(i));
        text_putc(out, ':');
        units_choose_json(out, assumption_reason(i), units);
    }
    text_putc(out, '}');
}

/* By what an edge's kind is known, in words. */
static void put_sources(struct text *out)
{
    text_puts(out, ",\n\"sources\":{");
    for (int i = 0; i <= EDGE_ASSUMED; i++) {
        text_puts(out, i ? "," : "");
        text_json(out, edge_source_name(i));
        text_putc(out, ':');
        text_json(out, edge_source_reason(i));
    }
    text_putc(out, '}');
}

static void put_distribution(struct text *out, const struct page *page)
{
    const struct unit_system *units = page->set->units;

    text_puts(out, ",\n\"distribution\":{\"width\":");
    text_number(out, page->class_width / units->pressure.factor, 3);
    text_puts(out, ",\"roofs\":[");
    for (size_t i = 0; i < PAGE_CLASSES; i++)
        text_printf(out, "%s%zu", i ? "," : "", page->roofs[i]);
    text_puts(out, "],\"area\":[");
    for (size_t i = 0; i < PAGE_CLASSES; i++) {
        text_puts(out, i ? "," : "");
        text_fixed(out, page->areas[i] / units->area.factor, 0);
    }
    text_puts(out, "]}");
}

static void put_columns(struct text *out, const struct page *page)
{
    text_puts(out, ",\n\"columns\":");
    grid_json_names(out, page->summary);
    text_puts(out, ",\n\"facts\":");
    grid_json_names(out, page->facts);
    text_puts(out, ",\n\"methods\":");
    grid_json_names(out, page->methods);
}

/* How many roofs of each group are shown: half the room each, and what one leaves. */
static void share_room(const struct page *page, size_t shown[PAGE_GROUPS])
{
    size_t rated = page->groups[PAGE_RATED].count;
    size_t others = page->groups[PAGE_OTHERS].count;
    size_t most = page->groups[PAGE_RATED].most;
    size_t room = most / 2;

    if (others < most - room)
        room = most - others;
    shown[PAGE_RATED] = rated < room ? rated : room;
    room = most - shown[PAGE_RATED];
    shown[PAGE_OTHERS] = others < room ? others : room;
}

static void put_roofs(struct text *out, const struct page *page,
                      const size_t shown[PAGE_GROUPS])
{
    const char *before = "\n";

    text_puts(out, ",\n\"roofs\":[");
    for (int i = 0; i < PAGE_GROUPS; i++) {
        const struct best *group = &page->groups[i];

        for (size_t k = 0; k < shown[i]; k++, before = ",\n") {
            const struct page_entry *entry = group->items[k];

            text_puts(out, before);
            text_append(out, entry->json.data, entry->json.length);
        }
    }
    text_puts(out, "\n]");
}

/* Rows of the ranking for the roofs as they were put, and how they come about. */
static void put_ranking(struct text *out, const struct page *page,
                        const struct ranking *ranking, const size_t shown[PAGE_GROUPS])
{
    struct grid *grid = grid_new(&ranking_sheet, page->set);
    struct text formula = TEXT_INIT;

    if (!grid) {
        out->failed = true;
        return;
    }
    for (int i = 0; i < PAGE_GROUPS; i++)
        for (size_t k = 0; k < shown[i]; k++) {
            const struct page_entry *entry = page->groups[i].items[k];

            ranking_row(grid, ranking, ranking->places[entry->index], page->set);
        }
    ranking_formula(&formula, ranking, page->set);
    text_printf(out, ",\n\"by\":\"%s\",\n\"groups\":{",
                rank_by_name((int)ranking->settings->by));
    for (int i = 0; i < RANK_GROUPS; i++)
        text_printf(out, "%s\"%s\":%zu", i ? "," : "", rank_group_name(i),
                    ranking->counts[i]);
    text_putc(out, '}');
    put_pair(out, "formula", formula.data);
    text_puts(out, ",\n\"ranking\":");
    grid_json(out, grid);
    out->failed = out->failed || formula.failed;
    text_release(&formula);
    grid_free(grid);
}

static void put_grids(struct text *out, const struct page_content *content)
{
    text_puts(out, ",\n\"grids\":[");
    for (size_t i = 0; i < content->grid_count; i++) {
        text_puts(out, i ? ",\n" : "\n");
        grid_json(out, content->grids[i]);
    }
    text_puts(out, "\n]");
}

static void put_data(struct text *out, struct page *page,
                     const struct page_content *content)
{
    size_t shown[PAGE_GROUPS];

    page_settle(page, content->ranking);
    share_room(page, shown);
    text_puts(out, "{\"version\":\"" OUTLAY_VERSION "\"");
    put_pair(out, "title", content->title);
    put_pair(out, "standard", page->set->standard->title);
    put_units(out, page->set);
    put_totals(out, content->totals, page->set);
    text_printf(out, ",\n\"most\":%zu", page->groups[PAGE_RATED].most);
    put_reasons(out, page->set->units);
    put_sources(out);
    put_distribution(out, page);
    put_columns(out, page);
    put_roofs(out, page, shown);
    put_ranking(out, page, content->ranking, shown);
    if (content->groups)
        page_groups_json(out, page, content->groups, content->ranking, shown);
    if (content->plan)
        page_plan_json(out, page, content->plan, shown);
    put_grids(out, content);
    text_puts(out, "}\n");
}

/* Appends JSON as the content of a script element: `<` stands in strings only. */
static void put_inert(struct text *out, const struct text *json)
{
    const char *rest = json->data ? json->data : "";

    for (const char *at; (at = strchr(rest, '<')) != NULL; rest = at + 1) {
        text_append(out, rest, (size_t)(at - rest));
        text_puts(out, "\\u003c");
    }
    text_puts(out, rest);
    out->failed = out->failed || json->failed;
}

/* Appends our own plain text as HTML. */
static void put_html(struct text *out, const char *plain)
{
    for (; *plain; plain++) {
        if (*plain == '<')
            text_puts(out, "&lt;");
        else if (*plain == '&')
            text_puts(out, "&amp;");
        else
            text_putc(out, *plain);
    }
}

static const char *put_until(struct text *out, const char *from, const char *mark)
{
    const char *at = strstr(from, mark);

    text_append(out, from, (size_t)(at - from));
    return at + strlen(mark);
}

void page_print(struct page *page, const struct page_content *content, struct text *out)
{
    struct text data = TEXT_INIT;
    struct text caution = TEXT_INIT;
    const char *rest = page_template;

    grid_caution(&caution, page->set, true);
    put_data(&data, page, content);
    rest = put_until(out, rest, "<!--caution-->");
    put_html(out, caution.data ? caution.data : "");
    rest = put_until(out, rest, "<!--data-->");
    put_inert(out, &data);
    text_puts(out, rest);
    out->failed = out->failed || caution.failed;
    text_release(&caution);
    text_release(&data);
}
