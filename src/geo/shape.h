#ifndef OUTLAY_GEO_SHAPE_H
#define OUTLAY_GEO_SHAPE_H

/**
 * @file geo/shape.h
 * Plane shapes as plain data. They live in an arena, are never freed one by one, and
 * know no library, so they cross threads and rooms freely.
 *
 *  - A ring is open: its last point is joined to its first, which isn't repeated.
 *  - In a region that geo/ made, shells run counter-clockwise and holes clockwise, so
 *    the inside is on the left of every edge.
 *  - Unit: metres (easting, northing) in a frame of geo/frame.h, or degrees
 *    (longitude, latitude) where a field says so.
 */

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#include "base/arena.h"
#include "outlay/status.h"

struct point {
    double x;
    double y;
};

struct ring {
    struct point *points;
    size_t count; /**< at least 3 */
};

struct polygon {
    struct ring *rings; /**< the shell, then its holes */
    size_t ring_count;  /**< at least 1 */
};

/** Polygons that share no area; none at all is an ordinary, empty region. */
struct region {
    struct polygon *polygons;
    size_t polygon_count;
};

struct box {
    double min_x, min_y, max_x, max_y;
};

/** A box around nothing yet. */
static inline struct box box_empty(void)
{
    return (struct box){INFINITY, INFINITY, -INFINITY, -INFINITY};
}

/** Widens a box to hold a point. Not by fmin(), which is a call; a NAN widens nothing
 *  either way. */
static inline void box_add(struct box *box, struct point p)
{
    box->min_x = p.x < box->min_x ? p.x : box->min_x;
    box->min_y = p.y < box->min_y ? p.y : box->min_y;
    box->max_x = p.x > box->max_x ? p.x : box->max_x;
    box->max_y = p.y > box->max_y ? p.y : box->max_y;
}

/** Distance between two points. Not hypot(): no frame comes near an overflow. */
static inline double point_distance(struct point a, struct point b)
{
    return sqrt((b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y));
}

/** The place at a share t of the way from a to b. */
static inline struct point point_between(struct point a, struct point b, double t)
{
    return (struct point){a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
}

/** Area of a triangle, whichever way it turns. */
double triangle_area(struct point a, struct point b, struct point c);

/** Distance from a point to a segment from a to b. */
double segment_distance(struct point p, struct point a, struct point b);

/** Distance from a point to the boundary of a region; INFINITY when it is empty. */
double region_distance(const struct region *region, struct point p);

/** Signed area, m2: positive for a counter-clockwise ring. */
double ring_area(struct ring ring);

/** Length of the closed ring, m. */
double ring_length(struct ring ring);

/** Turns the order of a ring's points round, in place. */
void ring_reverse(struct ring ring);

/** Area, m2: shells less holes. 0 for an empty region. */
double region_area(const struct region *region);

/** Whether a point lies in a ring or region; on its boundary it may go either way. */
bool ring_holds(struct ring ring, struct point p);
bool region_holds(const struct region *region, struct point p);

/** Number of points in all rings. */
size_t region_points(const struct region *region);

/** Smallest box around the region; inverted (min > max) when it is empty. */
struct box region_box(const struct region *region);

/** Box around a ring; empty for one without points. */
struct box ring_box(struct ring ring);

/** Whether no more than reach, m, lies between two boxes, in x and in y. */
bool boxes_near(const struct box *a, const struct box *b, double reach);

/** A deep copy in arena. @return OUTLAY_E_MEMORY */
enum outlay_status region_copy(struct arena *arena, const struct region *region,
                               struct region *out) OUTLAY_MUST_CHECK;

#endif
