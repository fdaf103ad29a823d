#include "taper/slabs.h"

#include <stdlib.h>

#include "base/grow.h"
#include "base/number.h"

/* Levels that differ by less are one, m. */
static const double same_level = 2e-4;

/* Portals that are narrower let nothing through, m. */
static const double narrow = 1e-9;

struct work {
    struct arena *arena;
    const struct region *region;
    double *levels;
    size_t level_count;
    size_t capacity; /* of out->cells */
    struct slabs *out;
};

/* ---- Levels ---- */

/* The next point of all rings; NULL past the last. */
static struct point *next_point(const struct region *region, size_t place[3])
{
    while (place[0] < region->polygon_count) {
        const struct polygon *polygon = &region->polygons[place[0]];

        if (place[1] == polygon->ring_count) {
            place[0]++;
            place[1] = 0;
        } else if (place[2] == polygon->rings[place[1]].count) {
            place[1]++;
            place[2] = 0;
        } else {
            return &polygon->rings[place[1]].points[place[2]++];
        }
    }
    return NULL;
}

/* The level that a value belongs to: the last one not above it. */
static double level_of(const struct work *w, double y)
{
    size_t low = 0;
    size_t high = w->level_count;

    while (high - low > 1) {
        size_t middle = (low + high) / 2;

        if (w->levels[middle] <= y)
            low = middle;
        else
            high = middle;
    }
    return w->levels[low];
}

static enum outlay_status find_levels(struct work *w, double *more, size_t more_count)
{
    size_t place[3] = {0, 0, 0};
    size_t count = 0;

    w->levels =
        arena_array(w->arena, region_points(w->region) + more_count, sizeof *w->levels);
    if (!w->levels)
        return OUTLAY_E_MEMORY;
    for (const struct point *p; (p = next_point(w->region, place));)
        w->levels[count++] = p->y;
    for (size_t i = 0; i < more_count; i++)
        w->levels[count++] = more[i];
    numbers_sort(w->levels, count);
    for (size_t i = 0; i < count; i++)
        if (i == 0 || w->levels[i] - w->levels[w->level_count - 1] > same_level)
            w->levels[w->level_count++] = w->levels[i];
    for (size_t k = 0; k < 3; k++)
        place[k] = 0;
    for (struct point *p; (p = next_point(w->region, place));)
        p->y = level_of(w, p->y);
    for (size_t i = 0; i < more_count; i++)
        more[i] = level_of(w, more[i]);
    return OUTLAY_OK;
}

/* ---- Trapezoids ---- */

/* An edge of the outline that crosses a slab: where it does at both levels. */
struct crossing {
    double x[SIDES];
};

static double x_at(struct point a, struct point b, double y)
{
    if (y == a.y)
        return a.x;
    if (y == b.y)
        return b.x;
    return a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x);
}

static int by_middle(const void *a, const void *b)
{
    const struct crossing *p = a;
    const struct crossing *q = b;
    double x = p->x[BELOW] + p->x[ABOVE];
    double y = q->x[BELOW] + q->x[ABOVE];

    return (x > y) - (x < y);
}

static size_t find_crossings(const struct work *w, const double y[SIDES],
                             struct crossing *out)
{
    size_t count = 0;

    for (size_t i = 0; i < w->region->polygon_count; i++)
        for (size_t r = 0; r < w->region->polygons[i].ring_count; r++) {
            struct ring ring = w->region->polygons[i].rings[r];

            for (size_t k = 0; k < ring.count; k++) {
                struct point a = ring.points[k];
                struct point b = ring.points[(k + 1) % ring.count];

                if (fmin(a.y, b.y) <= y[BELOW] && fmax(a.y, b.y) >= y[ABOVE])
                    out[count++] =
                        (struct crossing){{x_at(a, b, y[BELOW]), x_at(a, b, y[ABOVE])}};
            }
        }
    qsort(out, count, sizeof *out, by_middle);
    return count;
}

static enum outlay_status add_cell(struct work *w, const double y[SIDES],
                                   const struct crossing *left,
                                   const struct crossing *right)
{
    struct slabs *out = w->out;
    struct cell *cells =
        grow_in(w->arena, out->cells, out->count, 1, &w->capacity, sizeof *cells);
    struct point *points = arena_array(w->arena, 4, sizeof *points);
    struct cell *cell = NULL;

    if (!cells || !points)
        return OUTLAY_E_MEMORY;
    out->cells = cells;
    cell = &cells[out->count++];
    *cell = (struct cell){.ring = {points, 0}};
    for (int side = 0; side < SIDES; side++) {
        cell->y[side] = y[side];
        cell->left[side] = left->x[side];
        cell->right[side] = fmax(left->x[side], right->x[side]);
    }
    points[cell->ring.count++] = (struct point){cell->left[BELOW], y[BELOW]};
    if (cell->right[BELOW] > cell->left[BELOW])
        points[cell->ring.count++] = (struct point){cell->right[BELOW], y[BELOW]};
    points[cell->ring.count++] = (struct point){cell->right[ABOVE], y[ABOVE]};
    if (cell->right[ABOVE] > cell->left[ABOVE])
        points[cell->ring.count++] = (struct point){cell->left[ABOVE], y[ABOVE]};
    if (cell->ring.count < 3)
        out->count--;
    return OUTLAY_OK;
}

/* ---- Portals ---- */

static enum outlay_status add_portal(struct arena *arena, struct cell *cell, int side,
                                     size_t most, struct portal portal)
{
    if (!cell->portals[side])
        cell->portals[side] = arena_array(arena, most, sizeof *cell->portals[side]);
    if (!cell->portals[side])
        return OUTLAY_E_MEMORY;
    cell->portals[side][cell->portal_counts[side]++] = portal;
    return OUTLAY_OK;
}

/* Joins the cells of a slab, from `begin` to `end`, with those of the slab below it. */
static enum outlay_status join(struct work *w, size_t below, size_t begin, size_t end)
{
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = below; i < begin; i++)
        for (size_t k = begin; k < end && status == OUTLAY_OK; k++) {
            struct cell *low = &w->out->cells[i];
            struct cell *high = &w->out->cells[k];
            struct portal portal = {k, fmax(low->left[ABOVE], high->left[BELOW]),
                                    fmin(low->right[ABOVE], high->right[BELOW])};

            if (portal.to_x - portal.from_x <= narrow)
                continue;
            status = add_portal(w->arena, low, ABOVE, end - begin, portal);
            portal.to = i;
            if (status == OUTLAY_OK)
                status = add_portal(w->arena, high, BELOW, begin - below, portal);
        }
    return status;
}

enum outlay_status slabs_cut(struct arena *arena, struct region *region, double *levels,
                             size_t level_count, struct slabs *out)
{
    struct work w = {.arena = arena, .region = region, .out = out};
    struct crossing *crossings = NULL;
    size_t below = 0;
    enum outlay_status status = OUTLAY_OK;

    *out = (struct slabs){NULL, 0};
    crossings = arena_array(arena, region_points(region), sizeof *crossings);
    if (!crossings || find_levels(&w, levels, level_count) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    for (size_t i = 0; i + 1 < w.level_count && status == OUTLAY_OK; i++) {
        const double y[SIDES] = {w.levels[i], w.levels[i + 1]};
        size_t begin = out->count;
        size_t count = find_crossings(&w, y, crossings);

        for (size_t k = 0; k + 1 < count && status == OUTLAY_OK; k += 2)
            status = add_cell(&w, y, &crossings[k], &crossings[k + 1]);
        if (status == OUTLAY_OK)
            status = join(&w, below, begin, out->count);
        below = begin;
    }
    return status;
}
