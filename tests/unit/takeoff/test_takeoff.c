/* A whole takeoff: what goes under the sheets, and what the roof takes over. */

#include "seam_bench.h"

static void lay_out(struct seam_bench *b)
{
    struct outlay_error err = {0};

    b->roof.id = "1";
    b->roof.method = METHOD_SEAM_FASTENED;
    b->building.roofs = &b->roof;
    b->building.roof_count = 1;
    assert_int_equal(takeoff_run(&b->building, &b->settings, b->ctx, &err), OUTLAY_OK);
}

static size_t boards_laid(enum scope scope, double stack)
{
    struct point points[] = {{0, 0}, {30, 0}, {30, 20}, {0, 20}};
    struct seam_bench b;
    size_t count = 0;

    seam_bench_init(&b, (struct ring){points, 4}, NULL);
    seam_zone(&b, ZONE_FIELD, b.roof.outline, 9.5, 12);
    b.assembly.board_length = 8 * FT;
    b.assembly.board_width = 4 * FT;
    b.roof.scope = scope;
    b.roof.basis.stack = stack;
    lay_out(&b);
    assert_true(b.roof.layouts[0].sheet_count > 0);
    count = b.roof.layouts[0].board_count;
    seam_bench_release(&b);
    return count;
}

/* No stack, no boards, but for one over an old cover that stays: as the bill has it. */
static void test_boards_need_a_stack(void **state)
{
    (void)state;
    assert_int_equal(boards_laid(SCOPE_TEAR_OFF, 0), 0);
    assert_true(boards_laid(SCOPE_TEAR_OFF, 0.05) > 0);
    assert_true(boards_laid(SCOPE_RECOVER, 0) > 0);
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
                 {STATE_MET_ASSUMED, ASSUMPTION_BIT(ASSUME_PARAPET), STATE_MET},
                 {STATE_MET_ASSUMED, ASSUMPTION_BIT(ASSUME_PULLOUT), STATE_MET_ASSUMED},
                 {STATE_UNKNOWN, 0, STATE_UNKNOWN},
                 {STATE_NOT_MET, 0, STATE_NOT_MET}};

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct point points[] = {{0, 0}, {30, 0}, {30, 20}, {0, 20}};
        struct seam_bench b;

        seam_bench_init(&b, (struct ring){points, 4}, NULL);
        seam_zone(&b, ZONE_FIELD, b.roof.outline, 9.5, 12);
        b.roof.zones[0].attachment.state = cases[i].by_area;
        b.roof.assumed = cases[i].assumed | ASSUMPTION_BIT(ASSUME_LAYOUT);
        lay_out(&b);
        assert_int_equal(b.roof.layouts[0].states[ZONE_FIELD], cases[i].laid);
        assert_int_equal(b.roof.assumed, cases[i].assumed);
        seam_bench_release(&b);
    }
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
    b->roof.level.outline = sections ? &level : NULL;
    if (sections)
        b->roof.edges[1].kind = EDGE_CONTINUOUS;
    lay_out(b);
    b->roof.level.outline = NULL; /* it ends here */
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

/* Sheets that only edge metal holds along an edge are no better than that is. */
static void test_edge_metal_is_assumed_to_hold(void **state)
{
    (void)state;
    for (int k = 0; k < 3; k++) {
        struct point points[] = {{0, 0}, {30, 0}, {30, 20}, {0, 20}};
        struct seam_bench b;

        seam_bench_init(&b, (struct ring){points, 4}, NULL);
        seam_zone(&b, ZONE_FIELD, b.roof.outline, 9.5, 12);
        b.roof.edges[1].kind = k > 0 ? EDGE_METAL : EDGE_WALL;
        b.settings.edge_row = k > 1 ? 0.15 : 0;
        lay_out(&b);
        assert_int_equal(b.roof.assumed, k == 1 ? ASSUMPTION_BIT(ASSUME_EDGE_METAL) : 0);
        assert_int_equal(b.roof.state, k == 1 ? STATE_MET_ASSUMED : STATE_MET);
        seam_bench_release(&b);
    }
}

/* Nothing holds where parapets leave nothing between them. */
static void test_parapets_meet(void **state)
{
    struct point points[] = {{0, 0}, {12, 0}, {12, 2}, {0, 2}};
    struct seam_bench b;

    (void)state;
    seam_bench_init(&b, (struct ring){points, 4}, NULL);
    seam_zone(&b, ZONE_FIELD, b.roof.outline, 9.5, 12);
    b.roof.zones[0].attachment.state = STATE_MET;
    b.roof.zones[0].attachment.fasteners = 40;
    for (size_t i = 0; i < b.roof.edge_count; i++) {
        b.roof.edges[i].kind = EDGE_PARAPET;
        b.roof.edges[i].thickness = 1;
    }
    lay_out(&b);
    assert_int_equal(b.roof.problems->code, PROBLEM_ALL_WALL);
    assert_int_equal(b.roof.state, STATE_UNKNOWN);
    assert_int_equal(b.roof.layouts[0].states[ZONE_FIELD], STATE_UNKNOWN);
    assert_true(b.roof.zones[0].attachment.fasteners == 0);
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
        b.roof.assembly = count ? &b.assembly : NULL;
        b.roof.zones[0].attachment.state = STATE_MET_ASSUMED;
        b.roof.assumed = ASSUMPTION_BIT(ASSUME_LAYOUT);
        b.roof.state = STATE_MET_ASSUMED;
        lay_out(&b);
        assert_int_equal(roof_laid_out(&b.roof), count);
        assert_int_equal(b.roof.state, count ? STATE_MET : STATE_MET_ASSUMED);
        assert_int_equal(b.roof.zones[0].attachment.state, b.roof.state);
        assert_int_equal(b.roof.assumed, count ? 0 : ASSUMPTION_BIT(ASSUME_LAYOUT));
        seam_bench_release(&b);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_boards_need_a_stack),
        cmocka_unit_test(test_states_start_as_those_by_area),
        cmocka_unit_test(test_joint_of_sections),
        cmocka_unit_test(test_edge_metal_is_assumed_to_hold),
        cmocka_unit_test(test_parapets_meet),
        cmocka_unit_test(test_a_layout_confirms_the_state),
    };

    return cmocka_run_group_tests_name("takeoff/takeoff", tests, NULL, NULL);
}
