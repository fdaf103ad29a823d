#ifndef OUTLAY_PORTFOLIO_PROGRAM_SCHEME_H
#define OUTLAY_PORTFOLIO_PROGRAM_SCHEME_H

/**
 * @file portfolio/program_scheme.h
 * A whole answer that is made and improved building by building: each one's best plan in
 * what the others leave of the caps is known exactly where all its visits are priced,
 * since the room of each year is for its visit alone.
 *
 * Threads: as its desk.
 */

#include "portfolio/program_best.h"

struct scheme {
    struct desk *desk;
    struct program_pick *picks; /**< by roof */
    money *costs;               /**< by part and year */
    double *values;             /**< by part */
    money *left;                /**< of the caps, by year */
    double value;               /**< sum; as rounded as sums of doubles are */
    double weight;              /**< of values: 0 where only the excess counts */
    struct program_pick *plan, *kept_picks;
    money *plan_costs, *room, *kept_costs; /* of a part */
    double *kept_values, *tolls;
    struct rank *order;
};

/** @return whether there was memory */
bool scheme_make(struct scheme *scheme, struct desk *desk, struct arena *arena);

void scheme_copy(struct scheme *to, const struct scheme *from);

/** Takes given picks; false where windows, must or together don't hold. */
bool scheme_take(struct scheme *scheme, const struct program_pick *picks);

/** Sum over years of what exceeds the caps. */
money scheme_excess(const struct scheme *scheme);

/** Less excess, or the same and less value. */
bool scheme_better(const struct scheme *a, const struct scheme *b);

/** A new answer from tolls: buildings go in by what they gain for what they take of the
 *  caps, then again while that betters it. @return false where one has no plan */
bool scheme_fill(struct scheme *scheme, const double *toll);

/** Takes some buildings out and puts them back another way, while watch->steps are below
 *  an amount and the value (or the excess, where only that counts) is above another. */
void scheme_shake(struct scheme *scheme, const double *toll, double steps, double enough);

#endif
