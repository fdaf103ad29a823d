#ifndef OUTLAY_PORTFOLIO_RANK_DRAWS_H
#define OUTLAY_PORTFOLIO_RANK_DRAWS_H

/**
 * @file portfolio/rank_draws.h
 * The ranks of all roofs in each draw. Scores wait in a temporary file without a name, in
 * blocks of some roofs, each draw of a block in one piece: memory is one block and 16
 * bytes a roof, whatever the number of draws.
 *
 * Threads: one at a time.
 */

#include "portfolio/rank.h"
#include "roof/spread.h"

/** What the draws say of a roof's rank among those of its group. */
struct drawn_rank {
    float low, high; /**< P10 and P90; NAN: not ranked */
    float first;     /**< share of the draws in which it is among the first ones */
};

struct rank_draws;

/** @param first  ranks up to this one count as among the first @param[out] out  owned
 *  @return OUTLAY_E_MEMORY, OUTLAY_E_OUTPUT (no temporary file) */
enum outlay_status rank_draws_new(size_t draws, uint32_t first, struct rank_draws **out,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

/** NULL is ignored. */
void rank_draws_free(struct rank_draws *ranks);

/** Takes a building's scores, in the portfolio's order.
 *  @return OUTLAY_E_OUTPUT: the temporary file can't be written */
enum outlay_status rank_draws_add(struct rank_draws *ranks,
                                  const struct building *building,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Ranks every draw, once all roofs are in: those of a group among themselves, whose group
 * is that of the ranking.
 * @return OUTLAY_E_MEMORY, OUTLAY_E_OUTPUT
 */
enum outlay_status rank_draws_settle(struct rank_draws *ranks,
                                     const struct ranking *ranking,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Of a roof by its number in the portfolio, after that. */
struct drawn_rank rank_draws_of(const struct rank_draws *ranks, size_t roof);

/** Up to which rank a roof is among the first. */
uint32_t rank_draws_first(const struct rank_draws *ranks);

#endif
