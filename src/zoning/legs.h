#ifndef OUTLAY_ZONING_LEGS_H
#define OUTLAY_ZONING_LEGS_H

/**
 * @file zoning/legs.h
 * Corner zones along a regularised boundary.
 *
 * A leg starts at a corner vertex, runs along the boundary through bends under 30
 * degrees and ends at its length, at the next corner or where the boundary bends by
 * more. What lies within its depth, square to the boundary, inside the outline is the
 * leg; two legs a corner. Legs are made a millimetre too long where they end at a
 * corner and reach past the boundary, so that no sliver is left beside it: they are
 * always cut with the outline.
 */

#include "geo/arrange.h"
#include "geo/outline.h"
#include "standard/standard.h"

struct leg_ring {
    const struct thin_ring *thin;  /**< borrowed */
    const enum vertex_kind *kinds; /**< borrowed; one a vertex */
    bool reentrant_corners;        /**< re-entrant vertices start legs too */
};

/** Whether legs start at vertex k. */
bool is_corner_vertex(const struct leg_ring *ring, size_t k);

/**
 * Appends the corner zones of a ring as rings of one layer: inside where it winds
 * positively.
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status legs_add(struct arena *arena, const struct leg_ring *ring,
                            const struct zone_figure *figure, struct layer_rings *out,
                            int layer) OUTLAY_MUST_CHECK;

#endif
