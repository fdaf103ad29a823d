#ifndef OUTLAY_SAMPLE_MASK_H
#define OUTLAY_SAMPLE_MASK_H

/**
 * @file sample/mask.h
 * Which pixels of a window belong to an outline: those whose centres lie inside
 * (even-odd, so that the direction of rings doesn't matter), and those within a distance
 * of its edges. Plane and exact: no library, no rounding of the outline.
 *
 * Coordinates are pixels of the window: the centre of the first pixel is (0.5, 0.5).
 */

#include <stdbool.h>

#include "geo/shape.h"

enum mask_bit {
    MASK_INSIDE = 1, /**< the centre lies in the outline */
    MASK_EDGE = 2,   /**< it is within 1 m of an edge */
    MASK_AROUND = 4  /**< it is within the reach of the ring */
};

struct mask {
    int width, height;
    unsigned char *bits; /**< of enum mask_bit, row by row; starts all 0 */
    double metres[4];    /**< east of a column, of a row; north of a column, of a row */
};

/** Sets MASK_INSIDE. @param arena  scratch. @return false when out of memory */
bool mask_inside(struct mask *mask, const struct region *outline,
                 struct arena *arena) OUTLAY_MUST_CHECK;

/** Sets a bit in each pixel whose centre is nearer than distance, m, to an edge. */
void mask_near(struct mask *mask, const struct region *outline, double distance,
               enum mask_bit bit);

/** A way of columns and rows in metres, east and north. */
struct point mask_metres(const struct mask *mask, double cols, double rows);

/** From a pixel's centre to the nearest edge of the outline, m. */
double mask_edge_distance(const struct mask *mask, const struct region *outline, int col,
                          int row);

/** From the metres of pixels to the pixels of metres (columns of a metre east and north,
 *  rows of them), or back. @return false where there is no inverse */
bool scale_invert(const double from[4], double to[4]) OUTLAY_MUST_CHECK;

#endif
