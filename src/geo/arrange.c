#include "geo/arrange.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include "base/grow.h"
#include "geo/ctx_private.h"
#include "geo/loops.h"
#include "geo/noding.h"
#include "geo/order.h"

static_assert(ARRANGE_LAYERS == NODING_LAYERS, "one number of layers");

bool layer_rings_add(struct arena *arena, struct layer_rings *rings, struct ring ring,
                     int layer)
{
    struct layer_ring *items =
        grow_in(arena, rings->items, rings->count, 1, &rings->capacity, sizeof *items);

    if (!items)
        return false;
    rings->items = items;
    rings->items[rings->count++] = (struct layer_ring){ring, layer};
    return true;
}

bool layer_rings_add_region(struct arena *arena, struct layer_rings *rings,
                            const struct region *region, int layer)
{
    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++)
            if (!layer_rings_add(arena, rings, region->polygons[i].rings[j], layer))
                return false;
    return true;
}

struct box layer_rings_box(const struct layer_rings *rings)
{
    struct box box = box_empty();

    for (size_t i = 0; i < rings->count; i++)
        for (size_t k = 0; k < rings->items[i].ring.count; k++)
            box_add(&box, rings->items[i].ring.points[k]);
    return box;
}

struct snap_grid grid_for(const struct layer_rings *rings, double bearing)
{
    struct box box = layer_rings_box(rings);
    double width = box.max_x - box.min_x;
    double height = box.max_y - box.min_y;
    double half = sqrt(width * width + height * height) / 2;
    struct snap_grid grid = {{0, 0}, 1, 0};

    if (!isfinite(half) || half <= 0)
        return grid;
    grid.origin =
        (struct point){(box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2};
    grid.bearing = bearing;
    /* a power of two, so that scaling is exact; rounding leaves a unit of room */
    grid.scale = exp2(floor(log2((double)(NODING_LIMIT - 2) / half)));
    return grid;
}

/* A grid with the direction of its x axis worked out. */
struct axes {
    const struct snap_grid *grid;
    struct point x;
};

static struct axes axes_of(const struct snap_grid *grid)
{
    return (struct axes){grid, {cos(grid->bearing), sin(grid->bearing)}};
}

static bool to_node(const struct axes *axes, struct point p, struct node *out)
{
    double dx = (p.x - axes->grid->origin.x) * axes->grid->scale;
    double dy = (p.y - axes->grid->origin.y) * axes->grid->scale;
    double x = dx * axes->x.x + dy * axes->x.y;
    double y = dy * axes->x.x - dx * axes->x.y;

    if (!(fabs(x) < (double)NODING_LIMIT && fabs(y) < (double)NODING_LIMIT))
        return false;
    *out = (struct node){(int32_t)lround(x), (int32_t)lround(y)};
    return true;
}

static enum outlay_status add_ring(struct arena *scratch, const struct axes *axes,
                                   const struct layer_ring *item, struct segments *set,
                                   struct outlay_error *err)
{
    const struct ring *ring = &item->ring;
    struct node from = {0, 0};
    struct node to = {0, 0};

    if (ring->count < 2)
        return OUTLAY_OK;
    if (!to_node(axes, ring->points[ring->count - 1], &from))
        return outlay_fail(err, OUTLAY_E_GEOMETRY, "a ring leaves the grid");
    for (size_t k = 0; k < ring->count; k++, from = to) {
        if (!to_node(axes, ring->points[k], &to))
            return outlay_fail(err, OUTLAY_E_GEOMETRY, "a ring leaves the grid");
        if (!segments_add(scratch, set, from, to, item->layer))
            return outlay_fail(err, OUTLAY_E_MEMORY, "overlaying rings");
    }
    return OUTLAY_OK;
}

static enum outlay_status collect(struct arena *scratch, const struct layer_rings *rings,
                                  const struct snap_grid *grid, struct segments *set,
                                  struct outlay_error *err)
{
    struct axes axes = axes_of(grid);
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = 0; i < rings->count && status == OUTLAY_OK; i++)
        status = add_ring(scratch, &axes, &rings->items[i], set, err);
    return status;
}

