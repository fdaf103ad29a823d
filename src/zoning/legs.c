#include "zoning/legs.h"

#include <math.h>
#include <string.h>

#include "base/grow.h"
#include "geo/offset.h"

/* How far legs reach past the outline, m: more than what is written, so that no node
 * comes too near to the outline for rounding. */
static const double past = 5e-3;

/* How far the pieces of a leg reach into each other at a bend, m: more than any rounding
 * of the overlay, less than what is written. */
static const double into = 1e-3;

/* A convex piece of a leg, counter-clockwise: a rectangle on an edge, or the mitre at a
 * bend outward (five points at most; each line that clips may add one). */
enum { PIECE_POINTS = 12 };

struct piece {
    struct point points[PIECE_POINTS];
    size_t count;
};

struct pieces {
    struct arena *arena;
    struct piece *items;
    size_t count;
    size_t capacity;
};

static struct piece *pieces_next(struct pieces *pieces)
{
    struct piece *items = grow_in(pieces->arena, pieces->items, pieces->count, 1,
                                  &pieces->capacity, sizeof *items);

    if (!items)
        return NULL;
    pieces->items = items;
    return &pieces->items[pieces->count++];
}

/* ---- Walking a leg ------------------------------------------------------------- */

/* The edge that leaves vertex `index`, with its unit vectors along and to the left. */
struct edge {
    struct point start;
    struct point along;
    struct point left;
    double length;
    double outside; /* how far the leg must reach to the right, m */
};

static size_t next_of(const struct leg_ring *ring, size_t k)
{
    return k + 1 == ring->thin->ring.count ? 0 : k + 1;
}

static size_t previous_of(const struct leg_ring *ring, size_t k)
{
    return k == 0 ? ring->thin->ring.count - 1 : k - 1;
}

static struct edge edge_at(const struct leg_ring *ring, size_t index)
{
    struct point a = ring->thin->ring.points[index];
    struct point b = ring->thin->ring.points[next_of(ring, index)];
    double length = point_distance(a, b);
    struct point u = {(b.x - a.x) / length, (b.y - a.y) / length};

    return (struct edge){a, u, {-u.y, u.x}, length, ring->thin->deviation[index] + past};
}

static struct point on_edge(const struct edge *edge, double along, double left)
{
    return (struct point){edge->start.x + along * edge->along.x + left * edge->left.x,
                          edge->start.y + along * edge->along.y + left * edge->left.y};
}

/* The rectangle from `from` to `to` along an edge, depth to the left. */
static bool add_rectangle(struct pieces *pieces, const struct edge *edge, double from,
                          double to, double depth)
{
    struct piece *piece = pieces_next(pieces);

    if (!piece)
        return false;
    piece->count = 4;
    piece->points[0] = on_edge(edge, from, -edge->outside);
    piece->points[1] = on_edge(edge, to, -edge->outside);
    piece->points[2] = on_edge(edge, to, depth);
    piece->points[3] = on_edge(edge, from, depth);
    return true;
}

/* The gap between two rectangles where the boundary turns outward at vertex k. */
static bool add_mitre(struct pieces *pieces, const struct leg_ring *ring, size_t k,
                      double depth)
{
    struct edge in = edge_at(ring, previous_of(ring, k));
    struct edge out = edge_at(ring, k);
    struct point mitre[4];
    size_t count = 0;
    struct piece *piece = NULL;

    if (in.along.x * out.along.y - in.along.y * out.along.x >= 0)
        return true;
    piece = pieces_next(pieces);
    if (!piece)
        return false;
    count = mitre_points(out.start, in.along, out.along, depth, mitre);
    piece->points[piece->count++] = out.start;
    piece->points[piece->count++] = on_edge(&out, 0, depth);
    while (count > 0)
        piece->points[piece->count++] = mitre[--count];
    piece->points[piece->count++] = on_edge(&in, in.length, depth);
    return true;
}

bool is_corner_vertex(const struct leg_ring *ring, size_t k)
{
    return ring->kinds[k] == VERTEX_CORNER ||
           (ring->reentrant_corners && ring->kinds[k] == VERTEX_REENTRANT);
}

/* Walks from vertex `start` forward (with the ring) or back, until the length is used
 * up or a vertex stops the leg. The leg begins at `begin` along the first edge, m. */
static bool add_leg(struct pieces *pieces, const struct leg_ring *ring, size_t start,
                    bool forward, const struct zone_figure *figure, double begin)
{
    double left = figure->leg_length;
    double depth = figure->leg_depth;
    size_t vertex = start;

    for (size_t steps = 0; left > 0 && steps < ring->thin->ring.count; steps++) {
        struct edge edge = edge_at(ring, forward ? vertex : previous_of(ring, vertex));
        size_t end = forward ? next_of(ring, vertex) : previous_of(ring, vertex);
        bool ends_here = left <= edge.length;
        double beyond = ring->kinds[end] == VERTEX_CORNER     ? past
                        : ring->kinds[end] == VERTEX_STRAIGHT ? into
                                                              : 0;
        double reach = ends_here ? left : edge.length + beyond;
        double from = forward ? begin : edge.length - reach;
        double to = forward ? reach : edge.length - begin;

        if (!add_rectangle(pieces, &edge, from, to, depth))
            return false;
        if (ends_here || ring->kinds[end] != VERTEX_STRAIGHT)
            return true;
        if (!add_mitre(pieces, ring, end, depth))
            return false;
        left -= edge.length;
        begin = -into;
        vertex = end;
    }
    return true;
}

