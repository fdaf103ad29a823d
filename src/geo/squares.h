#ifndef OUTLAY_GEO_SQUARES_H
#define OUTLAY_GEO_SQUARES_H

/**
 * @file geo/squares.h
 * The globe in squares of one size, which depend on nothing but that size (ours): a place
 * lies in the same square whatever else there is. Rows are of equal latitude, from the
 * south pole. A row is cut into equal columns from 180 W, as many as make squares of it;
 * their number changes only where it would be off by 0.8 %, so that columns run straight
 * through a city. No square lies across the antimeridian.
 *
 * Sides are true to 1 % on the ellipsoid, for squares of up to 50 km and but for the last
 * degree before the poles.
 *
 * Threads: any.
 */

#include "geo/shape.h"

struct square {
    int row, column;
};

/** The square around a place. @param side  m, 1 to 1e6  @param lonlat  degrees */
struct square square_at(double side, struct point lonlat);

/** Its corners, degrees of longitude and latitude. */
struct box square_box(double side, struct square square);

#endif