/* ---- Faces ------------------------------------------------------------------- */

/* One side of a segment. Half-edges stand grouped by the node that they leave, nodes in
 * order, and within a node in turning order, by angle from -pi to pi. */
struct half_edge {
    size_t segment;
    size_t twin;                /* position of the other side */
    size_t node;                /* that it leaves */
    bool forward;               /* runs from a to b */
    bool known;                 /* winding is set */
    int label;                  /* of the face on the left */
    int winding[NODING_LAYERS]; /* of the face on the left */
};

struct graph {
    struct half_edge *edges;
    size_t count;
    size_t *first; /* position of each node's first half-edge, and the count */
    const struct segments *segments;
};

static struct node origin_of(const struct graph *graph, const struct half_edge *edge)
{
    const struct segment *s = &graph->segments->items[edge->segment];

    return edge->forward ? s->a : s->b;
}

/* 0 for the lower half turn (-pi, 0), 1 for [0, pi), 2 for pi. */
static int half_turn(int64_t dx, int64_t dy)
{
    if (dy != 0)
        return dy > 0;
    return dx > 0 ? 1 : 2;
}

static bool turns_before(const struct graph *graph, const struct half_edge *left,
                         const struct half_edge *right)
{
    const struct segment *p = &graph->segments->items[left->segment];
    const struct segment *q = &graph->segments->items[right->segment];
    int64_t p_sign = left->forward ? 1 : -1;
    int64_t q_sign = right->forward ? 1 : -1;
    int64_t px = p_sign * ((int64_t)p->b.x - p->a.x);
    int64_t py = p_sign * ((int64_t)p->b.y - p->a.y);
    int64_t qx = q_sign * ((int64_t)q->b.x - q->a.x);
    int64_t qy = q_sign * ((int64_t)q->b.y - q->a.y);

    if (half_turn(px, py) != half_turn(qx, qy))
        return half_turn(px, py) < half_turn(qx, qy);
    return px * qy - py * qx > 0;
}

/* Puts a half-edge into its node's turning order; nodes have few. */
static void insert_turning(struct graph *graph, struct half_edge edge)
{
    size_t k = graph->count++;

    for (;
         k > graph->first[edge.node] && turns_before(graph, &edge, &graph->edges[k - 1]);
         k--)
        graph->edges[k] = graph->edges[k - 1];
    graph->edges[k] = edge;
}

/* Merges the a ends, which are sorted already, with the b ends. */
static size_t merge_ends(struct graph *graph, const struct order *b_ends)
{
    const struct segments *set = graph->segments;
    size_t i = 0;
    size_t j = 0;
    size_t nodes = 0;

    while (i < set->count || j < set->count) {
        bool forward = i < set->count && (j == set->count ||
                                          node_order(set->items[i].a) <= b_ends[j].major);
        struct half_edge edge = {.segment = forward ? i++ : b_ends[j++].index,
                                 .forward = forward};

        if (graph->count == 0 ||
            node_compare(origin_of(graph, &edge),
                         origin_of(graph, &graph->edges[graph->count - 1])) != 0)
            graph->first[nodes++] = graph->count;
        edge.node = nodes - 1;
        insert_turning(graph, edge);
    }
    return nodes;
}

static bool graph_build(struct arena *scratch, const struct segments *set,
                        struct graph *graph)
{
    struct order *ends = arena_array(scratch, set->count + 1, sizeof *ends);
    size_t *position = arena_array(scratch, 2 * set->count + 1, sizeof *position);
    size_t nodes;

    graph->segments = set;
    graph->edges = arena_array(scratch, 2 * set->count + 1, sizeof *graph->edges);
    graph->first = arena_array(scratch, 2 * set->count + 1, sizeof *graph->first);
    if (!ends || !position || !graph->edges || !graph->first)
        return false;
    for (size_t i = 0; i < set->count; i++)
        ends[i] = (struct order){node_order(set->items[i].b), 0, i};
    if (!order_sort(scratch, ends, set->count))
        return false;
    nodes = merge_ends(graph, ends);
    graph->first[nodes] = graph->count;
    for (size_t k = 0; k < graph->count; k++)
        position[2 * graph->edges[k].segment + graph->edges[k].forward] = k;
    for (size_t k = 0; k < graph->count; k++)
        graph->edges[k].twin =
            position[2 * graph->edges[k].segment + !graph->edges[k].forward];
    return true;
}

