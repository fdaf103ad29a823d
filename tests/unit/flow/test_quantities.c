/* What a layout leaves out reaches the roof's problems. */

#include "../takeoff/seam_bench.h"

#include "flow/stages.h"

/* By area the roof is met but for want of a layout. @param assembly  NULL: none suits */
static void lay_out(struct seam_bench *b, const struct assembly *assembly)
{
    struct outlay_error err = {0};
    struct settings settings;

    b->roof.id = "1";
    b->roof.method = METHOD_SEAM_FASTENED;
    b->roof.assumed = 1u << ASSUME_LAYOUT;
    b->roof.state = STATE_MET_ASSUMED;
    b->roof.assembly = assembly;
    b->roof.zones[0].attachment.state = STATE_MET_ASSUMED;
    b->building.roofs = &b->roof;
    b->building.roof_count = 1;
    settings_init(&settings);
    settings.methods = 0;
    settings.takeoff = b->settings;
    assert_int_equal(takeoff_run(&b->building, &settings, b->ctx, &err), OUTLAY_OK);
}

/* The west 40 ft of 100 x 47.5 ft, laid out; the rest is another section of its level or
 * isn't there. */
static const struct problem *problems_of(struct seam_bench *b, bool sections)
{
    struct point whole_points[] = {
        {0, 0}, {100 * FT, 0}, {100 * FT, 47.5 * FT}, {0, 47.5 * FT}};
    struct point points[] = {{0, 0}, {40 * FT, 0}, {40 * FT, 47.5 * FT}, {0, 47.5 * FT}};
    struct ring whole = {whole_points, 4};
    struct polygon polygon = {&whole, 1};
    struct region level = {&polygon, 1};

    seam_bench_init(b, (struct ring){points, 4}, NULL);
    seam_zone(b, ZONE_FIELD, b->roof.outline, 9.5, 12);
    b->roof.edge_length = (sections ? 40 + 47.5 + 40 : 2 * (40 + 47.5)) * FT;
    b->roof.level.outline = sections ? &level : NULL;
    lay_out(b, &b->assembly);
    assert_true(b->roof.layouts[0].sheet_count > 0);
    return b->roof.problems;
}

static void test_joint_of_sections(void **state)
{
    struct seam_bench b;
    const struct problem *problem = NULL;

    (void)state;
    problem = problems_of(&b, true);
    assert_non_null(problem);
    assert_int_equal(problem->code, PROBLEM_SECTIONS_JOIN);
    assert_non_null(strstr(problem->what, "48 ft (14 m)"));
    assert_null(problem->next);
    seam_bench_release(&b);
    assert_null(problems_of(&b, false));
    seam_bench_release(&b);
}

/* A layout takes the assumption away; one that came to nothing leaves it, and the counts
 * by area. */
static void test_a_layout_confirms_the_state(void **state)
{
    struct point points[] = {{0, 0}, {12, 0}, {12, 14}, {0, 14}};

    (void)state;
    for (size_t count = 0; count < 2; count++) {
        struct seam_bench b;

        seam_bench_init(&b, (struct ring){points, 4}, NULL);
        seam_zone(&b, ZONE_FIELD, b.roof.outline, 9.5, 12);
        lay_out(&b, count ? &b.assembly : NULL);
        assert_int_equal(roof_laid_out(&b.roof), count);
        assert_int_equal(b.roof.state, count ? STATE_MET : STATE_MET_ASSUMED);
        assert_int_equal(b.roof.zones[0].attachment.state, b.roof.state);
        assert_int_equal(b.roof.assumed, count ? 0 : 1u << ASSUME_LAYOUT);
        seam_bench_release(&b);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_joint_of_sections),
        cmocka_unit_test(test_a_layout_confirms_the_state),
    };

    return cmocka_run_group_tests_name("flow/quantities", tests, NULL, NULL);
}
