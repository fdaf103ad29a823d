#ifndef OUTLAY_SPREAD_RANKS_H
#define OUTLAY_SPREAD_RANKS_H

/**
 * @file spread/ranks.h
 * The ranks of all roofs in one draw, in 16 bytes a roof, so that a million fit.
 *
 * Pure functions; any thread.
 */

#include <stddef.h>
#include <stdint.h>

/** The score of a roof that isn't ranked; its rank is 0. */
#define SCORE_NONE 0

/**
 * Ranks by score, the highest first: 1 + the number of roofs with a higher score, so that
 * equal ones share a rank (1, 2, 2, 4).
 * @param scores   in the units in which the ranking prints them, which is what makes two
 *                 roofs equal; SCORE_NONE for none
 * @param count    at most UINT32_MAX
 * @param scratch  room for count numbers
 * @param[out] ranks  of each roof; may not be `scores`
 */
void ranks_of_scores(const uint32_t *scores, size_t count, uint64_t *scratch,
                     uint32_t *ranks);

#endif