/* Winding on the left from the winding on the right, or (sign -1) the other way. */
static void cross_edge(const struct graph *graph, const struct half_edge *edge, int sign,
                       const int from[NODING_LAYERS], int to[NODING_LAYERS])
{
    const int16_t *change = graph->segments->items[edge->segment].change;
    int direction = edge->forward ? sign : -sign;

    for (int k = 0; k < NODING_LAYERS; k++)
        to[k] = from[k] + direction * change[k];
}

/* From one known half-edge of a node to all of them, turning counter-clockwise: the
 * left of one is the right of the next. Twins that become known go on the stack. */
static void spread_around(struct graph *graph, size_t start, size_t *stack, size_t *depth)
{
    size_t first = graph->first[graph->edges[start].node];
    size_t end = graph->first[graph->edges[start].node + 1];
    size_t previous = start;

    for (size_t turn = 0; turn < end - first; turn++) {
        size_t k = previous + 1 == end ? first : previous + 1;
        struct half_edge *edge = &graph->edges[k];
        struct half_edge *twin = &graph->edges[edge->twin];

        if (!edge->known) {
            cross_edge(graph, edge, 1, graph->edges[previous].winding, edge->winding);
            edge->known = true;
        }
        if (!twin->known) {
            cross_edge(graph, edge, -1, edge->winding, twin->winding);
            twin->known = true;
            stack[(*depth)++] = edge->twin;
        }
        previous = k;
    }
}

/* Winding just west of a node that is the lowest of its component by x, then y: all
 * edges that a ray to the west crosses belong to components already known or not, and
 * are counted alike. */
static void winding_west_of(const struct graph *graph, struct node node,
                            int winding[NODING_LAYERS])
{
    memset(winding, 0, NODING_LAYERS * sizeof *winding);
    for (size_t i = 0; i < graph->segments->count; i++) {
        const struct segment *s = &graph->segments->items[i];
        bool up = s->b.y > s->a.y;
        struct node low = up ? s->a : s->b;
        struct node high = up ? s->b : s->a;

        if (s->a.x > node.x)
            break; /* sorted by a, the western end */
        if (low.y > node.y || high.y <= node.y || node_cross(low, high, node) >= 0)
            continue;
        for (int k = 0; k < NODING_LAYERS; k++)
            winding[k] += up ? -s->change[k] : s->change[k];
    }
}

static bool graph_wind(struct arena *scratch, struct graph *graph)
{
    size_t *stack = arena_array(scratch, graph->count + 1, sizeof *stack);

    if (!stack)
        return false;
    for (size_t k = 0; k < graph->count; k++) {
        size_t end = graph->first[graph->edges[k].node + 1];
        size_t depth = 0;

        if (graph->edges[k].known)
            continue;
        winding_west_of(graph, origin_of(graph, &graph->edges[k]),
                        graph->edges[end - 1].winding);
        graph->edges[end - 1].known = true;
        stack[depth++] = end - 1;
        /* the twin of the seed is reached by turning a full circle */
        while (depth > 0)
            spread_around(graph, stack[--depth], stack, &depth);
    }
    return true;
}

/* ---- Rings ------------------------------------------------------------------- */

static bool is_border(const struct graph *graph, const struct half_edge *edge)
{
    return edge->label >= 0 && edge->label != graph->edges[edge->twin].label;
}

/* The next border half-edge of the same face: from the end of k, the first one
 * clockwise from the way back. That keeps every face's own side, so that faces which
 * touch at a point come apart. */
static size_t next_border(const struct graph *graph, size_t k)
{
    size_t at = graph->edges[k].twin;
    size_t first = graph->first[graph->edges[at].node];
    size_t end = graph->first[graph->edges[at].node + 1];

    do
        at = at == first ? end - 1 : at - 1;
    while (graph->edges[at].label != graph->edges[k].label ||
           !is_border(graph, &graph->edges[at]));
    return at;
}

