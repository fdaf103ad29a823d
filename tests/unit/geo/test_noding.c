/* Snap rounding, checked against every pair of segments in whole numbers. */

#include "geometry.h"

#include "geo/noding.h"

#define NODE(X, Y) ((struct node) { (X), (Y) })

static bool is_node(struct node a, struct node b)
{
    return node_compare(a, b) == 0;
}

static int sign(int64_t value)
{
    return (value > 0) - (value < 0);
}

/* Whether p lies strictly between the ends of s, on it. */
static bool is_on(const struct segment *s, struct node p)
{
    return node_cross(s->a, s->b, p) == 0 && node_compare(s->a, p) < 0 &&
           node_compare(p, s->b) < 0;
}

/* Whether two segments meet anywhere but at ends of both. */
static bool cross_or_touch(const struct segment *p, const struct segment *q)
{
    if (is_on(p, q->a) || is_on(p, q->b) || is_on(q, p->a) || is_on(q, p->b))
        return true;
    if (is_node(p->a, q->a) && is_node(p->b, q->b))
        return true;
    return sign(node_cross(p->a, p->b, q->a)) * sign(node_cross(p->a, p->b, q->b)) < 0 &&
           sign(node_cross(q->a, q->b, p->a)) * sign(node_cross(q->a, q->b, p->b)) < 0;
}

/* Whether p lies within half a unit of the inside of s, in whole numbers. */
static bool is_beside(const struct segment *s, struct node p)
{
    int64_t dx = (int64_t)s->b.x - s->a.x;
    int64_t dy = (int64_t)s->b.y - s->a.y;
    int64_t along = (p.x - s->a.x) * dx + (p.y - s->a.y) * dy;
    int64_t cross = 2 * node_cross(s->a, s->b, p);

    /* a cross that can't be squared belongs to a node far away */
    return !is_node(s->a, p) && !is_node(s->b, p) && along > 0 &&
           along < dx * dx + dy * dy && cross > INT32_MIN && cross < INT32_MAX &&
           cross * cross <= dx * dx + dy * dy;
}

/* Segments meet at their ends only, and no end lies beside another segment. */
static void assert_noded(const struct segments *set)
{
    for (size_t i = 0; i < set->count; i++) {
        const struct segment *p = &set->items[i];

        assert_true(node_compare(p->a, p->b) < 0);
        for (size_t j = 0; j < set->count; j++) {
            const struct segment *q = &set->items[j];

            assert_false(i != j && cross_or_touch(p, q));
            assert_false(i != j && (is_beside(p, q->a) || is_beside(p, q->b)));
        }
    }
}

static void add(struct fixture *f, struct segments *set, struct node a, struct node b,
                int layer)
{
    assert_true(segments_add(f->arena, set, a, b, layer));
}

static void add_ring(struct fixture *f, struct segments *set, const struct node *nodes,
                     size_t count, int layer)
{
    for (size_t k = 0; k < count; k++)
        add(f, set, nodes[k], nodes[(k + 1) % count], layer);
}

static void node_all(struct fixture *f, struct segments *set)
{
    assert_int_equal(segments_node(f->arena, set, NULL), OUTLAY_OK);
}

static struct node chance_node(struct chance *chance, int size)
{
    int x = (int)chance_below(chance, (size_t)size) - size / 2;
    int y = (int)chance_below(chance, (size_t)size) - size / 2;

    return NODE(x, y);
}

static void order_and_crosses_are_exact_at_the_limits(void **state)
{
    const int far = NODING_LIMIT;

    (void)state;
    assert_true(node_compare(NODE(-far, far), NODE(far, -far)) < 0);
    assert_true(node_compare(NODE(1, 2), NODE(1, 3)) < 0);
    assert_int_equal(node_compare(NODE(7, 7), NODE(7, 7)), 0);
    assert_true(node_cross(NODE(-far, -far), NODE(far, far), NODE(far - 1, far)) ==
                2 * (int64_t)far);
    assert_true(node_cross(NODE(-far, -far), NODE(far, -far), NODE(far, far)) ==
                4 * (int64_t)far * far);
}

