#include "geo/noding.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/grow.h"
#include "geo/order.h"

/* Rounding a crossing moves two segments by at most 0.71 units, which may push them
 * onto a third point; each round repairs what the one before caused. Five rounds are
 * the most that random, real and hard outlines have needed. */
enum { ROUNDS_MAX = 32 };

struct split {
    size_t segment;
    int64_t along; /* order on the segment: the dot product with its direction */
    struct node at;
};

struct splits {
    struct split *items;
    size_t count;
    size_t capacity;
};

bool segments_add(struct arena *arena, struct segments *set, struct node from,
                  struct node to, int layer)
{
    int order = node_compare(from, to);
    struct segment *segment = NULL;

    if (order == 0)
        return true;
    segment = grow_in(arena, set->items, set->count, 1, &set->capacity, sizeof *segment);
    if (!segment)
        return false;
    set->items = segment;
    segment = &set->items[set->count++];
    memset(segment, 0, sizeof *segment);
    segment->a = order < 0 ? from : to;
    segment->b = order < 0 ? to : from;
    segment->change[layer] = order < 0 ? 1 : -1;
    segment->fresh = true;
    return true;
}

static bool is_same_segment(const struct segment *a, const struct segment *b)
{
    return node_compare(a->a, b->a) == 0 && node_compare(a->b, b->b) == 0;
}

/* Sorts by a, then b. */
static bool segments_sort(struct arena *arena, struct segments *set)
{
    struct order *order = arena_array(arena, set->count, sizeof *order);
    struct segment *sorted = arena_array(arena, set->count, sizeof *sorted);

    if (!order || !sorted)
        return false;
    for (size_t i = 0; i < set->count; i++)
        order[i] =
            (struct order){node_order(set->items[i].a), node_order(set->items[i].b), i};
    if (!order_sort(arena, order, set->count))
        return false;
    for (size_t i = 0; i < set->count; i++)
        sorted[i] = set->items[order[i].index];
    set->items = sorted;
    set->capacity = set->count;
    return true;
}

static bool changes_nothing(const struct segment *segment)
{
    for (int k = 0; k < NODING_LAYERS; k++)
        if (segment->change[k])
            return false;
    return true;
}

/* Sorts, adds up coincident segments, drops those without effect. */
static bool merge(struct arena *arena, struct segments *set)
{
    size_t kept = 0;

    if (!segments_sort(arena, set))
        return false;
    for (size_t i = 0; i < set->count;) {
        struct segment sum = set->items[i++];

        for (; i < set->count && is_same_segment(&sum, &set->items[i]); i++) {
            sum.fresh = sum.fresh && set->items[i].fresh;
            for (int k = 0; k < NODING_LAYERS; k++)
                sum.change[k] = (int16_t)(sum.change[k] + set->items[i].change[k]);
        }
        if (!changes_nothing(&sum))
            set->items[kept++] = sum;
    }
    set->count = kept;
    return true;
}

static bool node_is(struct node a, struct node b)
{
    return a.x == b.x && a.y == b.y;
}

static bool has_end(const struct segment *segment, struct node node)
{
    return node_is(segment->a, node) || node_is(segment->b, node);
}

static int32_t low_y(const struct segment *s)
{
    return s->a.y < s->b.y ? s->a.y : s->b.y;
}

static int32_t high_y(const struct segment *s)
{
    return s->a.y < s->b.y ? s->b.y : s->a.y;
}

static int64_t along_segment(const struct segment *segment, struct node node)
{
    int64_t dx = segment->b.x - segment->a.x;
    int64_t dy = segment->b.y - segment->a.y;

    return (node.x - segment->a.x) * dx + (node.y - segment->a.y) * dy;
}

/* No less than the segment's length: a cross beyond it belongs to a node more than a
 * unit away. */
static int64_t reach_of(const struct segment *s)
{
    return (int64_t)s->b.x - s->a.x + ((int64_t)high_y(s) - low_y(s));
}

/* Whether node lies within half a unit of the inside of segment; cross is that of the
 * segment and the node. At a whole unit the two diagonals of a box one unit wide would
 * turn into each other for ever. */
