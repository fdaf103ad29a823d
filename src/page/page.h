#ifndef OUTLAY_PAGE_PAGE_H
#define OUTLAY_PAGE_PAGE_H

/**
 * @file page/page.h
 * The portfolio page: one HTML file that holds its data, style and script, asks the
 * network for nothing and opens from a mail attachment.
 *
 *     struct page *page = page_new(&set, PAGE_ROOFS);
 *     for each building, in output order
 *         status = page_add(page, building, err);
 *     page_print(page, &content, &out);
 *     page_free(page);
 *
 * It shows the most exposed roofs, at most as many as it was told, and says how many
 * there are. Only these are in memory, so a million roofs may pass. Which they are and
 * how they are ordered depends on the roofs alone: by exposure pressure, then area, then
 * id, then their place in the input.
 *
 * Data go into the page as JSON inside a script element that is never run. No `<` is in
 * it but as \\u003c, so no text from the input can end the element or begin another.
 *
 * Threads: one a page.
 */

#include <stddef.h>

#include "base/text.h"
#include "outlay/status.h"
#include "roof/roof.h"
#include "write/grid.h"
#include "write/write.h"

/** Roofs that a page shows (ours): it opens in under two seconds. */
#define PAGE_ROOFS 2000

struct page;

/** What stands on the page beside its roofs. Borrowed. */
struct page_content {
    const char *title;               /**< of the portfolio, as people call it */
    const struct totals *totals;     /**< over all roofs */
    const struct grid *const *grids; /**< tables of the portfolio that the page draws */
    size_t grid_count;
};

/** An empty page for at most `most` roofs (at least 1). set is borrowed.
 *  @return owned, NULL when out of memory */
struct page *page_new(const struct write_settings *set, size_t most);

/** NULL is ignored. */
void page_free(struct page *page);

/** Looks at the building's roofs and keeps what may be shown; the building may go
 *  afterwards. @return OUTLAY_E_MEMORY */
enum outlay_status page_add(struct page *page, const struct building *building,
                            struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Appends the whole page, the most exposed roof first. */
void page_print(struct page *page, const struct page_content *content, struct text *out);

#endif
