#include "geo/shape.h"

#include <math.h>
#include <string.h>

double triangle_area(struct point a, struct point b, struct point c)
{
    return fabs((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)) / 2;
}

double segment_distance(struct point p, struct point a, struct point b)
{
    double dx = b.x - a.x;
    double dy = b.y - a.y;
    double t = ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy);

    t = fmin(1, fmax(0, t)); /* 0 where a and b are one */
    return point_distance(p, (struct point){a.x + t * dx, a.y + t * dy});
}

double region_distance(const struct region *region, struct point p)
{
    double least = INFINITY;

    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++) {
            struct ring ring = region->polygons[i].rings[j];

            for (size_t k = 0, last = ring.count - 1; k < ring.count; last = k++)
                least =
                    fmin(least, segment_distance(p, ring.points[last], ring.points[k]));
        }
    return least;
}

double ring_area(struct ring ring)
{
    double sum = 0;

    /* relative to the first point, so that a ring far from the origin loses nothing */
    for (size_t k = 1; k + 1 < ring.count; k++) {
        struct point o = ring.points[0];
        struct point a = ring.points[k];
        struct point b = ring.points[k + 1];

        sum += (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
    }
    return sum / 2;
}

double ring_length(struct ring ring)
{
    double sum = 0;

    for (size_t k = 0; k < ring.count; k++) {
        struct point a = ring.points[k];
        struct point b = ring.points[k + 1 == ring.count ? 0 : k + 1];

        sum += point_distance(a, b);
    }
    return sum;
}

void ring_reverse(struct ring ring)
{
    for (size_t low = 0, high = ring.count; low + 1 < high; low++) {
        struct point swap = ring.points[low];

        ring.points[low] = ring.points[--high];
        ring.points[high] = swap;
    }
}

double region_area(const struct region *region)
{
    double sum = 0;

    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++)
            sum += ring_area(region->polygons[i].rings[j]);
    return sum;
}

bool ring_holds(struct ring ring, struct point p)
{
    bool odd = false;

    for (size_t k = 0, j = ring.count - 1; k < ring.count; j = k++) {
        struct point a = ring.points[j];
        struct point b = ring.points[k];

        if ((a.y > p.y) != (b.y > p.y) &&
            p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x))
            odd = !odd;
    }
    return odd;
}

bool region_holds(const struct region *region, struct point p)
{
    bool odd = false;

    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++)
            odd ^= ring_holds(region->polygons[i].rings[j], p);
    return odd;
}

size_t region_points(const struct region *region)
{
    size_t sum = 0;

    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++)
            sum += region->polygons[i].rings[j].count;
    return sum;
}

struct box ring_box(struct ring ring)
{
    struct box box = box_empty();

    for (size_t k = 0; k < ring.count; k++)
        box_add(&box, ring.points[k]);
    return box;
}

struct box region_box(const struct region *region)
{
    struct box box = box_empty();

    for (size_t i = 0; i < region->polygon_count; i++) {
        struct ring shell = region->polygons[i].rings[0];

        for (size_t k = 0; k < shell.count; k++)
            box_add(&box, shell.points[k]);
    }
    return box;
}

static enum outlay_status ring_copy(struct arena *arena, struct ring ring,
                                    struct ring *out)
{
    out->count = ring.count;
    out->points = arena_array(arena, ring.count, sizeof *out->points);
    if (!out->points)
        return OUTLAY_E_MEMORY;
    memcpy(out->points, ring.points, ring.count * sizeof *out->points);
    return OUTLAY_OK;
}

static enum outlay_status polygon_copy(struct arena *arena, const struct polygon *polygon,
                                       struct polygon *out)
{
    out->ring_count = polygon->ring_count;
    out->rings = arena_array(arena, polygon->ring_count, sizeof *out->rings);
    if (!out->rings)
        return OUTLAY_E_MEMORY;
    for (size_t j = 0; j < polygon->ring_count; j++)
        if (ring_copy(arena, polygon->rings[j], &out->rings[j]) != OUTLAY_OK)
            return OUTLAY_E_MEMORY;
    return OUTLAY_OK;
}

bool boxes_near(const struct box *a, const struct box *b, double reach)
{
    return a->min_x <= b->max_x + reach && b->min_x <= a->max_x + reach &&
           a->min_y <= b->max_y + reach && b->min_y <= a->max_y + reach;
}

enum outlay_status region_copy(struct arena *arena, const struct region *region,
                               struct region *out)
{
    out->polygon_count = region->polygon_count;
    out->polygons = arena_array(arena, region->polygon_count, sizeof *out->polygons);
    if (!out->polygons)
        return OUTLAY_E_MEMORY;
    for (size_t i = 0; i < region->polygon_count; i++)
        if (polygon_copy(arena, &region->polygons[i], &out->polygons[i]) != OUTLAY_OK)
            return OUTLAY_E_MEMORY;
    return OUTLAY_OK;
}