static bool is_beside(const struct segment *segment, struct node node, int64_t cross)
{
    int64_t dx = segment->b.x - segment->a.x;
    int64_t dy = segment->b.y - segment->a.y;
    int64_t length2 = dx * dx + dy * dy;
    int64_t along = along_segment(segment, node);

    return along > 0 && along < length2 &&
           4 * (double)cross * (double)cross <= (double)length2;
}

/* Where p and q cross, rounded; the weights are the crosses of p's ends with q. */
static struct node crossing(const struct segment *p, int64_t weight_a, int64_t weight_b)
{
    double t = (double)weight_a / ((double)weight_a - (double)weight_b);
    struct node at = {
        p->a.x + (int32_t)lround(t * (double)(p->b.x - p->a.x)),
        p->a.y + (int32_t)lround(t * (double)(p->b.y - p->a.y)),
    };

    return at;
}

/* Nodes that a pair of segments needs: at most two a segment. */
struct meeting {
    struct node on_p[3];
    struct node on_q[3];
    int p_count;
    int q_count;
};

static bool opposite(int64_t a, int64_t b)
{
    return (a < 0 && b > 0) || (a > 0 && b < 0);
}

/* Nodes of `other` that lie on the inside of a segment; a and b are the crosses of its
 * ends with it. */
static int nodes_beside(const struct segment *segment, const struct segment *other,
                        int64_t a, int64_t b, int64_t reach, struct node *out)
{
    int count = 0;

    if (llabs(a) <= reach && !has_end(segment, other->a) &&
        is_beside(segment, other->a, a))
        out[count++] = other->a;
    if (llabs(b) <= reach && !has_end(segment, other->b) &&
        is_beside(segment, other->b, b))
        out[count++] = other->b;
    return count;
}

/* How two segments lie to each other: crosses of each one's ends with the other, and
 * no less than their lengths. */
struct pair {
    int64_t qa, qb, pa, pb;
    int64_t p_reach, q_reach;
};

/* Whether both ends lie more than `units` to the same side. */
static bool is_beyond(int64_t a, int64_t b, int64_t reach, int64_t units)
{
    return (a > reach * units && b > reach * units) ||
           (a < -reach * units && b < -reach * units);
}

/* Crosses, as far as they are needed to see that the segments are more than `units`
 * apart. @return false: they are */
static bool pair_near(const struct segment *p, const struct segment *q, int64_t units,
                      struct pair *out)
{
    out->p_reach = reach_of(p);
    out->qa = node_cross(p->a, p->b, q->a);
    out->qb = node_cross(p->a, p->b, q->b);
    if (is_beyond(out->qa, out->qb, out->p_reach, units))
        return false;
    out->q_reach = reach_of(q);
    out->pa = node_cross(q->a, q->b, p->a);
    out->pb = node_cross(q->a, q->b, p->b);
    return !is_beyond(out->pa, out->pb, out->q_reach, units);
}

static void meet(const struct segment *p, const struct segment *q,
                 const struct pair *pair, struct meeting *out)
{
    out->p_count = nodes_beside(p, q, pair->qa, pair->qb, pair->p_reach, out->on_p);
    out->q_count = nodes_beside(q, p, pair->pa, pair->pb, pair->q_reach, out->on_q);
    if (out->p_count || out->q_count)
        return;
    if (opposite(pair->qa, pair->qb) && opposite(pair->pa, pair->pb)) {
        struct node at = crossing(p, pair->pa, pair->pb);

        if (!has_end(p, at))
            out->on_p[out->p_count++] = at;
        if (!has_end(q, at))
            out->on_q[out->q_count++] = at;
    }
}

/* Whether a node may lie within `units` of a segment; cross is that of the two. */
static bool may_touch(const struct segment *segment, struct node node, int64_t cross,
                      int64_t reach, int64_t units)
{
    int64_t dx = segment->b.x - segment->a.x;
    int64_t dy = segment->b.y - segment->a.y;
    int64_t along = along_segment(segment, node);

    return llabs(cross) <= reach * units && !has_end(segment, node) &&
           along >= -reach * units && along <= dx * dx + dy * dy + reach * units;
}

