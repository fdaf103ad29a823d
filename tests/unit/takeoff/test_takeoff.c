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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_boards_need_a_stack),
    };

    return cmocka_run_group_tests_name("takeoff/takeoff", tests, NULL, NULL);
}
