#include "geo/noding.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Rounding a crossing moves two segments by at most 0.71 units, which may push them
 * onto a third point; each round repairs what the one before caused. Four rounds are
 * the most that random and adversarial tests have shown. */
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

static bool grow(struct arena *arena, void **items, size_t count, size_t *capacity,
                 size_t size)
{
    size_t wanted = *capacity ? 2 * *capacity : 64;
    void *bigger = NULL;

    if (count < *capacity)
        return true;
    bigger = arena_array(arena, wanted, size);
    if (!bigger)
        return false;
    if (count)
        memcpy(bigger, *items, count * size);
    *items = bigger;
    *capacity = wanted;
    return true;
}

bool segments_add(struct arena *arena, struct segments *set, struct node from,
                  struct node to, int layer)
{
    int order = node_compare(from, to);
    struct segment *segment = NULL;

    if (order == 0)
        return true;
    if (!grow(arena, (void **)&set->items, set->count, &set->capacity,
              sizeof *set->items))
        return false;
    segment = &set->items[set->count++];
    memset(segment, 0, sizeof *segment);
    segment->a = order < 0 ? from : to;
    segment->b = order < 0 ? to : from;
    segment->change[layer] = order < 0 ? 1 : -1;
    return true;
}

static int segment_compare(const void *left, const void *right)
{
    const struct segment *a = left;
    const struct segment *b = right;
    int order = node_compare(a->a, b->a);

    return order ? order : node_compare(a->b, b->b);
}

static bool changes_nothing(const struct segment *segment)
{
    for (int k = 0; k < NODING_LAYERS; k++)
        if (segment->change[k])
            return false;
    return true;
}

/* Sorts, adds up coincident segments, drops those without effect. */
static void merge(struct segments *set)
{
    size_t kept = 0;

    if (set->count == 0)
        return;
    qsort(set->items, set->count, sizeof *set->items, segment_compare);
    for (size_t i = 0; i < set->count;) {
        struct segment sum = set->items[i++];

        for (; i < set->count && segment_compare(&sum, &set->items[i]) == 0; i++)
            for (int k = 0; k < NODING_LAYERS; k++)
                sum.change[k] += set->items[i].change[k];
        if (!changes_nothing(&sum))
            set->items[kept++] = sum;
    }
    set->count = kept;
}

static bool node_is(struct node a, struct node b)
{
    return a.x == b.x && a.y == b.y;
}

static bool has_end(const struct segment *segment, struct node node)
{
    return node_is(segment->a, node) || node_is(segment->b, node);
}

static int64_t along_segment(const struct segment *segment, struct node node)
{
    return (node.x - segment->a.x) * (segment->b.x - segment->a.x) +
           (node.y - segment->a.y) * (segment->b.y - segment->a.y);
}

/* Whether node lies within one unit of the inside of segment; cross is that of the
 * segment and the node. */
static bool is_beside(const struct segment *segment, struct node node, int64_t cross)
{
    int64_t dx = segment->b.x - segment->a.x;
    int64_t dy = segment->b.y - segment->a.y;
    int64_t length2 = dx * dx + dy * dy;
    int64_t along = along_segment(segment, node);

    return along > 0 && along < length2 &&
           (double)cross * (double)cross <= (double)length2;
}

