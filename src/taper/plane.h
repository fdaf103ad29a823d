#ifndef OUTLAY_TAPER_PLANE_H
#define OUTLAY_TAPER_PLANE_H

/**
 * @file taper/plane.h
 * Linear functions over convex polygons: cutting along them, integrals of them.
 * Private to taper/.
 */

#include "geo/shape.h"

/** A linear function of the plane: value at p = at + x p.x + y p.y. */
struct plane {
    double at, x, y;
};

static inline double plane_at(struct plane plane, struct point p)
{
    return plane.at + plane.x * p.x + plane.y * p.y;
}

static inline struct plane plane_minus(struct plane a, struct plane b)
{
    return (struct plane){a.at - b.at, a.x - b.x, a.y - b.y};
}

static inline struct plane plane_turned(struct plane plane)
{
    return (struct plane){-plane.at, -plane.x, -plane.y};
}

/** The greatest value in a ring's corners; -INFINITY for an empty ring. */
double plane_most(struct plane plane, struct ring ring);

/**
 * The part of a convex ring where a plane is 0 or more. Corners within 1e-9 of 0 lie on
 * the line, so that both parts of a cut share them.
 * @param[out] out  in arena, or the ring itself where nothing is cut; empty where less
 *                  than 1e-12 m2 is left
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status convex_cut(struct arena *arena, struct ring ring, struct plane side,
                              struct ring *out) OUTLAY_MUST_CHECK;

/** Integral of the plane over the convex ring. */
double plane_integral(struct plane plane, struct ring ring);

#endif