static void no_length_is_no_segment(void **state)
{
    struct fixture *f = *state;
    struct segments set = {.count = 0};

    add(f, &set, NODE(5, 5), NODE(5, 5), 0);
    assert_int_equal(set.count, 0);
    node_all(f, &set);
    assert_int_equal(set.count, 0);
}

static void a_cross_becomes_four(void **state)
{
    struct fixture *f = *state;
    struct segments set = {.count = 0};

    add(f, &set, NODE(-10, -10), NODE(10, 10), 0);
    add(f, &set, NODE(10, -10), NODE(-10, 10), 1);
    node_all(f, &set);
    assert_int_equal(set.count, 4);
    assert_noded(&set);
    assert_true(is_node(set.items[0].b, NODE(0, 0)));
    /* direction is kept as the sign of the change, in its own layer */
    assert_int_equal(set.items[0].change[0], 1);
    assert_int_equal(set.items[0].change[1], 0);
    assert_int_equal(set.items[1].change[1], -1);
}

static void overlapping_segments_add_their_changes(void **state)
{
    struct fixture *f = *state;
    struct segments set = {.count = 0};

    add(f, &set, NODE(0, 0), NODE(30, 0), 0);
    add(f, &set, NODE(20, 0), NODE(10, 0), 0); /* backwards: cancels its stretch */
    add(f, &set, NODE(20, 0), NODE(50, 0), 0);
    node_all(f, &set);
    assert_noded(&set);
    assert_int_equal(set.count, 3); /* 0-10, 20-30, 30-50 */
    assert_int_equal(set.items[0].change[0], 1);
    assert_int_equal(set.items[1].change[0], 2);
    assert_int_equal(set.items[2].change[0], 1);
}

static void opposite_segments_of_two_layers_stay(void **state)
{
    struct fixture *f = *state;
    struct segments set = {.count = 0};

    add(f, &set, NODE(0, 0), NODE(7, 3), 0);
    add(f, &set, NODE(7, 3), NODE(0, 0), 2);
    node_all(f, &set);
    assert_int_equal(set.count, 1);
    assert_int_equal(set.items[0].change[0], 1);
    assert_int_equal(set.items[0].change[1], 0);
    assert_int_equal(set.items[0].change[2], -1);
    assert_int_equal(set.items[0].change[3], 0);
}

/* A vertex near a segment, nearer than half a unit, becomes part of it. */
static void near_nodes_are_drawn_in(void **state)
{
    struct fixture *f = *state;
    struct segments set = {.count = 0};

    add(f, &set, NODE(0, 0), NODE(1000, 1), 0);
    add(f, &set, NODE(400, 0), NODE(400, -50), 1); /* 0.4 below the segment */
    add(f, &set, NODE(700, 2), NODE(700, 50), 1);  /* 1.3 above it */
    node_all(f, &set);
    assert_noded(&set);
    assert_int_equal(set.count, 4);
}

/* Rings stay closed: at each node as many sides come as go, in every layer. */
static void assert_closed(const struct segments *set, int layer)
{
    for (size_t i = 0; i < set->count; i++)
        for (int end = 0; end < 2; end++) {
            struct node at = end ? set->items[i].b : set->items[i].a;
            int sum = 0;

            for (size_t j = 0; j < set->count; j++) {
                const struct segment *s = &set->items[j];

                sum += is_node(s->a, at) ? s->change[layer] : 0;
                sum -= is_node(s->b, at) ? s->change[layer] : 0;
            }
            assert_int_equal(sum, 0);
        }
}

static void chance_rings_node_and_stay_closed(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {21};
    const int sizes[] = {4, 8, 20, 100, 10000, 2 * NODING_LIMIT};

    for (int i = 0; i < 400; i++) {
        struct segments set = {.count = 0};
        int size = sizes[(size_t)i % LENGTH(sizes)];

        for (int layer = 0; layer < NODING_LAYERS; layer++) {
            struct node nodes[8];

            for (size_t k = 0; k < LENGTH(nodes); k++)
                nodes[k] = chance_node(&chance, size);
            add_ring(f, &set, nodes, LENGTH(nodes), layer);
        }
        node_all(f, &set);
        assert_noded(&set);
        for (int layer = 0; layer < NODING_LAYERS; layer++)
            assert_closed(&set, layer);
        arena_reset(f->arena);
    }
}

