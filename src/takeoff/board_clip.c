/* Rings cut by the lines of a grid (Sutherland and Hodgman, "Reentrant polygon
 * clipping", Comm. ACM 17, 1974). A ring that falls apart comes out joined by bridges
 * along the line; they add nothing to the area, and rings_region() takes them out. */

#include "takeoff/board_grid.h"

/* A turn by less than this isn't counted as one, as the sine of its angle. */
static const double straight = 1e-9;

static double coordinate(struct point p, int axis)
{
    return axis == 0 ? p.x : p.y;
}

/* Where a segment meets the line; exactly on it, so that neighbours share the line. */
static struct point crossing(struct point a, struct point b, int axis, double level)
{
    double from = coordinate(a, axis);
    double share = (level - from) / (coordinate(b, axis) - from);

    if (axis == 0)
        return (struct point){level, a.y + share * (b.y - a.y)};
    return (struct point){a.x + share * (b.x - a.x), level};
}

/* Keeps what is above the level (sign 1) or below it (-1). out has room for twice the
 * points. */
static size_t clip_half(const struct point *in, size_t count, int axis, double level,
                        int sign, struct point *out)
{
    double side = count > 0 ? sign * (coordinate(in[0], axis) - level) : 0;
    size_t kept = 0;

    for (size_t k = 0; k < count; k++) {
        struct point next = in[k + 1 == count ? 0 : k + 1];
        double other = sign * (coordinate(next, axis) - level);

        if (side >= 0)
            out[kept++] = in[k];
        if (side * other < 0)
            out[kept++] = crossing(in[k], next, axis, level);
        side = other;
    }
    return kept;
}

static enum outlay_status ring_clip(struct arena *arena, struct ring ring, int axis,
                                    double low, double high, struct layer_rings *out)
{
    struct point *above = arena_room(arena, 2 * ring.count, sizeof *above);
    struct point *within = NULL;
    struct ring clipped;

    if (!above)
        return OUTLAY_E_MEMORY;
    clipped.count = clip_half(ring.points, ring.count, axis, low, 1, above);
    within = arena_room(arena, 2 * clipped.count, sizeof *within);
    if (!within)
        return OUTLAY_E_MEMORY;
    clipped.count = clip_half(above, clipped.count, axis, high, -1, within);
    clipped.points = within;
    if (clipped.count < 3)
        return OUTLAY_OK;
    return layer_rings_add(arena, out, clipped, 0) ? OUTLAY_OK : OUTLAY_E_MEMORY;
}

enum outlay_status rings_clip(struct arena *arena, const struct layer_rings *rings,
                              int axis, double low, double high, struct layer_rings *out)
{
    *out = (struct layer_rings){NULL, 0, 0};
    for (size_t i = 0; i < rings->count; i++) {
        struct ring ring = rings->items[i].ring;
        struct box box = ring_box(ring);
        double min = axis == 0 ? box.min_x : box.min_y;
        double max = axis == 0 ? box.max_x : box.max_y;

        if (max <= low || min >= high)
            continue;
        if (min >= low && max <= high) {
            if (!layer_rings_add(arena, out, ring, 0))
                return OUTLAY_E_MEMORY;
        } else if (ring_clip(arena, ring, axis, low, high, out) != OUTLAY_OK) {
            return OUTLAY_E_MEMORY;
        }
    }
    return OUTLAY_OK;
}

double rings_area(const struct layer_rings *rings)
{
    double area = 0;

    for (size_t i = 0; i < rings->count; i++)
        area += ring_area(rings->items[i].ring);
    return area;
}

bool ring_is_convex(struct ring ring)
{
    for (size_t k = 0; k < ring.count; k++) {
        struct point a = ring.points[k];
        struct point b = ring.points[(k + 1) % ring.count];
        struct point c = ring.points[(k + 2) % ring.count];
        struct point in = {b.x - a.x, b.y - a.y}, out = {c.x - b.x, c.y - b.y};
        double cross = in.x * out.y - in.y * out.x;
        double size2 = (in.x * in.x + in.y * in.y) * (out.x * out.x + out.y * out.y);

        if (!(cross > 0) || cross * cross < straight * straight * size2)
            return false;
    }
    return true;
}

enum outlay_status rings_region(struct geo_ctx *ctx, struct arena *arena,
                                const struct layer_rings *rings, struct region *out,
                                struct outlay_error *err)
{
    struct overlay overlay = {.rings = rings, .label = label_positive, .label_count = 1};

    /* a convex ring has no bridges */
    if (rings->count == 1 && ring_is_convex(rings->items[0].ring)) {
        struct polygon polygon = {
            &(struct ring){rings->items[0].ring.points, rings->items[0].ring.count}, 1};
        struct region one = {&polygon, 1};

        return region_copy(arena, &one, out);
    }
    overlay.grid = grid_for(rings, 0);
    return arrange(ctx, arena, &overlay, out, err);
}
