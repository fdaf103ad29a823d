/* Half sheets that follow the edges. Strip k lies between the outline moved in by
 * (k - 1) and by k half-row spacings, half a lap more on either side; at each corner it
 * is cut along the mitre. */

#include <math.h>

#include "geo/offset.h"
#include "geo/outline.h"
#include "takeoff/seam_private.h"

/* Edges that turn by less are followed by one sheet: cosine of 30 degrees. */
static const double bend = 0.8660254;

enum { LAYER_OUTER, LAYER_INNER, LAYER_SHEET, LAYER_TAKEN };

struct frames {
    struct seam_work *w;
    struct ring *rings; /* the free edge, without small jogs */
    size_t ring_count;
};

static int label_inset(const int winding[ARRANGE_LAYERS], const void *user)
{
    (void)user;
    return winding[0] > 0 && winding[1] > 0 ? 0 : -1;
}

/* A part of the strip that a sheet covers: 0; one that none does: 1. */
static int label_strip(const int winding[ARRANGE_LAYERS], const void *user)
{
    (void)user;
    if (winding[LAYER_OUTER] <= 0 || winding[LAYER_INNER] > 0)
        return -1;
    if (winding[LAYER_SHEET] > 0)
        return 0;
    return winding[LAYER_TAKEN] > 0 ? -1 : 1;
}

static enum outlay_status overlay_run(struct frames *f, struct layer_rings *rings,
                                      face_label *label, size_t labels,
                                      struct region *out)
{
    struct overlay overlay = {.rings = rings, .label = label, .label_count = labels};

    overlay.grid = grid_for(rings, 0);
    return arrange(f->w->ctx, f->w->arena, &overlay, out, f->w->err);
}

static enum outlay_status no_memory(struct frames *f)
{
    return outlay_fail(f->w->err, OUTLAY_E_MEMORY, "laying half sheets");
}

/* What lies deeper than `depth` inside the free edge. */
static enum outlay_status inset(struct frames *f, double depth, struct region *out)
{
    struct layer_rings rings = {NULL, 0, 0};

    if (depth <= 0) {
        *out = f->w->roof->outline;
        return OUTLAY_OK;
    }
    if (!layer_rings_add_region(f->w->arena, &rings, &f->w->roof->outline, 0))
        return no_memory(f);
    for (size_t k = 0; k < f->ring_count; k++) {
        struct ring moved;

        if (ring_inset(f->w->arena, f->rings[k], depth, &moved) != OUTLAY_OK ||
            !layer_rings_add(f->w->arena, &rings, moved, 1))
            return no_memory(f);
    }
    return overlay_run(f, &rings, label_inset, 1, out);
}

/* A hole is a free edge where the zones beside it are edge zones. */
static bool ring_is_free(const struct frames *f, struct ring ring)
{
    double edge = 0;
    double length = 0;

    for (size_t k = 0, j = ring.count - 1; k < ring.count; j = k++) {
        struct point a = ring.points[j];
        struct point b = ring.points[k];
        double part = point_distance(a, b);
        struct point at = point_between(a, b, 0.5);
        int role = role_at(f->w, (struct point){at.x - (b.y - a.y) / part * 0.01,
                                                at.y + (b.x - a.x) / part * 0.01});

        length += part;
        edge += role == ZONE_CORNER || role == ZONE_PERIMETER ? part : 0;
    }
    return edge > length / 2;
}

static enum outlay_status free_rings_find(struct frames *f)
{
    const struct region *outline = &f->w->roof->outline;
    double tolerance = fmin(FRAME_TOLERANCE, 0.1 * f->w->roof->level.least_dimension);

    f->rings = arena_array(f->w->arena, region_points(outline), sizeof *f->rings);
    if (!f->rings)
        return no_memory(f);
    for (size_t i = 0; i < outline->polygon_count; i++)
        for (size_t j = 0; j < outline->polygons[i].ring_count; j++) {
            struct ring ring = outline->polygons[i].rings[j];
            struct thin_ring thin;

            if (j > 0 && !ring_is_free(f, ring))
                continue;
            if (ring_thin(f->w->arena, ring, tolerance, &thin) != OUTLAY_OK)
                return no_memory(f);
            f->rings[f->ring_count++] = thin.ring;
        }
    return OUTLAY_OK;
}