/* One closed walk along a face's border, from a half-edge not walked before. */
static bool walk(const struct graph *graph, size_t start, bool *done, struct loops *loops)
{
    loops_begin(loops);
    for (size_t k = start; !done[k]; k = next_border(graph, k)) {
        done[k] = true;
        if (!loops_add(loops, origin_of(graph, &graph->edges[k])))
            return false;
    }
    return loops_end(loops);
}

static bool trace(struct arena *scratch, const struct graph *graph, struct loops *loops)
{
    bool *done = arena_array(scratch, graph->count + 1, sizeof *done);

    if (!done)
        return false;
    for (size_t k = 0; k < graph->count; k++)
        if (!done[k] && is_border(graph, &graph->edges[k]) &&
            !walk(graph, k, done, &loops[graph->edges[k].label]))
            return false;
    return true;
}

static enum outlay_status extract(struct geo_ctx *ctx, struct arena *arena,
                                  const struct graph *graph, const struct snap_grid *grid,
                                  size_t label_count, struct region *out)
{
    struct loops *loops = arena_array(ctx->scratch, label_count, sizeof *loops);
    enum outlay_status status = OUTLAY_OK;

    if (!loops)
        return OUTLAY_E_MEMORY;
    for (size_t label = 0; label < label_count; label++)
        loops[label].scratch = ctx->scratch;
    if (!trace(ctx->scratch, graph, loops))
        return OUTLAY_E_MEMORY;
    for (size_t label = 0; label < label_count && status == OUTLAY_OK; label++)
        status = loops_region(&loops[label], arena, grid, &out[label]);
    return status;
}

/* Labels the faces of a noded set and takes the regions out. */
static enum outlay_status label_faces(struct geo_ctx *ctx, struct arena *arena,
                                      const struct overlay *overlay,
                                      const struct segments *set, struct region *out)
{
    struct graph graph = {.count = 0};

    if (!graph_build(ctx->scratch, set, &graph) || !graph_wind(ctx->scratch, &graph))
        return OUTLAY_E_MEMORY;
    for (size_t k = 0; k < graph.count; k++)
        graph.edges[k].label = overlay->label(graph.edges[k].winding, overlay->user);
    return extract(ctx, arena, &graph, &overlay->grid, overlay->label_count, out);
}

enum outlay_status arrange(struct geo_ctx *ctx, struct arena *arena,
                           struct overlay *overlay, struct region *out,
                           struct outlay_error *err)
{
    struct segments set = {.clearance =
                               (int64_t)ceil(overlay->clearance * overlay->grid.scale)};
    enum outlay_status status =
        collect(ctx->scratch, overlay->rings, &overlay->grid, &set, err);

    memset(out, 0, overlay->label_count * sizeof *out);
    if (status == OUTLAY_OK)
        status = segments_node(ctx->scratch, &set, err);
    if (status != OUTLAY_OK)
        goto done;
    overlay->clear = overlay->clearance > 0 && !set.tight;
    status = label_faces(ctx, arena, overlay, &set, out);
    if (status != OUTLAY_OK)
        outlay_fail(err, status, "overlaying %zu segments", set.count);

done:
    arena_reset(ctx->scratch);
    return status;
}

enum outlay_status rings_settled(struct geo_ctx *ctx, const struct layer_rings *rings,
                                 const struct snap_grid *grid, bool *settled,
                                 struct outlay_error *err)
{
    struct segments set = {.count = 0};
    size_t expected = 0;
    enum outlay_status status = collect(ctx->scratch, rings, grid, &set, err);

    *settled = false;
    if (status == OUTLAY_OK) {
        for (size_t i = 0; i < rings->count; i++)
            expected += rings->items[i].ring.count;
        if (set.count == expected && !segments_are_noded(ctx->scratch, &set, settled))
            status = outlay_fail(err, OUTLAY_E_MEMORY, "checking rings");
    }
    arena_reset(ctx->scratch);
    return status;
}

int label_positive(const int winding[ARRANGE_LAYERS], const void *user)
{
    (void)user;
    return winding[0] > 0 ? 0 : -1;
}
