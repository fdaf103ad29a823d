#ifndef OUTLAY_SURROUNDINGS_TOPOGRAPHIC_H
#define OUTLAY_SURROUNDINGS_TOPOGRAPHIC_H

/**
 * @file surroundings/topographic.h
 * The topographic factor Kzt = (1 + K1 K2 K3)^2 of ASCE 7-10 to 7-22, sec. 26.8 and
 * Fig. 26.8-1 (all figures from memory), from profiles of the ground in 16 directions:
 *
 *     K1 = k (H / Lh), K2 = max(0, 1 - |x| / (m Lh)), K3 = exp(-g z / Lh)
 *
 *                                k in B, C, D     m upwind  downwind  g
 *     ridge                      1.30 1.45 1.55       1.5    1.5     3
 *     escarpment                 0.75 0.85 0.95       1.5    4       2.5
 *     axisymmetric hill          0.95 1.05 1.15       1.5    1.5     4
 *
 * H is the height of the crest above the ground upwind, Lh how far upwind of the crest
 * the ground lies half as high, x the distance from the crest, z the roof's height above
 * the ground at the building. Where H / Lh > 0.5 it counts as 0.5, and Lh as 2 H.
 *
 * It acts (sec. 26.8.1) where the crest stands alone: over 100 H or 2 miles upwind,
 * whichever is less, the ground beyond reaches half of H at most; the building lies in
 * the upper half of the hill; H / Lh >= 0.2; and H is at least 15 ft in C and D, 60 ft
 * in B. Elsewhere Kzt is 1.
 *
 * How the terms of the figure are read from a profile is ours: upwind ground is the
 * lowest between crest and the end of the search; it is an escarpment where the ground
 * behind the crest stays above half of H for 2 Lh, and a hill where it falls below half
 * of H within 2 Lh to both sides of the wind too, else a ridge. A crest beside which the
 * ground is higher by more than a fifth of H is the flank of another hill and no crest.
 * Where a slope of 1 in 10 or more ends in ground that rises more gently, its brow is a
 * crest, if the ground behind neither falls below it nor rises by more than a fifth of H
 * within 2 Lh.
 *
 * Threads: any.
 */

#include <stdbool.h>

#include "base/text.h"
#include "base/units.h"
#include "roof/roof.h"

/** The ground around a building. */
struct terrain {
    /** Elevation, m; NAN where it is missing. @param x, y  m east and north of the
     *  building's middle */
    double (*at)(const void *context, double x, double y);
    const void *context;
    double step; /**< between samples of a profile, m; about a cell of the terrain */
};

enum hill_shape { HILL_RIDGE, HILL_ESCARPMENT, HILL_AXISYMMETRIC, HILL_SHAPES };

/** "ridge", "escarpment", "axisymmetric hill". */
const char *hill_shape_name(int value);

/** A crest in the wind. */
struct hill {
    enum hill_shape shape;
    double height; /**< H, m */
    double length; /**< Lh as measured, m */
    double offset; /**< x, m; below 0 upwind of the crest */
    double k1, k2, k3;
    double bearing; /**< that the wind comes from, degrees clockwise from north */
};

enum { TOPOGRAPHIC_DIRECTIONS = 16 };

struct topographic_finding {
    bool known;          /**< the ground at the building is; else nothing is found */
    double factor;       /**< Kzt of the worst direction, at least 1 */
    bool hilly;          /**< the section's conditions hold in one */
    struct hill hill;    /**< that one; of no meaning where it isn't hilly */
    bool whole;          /**< no ground was missing over the distances looked at */
    double least_height; /**< H from which on a hill counts, m */
};

/** How far from the building ground is looked at, m: 2 miles beyond a crest that is up
 *  to 2 miles away. */
#define TOPOGRAPHIC_REACH (4 * 1609.344)

/** Kzt of a hill whose shape, height, length and offset are given; fills k1, k2, k3.
 *  1 where H / Lh < 0.2. @param z  of the roof above the ground, m */
double hill_factor(struct hill *hill, enum exposure exposure, double z);

/**
 * @param exposure  B, C or D
 * @param z         mean roof height, m
 */
void topographic_find(const struct terrain *terrain, enum exposure exposure, double z,
                      struct topographic_finding *out);

/** Appends what acts and how. */
void topographic_explain(struct text *out, const struct topographic_finding *finding,
                         const struct unit_system *units);

#endif
