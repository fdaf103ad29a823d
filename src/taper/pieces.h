#ifndef OUTLAY_TAPER_PIECES_H
#define OUTLAY_TAPER_PIECES_H

/**
 * @file taper/pieces.h
 * A partition of the roof into convex pieces on which all is linear. Private to taper/.
 */

#include "taper/plane.h"

struct piece {
    struct ring ring;      /**< counter-clockwise */
    struct plane distance; /**< from a drain, m; at is INFINITY where none reaches */
    struct plane cricket;  /**< what a cricket adds to it, m; 0 where none lies */
    size_t source;
};

/** A growing list in an arena. */
struct pieces {
    struct piece *items;
    size_t count, capacity;
};

/** Where all planes are 0 or more. */
struct bounds {
    struct plane planes[5];
    size_t count;
};

static inline void bound(struct bounds *bounds, struct plane plane)
{
    bounds->planes[bounds->count++] = plane;
}

/** @return OUTLAY_E_MEMORY */
enum outlay_status pieces_put(struct arena *arena, struct pieces *pieces,
                              struct piece piece) OUTLAY_MUST_CHECK;

/** What of a convex ring lies within the bounds; empty for nothing.
 *  @return OUTLAY_E_MEMORY */
enum outlay_status bounds_cut(struct arena *arena, const struct bounds *bounds,
                              struct ring *ring) OUTLAY_MUST_CHECK;

/** Cuts a piece down to what lies within the bounds; the rest of it becomes pieces of
 *  their own, behind all others. @return OUTLAY_E_MEMORY */
enum outlay_status pieces_carve(struct arena *arena, struct pieces *pieces, size_t place,
                                const struct bounds *bounds) OUTLAY_MUST_CHECK;

#endif