static bool is_tight(const struct segment *p, const struct segment *q,
                     const struct pair *pair, int64_t units)
{
    return may_touch(p, q->a, pair->qa, pair->p_reach, units) ||
           may_touch(p, q->b, pair->qb, pair->p_reach, units) ||
           may_touch(q, p->a, pair->pa, pair->q_reach, units) ||
           may_touch(q, p->b, pair->pb, pair->q_reach, units);
}

static bool splits_add(struct arena *arena, struct splits *splits,
                       const struct segments *set, size_t segment,
                       const struct node *nodes, int count)
{
    for (int i = 0; i < count; i++) {
        int64_t along = along_segment(&set->items[segment], nodes[i]);
        struct split *items = grow_in(arena, splits->items, splits->count, 1,
                                      &splits->capacity, sizeof *items);

        if (!items)
            return false;
        splits->items = items;
        splits->items[splits->count++] = (struct split){segment, along, nodes[i]};
    }
    return true;
}

static bool y_apart(const struct segment *p, const struct segment *q, int64_t units)
{
    return high_y(p) + units < low_y(q) || high_y(q) + units < low_y(p);
}

/* What one pair asks for. @return false when out of memory */
static bool compare_pair(struct arena *arena, struct segments *set, size_t i, size_t j,
                         int64_t units, struct splits *splits)
{
    const struct segment *p = &set->items[i];
    const struct segment *q = &set->items[j];
    struct pair pair;
    struct meeting meeting;

    if (!pair_near(p, q, units, &pair))
        return true;
    meet(p, q, &pair, &meeting);
    if (meeting.p_count + meeting.q_count == 0) {
        set->tight =
            set->tight || (set->clearance > 0 && is_tight(p, q, &pair, set->clearance));
        return true;
    }
    return splits_add(arena, splits, set, i, meeting.on_p, meeting.p_count) &&
           splits_add(arena, splits, set, j, meeting.on_q, meeting.q_count);
}

/* One round: every pair of the sorted set that comes near each other and wasn't
 * compared in a round before. A unit of room: an end may be beside a segment without
 * touching it. */
static bool find_splits(struct arena *arena, struct segments *set, struct splits *splits)
{
    int64_t units = set->clearance > 1 && !set->tight ? set->clearance : 1;

    for (size_t i = 0; i < set->count; i++) {
        const struct segment *p = &set->items[i];

        for (size_t j = i + 1; j < set->count; j++) {
            const struct segment *q = &set->items[j];

            if (q->a.x > p->b.x + units)
                break;
            if (!(p->fresh || q->fresh) || y_apart(p, q, units))
                continue;
            if (!compare_pair(arena, set, i, j, units, splits))
                return false;
        }
    }
    return true;
}

/* Sorts by segment, then along it. */
static bool splits_sort(struct arena *arena, struct splits *splits)
{
    struct order *order = arena_array(arena, splits->count, sizeof *order);
    struct split *sorted = arena_array(arena, splits->count, sizeof *sorted);

    if (!order || !sorted)
        return false;
    for (size_t i = 0; i < splits->count; i++)
        order[i] = (struct order){splits->items[i].segment,
                                  (uint64_t)splits->items[i].along + INT64_MAX, i};
    if (!order_sort(arena, order, splits->count))
        return false;
    for (size_t i = 0; i < splits->count; i++)
        sorted[i] = splits->items[order[i].index];
    splits->items = sorted;
    splits->capacity = splits->count;
    return true;
}

/* A piece of a whole segment; nodes beside it may turn a piece round, and then its
 * sides change places. */
static bool add_piece(struct arena *arena, struct segments *set, struct node from,
                      struct node to, const struct segment *whole)
{
    size_t before = set->count;

    if (!segments_add(arena, set, from, to, 0))
        return false;
    if (set->count > before) {
        struct segment *piece = &set->items[before];
        int sign = piece->change[0];

        for (int k = 0; k < NODING_LAYERS; k++)
            piece->change[k] = (int16_t)(sign * whole->change[k]);
    }
    return true;
}

