#include "geo/loops.h"

#include <math.h>
#include <string.h>

#include "base/grow.h"
#include "geo/order.h"

void loops_begin(struct loops *loops)
{
    loops->walk_count = 0;
}

bool loops_add(struct loops *loops, struct node node)
{
    struct node *walk = grow_in(loops->scratch, loops->walk, loops->walk_count, 1,
                                &loops->walk_capacity, sizeof *walk);

    if (!walk)
        return false;
    loops->walk = walk;
    loops->walk[loops->walk_count++] = node;
    return true;
}

static double twice_area(const struct node *nodes, size_t count)
{
    double sum = 0;

    /* relative to the first node, so that small loops keep their sign */
    for (size_t k = 1; k + 1 < count; k++)
        sum += (double)node_cross(nodes[0], nodes[k], nodes[k + 1]);
    return sum;
}

/* Loops of fewer than three nodes are walks there and back: they hold no area. */
static bool keep_loop(struct loops *loops, const struct node *nodes, size_t count)
{
    struct loop *loop = NULL;

    if (count < 3)
        return true;
    loop = grow_in(loops->scratch, loops->items, loops->count, 1, &loops->capacity,
                   sizeof *loop);
    if (!loop)
        return false;
    loops->items = loop;
    loop = &loops->items[loops->count];
    loop->nodes = arena_array(loops->scratch, count, sizeof *nodes);
    if (!loop->nodes)
        return false;
    memcpy(loop->nodes, nodes, count * sizeof *nodes);
    loop->count = count;
    loop->area2 = twice_area(nodes, count);
    loops->count++;
    return true;
}

/* For each step of the walk the first step at the same node. */
static size_t *first_visits(struct loops *loops, bool *repeated)
{
    size_t count = loops->walk_count;
    struct order *order = arena_array(loops->scratch, count, sizeof *order);
    size_t *first = arena_array(loops->scratch, count, sizeof *first);

    if (!order || !first)
        return NULL;
    for (size_t k = 0; k < count; k++)
        order[k] = (struct order){node_order(loops->walk[k]), 0, k};
    if (!order_sort(loops->scratch, order, count))
        return NULL;
    *repeated = false;
    for (size_t k = 0; k < count; k++) {
        bool same = k > 0 && order[k].major == order[k - 1].major;

        first[order[k].index] = same ? first[order[k - 1].index] : order[k].index;
        *repeated = *repeated || same;
    }
    return first;
}

/* Comparing each with each is cheaper than sorting for the walks of most roofs. */
enum { SHORT_WALK = 32 };

static bool is_plainly_simple(const struct loops *loops)
{
    if (loops->walk_count > SHORT_WALK)
        return false;
    for (size_t k = 1; k < loops->walk_count; k++)
        for (size_t i = 0; i < k; i++)
            if (node_compare(loops->walk[i], loops->walk[k]) == 0)
                return false;
    return true;
}

bool loops_end(struct loops *loops)
{
    bool repeated = !is_plainly_simple(loops);
    size_t depth = 0;
    size_t *first = repeated ? first_visits(loops, &repeated) : NULL;
    struct node *stack = NULL;
    size_t *level = NULL; /* of the stack at which a node stands, plus 1; 0: not */

    if (!repeated)
        return keep_loop(loops, loops->walk, loops->walk_count);
    if (!first)
        return false;
    stack = arena_array(loops->scratch, loops->walk_count, sizeof *stack);
    level = arena_array(loops->scratch, loops->walk_count, sizeof *level);
    if (!stack || !level)
        return false;
    for (size_t k = 0; k < loops->walk_count; k++) {
        size_t *at = &level[first[k]];

        if (*at > 0 && *at <= depth &&
            node_compare(stack[*at - 1], loops->walk[k]) == 0) {
            if (!keep_loop(loops, stack + *at - 1, depth - *at + 1))
                return false;
            depth = *at; /* the node itself stays */
        } else {
            stack[depth++] = loops->walk[k];
            *at = depth;
        }
    }
    return keep_loop(loops, stack, depth);
}

/* ---- Polygons ---------------------------------------------------------------- */

