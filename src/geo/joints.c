#include "geo/joints.h"

#include <math.h>
#include <string.h>

#include "geo/arrange.h"
#include "geo/offset.h"
#include "geo/outline.h"

/* Edges that face each other are parallel within 30 degrees: cosine. */
static const double facing_least = 0.866;

/* How far from one another, in gaps, two corners may lie at the mouth of a gap (ours):
 * as far as where the gap meets the edge at 3 degrees. */
static const double mouth_most = 20;

/* Edges as short as rounding have no direction, m (ours). */
static const double crumb = 1e-4;

/* Where two sections end at a straight edge, it has a vertex that one roof traced as a
 * whole hasn't. Coordinates of 8 decimals are 1 mm off, m. */
static const double traced = 2e-3;

/* Nothing to fill, m. */
static const double narrow = 1e-6;

/* How far, in gaps, the place where their edges would meet may lie from both (ours). */
static const double tip_most = 4;

/* An edge of a section, which is on its left; and where the boundary comes from and
 * goes to, seen from a gap's width away, since traced corners are blunt. */
struct edge {
    struct point before, a, b, after;
};

struct edges {
    struct edge *items;
    size_t count;
    struct box box;
};

/* From one side of a gap to the other. */
struct crossing {
    struct point from, to;
};

struct joints {
    struct arena *arena;
    struct layer_rings *fillings;
    double gap;
    struct crossing *mouths;
    size_t mouth_count;
    size_t mouth_room;
};

static struct point between(struct point a, struct point b, double t)
{
    return (struct point){a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
}

static double dot(struct point a, struct point b, struct point c, struct point d)
{
    return (b.x - a.x) * (d.x - c.x) + (b.y - a.y) * (d.y - c.y);
}

/* How far p lies to the right of the line from a to b, m. */
static double right_of(struct point a, struct point b, struct point p)
{
    return ((p.x - a.x) * (b.y - a.y) - (p.y - a.y) * (b.x - a.x)) / point_distance(a, b);
}

/* ---- Filling --------------------------------------------------------------------- */

/* Counter-clockwise rings only: others have no width.
 * @return false when out of memory */
static bool fill(struct joints *joints, const struct point *points, size_t count)
{
    struct ring ring = {arena_array(joints->arena, count, sizeof *points), count};

    if (!ring.points)
        return false;
    memcpy(ring.points, points, count * sizeof *points);
    return ring_area(ring) <= 0 ||
           layer_rings_add(joints->arena, joints->fillings, ring, 0);
}

/* Where two gaps meet in a corner of a third section, that corner isn't the bottom of
 * a notch between the mouths. @return false when out of memory */
static bool fill_corner(struct joints *joints, struct point a, struct point corner,
                        struct point b)
{
    const struct point triangle[] = {a, corner, b, a, b, corner};

