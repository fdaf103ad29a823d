/* Sorting by two whole numbers, against qsort(). */

#include "geometry.h"

#include <stdlib.h>

#include "geo/order.h"

static int compare(const void *left, const void *right)
{
    const struct order *a = left;
    const struct order *b = right;

    if (a->major != b->major)
        return a->major < b->major ? -1 : 1;
    if (a->minor != b->minor)
        return a->minor < b->minor ? -1 : 1;
    return (a->index > b->index) - (a->index < b->index);
}

static void assert_sorts(struct fixture *f, struct order *items, size_t count)
{
    struct order *expected = arena_array(f->arena, count + 1, sizeof *expected);

    memcpy(expected, items, count * sizeof *items);
    qsort(expected, count, sizeof *expected, compare);
    assert_true(order_sort(f->arena, items, count));
    for (size_t k = 0; k < count; k++)
        assert_int_equal(compare(&items[k], &expected[k]), 0);
}

/* Few values give many ties; many bits reach every byte of the keys. */
static void sorts_as_qsort_does(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {31};
    const size_t counts[] = {0, 1, 2, 3, 7, 16, 33, 64, 65, 200, 1000, 5000};
    const uint64_t masks[] = {0, 1, 7, 0xFFFF, 0xFFFFFFFF, UINT64_MAX};

    for (size_t i = 0; i < LENGTH(counts); i++)
        for (size_t j = 0; j < LENGTH(masks) * LENGTH(masks); j++) {
            struct order *items = arena_array(f->arena, counts[i] + 1, sizeof *items);

            for (size_t k = 0; k < counts[i]; k++) {
                items[k].major = chance_next(&chance) & masks[j % LENGTH(masks)];
                items[k].minor = chance_next(&chance) & masks[j / LENGTH(masks)];
                items[k].index = k;
            }
            assert_sorts(f, items, counts[i]);
            arena_reset(f->arena);
        }
}

static void sorted_and_reversed_input(void **state)
{
    struct fixture *f = *state;

    for (int way = 0; way < 2; way++) {
        struct order *items = arena_array(f->arena, 3000, sizeof *items);

        for (size_t k = 0; k < 3000; k++)
            items[k] = (struct order){way ? k : 3000 - k, 0, k};
        assert_sorts(f, items, 3000);
    }
}

static void nodes_in_order_by_x_then_y(void **state)
{
    struct chance chance = {32};
    struct node last = {-NODING_LIMIT, -NODING_LIMIT};

    (void)state;
    for (int i = 0; i < 10000; i++) {
        int32_t x = (int32_t)chance_below(&chance, 2 * (size_t)NODING_LIMIT);
        int32_t y = (int32_t)chance_below(&chance, 2 * (size_t)NODING_LIMIT);
        struct node node = {x - NODING_LIMIT, y - NODING_LIMIT};

        if (i % 3 == 0)
            node.x = last.x;
        assert_int_equal(node_compare(last, node) < 0,
                         node_order(last) < node_order(node));
        last = node;
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(sorts_as_qsort_does),
        geometry_test(sorted_and_reversed_input),
        geometry_test(nodes_in_order_by_x_then_y),
    };

    return cmocka_run_group_tests_name("geo/order", tests, NULL, NULL);
}
