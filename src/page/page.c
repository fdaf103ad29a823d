#include "page/page.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "page/page_private.h"

/* Classes of the distribution of exposure pressures; the last one is open. */
#define CLASSES 64

/* One roof that may be shown, ready to be printed. */
struct entry {
    double exposure; /* Pa; -1 while unknown, below all others */
    double area;
    size_t position;
    char *id;         /* owned */
    struct text json; /* owned */
};

struct page {
    const struct write_settings *set;
    struct entry **heap; /* owned; the least of all on top */
    size_t count, most;
    struct grid *facts; /* owned; one row at a time */
    double class_width; /* Pa */
    size_t roofs[CLASSES];
    double areas[CLASSES];
};

/* Negative: a is shown before b. Total, so that the page doesn't depend on threads. */
static int entry_order(const struct entry *a, const struct entry *b)
{
    int by_id;

    if (a->exposure != b->exposure)
        return a->exposure > b->exposure ? -1 : 1;
    if (a->area != b->area)
        return a->area > b->area ? -1 : 1;
    by_id = strcmp(a->id, b->id);
    if (by_id)
        return by_id;
    return a->position < b->position ? -1 : a->position > b->position;
}

static void entry_free(struct entry *entry)
{
    if (!entry)
        return;
    free(entry->id);
    text_release(&entry->json);
    free(entry);
}

struct page *page_new(const struct write_settings *set, size_t most)
{
    struct page *page = calloc(1, sizeof *page);

    if (!page)
        return NULL;
    page->set = set;
    page->most = most;
    page->class_width = columns_units(set) == UNITS_SI ? 250 : 5 * PA_PER_PSF;
    page->heap = calloc(most, sizeof *page->heap);
    page->facts = grid_new(&page_facts_sheet, set);
    if (page->heap && page->facts)
        return page;
    page_free(page);
    return NULL;
}

void page_free(struct page *page)
{
    if (!page)
        return;
    for (size_t i = 0; i < page->count; i++)
        entry_free(page->heap[i]);
    free(page->heap);
    grid_free(page->facts);
    free(page);
}

/* ---- The roofs that are kept --------------------------------------------------- */

/* Lets the entry at `at` sink until both below it are shown before it. */
static void sink_down(struct entry **heap, size_t count, size_t at)
{
    struct entry *entry = heap[at];
    size_t below;

    while ((below = 2 * at + 1) < count) {
        if (below + 1 < count && entry_order(heap[below + 1], heap[below]) > 0)
            below++;
        if (entry_order(entry, heap[below]) >= 0)
            break;
        heap[at] = heap[below];
        at = below;
    }
    heap[at] = entry;
}

static void rise(struct entry **heap, size_t at)
{
    struct entry *entry = heap[at];

    while (at > 0 && entry_order(entry, heap[(at - 1) / 2]) > 0) {
        heap[at] = heap[(at - 1) / 2];
        at = (at - 1) / 2;
    }
    heap[at] = entry;
}

static void keep(struct page *page, struct entry *entry)
{
    if (page->count < page->most) {
        page->heap[page->count] = entry;
        rise(page->heap, page->count++);
        return;
    }
    entry_free(page->heap[0]);
    page->heap[0] = entry;
    sink_down(page->heap, page->count, 0);
}

static struct entry *entry_new(struct page *page, const struct building *building,
                               const struct roof *roof, const struct entry *key)
{
    struct entry *entry = calloc(1, sizeof *entry);

    if (!entry)
        return NULL;
    *entry = *key;
    entry->id = calloc(1, strlen(roof->id) + 1);
    entry->json = TEXT_INIT;
    if (entry->id) {
        memcpy(entry->id, roof->id, strlen(roof->id));
        grid_clear(page->facts);
        page_facts_row(page->facts, roof);
        page_roof_json(&entry->json, building, roof, page->set, page->facts);
        if (!entry->json.failed)
            return entry;
    }
    entry_free(entry);
    return NULL;
}

static void count_exposure(struct page *page, double exposure, double area)
{
    size_t class = CLASSES - 1;

    if (!(exposure >= 0))
        return;
    if (exposure < CLASSES * page->class_width)
        class = (size_t)(exposure / page->class_width);
    page->roofs[class]++;
    page->areas[class] += area;
}

