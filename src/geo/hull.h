#ifndef OUTLAY_GEO_HULL_H
#define OUTLAY_GEO_HULL_H

/** @file geo/hull.h  The convex hull, and the smallest rectangle around an outline. */

#include "geo/frame.h"

/**
 * The convex hull of points, counter-clockwise, by the monotone chain (Andrew 1979).
 * Cost: n log n.
 * @param points     sorted afterwards
 * @param[out] hull  room for twice the points
 * @return points of the hull; under 3 where all lie on a line
 */
size_t convex_hull(struct point *points, size_t count, struct point *hull);

struct rectangle {
    double shorter; /**< m */
    double longer;  /**< m */
    double bearing; /**< of the longer side, radians counter-clockwise from east, in
                         [0, pi) */
};

/**
 * The rectangle of least area around a ring, at any angle: one of its sides lies on an
 * edge of the convex hull (Freeman and Shapira, "Determining the minimum-area encasing
 * rectangle for an arbitrary closed curve", Comm. ACM 18, 1975). Of rectangles that are
 * equally small, the one with the larger shorter side.
 * Cost: n log n.
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status smallest_rectangle(struct arena *arena, struct ring ring,
                                      struct rectangle *out) OUTLAY_MUST_CHECK;

#endif