/* ---- Crossed corners ----------------------------------------------------------- */

static double side_of(struct point a, struct point b, struct point p)
{
    return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
}

/* What of subject lies left of a to b (Sutherland and Hodgman 1974). */
static void clip_by_line(struct piece *subject, struct point a, struct point b)
{
    struct piece kept = {.count = 0};

    for (size_t k = 0; k < subject->count; k++) {
        struct point p = subject->points[k];
        struct point q = subject->points[k + 1 == subject->count ? 0 : k + 1];
        double p_side = side_of(a, b, p);
        double q_side = side_of(a, b, q);

        if (p_side >= 0 && kept.count < PIECE_POINTS)
            kept.points[kept.count++] = p;
        if ((p_side > 0 && q_side < 0) || (p_side < 0 && q_side > 0)) {
            double t = p_side / (p_side - q_side);

            if (kept.count < PIECE_POINTS)
                kept.points[kept.count++] =
                    (struct point){p.x + t * (q.x - p.x), p.y + t * (q.y - p.y)};
        }
    }
    *subject = kept;
}

static struct piece crossed(const struct piece *one, const struct piece *other)
{
    struct piece shared = *one;

    for (size_t k = 0; k < other->count; k++)
        clip_by_line(&shared, other->points[k],
                     other->points[k + 1 == other->count ? 0 : k + 1]);
    return shared;
}

/* ---- Rings ---------------------------------------------------------------------- */

static bool add_piece(struct arena *arena, const struct piece *piece,
                      struct layer_rings *out, int layer)
{
    struct ring ring = {NULL, piece->count};

    if (piece->count < 3)
        return true;
    ring.points = arena_array(arena, piece->count, sizeof *ring.points);
    if (!ring.points)
        return false;
    memcpy(ring.points, piece->points, piece->count * sizeof *ring.points);
    return layer_rings_add(arena, out, ring, layer);
}

/* The usual corner, two legs that each end within one edge, as one ring: fewer edges
 * for the overlay than two rectangles that cross. @return false: not such a corner */
static bool plain_corner(const struct leg_ring *ring, size_t k,
                         const struct zone_figure *figure, struct piece *out)
{
    struct edge in = edge_at(ring, previous_of(ring, k));
    struct edge leaving = edge_at(ring, k);
    double length = figure->leg_length;
    double depth = figure->leg_depth;
    double turn = in.along.x * leaving.along.y - in.along.y * leaving.along.x;
    double facing = in.along.x * leaving.along.x + in.along.y * leaving.along.y;
    double meets = depth * turn / (1 + facing); /* where the inner sides cross */

    if (turn <= 0 || facing <= -0.5 || meets > length || length > in.length ||
        length > leaving.length)
        return false;
    *out = (struct piece){.count = 6};
    /* where the outer sides cross, before or behind the end of the edge that arrives */
    out->points[0] = on_edge(
        &in, in.length + (leaving.outside - in.outside * facing) / turn, -in.outside);
    out->points[1] = on_edge(&leaving, length, -leaving.outside);
    out->points[2] = on_edge(&leaving, length, depth);
    out->points[3] = on_edge(&leaving, meets, depth);
    out->points[4] = on_edge(&in, in.length - length, depth);
    out->points[5] = on_edge(&in, in.length - length, -in.outside);
    return true;
}

static bool add_corner(struct arena *arena, const struct leg_ring *ring, size_t k,
                       const struct zone_figure *figure, struct layer_rings *out,
                       int layer)
{
    struct pieces ahead = {.arena = arena};
    struct pieces behind = {.arena = arena};
    bool crossing =
        figure->corner_shape == CORNER_CROSSED && ring->kinds[k] == VERTEX_CORNER;
    /* at a corner the other leg covers what lies behind; crossed, nothing may */
    double begin = crossing || ring->kinds[k] == VERTEX_REENTRANT ? 0 : -past;
    struct piece plain;

    if (!crossing && plain_corner(ring, k, figure, &plain))
        return add_piece(arena, &plain, out, layer);
    if (!add_leg(&ahead, ring, k, true, figure, begin) ||
        !add_leg(&behind, ring, k, false, figure, begin) ||
        !add_mitre(&ahead, ring, k, figure->leg_depth))
        return false;
    if (!crossing) {
        for (size_t i = 0; i < ahead.count; i++)
            if (!add_piece(arena, &ahead.items[i], out, layer))
                return false;
        for (size_t i = 0; i < behind.count; i++)
            if (!add_piece(arena, &behind.items[i], out, layer))
                return false;
        return true;
    }
    for (size_t i = 0; i < ahead.count; i++)
        for (size_t j = 0; j < behind.count; j++) {
            struct piece shared = crossed(&ahead.items[i], &behind.items[j]);

            if (!add_piece(arena, &shared, out, layer))
                return false;
        }
    return true;
}

enum outlay_status legs_add(struct arena *arena, const struct leg_ring *ring,
                            const struct zone_figure *figure, struct layer_rings *out,
                            int layer)
{
    for (size_t k = 0; k < ring->thin->ring.count; k++)
        if (is_corner_vertex(ring, k) && !add_corner(arena, ring, k, figure, out, layer))
            return OUTLAY_E_MEMORY;
    return OUTLAY_OK;
}