static enum outlay_status add_roof(struct page *page, const struct building *building,
                                   const struct roof *roof, struct outlay_error *err)
{
    double exposure = roof_exposure(roof);
    struct entry key = {.exposure = isfinite(exposure) ? exposure : -1,
                        .area = roof->whole ? roof->area : 0,
                        .position = roof->position,
                        .id = (char *)roof->id};

    count_exposure(page, exposure, key.area);
    if (page->count == page->most && entry_order(&key, page->heap[0]) > 0)
        return OUTLAY_OK;
    struct entry *entry = entry_new(page, building, roof, &key);
    if (!entry)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    keep(page, entry);
    return OUTLAY_OK;
}

enum outlay_status page_add(struct page *page, const struct building *building,
                            struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = 0; status == OUTLAY_OK && i < building->roof_count; i++)
        status = add_roof(page, building, &building->roofs[i], err);
    return status;
}

/* ---- The file ------------------------------------------------------------------- */

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
    text_fixed(out, totals->area / set->units->area.factor, 0);
    text_puts(out, ",\"states\":{");
    for (int i = STATE_UNKNOWN; i <= STATE_NOT_MET; i++)
        text_printf(out, "%s\"%s\":%zu", i ? "," : "", zone_state_name(i),
                    totals->states[i]);
    text_puts(out, "}}");
}

/* What is estimated and assumed, in words. */
static void put_reasons(struct text *out)
{
    text_puts(out, ",\n\"reasons\":{");
    for (int i = 0; i < ESTIMATES; i++) {
        text_puts(out, i ? ",\n" : "\n");
        text_json(out, estimate_name(i));
        text_putc(out, ':');
        text_json(out, estimate_reason(i));
    }
    for (int i = 0; i < ASSUMPTIONS; i++) {
        text_puts(out, ",\n");
        text_json(out, assumption_name(i));
        text_putc(out, ':');
        text_json(out, assumption_reason(i));
    }
    text_putc(out, '}');
}

static void put_distribution(struct text *out, const struct page *page)
{
    const struct unit_system *units = page->set->units;

    text_puts(out, ",\n\"distribution\":{\"width\":");
    text_number(out, page->class_width / units->pressure.factor, 3);
    text_puts(out, ",\"roofs\":[");
    for (size_t i = 0; i < CLASSES; i++)
        text_printf(out, "%s%zu", i ? "," : "", page->roofs[i]);
    text_puts(out, "],\"area\":[");
    for (size_t i = 0; i < CLASSES; i++) {
        text_puts(out, i ? "," : "");
        text_fixed(out, page->areas[i] / units->area.factor, 0);
    }
    text_puts(out, "]}");
}

static void put_columns(struct text *out, const struct page *page)
{
    int units = columns_units(page->set);

    text_puts(out, ",\n\"columns\":[");
    for (size_t i = 0; i < roof_column_count; i++) {
        text_puts(out, i ? ",\"" : "\"");
        column_name(out, &roof_columns[i], units);
        text_putc(out, '"');
    }
    text_puts(out, "],\n\"facts\":");
    grid_json_names(out, page->facts);
}

static int by_order(const void *a, const void *b)
{
    return entry_order(*(struct entry *const *)a, *(struct entry *const *)b);
}

static void put_roofs(struct text *out, struct page *page)
{
    if (page->count)
        qsort(page->heap, page->count, sizeof *page->heap, by_order);
    text_puts(out, ",\n\"roofs\":[");
    for (size_t i = 0; i < page->count; i++) {
        text_puts(out, i ? ",\n" : "\n");
        text_append(out, page->heap[i]->json.data, page->heap[i]->json.length);
    }
    text_puts(out, "\n]");
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
    text_puts(out, "{\"version\":\"" OUTLAY_VERSION "\"");
    put_pair(out, "title", content->title);
    put_pair(out, "standard", page->set->standard->title);
    put_units(out, page->set);
    put_totals(out, content->totals, page->set);
    text_printf(out, ",\n\"most\":%zu", page->most);
    put_reasons(out);
    put_distribution(out, page);
    put_columns(out, page);
    put_roofs(out, page);
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