/* How the boundary turns at vertex k: unit vectors of the edges that meet. */
struct turn {
    struct point in, out;
    double facing; /* cosine of the turn */
};

static struct turn turn_at(struct ring ring, size_t k)
{
    struct point a = ring.points[k == 0 ? ring.count - 1 : k - 1];
    struct point b = ring.points[k];
    struct point c = ring.points[k + 1 == ring.count ? 0 : k + 1];
    double in = point_distance(a, b);
    double out = point_distance(b, c);
    struct turn turn = {
        {(b.x - a.x) / in, (b.y - a.y) / in}, {(c.x - b.x) / out, (c.y - b.y) / out}, 0};

    turn.facing = dot(turn.in, turn.out);
    return turn;
}

/* Where the mitre at vertex k is `depth` inside. */
static struct point mitred(struct ring ring, size_t k, double depth)
{
    struct turn t = turn_at(ring, k);
    double reach = depth / fmax(1 + t.facing, 0.1);

    return (struct point){ring.points[k].x - reach * (t.in.y + t.out.y),
                          ring.points[k].y + reach * (t.in.x + t.out.x)};
}

/* One sheet along the vertices from `first` on, `edges` edges long. */
static struct ring sheet_ring(struct arena *arena, struct ring ring, size_t first,
                              size_t edges, const double depths[2])
{
    struct ring out = {arena_array(arena, 2 * (edges + 1), sizeof *out.points),
                       2 * (edges + 1)};

    for (size_t k = 0; out.points && k <= edges; k++) {
        size_t at = (first + k) % ring.count;

        out.points[k] = mitred(ring, at, depths[0]);
        out.points[out.count - 1 - k] = mitred(ring, at, depths[1]);
    }
    return out;
}

/* A strip at work. */
struct strip {
    struct region outer, inner;
    double depths[2];         /* of its sides, m; the outer one beyond the edge */
    double width;             /* covered, m */
    struct layer_rings taken; /* all sheets so far */
};

static enum outlay_status strip_sheet(struct frames *f, struct strip *strip,
                                      struct ring sheet, double longest)
{
    struct seam_work *w = f->w;
    struct layer_rings rings = {NULL, 0, 0};
    struct region parts[2];
    struct sheet out = {.kind = SHEET_HALF, .width = w->assembly->sheet_width / 2};
    enum outlay_status status = OUTLAY_OK;

    if (!layer_rings_add_region(w->arena, &rings, &strip->outer, LAYER_OUTER) ||
        !layer_rings_add_region(w->arena, &rings, &strip->inner, LAYER_INNER) ||
        (sheet.count > 0 && !layer_rings_add(w->arena, &rings, sheet, LAYER_SHEET)))
        return no_memory(f);
    for (size_t k = 0; sheet.count == 0 && k < strip->taken.count; k++)
        if (!layer_rings_add(w->arena, &rings, strip->taken.items[k].ring, LAYER_TAKEN))
            return no_memory(f);
    status = overlay_run(f, &rings, label_strip, 2, parts);
    if (status != OUTLAY_OK)
        return status;
    out.region = sheet.count > 0 ? parts[0] : parts[1];
    out.area = region_area(&out.region);
    out.length = fmin(longest, out.area / strip->width + strip->width);
    if (out.area < 1e-4)
        return OUTLAY_OK;
    end_laps_count(w, &out);
    return sheet_add(w, &out) ? OUTLAY_OK : no_memory(f);
}

