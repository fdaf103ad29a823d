#ifndef OUTLAY_RESULTS_OUTCOME_H
#define OUTLAY_RESULTS_OUTCOME_H

/**
 * @file results/outcome.h
 * What is known over all roofs at once: sums, the portfolio's packs, the ranking and the
 * plan. Buildings are added in output order by the thread that puts batches down, the
 * rest follows when all are there.
 *
 * Threads: one at a time.
 */

#include "options/messages.h"
#include "options/settings.h"
#include "order/book.h"
#include "outlay/status.h"
#include "portfolio/groups.h"
#include "portfolio/plan.h"
#include "portfolio/rank.h"
#include "portfolio/rank_draws.h"
#include "spread/sums.h"
#include "write/comparison.h"
#include "write/run_json.h"
#include "write/shown.h"
#include "write/survey_table.h"

struct outcome {
    const struct settings *settings;   /**< borrowed, as the next */
    const struct extent *extent;       /**< of the source, as far as known */
    const struct run_record *record;   /**< borrowed; NULL until all is decided */
    unsigned needs;                    /**< bits NEEDS_... of all files wanted */
    struct portfolio *portfolio;       /**< owned; NULL when nothing is to be decided */
    struct comparison_totals compared; /**< the methods side by side */
    struct order_total *total; /**< owned; NULL unless packs are the portfolio's */
    struct order_book *book;   /**< owned; NULL unless what is ordered follows the plan */
    struct grid *rest[SHOWN_TABLES]; /**< owned; rows without a roof, which stand behind
                                          those of the roofs; NULL: none can be */
    struct surveyed *surveyed; /**< owned; what to check on site; NULL unless needed */
    struct groups *groups; /**< owned; the roofs by a column or by squares; NULL unless
                                these are asked for */
    struct groups *fitted; /**< owned; squares for a page that can't show all roofs; NULL:
                                no page is wanted */
    const struct groups *map;      /**< what such a page maps: either; NULL: all roofs */
    struct ranking made;           /**< owned */
    const struct ranking *ranking; /**< NULL while not made or not wanted */
    struct spread_sums *sums;      /**< owned; of all draws; NULL: nothing is drawn */
    struct rank_draws *drawn;      /**< owned; likewise, and NULL where nothing ranks */
    struct plan *plan;             /**< owned; likewise */
};

/** @param outcome  released by outcome_release() also on failure
 *  @param parts  bits 1u << PART_... of the files wanted @return OUTLAY_E_MEMORY */
enum outlay_status outcome_init(struct outcome *outcome, const struct settings *settings,
                                const struct extent *extent, unsigned parts,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Takes what is needed of a building. @return OUTLAY_E_MEMORY */
enum outlay_status outcome_add(struct outcome *outcome, const struct building *building,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Takes what the draws of some buildings come to; NULL is ignored. */
void outcome_add_draws(struct outcome *outcome, const struct spread_sums *sums);

/** Takes up which roofs of the layer are another one mapped again, unless the settings
 *  bring that from the layer that this one is a part of. @return OUTLAY_E_MEMORY */
enum outlay_status outcome_set_apart(struct outcome *outcome,
                                     const struct duplicate_list *list,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Ranks, sums up by groups, plans and prices the portfolio's packs, once all roofs were
 *  added; asks the report of progress whether to stop.
 *  @return as plan_make() */
enum outlay_status outcome_decide(struct outcome *outcome,
                                  const struct messages *messages,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

/** How many orders are no building's: the plan's visits, or the portfolio's one. */
size_t outcome_order_count(const struct outcome *outcome);

/** Fills a grid with those from one number up to another. @return false when out of
 *  memory, unless the grid tells */
bool outcome_orders(const struct outcome *outcome, size_t from, size_t to,
                    struct grid *grid);

/** Twice is fine. */
void outcome_release(struct outcome *outcome);

#endif