    return fill(joints, triangle, 3) && fill(joints, triangle + 3, 3);
}

static bool same(struct point a, struct point b)
{
    return a.x == b.x && a.y == b.y;
}

/* Adds a mouth, and what lies between it and others that begin at the same corner.
 * @return false when out of memory */
static bool mouth_add(struct joints *joints, struct crossing mouth)
{
    bool fine = true;

    if (joints->mouth_count == joints->mouth_room) {
        size_t room = 2 * joints->mouth_room + 16;
        struct crossing *mouths = arena_array(joints->arena, room, sizeof *mouths);

        if (!mouths)
            return false;
        if (joints->mouth_count)
            memcpy(mouths, joints->mouths, joints->mouth_count * sizeof *mouths);
        joints->mouths = mouths;
        joints->mouth_room = room;
    }
    for (size_t k = 0; k < joints->mouth_count && fine; k++) {
        struct crossing other = joints->mouths[k];

        if (same(other.from, mouth.from))
            fine = fill_corner(joints, other.to, mouth.from, mouth.to);
        else if (same(other.to, mouth.to))
            fine = fill_corner(joints, other.from, mouth.to, mouth.from);
        else if (same(other.to, mouth.from))
            fine = fill_corner(joints, other.from, mouth.from, mouth.to);
        else if (same(other.from, mouth.to))
            fine = fill_corner(joints, other.to, mouth.to, mouth.from);
    }
    joints->mouths[joints->mouth_count++] = mouth;
    return fine;
}

/* ---- One gap --------------------------------------------------------------------- */

/* Where a gap ends: on the edge of either side; at a mouth, both are corners, and `tip`
 * is where the edges beyond them would meet. */
struct end {
    struct crossing at;
    struct point tip;
    bool mouth;
    bool tip_near; /* to the corners */
};

/* Square to an edge from p. @return false where that misses the edge */
static bool foot_on(const struct edge *edge, struct point p, struct point *foot)
{
    double t =
        dot(edge->a, edge->b, edge->a, p) / dot(edge->a, edge->b, edge->a, edge->b);

    *foot = between(edge->a, edge->b, t);
    return t >= 0 && t <= 1;
}

/* Whether the gap opens between the end of e and the start of f: neither corner is more
 * than a gap outside of what the other section does there. */
static bool is_mouth(const struct joints *joints, const struct edge *e,
                     const struct edge *f)
{
    return point_distance(e->b, f->a) <= mouth_most * joints->gap &&
           right_of(e->b, e->after, f->a) <= joints->gap &&
           right_of(f->before, f->a, e->b) <= joints->gap;
}

static void mouth_find(const struct joints *joints, const struct edge *e,
                       const struct edge *f, struct end *end)
{
    double from = right_of(f->before, f->a, e->b);
    double to = right_of(f->before, f->a, e->after);

    end->mouth = is_mouth(joints, e, f);
    if (!end->mouth)
        return;
    end->at = (struct crossing){e->b, f->a};
    end->tip = between(e->b, e->after, from / (from - to));
    end->tip_near = point_distance(end->tip, e->b) <= tip_most * joints->gap &&
                    point_distance(end->tip, f->a) <= tip_most * joints->gap;
}

/* Where two edges stop lying side by side, towards the end of e and the start of f: at
 * the first of these corners. @return false where they don't lie side by side */
static bool side_by_side(const struct edge *e, const struct edge *f, struct end *end)
{
    *end = (struct end){.at = {e->b, f->a}};
    if (foot_on(f, e->b, &end->at.to))
        return true;
    end->at.to = f->a;
    return foot_on(e, f->a, &end->at.from);
}

/* How much of a gap that is `width` wide at one end and `other` at the other end, seen
 * from the first, is neither an overlap nor too wide: a share of its length. */
static double share_open(double width, double other, double widest)
{
    if (other >= 0 && other <= widest)
        return 1;
    return ((other < 0 ? 0 : widest) - width) / (other - width);
}

static bool is_inside(const struct point *convex, size_t count, struct point p)
{
    for (size_t k = 0; k < count; k++)
        if (!(right_of(convex[k], convex[(k + 1) % count], p) < 0))
            return false;
    return true;
}

/* Fills the gap between two ends: up to the line across a mouth; but as far as the tip
 * where the sections' edges meet there, at a corner of the roof.
 * @return false when out of memory */
static bool fill_gap(struct joints *joints, const struct end *ahead,
                     const struct end *behind)
{
    const struct point bare[] = {ahead->at.from, behind->at.to, behind->at.from,
                                 ahead->at.to};
    struct point points[6] = {bare[0], bare[1]};
    size_t count = 2;
    const struct end *ends[] = {behind, ahead};

    for (int k = 0; k < 2; k++) {
        const struct end *end = ends[k];
        const struct point beyond[] = {end->at.from, end->at.to, end->tip};

        if (end->tip_near && is_inside(bare, 4, end->tip))
            points[count++] = end->tip;
        else if (end->tip_near && !fill(joints, beyond, 3))
            return false;
        if (end->mouth && !mouth_add(joints, end->at))
            return false;
        if (k == 0) {
            points[count++] = bare[2];
            points[count++] = bare[3];
        }
    }
    return fill(joints, points, count);
}

/* From either side alike. */
static double width_at(const struct edge *e, const struct edge *f, struct point on_e,
                       struct point on_f)
{
    return (right_of(e->a, e->b, on_f) + right_of(f->a, f->b, on_e)) / 2;
}

/* Cuts a gap off where it is an overlap or too wide.
 * @return false where nothing stays that needs filling */
static bool gap_cut(const struct edge *e, const struct edge *f, double widest,
                    struct end *ahead, struct end *behind)
{
    double wide_ahead = width_at(e, f, ahead->at.from, ahead->at.to);
    double wide_behind = width_at(e, f, behind->at.to, behind->at.from);
    double far = share_open(wide_behind, wide_ahead, widest);
    double near = 1 - share_open(wide_ahead, wide_behind, widest);
    struct point from[] = {behind->at.to, ahead->at.from};
    struct point to[] = {behind->at.from, ahead->at.to};

