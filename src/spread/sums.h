#ifndef OUTLAY_SPREAD_SUMS_H
#define OUTLAY_SPREAD_SUMS_H

/**
 * @file spread/sums.h
 * What all roofs come to in each draw. Roofs are added in the order of the output, so
 * that the sums are the same for any number of threads.
 *
 * Threads: one at a time.
 */

#include <stdbool.h>
#include <stddef.h>

#include "roof/spread.h"

/** What is added up: the zones' areas by enum zone_role, then these. */
enum spread_sum {
    SUM_AREA = ZONE_ROLES, /**< m2, as the zones' */
    SUM_FASTENERS,
    SUM_FORCE, /**< N */
    SUM_COST,  /**< hundredths */
    SPREAD_SUMS
};

/** From so many draws on Sobol's indices are worked out. */
enum { SPREAD_INDEX_DRAWS = 2000 };

struct spread_sums {
    size_t draws;
    double plain[SPREAD_SUMS];                   /**< without any spread */
    size_t roofs[SPREAD_SUMS];                   /**< that tell it */
    double *values[SPREAD_SUMS];                 /**< of each draw */
    bool acts[SPREAD_INPUTS];                    /**< the input has a spread somewhere */
    double moved[DRIVEN_KINDS][SPREAD_INPUTS];   /**< signed: of inputs that all share */
    double squares[DRIVEN_KINDS][SPREAD_INPUTS]; /**< of inputs that buildings or roofs
                                                      have of their own */
    double *other[DRIVEN_KINDS]; /**< of a second set of draws; NULL: too few */
    double *mixed[DRIVEN_KINDS][SPREAD_INPUTS]; /**< of the first, that input from the
                                                     second; likewise */
    /* by spread_sums_settle() */
    struct spread_range ranges[SPREAD_SUMS]; /**< NAN: no roof tells it */
    struct driver drivers[DRIVEN_KINDS][SPREAD_INPUTS];
};

/** All zero. @return owned; NULL when out of memory */
struct spread_sums *spread_sums_new(size_t draws);

/** NULL is ignored. */
void spread_sums_free(struct spread_sums *sums);

void spread_sums_clear(struct spread_sums *sums);

void spread_sums_add(struct spread_sums *to, const struct spread_sums *from);

/** Adds what one input moves: low to high, of the roofs that share its deviate. */
void spread_sums_moved(struct spread_sums *sums, enum driven kind,
                       enum spread_input input, double moved);

/** Fills ranges and drivers, once all roofs are in; the draws are sorted then. */
void spread_sums_settle(struct spread_sums *sums);

#endif
