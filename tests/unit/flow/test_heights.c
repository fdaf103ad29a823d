/* Heights from storeys and the other way round, and that both are marked. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "flow/stages.h"

/* A roof with an outline of so many parts. */
static struct roof run_on_parts(size_t parts, double height, double storeys,
                                enum edge_rule rule, struct arena *arena)
{
    struct settings settings;
    struct roof roof = {.id = "1", .given = attributes_missing()};
    roof.lonlat.polygon_count = parts;
    struct building building = {.arena = arena, .roofs = &roof, .roof_count = 1};
    settings_init(&settings);
    settings.attach.edge_rule = rule;
    roof.given.height = height;
    roof.given.storeys = storeys;
    assert_int_equal(heights_run(&building, &settings, NULL, NULL), OUTLAY_OK);
    return roof;
}

static struct roof run_on(double height, double storeys, enum edge_rule rule,
                          struct arena *arena)
{
    return run_on_parts(1, height, storeys, rule, arena);
}

static void test_heights(void **state)
{
    (void)state;
    static const struct {
        double height, storeys;    /* given */
        double used, used_storeys; /* expected, ft and count */
        bool estimated;
    } cases[] = {
        {9.144, 5, 30, 5, false},  {9.144, NAN, 30, NAN, false},
        {NAN, 1, 18, 1, true},     {NAN, 2, 31, 2, true},
        {NAN, 4, 57, 4, true},     {NAN, 1.5, 24.5, 1.5, true},
        {NAN, 0.5, 18, 0.5, true},
    };
    struct arena *arena = arena_new();
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct roof roof =
            run_on(cases[i].height, cases[i].storeys, RULE_CALCULATED, arena);
        assert_true(fabs(roof.height / 0.3048 - cases[i].used) < 1e-9);
        assert_true(isnan(cases[i].used_storeys) ? isnan(roof.storeys)
                                                 : roof.storeys == cases[i].used_storeys);
        assert_int_equal(roof.estimated, cases[i].estimated ? 1u << ESTIMATE_HEIGHT : 0);
        assert_null(roof.problems);
    }
    arena_free(arena);
}

static void test_neither_is_a_problem(void **state)
{
    (void)state;
    struct arena *arena = arena_new();
    struct roof roof = run_on(NAN, NAN, RULE_STOREY, arena);
    assert_true(isnan(roof.height));
    assert_true(isnan(roof.storeys));
    assert_non_null(roof.problems);
    assert_int_equal(roof.problems->code, PROBLEM_HEIGHT_MISSING);
    /* but not the one for which a roof without an outline is left out */
    roof = run_on_parts(0, NAN, NAN, RULE_STOREY, arena);
    assert_null(roof.problems);
    arena_free(arena);
}

/* 31 ft is two storeys; the nearest whole number of them counts. */
static void test_storeys_where_the_rule_needs_them(void **state)
{
    (void)state;
    static const struct {
        double feet, storeys;
    } cases[] = {{10, 1}, {18, 1}, {24, 1}, {25, 2}, {31, 2}, {44, 3}, {60, 4}};
    struct arena *arena = arena_new();
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct roof roof = run_on(cases[i].feet * 0.3048, NAN, RULE_STOREY, arena);
        assert_true(roof.storeys == cases[i].storeys);
        assert_int_equal(roof.estimated, 1u << ESTIMATE_STOREYS);
    }
    arena_free(arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_heights),
        cmocka_unit_test(test_neither_is_a_problem),
        cmocka_unit_test(test_storeys_where_the_rule_needs_them),
    };
    return cmocka_run_group_tests_name("flow/heights", tests, NULL, NULL);
}
