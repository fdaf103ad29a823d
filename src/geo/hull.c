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

size_t convex_hull(struct point *points, size_t count, struct point *hull)
{
    size_t size = 0;

    qsort(points, count, sizeof *points, point_compare);
    for (size_t k = 0; k < count; k++) {
        while (size >= 2 && cross(hull[size - 2], hull[size - 1], points[k]) <= 0)
            size--;
        hull[size++] = points[k];
    }
    for (size_t k = count - 1, lower = size + 1; k-- > 0;) {
        while (size >= lower && cross(hull[size - 2], hull[size - 1], points[k]) <= 0)
            size--;
        hull[size++] = points[k];
    }
    return size > 1 ? size - 1 : size;
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

/* Points of the hull that touch the rectangle on an edge: farthest ahead, across and
 * behind. From edge to edge they only move on, so all edges together cost one turn. */
struct calipers {
    const struct point *hull;
    size_t count;
    size_t ahead;
    size_t across;
    size_t behind;
};

/* Not by a remainder: divisions are the dear part of a step. */
static struct point hull_at(const struct calipers *c, size_t k)
{
    while (k >= c->count)
        k -= c->count;
    return c->hull[k];
}

/* How far the step from point k to the next leads along u. */
static double step_along(const struct calipers *c, size_t k, struct point u)
{
    struct point a = hull_at(c, k);
    struct point b = hull_at(c, k + 1);

    return (b.x - a.x) * u.x + (b.y - a.y) * u.y;
}

static size_t larger(size_t a, size_t b)
{
    return a > b ? a : b;
}

/* Extents of the hull along its edge k and square to it. */
static void edge_extents(struct calipers *c, size_t k, double *along, double *across)
{
    struct point a = hull_at(c, k);
    struct point b = hull_at(c, k + 1);
    double length = point_distance(a, b);
    struct point u = {(b.x - a.x) / length, (b.y - a.y) / length};
    struct point left = {-u.y, u.x};
    struct point back = {-u.x, -u.y};
    struct point far;
    struct point end;

    *along = *across = INFINITY;
    if (length == 0)
        return;
    c->ahead = larger(c->ahead, k + 1);
    while (c->ahead < k + c->count && step_along(c, c->ahead, u) > 0)
        c->ahead++;
    c->across = larger(c->across, c->ahead);
    while (c->across < k + c->count && step_along(c, c->across, left) > 0)
        c->across++;
    c->behind = larger(c->behind, c->across);
    while (c->behind < k + c->count && step_along(c, c->behind, back) > 0)
        c->behind++;
    far = hull_at(c, c->ahead);
    end = hull_at(c, c->behind);
    *along = (far.x - end.x) * u.x + (far.y - end.y) * u.y;
    far = hull_at(c, c->across);
    *across = (far.x - a.x) * left.x + (far.y - a.y) * left.y;
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
    struct calipers calipers = {hull, count, 0, 0, 0};
    double best = INFINITY;
    size_t edge = 0;
    bool is_along = true;

    for (size_t k = 0; k < count; k++) {
        double along = 0;
        double across = 0;
        double area = 0;

        edge_extents(&calipers, k, &along, &across);
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
    choose(points + ring.count, convex_hull(points, ring.count, points + ring.count),
           out);
    return OUTLAY_OK;
}
