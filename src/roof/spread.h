#ifndef OUTLAY_ROOF_SPREAD_H
#define OUTLAY_ROOF_SPREAD_H

/**
 * @file roof/spread.h
 * The facet that draws give: how far results may be off for what is known of the inputs.
 * A spread of inputs, not a reliability: how strong the roof really is isn't drawn.
 *
 * Owned: in the building's arena. Missing: NAN.
 */

#include "roof/roof.h"

/** P10 and P90 of the draws. */
struct spread_range {
    double low, high;
};

/** What the inputs move. */
enum driven {
    DRIVEN_FORCE, /**< of the strength-level uplift on the roof, N */
    DRIVEN_COST,  /**< hundredths; NAN where the roof isn't priced */
    DRIVEN_SCORE, /**< of the ranking; NAN where it isn't ranked; of no portfolio */
    DRIVEN_KINDS
};

/** "force", "cost", "score"; NULL past the end. */
const char *driven_name(int kind);

/** How much one input causes of the spread of what is driven. */
struct driver {
    double moved; /**< what is driven, from the input's P10 to its P90 with all others in
                       the middle; of a portfolio without its sign */
    double share; /**< of the variance: one at a time the square of that over the sum of
                       all squares; else Sobol's first-order index; NAN: no spread */
    double error; /**< standard error of the index; NAN: one at a time */
};

struct roof_spread {
    double of[SPREAD_INPUTS]; /**< the spreads that act; 0: none */
    size_t draws;
    struct spread_range height;    /**< of its level, m */
    struct spread_range area;      /**< m2 */
    struct spread_range force;     /**< of the strength-level uplift, N */
    struct spread_range fasteners; /**< by area */
    struct spread_range cost;      /**< hundredths */
    struct spread_range zone_area[ZONE_ROLES];
    struct spread_range uplift[ZONE_ROLES]; /**< strength level, Pa */
    struct spread_range zone_fasteners[ZONE_ROLES];
    double plain_fasteners[ZONE_ROLES]; /**< by area, of the inputs as given */
    double met[ZONE_ROLES]; /**< of the draws in which there is such a zone, the share in
                                 which it is met; NAN: in one it isn't known */
    double area_error;      /**< of areas between exact cuts, at most, as a share */
    struct driver drivers[DRIVEN_KINDS][SPREAD_INPUTS];
    const uint32_t *scores; /**< of each draw, thousandths, 1 more; 0: not ranked */
};

#endif
