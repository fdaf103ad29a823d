#ifndef OUTLAY_GEO_ARRANGE_H
#define OUTLAY_GEO_ARRANGE_H

/**
 * @file geo/arrange.h
 * The one set operation of outlay: overlays any rings, asks for each face which label
 * it gets from the winding numbers of up to four layers, and gives back one region a
 * label. Zones, joined roof levels and valid rounding are all made with it.
 *
 *  - Partition: regions of different labels share no area and share their vertices,
 *    since all are cut from the same noded edges.
 *  - Valid: every polygon is valid in the sense of OGC Simple Features.
 *  - Exact: nodes are rounded to a grid; on that grid nothing is approximate. The grid
 *    is 2^-29 of the extent or finer.
 *  - Canonical: the result depends on the rings as sets of edges, not on where a ring
 *    starts or in which order rings come.
 */

#include <stdbool.h>

#include "geo/frame.h"

#define ARRANGE_LAYERS 4

/** A ring and the layer to whose winding numbers it adds: +1 inside when it runs
 *  counter-clockwise, -1 when clockwise; rings may cross themselves and each other. */
struct layer_ring {
    struct ring ring;
    int layer; /**< 0 to ARRANGE_LAYERS - 1 */
};

/** A growing list of rings, in an arena. */
struct layer_rings {
    struct layer_ring *items;
    size_t count;
    size_t capacity;
};

/** Appends a ring, borrowed. @return false when out of memory */
bool layer_rings_add(struct arena *arena, struct layer_rings *rings, struct ring ring,
                     int layer) OUTLAY_MUST_CHECK;

/** Appends all rings of a region. @return false when out of memory */
bool layer_rings_add_region(struct arena *arena, struct layer_rings *rings,
                            const struct region *region, int layer) OUTLAY_MUST_CHECK;

/** Box around all of them. */
struct box layer_rings_box(const struct layer_rings *rings);

/** Label of a face from its winding numbers: 0 to label_count - 1, or -1 for none. */
typedef int face_label(const int winding[ARRANGE_LAYERS], const void *user);

/** Whole numbers of units from an origin. */
struct snap_grid {
    struct point origin;
    double scale;   /**< units in 1 m (or degree) */
    double bearing; /**< of the grid's x axis, radians counter-clockwise from x */
};

/**
 * The finest grid that holds the rings.
 * @param bearing  radians; along the building's walls an overlay is cheapest, since
 *                 boxes around edges are thin. The result is the same but for rounding.
 */
struct snap_grid grid_for(const struct layer_rings *rings, double bearing);

/** What to overlay and how to label the faces. */
struct overlay {
    const struct layer_rings *rings;
    struct snap_grid grid;
    face_label *label;
    const void *user;   /**< handed to label */
    size_t label_count; /**< regions wanted */
    double clearance;   /**< m; 0: not asked for */
    bool clear;         /**< out: no node lies within clearance of an edge that doesn't
                             end there, so that nodes may be moved by nearly half of it
                             and the result stays valid; never said when it isn't so */
};

/**
 * Overlays the rings.
 * @param ctx      its scratch memory is used and reset.
 * @param arena    holds the result.
 * @param[out] out label_count regions.
 * @return OUTLAY_E_MEMORY; OUTLAY_E_GEOMETRY if a ring leaves the grid or noding
 *         doesn't settle
 */
enum outlay_status arrange(struct geo_ctx *ctx, struct arena *arena,
                           struct overlay *overlay, struct region *out,
                           struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Whether the rings, rounded to the grid, meet at shared vertices only, none of their
 * edges collapses, and no layer passes an edge or a vertex twice.
 * @param[out] settled
 * @return OUTLAY_E_MEMORY; OUTLAY_E_GEOMETRY as arrange()
 */
enum outlay_status rings_settled(struct geo_ctx *ctx, const struct layer_rings *rings,
                                 const struct snap_grid *grid, bool *settled,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Label 0 wherever layer 0 winds positively. */
int label_positive(const int winding[ARRANGE_LAYERS], const void *user);

#endif