    if (fmin(wide_ahead, wide_behind) > widest || fmax(wide_ahead, wide_behind) < narrow)
        return false;
    if (far < 1)
        *ahead = (struct end){
            .at = {between(from[0], from[1], far), between(to[0], to[1], far)}};
    if (near > 0)
        *behind = (struct end){
            .at = {between(to[0], to[1], near), between(from[0], from[1], near)}};
    return true;
}

/* At a mouth, a sharp corner of one section may stick out of the other's edge by less
 * than a gap: the outline goes straight back to that edge. Matters where they overlap.
 * @return false when out of memory */
static bool fill_step(struct joints *joints, const struct edge *e, const struct edge *f)
{
    const struct edge beyond_e = {.a = e->b, .b = e->after};
    const struct edge beyond_f = {.a = f->before, .b = f->a};
    struct point foot;

    if (right_of(f->before, f->a, e->b) > 0 && foot_on(&beyond_f, e->b, &foot) &&
        !fill_corner(joints, e->b, f->a, foot))
        return false;
    return !(right_of(e->b, e->after, f->a) > 0) || !foot_on(&beyond_e, f->a, &foot) ||
           fill_corner(joints, f->a, e->b, foot);
}

/* Fills the gap between an edge and one that runs the other way on its right.
 * @return false when out of memory */
static bool fill_between(struct joints *joints, const struct edge *e,
                         const struct edge *f)
{
    struct end ahead;
    struct end behind;

    if (!side_by_side(e, f, &ahead) || !side_by_side(f, e, &behind))
        return true;
    if (dot(e->a, e->b, behind.at.to, ahead.at.from) >
        joints->gap * point_distance(e->a, e->b)) {
        mouth_find(joints, e, f, &ahead);
        mouth_find(joints, f, e, &behind);
    }
    if ((ahead.mouth && !fill_step(joints, e, f)) ||
        (behind.mouth && !fill_step(joints, f, e)))
        return false;
    return !gap_cut(e, f, joints->gap, &ahead, &behind) ||
           fill_gap(joints, &ahead, &behind);
}

static bool are_facing(const struct edge *e, const struct edge *f)
{
    return -dot(e->a, e->b, f->a, f->b) >
           facing_least * point_distance(e->a, e->b) * point_distance(f->a, f->b);
}

/* ---- All of them ----------------------------------------------------------------- */

static struct box edge_box(const struct edge *edge)
{
    return (struct box){fmin(edge->a.x, edge->b.x), fmin(edge->a.y, edge->b.y),
                        fmax(edge->a.x, edge->b.x), fmax(edge->a.y, edge->b.y)};
}

/* The first vertex from k on, going by `step`, that is farther from p than a gap. */
static struct point vertex_beyond(struct ring ring, size_t k, size_t step, struct point p,
                                  double gap)
{
    for (size_t n = 0; n < ring.count; n++, k = (k + step) % ring.count)
        if (point_distance(ring.points[k], p) > gap)
            break;
    return ring.points[k];
}

static void edges_of_ring(struct ring ring, double gap, struct edges *out)
{
    for (size_t k = 0; k < ring.count; k++) {
        size_t next = (k + 1) % ring.count;
        struct edge *edge = &out->items[out->count++];

        edge->a = ring.points[k];
        edge->b = ring.points[next];
        edge->before = vertex_beyond(ring, k, ring.count - 1, edge->a, gap);
        edge->after = vertex_beyond(ring, next, 1, edge->b, gap);
    }
}

static bool edges_of(struct arena *arena, const struct region *section, double gap,
                     struct edges *out)
{
    *out = (struct edges){
        .items = arena_array(arena, region_points(section) + 1, sizeof *out->items),
        .box = region_box(section)};
    if (!out->items)
        return false;
    for (size_t i = 0; i < section->polygon_count; i++)
        for (size_t j = 0; j < section->polygons[i].ring_count; j++)
            edges_of_ring(section->polygons[i].rings[j], gap, out);
    return true;
}

static bool fill_sections(struct joints *joints, const struct edges *a,
                          const struct edges *b)
{
    if (!boxes_near(&a->box, &b->box, joints->gap))
        return true;
    for (size_t i = 0; i < a->count; i++) {
        struct box box = edge_box(&a->items[i]);

        if (!boxes_near(&box, &b->box, joints->gap))
            continue;
        for (size_t j = 0; j < b->count; j++) {
            struct box other = edge_box(&b->items[j]);

            if (boxes_near(&box, &other, joints->gap) &&
                are_facing(&a->items[i], &b->items[j]) &&
                !fill_between(joints, &a->items[i], &b->items[j]))
                return false;
        }
    }
    return true;
}

/* Adds the fillings of all gaps. */
static enum outlay_status fill_all(struct arena *arena, const struct region *sections,
                                   size_t count, double gap, struct layer_rings *fillings)
{
    struct joints joints = {.arena = arena, .fillings = fillings, .gap = gap};
    struct edges *edges = arena_array(arena, count + 1, sizeof *edges);

    if (!edges)
        return OUTLAY_E_MEMORY;
    for (size_t k = 0; k < count; k++)
        if (!edges_of(arena, &sections[k], gap, &edges[k]))
            return OUTLAY_E_MEMORY;
    for (size_t a = 0; a < count; a++)
        for (size_t b = a + 1; b < count; b++)
            if (!fill_sections(&joints, &edges[a], &edges[b]))
                return OUTLAY_E_MEMORY;
    return OUTLAY_OK;
}

/* ---- One outline ------------------------------------------------------------------ */

static enum outlay_status unite(struct geo_ctx *ctx, struct arena *arena,
                                struct layer_rings *rings, struct region *out,
                                struct outlay_error *err)
{
    struct overlay overlay = {.rings = rings,
                              .grid = grid_for(rings, 0),
                              .label = label_positive,
                              .label_count = 1};

