#include "page/page.h"

#include <math.h>
#include <stdlib.h>

#include "page/page_private.h"
#include "write/tables.h"

int page_entry_order(const void *left, const void *right)
{
    const struct page_entry *a = left;
    const struct page_entry *b = right;
    int order = ranked_compare(&a->ranked, &b->ranked);

    if (order)
        return order;
    return a->position < b->position ? -1 : a->position > b->position;
}

struct page *page_new(const struct write_settings *set,
                      const struct rank_settings *rank_settings, size_t most)
{
    struct page *page = calloc(1, sizeof *page);
    const struct grid_sheet *sheet = NULL;
    bool whole = true;

    if (!page)
        return NULL;
    page->set = set;
    page->rank_settings = rank_settings;
    page->class_width = columns_units(set) == UNITS_SI ? 250 : 5 * PA_PER_PSF;
    for (int i = 0; i < PAGE_GROUPS; i++)
        whole = best_open(&page->groups[i], most, page_entry_order) && whole;
    page->sheets = arena_new();
    if (page->sheets && (sheet = summary_sheet(page->sheets)) != NULL)
        page->summary = grid_new(sheet, set);
    page->facts = grid_new(&page_facts_sheet, set);
    page->methods = grid_new(&page_methods_sheet, set);
    if (whole && page->summary && page->facts && page->methods)
        return page;
    page_free(page);
    return NULL;
}

static void entry_free(struct page_entry *entry)
{
    if (!entry)
        return;
    text_release(&entry->json);
    free(entry);
}

void page_free(struct page *page)
{
    if (!page)
        return;
    for (int i = 0; i < PAGE_GROUPS; i++) {
        for (size_t k = 0; k < page->groups[i].count; k++)
            entry_free(page->groups[i].items[k]);
        best_close(&page->groups[i]);
    }
    grid_free(page->methods);
    grid_free(page->facts);
    grid_free(page->summary);
    arena_free(page->sheets);
    free(page);
}

/* ---- The roofs that are kept --------------------------------------------------- */

static void count_exposure(struct page *page, const struct portfolio_roof *roof)
{
    double exposure = roof->worst < ZONE_ROLES ? (double)roof->uplift[roof->worst] : NAN;
    size_t class = PAGE_CLASSES - 1;

    if (!(exposure >= 0))
        return;
    if (exposure < PAGE_CLASSES * page->class_width)
        class = (size_t)(exposure / page->class_width);
    page->roofs[class]++;
    page->areas[class] += roof->area;
}

static enum outlay_status add_roof(struct page *page, const struct building *building,
                                   const struct roof *roof,
                                   const struct portfolio *portfolio, size_t index,
                                   struct outlay_error *err)
{
    const struct portfolio_roof *record = portfolio_roof(portfolio, index);
    struct page_entry key = {.ranked = ranked_of(record, page->rank_settings),
                             .index = index,
                             .position = roof->position,
                             .json = TEXT_INIT};
    struct best *group =
        &page->groups[key.ranked.group == RANK_RATED ? PAGE_RATED : PAGE_OTHERS];
    struct page_entry *entry = NULL;

    if (key.ranked.group != RANK_APART)
        count_exposure(page, record);
    if (!best_wants(group, &key))
        return OUTLAY_OK;
    entry = malloc(sizeof *entry);
    if (!entry)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    *entry = key;
    entry->roof = *record;
    entry->ranked.roof = &entry->roof;
    page_roof_json(&entry->json, page, building, roof);
    if (entry->json.failed) {
        entry_free(entry);
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    }
    entry_free(best_keep(group, entry));
    return OUTLAY_OK;
}

enum outlay_status page_add(struct page *page, const struct building *building,
                            const struct portfolio *portfolio, struct outlay_error *err)
{
    size_t first = portfolio_count(portfolio) - building->roof_count;
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = 0; status == OUTLAY_OK && i < building->roof_count; i++)
        status = add_roof(page, building, &building->roofs[i], portfolio, first + i, err);
    return status;
}

/* ---- The ranking that all roofs have at the end --------------------------------- */

/* Takes the roofs that turned out to be apart from a group; where not all roofs are
 * shown, they aren't. */
static void put_apart(struct page *page, struct best *group,
                      const struct ranking *ranking)
{
    struct best *others = &page->groups[PAGE_OTHERS];
    bool cut = group->count == group->most || others->count == others->most;
    size_t kept = 0;

    for (size_t i = 0; i < group->count; i++) {
        struct page_entry *entry = group->items[i];
        bool stays = group == others && !cut;

        stays = stays || entry->ranked.group == RANK_APART;
        entry->ranked = ranking->rows[ranking->places[entry->index]];
        if (stays || entry->ranked.group != RANK_APART)
            group->items[kept++] = entry;
        else if (cut)
            entry_free(entry);
        else
            others->items[others->count++] = entry;
    }
    group->count = kept;
}

static int by_order(const void *a, const void *b)
{
    return page_entry_order(*(void *const *)a, *(void *const *)b);
}

void page_settle(struct page *page, const struct ranking *ranking)
{
    for (int i = PAGE_GROUPS - 1; i >= 0; i--)
        put_apart(page, &page->groups[i], ranking);
    for (int i = 0; i < PAGE_GROUPS; i++)
        if (page->groups[i].count)
            qsort(page->groups[i].items, page->groups[i].count,
                  sizeof *page->groups[i].items, by_order);
}
