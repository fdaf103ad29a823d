/* A typical corner of the roof, and its zones dimensioned on the plan. */

#include <math.h>

#include "draw/plan_page.h"

/* Turns under these are no corner, and run on, radians (ours: 45 and 2 degrees). */
#define CORNER_LEAST 0.785
#define STRAIGHT 0.035
#define SQUARE 0.0175

/* A corner zone begins at a vertex that is nearer, m. */
#define NEAR 0.05

static struct point direction(struct point from, struct point to)
{
    double length = point_distance(from, to);
    return (struct point){(to.x - from.x) / length, (to.y - from.y) / length};
}

/* Left turns are positive. */
static double turn_at(const struct ring *ring, size_t k)
{
    struct point a = ring->points[(k + ring->count - 1) % ring->count];
    struct point b = ring->points[k], c = ring->points[(k + 1) % ring->count];
    struct point u = direction(a, b), v = direction(b, c);
    return atan2(u.x * v.y - u.y * v.x, u.x * v.x + u.y * v.y);
}

/* Where the straight line from a vertex ends. Turns are summed, since an arc that is
 * traced finely has none that counts alone. @param step  1, or count - 1 for back */
static struct point end_of(const struct ring *ring, size_t from, size_t step)
{
    size_t k = (from + step) % ring->count;
    double turned = turn_at(ring, k);
    while (k != from && fabs(turned) < STRAIGHT) {
        k = (k + step) % ring->count;
        turned += turn_at(ring, k);
    }
    return ring->points[k];
}

static bool begins_zone(const struct roof *roof, struct point at)
{
    for (size_t i = 0; i < roof->zone_count; i++) {
        const struct region *region = &roof->zones[i].region;
        for (size_t k = 0;
             roof->zones[i].role == ZONE_CORNER && k < region->polygon_count; k++) {
            struct ring ring = region->polygons[k].rings[0];
            for (size_t j = 0; j < ring.count; j++)
                if (point_distance(ring.points[j], at) < NEAR)
                    return true;
        }
    }
    return false;
}

static bool is_better(const struct corner *corner, const struct corner *than)
{
    if (corner->zoned != than->zoned)
        return corner->zoned;
    if (corner->square != than->square)
        return corner->square;
    /* Near ties go to the first, so that dust doesn't decide. */
    return fmin(corner->length, corner->back_length) >
           fmin(than->length, than->back_length) + 0.01;
}

bool corner_find(const struct roof *roof, struct corner *out)
{
    const double most = acos(-1) - CORNER_LEAST;
    bool found = false;
    for (size_t i = 0; i < roof->outline.polygon_count; i++) {
        const struct ring *ring = &roof->outline.polygons[i].rings[0];
        for (size_t k = 0; k < ring->count; k++) {
            double turn = turn_at(ring, k);
            if (turn < CORNER_LEAST || turn > most)
                continue;
            struct point at = ring->points[k], next = end_of(ring, k, 1);
            struct point last = end_of(ring, k, ring->count - 1);
            struct corner corner = {.at = at,
                                    .back = direction(at, last),
                                    .on = direction(at, next),
                                    .back_length = point_distance(at, last),
                                    .length = point_distance(at, next),
                                    .zoned = begins_zone(roof, at),
                                    .square = fabs(turn - acos(0)) < SQUARE};
            if (!(fmin(corner.back_length, corner.length) > 0))
                continue;
            if (!found || is_better(&corner, out))
                *out = corner;
            found = true;
        }
    }
    return found;
}

/* A stretch of the outline, in its order. */
static bool put_stretch(struct plan_page *page, struct point from, struct point to)
{
    figure_length(plan_scratch(page), point_distance(from, to), page->set);
    return dimension_draw(page, plan_point(page, from), plan_point(page, to), NEAR_LINE,
                          plan_text(page));
}

bool corner_dimension(struct plan_page *page, const struct corner *corner)
{
    const struct level *level = &page->roof->level;
    double perimeter = level->perimeter_depth, field = level->field_depth;
    double leg = level->leg_length;
    /* Elsewhere widths aren't lengths of the other edge. */
    bool all = corner->square;
    /* From the far one on: a text that is wider than its strip stands behind it. */
    if (corner->square && field > perimeter && field < corner->length)
        all &= put_stretch(page, point_along(corner->at, corner->on, perimeter),
                           point_along(corner->at, corner->on, field));
    if (corner->square && perimeter < corner->length)
        all &=
            put_stretch(page, corner->at, point_along(corner->at, corner->on, perimeter));
    if (corner->zoned && leg < corner->back_length)
        all &= put_stretch(page, point_along(corner->at, corner->back, leg), corner->at);
    return all;
}