    return arrange(ctx, arena, &overlay, out, err);
}

/* All rings of a region moved outward by half a gap, or inward; then without vertices on
 * straight edges. */
static enum outlay_status move_boundary(struct geo_ctx *ctx, struct arena *arena,
                                        struct region *region, double gap, bool outward,
                                        struct outlay_error *err)
{
    struct layer_rings rings = {NULL, 0, 0};

    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++) {
            struct ring moved = {NULL, 0};
            struct thin_ring thin = {.ring = {NULL, 0}};
            enum outlay_status status = ring_thin(arena, region->polygons[i].rings[j],
                                                  outward ? crumb : traced, &thin);

            if (status == OUTLAY_OK)
                status = outward ? ring_outset(arena, thin.ring, gap / 2, &moved)
                                 : ring_inset(arena, thin.ring, gap / 2, &moved);
            if (status != OUTLAY_OK || !layer_rings_add(arena, &rings, moved, 0))
                return outlay_fail(err, OUTLAY_E_MEMORY, "joining roof sections");
        }
    return unite(ctx, arena, &rings, region, err);
}

/* Gaps between edges that face each other are filled. Moving the outline out by half a
 * gap and back in closes what is left where sections meet, and leaves every other edge
 * where it was. */
enum outlay_status sections_join(struct geo_ctx *ctx, struct arena *arena,
                                 const struct region *sections, size_t count, double gap,
                                 struct region *out, struct outlay_error *err)
{
    struct layer_rings rings = {NULL, 0, 0};
    bool fine = true;
    enum outlay_status status = OUTLAY_OK;

    if (count == 1) {
        *out = sections[0];
        return OUTLAY_OK;
    }
    for (size_t k = 0; k < count && fine; k++)
        fine = layer_rings_add_region(arena, &rings, &sections[k], 0);
    if (!fine || fill_all(arena, sections, count, gap, &rings) != OUTLAY_OK)
        return outlay_fail(err, OUTLAY_E_MEMORY, "joining roof sections");
    status = unite(ctx, arena, &rings, out, err);
    if (status == OUTLAY_OK)
        status = move_boundary(ctx, arena, out, gap, true, err);
    if (status == OUTLAY_OK)
        status = move_boundary(ctx, arena, out, gap, false, err);
    return status;
}
