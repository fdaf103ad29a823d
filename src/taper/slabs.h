#ifndef OUTLAY_TAPER_SLABS_H
#define OUTLAY_TAPER_SLABS_H

/**
 * @file taper/slabs.h
 * A region cut into convex cells: level lines through all vertices cut it into slabs,
 * its edges cut the slabs into trapezoids. Neighbours meet in portals, all of which are
 * level; at its sides a cell ends at the outline. Private to taper/.
 */

#include "geo/shape.h"

/** Where a cell meets one above it or below it. */
struct portal {
    size_t to;
    double from_x, to_x; /**< m; from_x < to_x */
};

enum { BELOW, ABOVE, SIDES };

struct cell {
    struct ring ring;   /**< counter-clockwise, 3 or 4 points */
    double y[SIDES];    /**< its lower and upper level */
    double left[SIDES]; /**< x of its ends there */
    double right[SIDES];
    struct portal *portals[SIDES];
    size_t portal_counts[SIDES];
};

struct slabs {
    struct cell *cells; /**< from below, from the left */
    size_t count;
};

/**
 * Cuts a region. Vertices whose levels differ by less than 0.2 mm get the same.
 * @param region  valid; y of its vertices is moved so
 * @param levels  more levels to cut at, moved likewise
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status slabs_cut(struct arena *arena, struct region *region, double *levels,
                             size_t level_count, struct slabs *out) OUTLAY_MUST_CHECK;

#endif