static double chain_length(struct ring sheet)
{
    size_t half = sheet.count / 2;
    double sums[2] = {0, 0};

    for (size_t k = 0; k + 1 < half; k++) {
        sums[0] += point_distance(sheet.points[k], sheet.points[k + 1]);
        sums[1] += point_distance(sheet.points[half + k], sheet.points[half + k + 1]);
    }
    return fmax(sums[0], sums[1]);
}

static bool is_corner(struct ring ring, size_t k)
{
    return turn_at(ring, k % ring.count).facing < bend;
}

/* The sheets of a strip along one ring, from corner to corner. */
static enum outlay_status ring_sheets(struct frames *f, struct strip *strip,
                                      struct ring ring)
{
    size_t first = 0;
    size_t done = 0;
    size_t lap = f->w->assembly->lap > 0 ? 1 : 0;
    enum outlay_status status = OUTLAY_OK;

    while (first + 1 < ring.count && !is_corner(ring, first))
        first++;
    while (done < ring.count && status == OUTLAY_OK) {
        struct ring sheet;
        size_t edges = 1;

        while (done + edges < ring.count && !is_corner(ring, first + done + edges))
            edges++;
        sheet = sheet_ring(f->w->arena, ring, first + done, edges, strip->depths);
        if (!sheet.points ||
            !layer_rings_add(f->w->arena, &strip->taken, sheet, LAYER_TAKEN))
            return no_memory(f);
        status = strip_sheet(f, strip, sheet, chain_length(sheet));
        f->w->out->end_lap +=
            point_distance(sheet.points[0], sheet.points[sheet.count - 1]);
        f->w->out->t_joints += lap;
        done += edges;
    }
    return status;
}

static enum outlay_status strip_lay(struct frames *f, int k)
{
    struct seam_work *w = f->w;
    double lap = w->assembly->lap;
    struct strip strip = {.depths = {(k - 1) * w->half - lap / 2, k * w->half + lap / 2}};
    enum outlay_status status = inset(f, strip.depths[0], &strip.outer);

    if (status == OUTLAY_OK)
        status = inset(f, strip.depths[1], &strip.inner);
    if (k == 1) /* whatever jogs stick out are covered too */
        strip.depths[0] = -FRAME_TOLERANCE;
    strip.width = w->assembly->sheet_width / 2;
    for (size_t r = 0; r < f->ring_count && status == OUTLAY_OK; r++)
        status = ring_sheets(f, &strip, f->rings[r]);
    if (status == OUTLAY_OK) /* what the mitres missed where edges end early */
        status = strip_sheet(f, &strip, (struct ring){NULL, 0}, INFINITY);
    return status;
}

static enum outlay_status rings_lay(struct frames *f, const struct region *inside)
{
    struct clip clip = {.within = NULL};

    for (size_t i = 0; i < inside->polygon_count; i++)
        for (size_t j = 0; j < inside->polygons[i].ring_count; j++)
            if (!ring_row_add(f->w, inside->polygons[i].rings[j], &clip))
                return no_memory(f);
    return OUTLAY_OK;
}

enum outlay_status frames_lay(struct seam_work *w, int half_sheets)
{
    struct frames f = {.w = w};
    struct region inside = w->roof->outline;
    struct region cover = inside;
    enum outlay_status status = free_rings_find(&f);
    int k = 1;

    for (; k <= half_sheets && status == OUTLAY_OK; k++) {
        struct region next;
        struct region core;

        status = inset(&f, k * w->half, &next);
        if (status == OUTLAY_OK)
            status = inset(&f, k * w->half + SLIVER / 2, &core);
        if (status != OUTLAY_OK || core.polygon_count == 0)
            break;
        inside = next;
        status = rings_lay(&f, &inside);
        if (status == OUTLAY_OK)
            status = strip_lay(&f, k);
    }
    w->out->met_in_middle = k <= half_sheets;
    if (status == OUTLAY_OK)
        status = inset(&f, (k - 1) * w->half - w->assembly->lap / 2, &cover);
    if (status == OUTLAY_OK)
        status = lines_lay(w, k > 1 ? &inside : NULL, &cover, 0);
    return status;
}