/* 1 inside, 0 on the border, -1 outside. */
static int side_of(const struct loop *loop, struct node p)
{
    bool inside = false;

    for (size_t k = 0; k < loop->count; k++) {
        struct node a = loop->nodes[k];
        struct node b = loop->nodes[k + 1 == loop->count ? 0 : k + 1];
        int64_t cross = node_cross(a, b, p);

        if (cross == 0 && (int64_t)(p.x - a.x) * (p.x - b.x) <= 0 &&
            (int64_t)(p.y - a.y) * (p.y - b.y) <= 0)
            return 0;
        if ((a.y > p.y) != (b.y > p.y) && (cross > 0) == (b.y > a.y))
            inside = !inside;
    }
    return inside ? 1 : -1;
}

/* A hole may touch its shell at nodes, so the first node that doesn't decides. */
static bool encloses(const struct loop *shell, const struct loop *hole)
{
    if (shell->area2 < -hole->area2)
        return false;
    for (size_t k = 0; k < hole->count; k++) {
        int side = side_of(shell, hole->nodes[k]);

        if (side != 0)
            return side > 0;
    }
    return true;
}

/* Index of the smallest shell around a hole; loops->count when there is none. */
static size_t shell_of(const struct loops *loops, const struct loop *hole)
{
    size_t best = loops->count;

    for (size_t i = 0; i < loops->count; i++) {
        const struct loop *shell = &loops->items[i];

        if (shell->area2 > 0 &&
            (best == loops->count || shell->area2 < loops->items[best].area2) &&
            encloses(shell, hole))
            best = i;
    }
    return best;
}

/* A node's place: the reverse of rounding to the grid. */
static struct point place_of(const struct snap_grid *grid, struct point axis,
                             struct node node)
{
    double x = (double)node.x / grid->scale;
    double y = (double)node.y / grid->scale;

    return (struct point){grid->origin.x + x * axis.x - y * axis.y,
                          grid->origin.y + x * axis.y + y * axis.x};
}

static bool ring_of(const struct loop *loop, struct arena *arena,
                    const struct snap_grid *grid, struct ring *out)
{
    struct point axis = {cos(grid->bearing), sin(grid->bearing)};

    out->count = loop->count;
    out->points = arena_array(arena, loop->count, sizeof *out->points);
    if (!out->points)
        return false;
    for (size_t k = 0; k < loop->count; k++)
        out->points[k] = place_of(grid, axis, loop->nodes[k]);
    return true;
}

static bool polygon_of(const struct loops *loops, size_t shell, const size_t *owner,
                       struct arena *arena, const struct snap_grid *grid,
                       struct polygon *out)
{
    size_t holes = 0;

    for (size_t i = 0; i < loops->count; i++)
        holes += i != shell && owner[i] == shell;
    out->rings = arena_array(arena, holes + 1, sizeof *out->rings);
    if (!out->rings || !ring_of(&loops->items[shell], arena, grid, &out->rings[0]))
        return false;
    out->ring_count = 1;
    for (size_t i = 0; i < loops->count; i++)
        if (i != shell && owner[i] == shell &&
            !ring_of(&loops->items[i], arena, grid, &out->rings[out->ring_count++]))
            return false;
    return true;
}

enum outlay_status loops_region(const struct loops *loops, struct arena *arena,
                                const struct snap_grid *grid, struct region *out)
{
    size_t *owner = arena_array(loops->scratch, loops->count + 1, sizeof *owner);
    size_t shells = 0;

    memset(out, 0, sizeof *out);
    if (!owner)
        return OUTLAY_E_MEMORY;
    for (size_t i = 0; i < loops->count; i++) {
        bool is_shell = loops->items[i].area2 > 0;

        shells += is_shell;
        owner[i] = is_shell ? i : shell_of(loops, &loops->items[i]);
    }
    out->polygons = arena_array(arena, shells + 1, sizeof *out->polygons);
    if (!out->polygons)
        return OUTLAY_E_MEMORY;
    for (size_t i = 0; i < loops->count; i++)
        if (loops->items[i].area2 > 0 &&
            !polygon_of(loops, i, owner, arena, grid,
                        &out->polygons[out->polygon_count++]))
            return OUTLAY_E_MEMORY;
    return OUTLAY_OK;
}
