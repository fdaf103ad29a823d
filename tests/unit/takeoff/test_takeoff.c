/* A whole takeoff: what goes under the sheets. */

#include "seam_bench.h"

static size_t boards_laid(enum scope scope, double given, double setting)
{
    struct point points[] = {{0, 0}, {30, 0}, {30, 20}, {0, 20}};
    struct seam_bench b;
    struct catalog catalog = {.assemblies = &b.assembly, .assembly_count = 1};
    struct outlay_error err = {0};
    size_t count = 0;

    seam_bench_init(&b, (struct ring){points, 4}, NULL);
    seam_zone(&b, ZONE_FIELD, b.roof.outline, 9.5, 12);
    b.roof.zones[0].attachment.assembly = b.assembly.name;
    b.assembly.board_length = 8 * FT;
    b.assembly.board_width = 4 * FT;
    b.roof.scope = scope;
    b.roof.given.stack = given;
    b.settings.stack = setting;
    b.settings.catalog = &catalog;
    assert_int_equal(takeoff_roof(&b.building, &b.roof, METHOD_SEAM_FASTENED, &b.settings,
                                  b.ctx, &b.layout, &err),
                     OUTLAY_OK);
    assert_true(b.layout.sheet_count > 0);
    count = b.layout.board_count;
    seam_bench_release(&b);
    return count;
}

/* No stack, no boards: as the bill has it. */
static void test_boards_need_a_stack(void **state)
{
    (void)state;
    assert_int_equal(boards_laid(SCOPE_TEAR_OFF, 0, 0.1), 0);
    assert_int_equal(boards_laid(SCOPE_TEAR_OFF, NAN, 0), 0);
    assert_int_equal(boards_laid(SCOPE_RECOVER, 0.1, 0.1), 0);
    assert_true(boards_laid(SCOPE_TEAR_OFF, NAN, 0.1) > 0);
    assert_true(boards_laid(SCOPE_TEAR_OFF, 0.05, 0) > 0);
}

/* What holds by area is met for certain once it is laid out, unless something else is
 * weak. What isn't known stays so. */
static void test_states_start_as_those_by_area(void **state)
{
    static const struct {
        enum zone_state by_area;
        unsigned assumed;
        enum zone_state laid;
    } cases[] = {{STATE_MET_ASSUMED, 0, STATE_MET},
                 {STATE_MET_ASSUMED, 1u << ASSUME_PARAPET, STATE_MET},
                 {STATE_MET_ASSUMED, 1u << ASSUME_PULLOUT, STATE_MET_ASSUMED},
                 {STATE_UNKNOWN, 0, STATE_UNKNOWN},
                 {STATE_NOT_MET, 0, STATE_NOT_MET}};

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct point points[] = {{0, 0}, {30, 0}, {30, 20}, {0, 20}};
        struct seam_bench b;
        struct catalog catalog = {.assemblies = &b.assembly, .assembly_count = 1};

        seam_bench_init(&b, (struct ring){points, 4}, NULL);
        seam_zone(&b, ZONE_FIELD, b.roof.outline, 9.5, 12);
        b.roof.zones[0].attachment.assembly = b.assembly.name;
        b.roof.zones[0].attachment.state = cases[i].by_area;
        b.roof.assumed = cases[i].assumed | 1u << ASSUME_LAYOUT;
        b.settings.stack = 0;
        b.settings.catalog = &catalog;
        assert_int_equal(takeoff_roof(&b.building, &b.roof, METHOD_SEAM_FASTENED,
                                      &b.settings, b.ctx, &b.layout, NULL),
                         OUTLAY_OK);
        assert_int_equal(b.layout.states[ZONE_FIELD], cases[i].laid);
        assert_int_equal(b.roof.assumed, cases[i].assumed);
        seam_bench_release(&b);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_boards_need_a_stack),
        cmocka_unit_test(test_states_start_as_those_by_area),
    };

    return cmocka_run_group_tests_name("takeoff/takeoff", tests, NULL, NULL);
}
