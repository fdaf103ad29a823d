/* What the page of details sums up of a roof. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "draw/plan_page.h"
#include "roof/edges.h"

/* A roof of 1,000 m2 with edge metal and these boards. */
static struct edge_use metal_of(struct bill_item *boards, size_t count)
{
    struct edge_use uses[EDGE_KINDS] = {0};
    struct edge_sum metal = {.kind = EDGE_METAL, .length = 130, .thickness = NAN};
    struct bill bill = {.items = boards, .count = count};
    struct layout layout = {0};
    struct detail_list details = {0};
    struct roof roof = {.area = 1000,
                        .edge_sums = &metal,
                        .edge_sum_count = 1,
                        .layouts = &layout,
                        .bills = &bill,
                        .layout_count = 1};

    edge_uses_add(uses, &details, 0.2, &roof);
    return uses[EDGE_METAL];
}

static void test_layers(void **state)
{
    struct bill_item boards[] = {{.use = USE_BOARD, .net = 2003, .thickness = 0.05},
                                 {.use = USE_BOARD, .net = 999, .thickness = 0.0127}};
    struct edge_use use = metal_of(boards, 2);

    (void)state;
    assert_int_equal(use.layers, 3);
    assert_float_equal(use.drawn_stack, 0.1127, 1e-9);
    assert_float_equal(use.stack.most, 0.1127, 1e-9);
}

/* However much they are. */
static void test_boards_in_place_of_wet_ones(void **state)
{
    static const double wet[] = {50, 600, 950};

    (void)state;
    for (size_t k = 0; k < sizeof wet / sizeof wet[0]; k++) {
        struct bill_item boards[] = {
            {.use = USE_BOARD, .fills = true, .net = wet[k], .thickness = 0.05},
            {.use = USE_BOARD, .net = 1000, .thickness = 0.0127}};
        struct edge_use use = metal_of(boards, 2);

        assert_int_equal(use.layers, 1);
        assert_float_equal(use.drawn_stack, 0.0127, 1e-9);
        assert_int_equal(metal_of(boards, 1).layers, 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_layers),
        cmocka_unit_test(test_boards_in_place_of_wet_ones),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
