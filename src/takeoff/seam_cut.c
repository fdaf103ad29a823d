/* Shapes cut and moved: what sheets, strips and frames are made of. */

#include <math.h>
#include <string.h>

#include "geo/offset.h"
#include "takeoff/board_grid.h"
#include "takeoff/seam_private.h"

/* Triangles less high than this are no shape but rounding, m. */
static const double needle = 1e-5;

static enum outlay_status no_memory(struct seam_work *w)
{
    return outlay_fail(w->err, OUTLAY_E_MEMORY, "cutting sheets");
}

/* ---- Convex cuts (Sutherland and Hodgman, Comm. ACM 17, 1974) ---- */

static double height_over(const struct half_plane *half, struct point p)
{
    return (p.x - half->at.x) * half->inward.x + (p.y - half->at.y) * half->inward.y;
}

/* Keeps what lies on one side; out has room for twice the points. */
static size_t points_keep(const struct point *in, size_t count,
                          const struct half_plane *half, struct point *out)
{
    size_t kept = 0;

    for (size_t k = 0; k < count; k++) {
        struct point a = in[k];
        struct point b = in[k + 1 == count ? 0 : k + 1];
        double from = height_over(half, a);
        double to = height_over(half, b);

        if (from >= 0)
            out[kept++] = a;
        if ((from > 0 && to < 0) || (from < 0 && to > 0))
            out[kept++] = point_between(a, b, from / (from - to));
    }
    return kept;
}

/* Room for a ring before and after a cut. */
static bool scratch_reserve(struct seam_work *w, size_t count)
{
    if (count <= w->scratch_capacity)
        return true;
    w->scratch_capacity = 2 * count;
    for (int k = 0; k < 2; k++) {
        w->scratch[k] = arena_array(w->arena, w->scratch_capacity, sizeof(struct point));
        if (!w->scratch[k])
            return false;
    }
    return true;
}

static bool ring_cut(struct seam_work *w, struct ring ring,
                     const struct half_plane *halves, size_t count,
                     struct layer_rings *out)
{
    const struct point *points = ring.points;

    for (size_t h = 0; h < count && ring.count >= 3; h++) {
        if (!scratch_reserve(w, 2 * ring.count))
            return false;
        ring.count = points_keep(points, ring.count, &halves[h], w->scratch[h % 2]);
        points = w->scratch[h % 2];
    }
    if (ring.count < 3)
        return true;
    ring.points = arena_array(w->arena, ring.count, sizeof *ring.points);
    if (!ring.points)
        return false;
    memcpy(ring.points, points, ring.count * sizeof *points);
    return layer_rings_add(w->arena, out, ring, 0);
}

/* Leaves out the vertices of needles and of straight edges: lines that should be one are
 * cut by rounding from each other. */
static void ring_clean(struct ring *ring)
{
    size_t since = 0; /* the last one that was left out */

    for (size_t k = 0; ring->count >= 3 && since < ring->count; since++) {
        struct point a = ring->points[(k + ring->count - 1) % ring->count];
        struct point b = ring->points[k];
        struct point c = ring->points[(k + 1) % ring->count];
        double twice = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
        double longest = fmax(point_distance(a, b), point_distance(b, c));

        if (fabs(twice) > needle * longest) {
            k = (k + 1) % ring->count;
            continue;
        }
        memmove(&ring->points[k], &ring->points[k + 1],
                (ring->count - k - 1) * sizeof *ring->points);
        ring->count--;
        k = (k + ring->count - 1) % ring->count;
        since = 0;
    }
}

static void region_clean(struct region *region)
{
    size_t polygons = 0;

    for (size_t i = 0; i < region->polygon_count; i++) {
        struct polygon *polygon = &region->polygons[i];
        size_t rings = 0;

        for (size_t j = 0; j < polygon->ring_count; j++) {
            ring_clean(&polygon->rings[j]);
            if (polygon->rings[j].count >= 3)
                polygon->rings[rings++] = polygon->rings[j];
            else if (j == 0)
                break;
        }
        polygon->ring_count = rings;
        if (rings > 0)
            region->polygons[polygons++] = *polygon;
    }
    region->polygon_count = polygons;
}

enum outlay_status region_cut(struct seam_work *w, const struct region *region,
                              const struct half_plane *halves, size_t count,
                              struct region *out)
{
    struct layer_rings rings = {NULL, 0, 0};
    enum outlay_status status = OUTLAY_OK;

    *out = (struct region){NULL, 0};
    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++)
            if (!ring_cut(w, region->polygons[i].rings[j], halves, count, &rings))
                return no_memory(w);
    if (rings.count > 0)
        status = rings_region(w->ctx, w->arena, &rings, out, w->err);
    region_clean(out);
    return status;
}

/* ---- Overlays of two or three layers ---- */

/* In layers 0 and 1 but not in layer 2. */
static int label_common(const int winding[ARRANGE_LAYERS], const void *user)
{
    (void)user;
    return winding[0] > 0 && winding[1] > 0 && winding[2] <= 0 ? 0 : -1;
}

static int label_rest(const int winding[ARRANGE_LAYERS], const void *user)
{
    (void)user;
    return winding[0] > 0 && winding[1] <= 0 ? 0 : -1;
}

enum outlay_status layers_common(struct seam_work *w, const struct layer_rings *rings,
                                 struct region *out)
{
    struct overlay overlay = {.rings = rings, .label = label_common, .label_count = 1};

    overlay.grid = grid_for(rings, 0);
    return arrange(w->ctx, w->arena, &overlay, out, w->err);
}

enum outlay_status layers_rest(struct seam_work *w, const struct layer_rings *rings,
                               struct region *out)
{
    struct overlay overlay = {.rings = rings, .label = label_rest, .label_count = 1};

    overlay.grid = grid_for(rings, 0);
    return arrange(w->ctx, w->arena, &overlay, out, w->err);
}

enum outlay_status region_less(struct seam_work *w, const struct region *region,
                               const struct region *taken, struct region *out)
{
    struct layer_rings rings = {NULL, 0, 0};

    if (!layer_rings_add_region(w->arena, &rings, region, 0) ||
        !layer_rings_add_region(w->arena, &rings, taken, 1))
        return no_memory(w);
    return layers_rest(w, &rings, out);
}

bool layer_rings_add_grown(struct seam_work *w, struct layer_rings *rings,
                           const struct region *region, double depth, int layer)
{
    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++) {
            struct ring moved;

            if (ring_outset(w->arena, region->polygons[i].rings[j], depth, &moved) !=
                    OUTLAY_OK ||
                !layer_rings_add(w->arena, rings, moved, layer))
                return false;
        }
    return true;
}

enum outlay_status region_grow(struct seam_work *w, const struct region *region,
                               double depth, struct region *out)
{
    struct layer_rings rings = {NULL, 0, 0};

    if (!layer_rings_add_region(w->arena, &rings, &w->roof->outline, 0) ||
        !layer_rings_add_grown(w, &rings, region, depth, 1))
        return no_memory(w);
    return layers_common(w, &rings, out);
}