static bool apply_splits(struct arena *arena, struct segments *set, struct splits *splits)
{
    struct segments next = {.clearance = set->clearance, .tight = set->tight};
    size_t k = 0;

    next.capacity = set->count + splits->count;
    next.items = arena_array(arena, next.capacity, sizeof *next.items);
    if (!next.items || !splits_sort(arena, splits))
        return false;
    for (size_t i = 0; i < set->count; i++) {
        struct segment *whole = &set->items[i];
        struct node from = whole->a;

        whole->fresh = false;
        if (k == splits->count || splits->items[k].segment != i) {
            next.items[next.count++] = *whole;
            continue;
        }
        for (; k < splits->count && splits->items[k].segment == i; k++) {
            if (!add_piece(arena, &next, from, splits->items[k].at, whole))
                return false;
            from = splits->items[k].at;
        }
        if (!add_piece(arena, &next, from, whole->b, whole))
            return false;
    }
    *set = next;
    return true;
}

enum outlay_status segments_node(struct arena *arena, struct segments *set,
                                 struct outlay_error *err)
{
    struct splits splits = {NULL, 0, 0};

    for (int round = 0; round < ROUNDS_MAX; round++) {
        splits.count = 0;
        if (!merge(arena, set) || !find_splits(arena, set, &splits))
            return outlay_fail(err, OUTLAY_E_MEMORY, "noding %zu segments", set->count);
        if (splits.count == 0)
            return OUTLAY_OK;
        if (!apply_splits(arena, set, &splits))
            return outlay_fail(err, OUTLAY_E_MEMORY, "noding %zu segments", set->count);
    }
    return outlay_fail(err, OUTLAY_E_GEOMETRY, "noding %zu segments doesn't settle",
                       set->count);
}

/* Keeps one of coincident segments. @return false if two are of one layer: a ring that
 * runs back over itself */
static bool merge_neighbours(struct segments *set)
{
    size_t kept = 0;

    for (size_t i = 0; i < set->count; i++) {
        struct segment *last = kept > 0 ? &set->items[kept - 1] : NULL;

        if (!last || !is_same_segment(last, &set->items[i])) {
            set->items[kept++] = set->items[i];
            continue;
        }
        for (int k = 0; k < NODING_LAYERS; k++) {
            if (last->change[k] && set->items[i].change[k])
                return false;
            last->change[k] = (int16_t)(last->change[k] + set->items[i].change[k]);
        }
    }
    set->count = kept;
    return true;
}

/* Whether some layer's boundary passes a node more than once; ends are sorted. */
static bool passes_twice(const struct segments *set, const struct order *ends)
{
    int passes[NODING_LAYERS] = {0};

    for (size_t i = 0; i < 2 * set->count; i++) {
        const struct segment *segment = &set->items[ends[i].index];

        if (i > 0 && ends[i].major != ends[i - 1].major)
            memset(passes, 0, sizeof passes);
        for (int k = 0; k < NODING_LAYERS; k++)
            if (segment->change[k] && ++passes[k] > 2)
                return true;
    }
    return false;
}

static bool touches_itself(struct arena *arena, const struct segments *set, bool *touches)
{
    struct order *ends = arena_array(arena, 2 * set->count, sizeof *ends);

    if (!ends)
        return false;
    for (size_t i = 0; i < set->count; i++) {
        ends[2 * i] = (struct order){node_order(set->items[i].a), 0, i};
        ends[2 * i + 1] = (struct order){node_order(set->items[i].b), 1, i};
    }
    if (!order_sort(arena, ends, 2 * set->count))
        return false;
    *touches = passes_twice(set, ends);
    return true;
}

bool segments_are_noded(struct arena *arena, struct segments *set, bool *noded)
{
    struct splits splits = {NULL, 0, 0};
    bool touches = true;

    *noded = false;
    if (!segments_sort(arena, set))
        return false;
    if (!merge_neighbours(set))
        return true;
    if (!find_splits(arena, set, &splits) || !touches_itself(arena, set, &touches))
        return false;
    *noded = splits.count == 0 && !touches;
    return true;
}