static void the_set_alone_decides(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {22};

    for (int i = 0; i < 100; i++) {
        struct segments forward = {.count = 0};
        struct segments backward = {.count = 0};
        struct node ends[40][2];

        for (size_t k = 0; k < LENGTH(ends); k++) {
            ends[k][0] = chance_node(&chance, 2000);
            ends[k][1] = chance_node(&chance, 2000);
        }
        for (size_t k = 0; k < LENGTH(ends); k++) {
            size_t other = LENGTH(ends) - 1 - k;

            add(f, &forward, ends[k][0], ends[k][1], (int)k % NODING_LAYERS);
            add(f, &backward, ends[other][0], ends[other][1], (int)other % NODING_LAYERS);
        }
        node_all(f, &forward);
        node_all(f, &backward);
        assert_int_equal(forward.count, backward.count);
        for (size_t k = 0; k < forward.count; k++) {
            assert_true(is_node(forward.items[k].a, backward.items[k].a));
            assert_true(is_node(forward.items[k].b, backward.items[k].b));
            assert_memory_equal(forward.items[k].change, backward.items[k].change,
                                sizeof forward.items[k].change);
        }
        arena_reset(f->arena);
    }
}

/* Hundreds of segments through one small place, the worst for snapping. */
static void crowds_settle(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {23};

    for (int size = 3; size < 60; size += 8) {
        struct segments set = {.count = 0};

        for (int k = 0; k < 800; k++) {
            struct node a = chance_node(&chance, size);

            add(f, &set, a, chance_node(&chance, size), k % NODING_LAYERS);
        }
        node_all(f, &set);
        arena_reset(f->arena);
    }
}

/* Fans of nearly parallel segments from one node. */
static void fans_settle(void **state)
{
    struct fixture *f = *state;
    struct segments set = {.count = 0};

    for (int k = 0; k < 300; k++) {
        add(f, &set, NODE(0, 0), NODE(NODING_LIMIT - 1, k), 0);
        add(f, &set, NODE(NODING_LIMIT - 1, 300 - k), NODE(100, 0), 1);
    }
    node_all(f, &set);
    assert_noded(&set);
}

static void what_is_not_noded_is_told(void **state)
{
    struct fixture *f = *state;
    const struct {
        struct node p[2], q[2];
        int q_layer;
        bool noded;
    } cases[] = {
        {{{0, 0}, {10, 10}}, {{10, 0}, {0, 10}}, 0, false}, /* a crossing */
        {{{0, 0}, {10, 0}}, {{5, 0}, {5, 9}}, 0, false},    /* an end on an inside */
        {{{0, 0}, {10, 0}}, {{10, 0}, {0, 0}}, 0, false},   /* there and back */
        {{{0, 0}, {10, 0}}, {{10, 0}, {0, 0}}, 1, true},    /* a shared edge */
        {{{0, 0}, {10, 0}}, {{10, 0}, {10, 9}}, 0, true},   /* a shared end */
        {{{0, 0}, {10, 0}}, {{0, 1}, {10, 1}}, 0, true},    /* apart */
    };

    for (size_t i = 0; i < LENGTH(cases); i++) {
        struct segments set = {.count = 0};
        bool noded = !cases[i].noded;

        add(f, &set, cases[i].p[0], cases[i].p[1], 0);
        add(f, &set, cases[i].q[0], cases[i].q[1], cases[i].q_layer);
        assert_true(segments_are_noded(f->arena, &set, &noded));
        assert_int_equal(noded, cases[i].noded);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(order_and_crosses_are_exact_at_the_limits),
        geometry_test(no_length_is_no_segment),
        geometry_test(a_cross_becomes_four),
        geometry_test(overlapping_segments_add_their_changes),
        geometry_test(opposite_segments_of_two_layers_stay),
        geometry_test(near_nodes_are_drawn_in),
        geometry_test(chance_rings_node_and_stay_closed),
        geometry_test(the_set_alone_decides),
        geometry_test(crowds_settle),
        geometry_test(fans_settle),
        geometry_test(what_is_not_noded_is_told),
    };

    return cmocka_run_group_tests_name("geo/noding", tests, NULL, NULL);
}
