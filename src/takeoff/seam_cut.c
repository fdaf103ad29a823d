/* Shapes cut and moved: what sheets, strips and frames are made of. */

#include <math.h>
#include <string.h>

#include "geo/offset.h"
#include "takeoff/board_grid.h"
#include "takeoff/seam_private.h"

/* What is narrower is no shape but rounding, m: coordinates are traced to 1 mm. */
static const double needle = 2e-3;

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

/* Every ring moved inward or outward, as a region. */
static enum outlay_status rings_move(struct seam_work *w, const struct region *region,
                                     bool outward, struct region *out)
{
    struct layer_rings rings = {NULL, 0, 0};
    struct overlay overlay = {.rings = &rings, .label = label_positive, .label_count = 1};

    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++) {
            struct ring ring = region->polygons[i].rings[j];
            enum outlay_status status =
                outward ? ring_outset(w->arena, ring, needle / 2, &ring)
                        : ring_inset(w->arena, ring, needle / 2, &ring);

            if (status != OUTLAY_OK || !layer_rings_add(w->arena, &rings, ring, 0))
                return no_memory(w);
        }
    *out = (struct region){NULL, 0};
    if (rings.count == 0)
        return OUTLAY_OK;
    overlay.grid = grid_for(&rings, 0);
    return arrange(w->ctx, w->arena, &overlay, out, w->err);
}

/* Valid polygons of cut rings. Where a cut runs along an edge, rounding leaves needles
 * and necks: what is no wider than that isn't sheet. Not only where nodes are near: then
 * acute tips would depend on how the roof lies. */
static enum outlay_status rings_settle(struct seam_work *w,
                                       const struct layer_rings *rings,
                                       struct region *out)
{
    struct overlay overlay = {.rings = rings, .label = label_positive, .label_count = 1};
    struct region moved = {NULL, 0};
    enum outlay_status status = OUTLAY_OK;

    if (rings->count == 1 && ring_is_convex(rings->items[0].ring))
        return rings_region(w->ctx, w->arena, rings, out, w->err);
    overlay.grid = grid_for(rings, 0);
    status = arrange(w->ctx, w->arena, &overlay, out, w->err);
    if (status != OUTLAY_OK)
        return status;
    status = rings_move(w, out, false, &moved);
    return status == OUTLAY_OK ? rings_move(w, &moved, true, out) : status;
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
        status = rings_settle(w, &rings, out);
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

enum outlay_status regions_common(struct seam_work *w, const struct region *a,
                                  const struct region *b, struct region *out)
{
    struct layer_rings rings = {NULL, 0, 0};

    if (!layer_rings_add_region(w->arena, &rings, a, 0) ||
        !layer_rings_add_region(w->arena, &rings, b, 1))
        return no_memory(w);
    return layers_common(w, &rings, out);
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