/* Where p and q cross, rounded; the weights are the crosses of p's ends with q. */
static struct node crossing(const struct segment *p, int64_t weight_a, int64_t weight_b)
{
    double t = (double)weight_a / ((double)weight_a - (double)weight_b);
    struct node at = {
        p->a.x + llround(t * (double)(p->b.x - p->a.x)),
        p->a.y + llround(t * (double)(p->b.y - p->a.y)),
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

static void meet(const struct segment *p, const struct segment *q, struct meeting *out)
{
    int64_t qa = node_cross(p->a, p->b, q->a);
    int64_t qb = node_cross(p->a, p->b, q->b);
    int64_t pa = node_cross(q->a, q->b, p->a);
    int64_t pb = node_cross(q->a, q->b, p->b);

    out->p_count = 0;
    out->q_count = 0;
    if (!has_end(p, q->a) && is_beside(p, q->a, qa))
        out->on_p[out->p_count++] = q->a;
    if (!has_end(p, q->b) && is_beside(p, q->b, qb))
        out->on_p[out->p_count++] = q->b;
    if (!has_end(q, p->a) && is_beside(q, p->a, pa))
        out->on_q[out->q_count++] = p->a;
    if (!has_end(q, p->b) && is_beside(q, p->b, pb))
        out->on_q[out->q_count++] = p->b;
    if (out->p_count || out->q_count)
        return;
    if (opposite(qa, qb) && opposite(pa, pb)) {
        struct node at = crossing(p, pa, pb);

        if (!has_end(p, at))
            out->on_p[out->p_count++] = at;
        if (!has_end(q, at))
            out->on_q[out->q_count++] = at;
    }
}

static bool splits_add(struct arena *arena, struct splits *splits,
                       const struct segments *set, size_t segment,
                       const struct node *nodes, int count)
{
    for (int i = 0; i < count; i++) {
        int64_t along = along_segment(&set->items[segment], nodes[i]);

        if (!grow(arena, (void **)&splits->items, splits->count, &splits->capacity,
                  sizeof *splits->items))
            return false;
        splits->items[splits->count++] = (struct split){segment, along, nodes[i]};
    }
    return true;
}

static bool y_apart(const struct segment *p, const struct segment *q)
{
    int64_t p_low = p->a.y < p->b.y ? p->a.y : p->b.y;
    int64_t p_high = p->a.y < p->b.y ? p->b.y : p->a.y;
    int64_t q_low = q->a.y < q->b.y ? q->a.y : q->b.y;
    int64_t q_high = q->a.y < q->b.y ? q->b.y : q->a.y;

    /* one unit of room: an end point may be beside a segment without touching it */
    return p_high + 1 < q_low || q_high + 1 < p_low;
}

/* One round: every pair of the sorted set that comes near each other. */
static bool find_splits(struct arena *arena, const struct segments *set,
                        struct splits *splits)
{
    for (size_t i = 0; i < set->count; i++) {
        const struct segment *p = &set->items[i];

        for (size_t j = i + 1; j < set->count; j++) {
            const struct segment *q = &set->items[j];
            struct meeting meeting;

            if (q->a.x > p->b.x + 1)
                break;
            if (y_apart(p, q))
                continue;
            meet(p, q, &meeting);
            if (!splits_add(arena, splits, set, i, meeting.on_p, meeting.p_count) ||
                !splits_add(arena, splits, set, j, meeting.on_q, meeting.q_count))
                return false;
        }
    }
    return true;
}

static int split_compare(const void *left, const void *right)
{
    const struct split *a = left;
    const struct split *b = right;

    if (a->segment != b->segment)
        return a->segment < b->segment ? -1 : 1;
    if (a->along != b->along)
        return a->along < b->along ? -1 : 1;
    return node_compare(a->at, b->at);
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
            piece->change[k] = sign * whole->change[k];
    }
    return true;
}

static bool apply_splits(struct arena *arena, struct segments *set,
                         struct splits *splits)
{
    struct segments next = {NULL, 0, 0};
    size_t k = 0;

    qsort(splits->items, splits->count, sizeof *splits->items, split_compare);
    for (size_t i = 0; i < set->count; i++) {
        const struct segment *whole = &set->items[i];
        struct node from = whole->a;

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
        merge(set);
        splits.count = 0;
        if (!find_splits(arena, set, &splits))
            return outlay_fail(err, OUTLAY_E_MEMORY, "noding %zu segments", set->count);
        if (splits.count == 0)
            return OUTLAY_OK;
        if (!apply_splits(arena, set, &splits))
            return outlay_fail(err, OUTLAY_E_MEMORY, "noding %zu segments", set->count);
    }
    return outlay_fail(err, OUTLAY_E_GEOMETRY, "noding %zu segments doesn't settle",
                       set->count);
}

/* Two segments of one layer in one place: a ring that runs back over itself. */
static bool share_layer(const struct segment *p, const struct segment *q)
{
    for (int k = 0; k < NODING_LAYERS; k++)
        if (p->change[k] && q->change[k])
            return true;
    return false;
}

bool segments_are_noded(struct segments *set)
{
    struct meeting meeting;

    if (set->count == 0)
        return true;
    qsort(set->items, set->count, sizeof *set->items, segment_compare);
    for (size_t i = 0; i < set->count; i++) {
        const struct segment *p = &set->items[i];

        for (size_t j = i + 1; j < set->count; j++) {
            const struct segment *q = &set->items[j];

            if (q->a.x > p->b.x + 1)
                break;
            if (y_apart(p, q))
                continue;
            meet(p, q, &meeting);
            if (meeting.p_count || meeting.q_count)
                return false;
            if (segment_compare(p, q) == 0 && share_layer(p, q))
                return false;
        }
    }
    return true;
}
