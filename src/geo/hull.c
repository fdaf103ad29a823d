#include "geo/hull.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

static int point_compare(const void *left, const void *right)
{
    const struct point *a = left;
    const struct point *b = right;

    if (a->x != b->x)
        return a->x < b->x ? -1 : 1;
    return (a->y > b->y) - (a->y < b->y);
}

static double cross(struct point o, struct point a, struct point b)
{
    return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}

/* Monotone chain (Andrew 1979): hull has room for twice the points. */
static size_t convex_hull(const struct point *sorted, size_t count, struct point *hull)
{
    size_t size = 0;

    for (size_t k = 0; k < count; k++) {
        while (size >= 2 && cross(hull[size - 2], hull[size - 1], sorted[k]) <= 0)
            size--;
        hull[size++] = sorted[k];
    }
    for (size_t k = count - 1, lower = size + 1; k-- > 0;) {
        while (size >= lower && cross(hull[size - 2], hull[size - 1], sorted[k]) <= 0)
            size--;
        hull[size++] = sorted[k];
    }
    return size > 1 ? size - 1 : size;
}

/* Extents of the hull along a direction and square to it. */
static void extents(const struct point *hull, size_t count, double ux, double uy,
                    double *along, double *across)
{
    double low_u = INFINITY, high_u = -INFINITY, low_v = INFINITY, high_v = -INFINITY;

    for (size_t k = 0; k < count; k++) {
        double u = hull[k].x * ux + hull[k].y * uy;
        double v = hull[k].y * ux - hull[k].x * uy;

        low_u = fmin(low_u, u);
        high_u = fmax(high_u, u);
        low_v = fmin(low_v, v);
        high_v = fmax(high_v, v);
    }
    *along = high_u - low_u;
    *across = high_v - low_v;
}

static double half_turn(double angle)
{
    angle = fmod(angle, 3.14159265358979323846);
    return angle < 0 ? angle + 3.14159265358979323846 : angle;
}

/* Rectangles whose areas differ by less are equally small. Ties are common: every
 * triangle has three. The one with the larger shorter side then stays, which makes the
 * zones that depend on it wider, and not the one that rounding favours. */
static const double same_area = 1e-9;

/* Extents of the hull along its edge k and square to it. */
static void edge_extents(const struct point *hull, size_t count, size_t k, double *along,
                         double *across)
{
    struct point a = hull[k];
    struct point b = hull[k + 1 == count ? 0 : k + 1];
    double length = point_distance(a, b);

    *along = *across = INFINITY;
    if (length > 0)
        extents(hull, count, (b.x - a.x) / length, (b.y - a.y) / length, along, across);
}

static double bearing_of(const struct point *hull, size_t count, size_t k, bool along)
{
    struct point a = hull[k];
    struct point b = hull[k + 1 == count ? 0 : k + 1];
    double angle = atan2(b.y - a.y, b.x - a.x);

    return half_turn(along ? angle : angle + 1.57079632679489662);
}

static void choose(const struct point *hull, size_t count, struct rectangle *out)
{
    double best = INFINITY;
    size_t edge = 0;
    bool is_along = true;

    for (size_t k = 0; k < count; k++) {
        double along = 0;
        double across = 0;
        double area = 0;

        edge_extents(hull, count, k, &along, &across);
        area = along * across;
        if (!isfinite(area) || area > best * (1 + same_area) ||
            (area >= best * (1 - same_area) && fmin(along, across) <= out->shorter))
            continue;
        best = fmin(best, area);
        edge = k;
        is_along = along >= across;
        out->shorter = fmin(along, across);
        out->longer = fmax(along, across);
    }
    if (isfinite(best))
        out->bearing = bearing_of(hull, count, edge, is_along);
}

enum outlay_status smallest_rectangle(struct arena *arena, struct ring ring,
                                      struct rectangle *out)
{
    struct point *points = arena_array(arena, 3 * ring.count + 1, sizeof *points);

    *out = (struct rectangle){0, 0, 0};
    if (!points)
        return OUTLAY_E_MEMORY;
    memcpy(points, ring.points, ring.count * sizeof *points);
    qsort(points, ring.count, sizeof *points, point_compare);
    choose(points + ring.count, convex_hull(points, ring.count, points + ring.count),
           out);
    return OUTLAY_OK;
}
