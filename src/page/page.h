#ifndef OUTLAY_PAGE_PAGE_H
#define OUTLAY_PAGE_PAGE_H

/**
 * @file page/page.h
 * The portfolio page: one HTML file that holds its data, style and script, asks the
 * network for nothing and opens from a mail attachment.
 *
 *     struct page *page = page_new(&set, &rank_settings, PAGE_ROOFS);
 *     for each building, in output order, once the portfolio has its roofs
 *         status = page_add(page, building, portfolio, err);
 *     page_print(page, &content, &out);
 *     page_free(page);
 *
 * It shows the first roofs of each group of the ranking, at most as many as it was given
 * in all, and says how many there are. Only these are in memory, so a million roofs may
 * pass; which they are doesn't depend on the order in which they do.
 *
 * Data go into the page as JSON inside a script element that is never run. No `<` is in
 * it but as \\u003c, so no text from the input can end the element or begin another.
 *
 * Threads: one per page.
 */

#include <stddef.h>

#include "base/text.h"
#include "outlay/status.h"
#include "portfolio/groups.h"
#include "portfolio/plan.h"
#include "portfolio/rank.h"
#include "roof/roof.h"
#include "write/grid.h"
#include "write/write.h"

/** Roofs that a page shows (ours): it opens in under two seconds. */
#define PAGE_ROOFS 2000

/** Squares or districts that its map shows at most where there are more roofs. */
#define PAGE_AREAS 2000

struct page;

/** What stands on the page beside its roofs. Borrowed. */
struct page_content {
    const char *title;             /**< of the portfolio, as people call it */
    const struct totals *totals;   /**< over all roofs */
    const struct ranking *ranking; /**< of all roofs that were added */
    const struct groups *groups;   /**< of all roofs, for the map; NULL: it shows roofs */
    const struct plan *plan;       /**< of the same roofs; NULL for none */
    const struct grid *const *grids; /**< tables of the portfolio that the page draws */
    size_t grid_count;
};

/** An empty page for at most `most` roofs (at least 1). The settings are borrowed.
 *  @return owned, NULL when out of memory */
struct page *page_new(const struct write_settings *set,
                      const struct rank_settings *rank_settings, size_t most);

/** NULL is ignored. */
void page_free(struct page *page);

/**
 * Looks at the building's roofs and keeps what may be shown; the building may go
 * afterwards.
 * @param portfolio  the building's roofs are its last ones; stays until page_free()
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status page_add(struct page *page, const struct building *building,
                            const struct portfolio *portfolio,
                            struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Appends the whole page: the roofs with a rating, then the others, by their ranks. */
void page_print(struct page *page, const struct page_content *content, struct text *out);

#endif
