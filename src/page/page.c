#include "page/page.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "page/page_private.h"
#include "write/tables.h"

int page_entry_order(const struct page_entry *a, const struct page_entry *b)
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

static void entry_free(struct page_entry *entry)
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
    const struct grid_sheet *sheet = NULL;

    if (!page)
        return NULL;
    page->set = set;
    page->most = most;
    page->class_width = columns_units(set) == UNITS_SI ? 250 : 5 * PA_PER_PSF;
    page->heap = calloc(most, sizeof *page->heap);
    page->sheets = arena_new();
    if (page->sheets && (sheet = summary_sheet(page->sheets)) != NULL)
        page->summary = grid_new(sheet, set);
    page->facts = grid_new(&page_facts_sheet, set);
    if (page->heap && page->summary && page->facts)
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
    grid_free(page->summary);
    arena_free(page->sheets);
    free(page);
}

/* ---- The roofs that are kept --------------------------------------------------- */

/* Lets the entry at `at` sink until both below it are shown before it. */
static void sink_down(struct page_entry **heap, size_t count, size_t at)
{
    struct page_entry *entry = heap[at];
    size_t below;

    while ((below = 2 * at + 1) < count) {
        if (below + 1 < count && page_entry_order(heap[below + 1], heap[below]) > 0)
            below++;
        if (page_entry_order(entry, heap[below]) >= 0)
            break;
        heap[at] = heap[below];
        at = below;
    }
    heap[at] = entry;
}

static void rise(struct page_entry **heap, size_t at)
{
    struct page_entry *entry = heap[at];

    while (at > 0 && page_entry_order(entry, heap[(at - 1) / 2]) > 0) {
        heap[at] = heap[(at - 1) / 2];
        at = (at - 1) / 2;
    }
    heap[at] = entry;
}

static void keep(struct page *page, struct page_entry *entry)
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

static struct page_entry *entry_new(struct page *page, const struct building *building,
                                    const struct roof *roof, const struct page_entry *key)
{
    struct page_entry *entry = calloc(1, sizeof *entry);

    if (!entry)
        return NULL;
    *entry = *key;
    entry->id = calloc(1, strlen(roof->id) + 1);
    entry->json = TEXT_INIT;
    if (entry->id) {
        memcpy(entry->id, roof->id, strlen(roof->id));
        page_roof_json(&entry->json, page, building, roof);
        if (!entry->json.failed)
            return entry;
    }
    entry_free(entry);
    return NULL;
}

static void count_exposure(struct page *page, double exposure, double area)
{
    size_t class = PAGE_CLASSES - 1;

    if (!(exposure >= 0))
        return;
    if (exposure < PAGE_CLASSES * page->class_width)
        class = (size_t)(exposure / page->class_width);
    page->roofs[class]++;
    page->areas[class] += area;
}

static enum outlay_status add_roof(struct page *page, const struct building *building,
                                   const struct roof *roof, struct outlay_error *err)
{
    double exposure = roof_exposure(roof);
    struct page_entry key = {.exposure = isfinite(exposure) ? exposure : -1,
                             .area = roof->whole ? roof->area : 0,
                             .position = roof->position,
                             .id = (char *)roof->id};

    count_exposure(page, exposure, key.area);
    if (page->count == page->most && page_entry_order(&key, page->heap[0]) > 0)
        return OUTLAY_OK;
    struct page_entry *entry = entry_new(page, building, roof, &key);
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
