/* What options say for roofs that say nothing themselves. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "../roof/attributes.h"
#include "flow/stages.h"

static struct arena *arena;

static struct roof run_on(const struct attributes *own, const struct attributes *options)
{
    struct settings settings;
    struct roof roof = {.id = "1", .given = *own};
    struct building building = {.arena = arena, .roofs = &roof, .roof_count = 1};

    settings_init(&settings);
    settings.given = *options;
    assert_int_equal(given_run(&building, &settings, NULL, NULL), OUTLAY_OK);
    assert_int_equal(heights_run(&building, &settings, NULL, NULL), OUTLAY_OK);
    return roof;
}

static struct attributes all_options(void)
{
    struct attributes options = attributes_missing();

    options.height = 10;
    options.storeys = 3;
    options.parapet = 1;
    options.stack = 0.1;
    return options;
}

static void test_options_fill_what_is_missing(void **state)
{
    struct attributes own = attributes_missing(), options = all_options();
    struct roof roof = run_on(&own, &options);

    (void)state;
    assert_true(roof.height == 10 && roof.storeys == 3);
    assert_true(roof.given.parapet == 1 && roof.given.stack == 0.1);
    assert_int_equal(roof.estimated, 0);
    assert_non_null(roof.problems);
    assert_int_equal(roof.problems->code, PROBLEM_BY_OPTION);
    assert_non_null(strstr(roof.problems->what, "height, storeys, parapet, stack"));
    assert_null(roof.problems->next);
}

static void test_own_values_stay(void **state)
{
    struct attributes own = all_options(), options = all_options();
    struct roof roof;

    (void)state;
    own.height = 20;
    own.parapet = 0;
    own.stack = 0;
    roof = run_on(&own, &options);
    expect_same_attributes(&roof.given, &own);
    assert_null(roof.problems);
}

static void test_own_storeys_win_over_a_height(void **state)
{
    struct attributes own = attributes_missing(), options = attributes_missing();
    struct roof roof;

    (void)state;
    own.storeys = 2;
    options.height = 20;
    roof = run_on(&own, &options);
    assert_true(fabs(roof.height - 31 * M_PER_FT) < 1e-12);
    assert_int_equal(roof.estimated, 1u << ESTIMATE_HEIGHT);
    assert_null(roof.problems);
}

static void test_storeys_give_an_estimated_height(void **state)
{
    struct attributes own = attributes_missing(), options = attributes_missing();
    struct roof roof;

    (void)state;
    options.storeys = 2;
    roof = run_on(&own, &options);
    assert_true(fabs(roof.height - 31 * M_PER_FT) < 1e-12);
    assert_int_equal(roof.estimated, 1u << ESTIMATE_HEIGHT);
}

static void test_a_metal_edge_has_no_parapet(void **state)
{
    struct attributes own = attributes_missing(), options = all_options();
    struct roof roof;

    (void)state;
    own.edge = EDGE_METAL;
    roof = run_on(&own, &options);
    assert_true(isnan(roof.given.parapet));
}

/* An option is for roofs that tell neither their edge nor a parapet. */
static void test_edges_by_option(void **state)
{
    struct attributes own = attributes_missing(), options = attributes_missing();
    struct roof roof;

    (void)state;
    options.edge = EDGE_GUTTER;
    options.parapet_thickness = 0.2;
    roof = run_on(&own, &options);
    assert_int_equal(roof.given.edge, EDGE_GUTTER);
    assert_true(roof.edge_by_option);
    assert_true(isnan(roof.given.parapet_thickness));
    assert_non_null(strstr(roof.problems->what, "edge"));
    own.parapet = 1;
    roof = run_on(&own, &options);
    assert_int_equal(roof.given.edge, EDGE_NOT_GIVEN);
    assert_false(roof.edge_by_option);
    assert_true(roof.given.parapet_thickness == 0.2);
}

static int arena_open(void **state)
{
    (void)state;
    arena = arena_new();
    return arena ? 0 : -1;
}

static int arena_close(void **state)
{
    (void)state;
    arena_free(arena);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_options_fill_what_is_missing),
        cmocka_unit_test(test_own_values_stay),
        cmocka_unit_test(test_edges_by_option),
        cmocka_unit_test(test_own_storeys_win_over_a_height),
        cmocka_unit_test(test_storeys_give_an_estimated_height),
        cmocka_unit_test(test_a_metal_edge_has_no_parapet),
    };

    return cmocka_run_group_tests(tests, arena_open, arena_close);
}
