#include "site.h"

static int per_board(const struct bench *bench, enum zone_role role)
{
    return zone_of(bench, role)->per_board;
}

static const enum method methods[] = {METHOD_INDUCTION_WELDED, METHOD_ADHERED_FASTENED};

/* V5, derived: 60 psf ultimate with 8 a board: 120 lbf allowable. 50 psf needs 13.33: 14;
 * 75 psf needs 20. V6, derived: 75 x 32 / 120 is 20 exactly and must not become 21. */
static void strength_gives_the_count(void **state)
{
    struct bench bench;

    (void)state;
    for (int i = 0; i < 2; i++) {
        bench_init(&bench, board_assembly(methods[i]), 75, 50, 30, 20);
        bench_run(&bench);
        assert_int_equal(per_board(&bench, ZONE_CORNER), 20);
        assert_int_equal(per_board(&bench, ZONE_PERIMETER), 14);
        assert_int_equal(per_board(&bench, ZONE_FIELD), 8);
        assert_int_equal(per_board(&bench, ZONE_INTERIOR), 8); /* not below the test */
        near(zone_of(&bench, ZONE_CORNER)->capacity, 75 * PSF);
        near(zone_of(&bench, ZONE_CORNER)->fasteners, 1000.0 / 32 * 20);
        near(zone_of(&bench, ZONE_CORNER)->board_fasteners, 0);
        near(zone_of(&bench, ZONE_CORNER)->adhesive_area,
             methods[i] == METHOD_ADHERED_FASTENED ? 1000 * FT2 : 0);
        assert_true(isnan(zone_of(&bench, ZONE_CORNER)->row_spacing));
        assert_int_equal(bench.roof.half_sheets, MISSING);
        assert_int_equal(bench.roof.state, STATE_MET_ASSUMED);
        bench_release(&bench);
    }
}

/* The assembly allows 6 a board, but was tested with 8. */
static void never_sparser_than_tested(void **state)
{
    struct assembly a = board_assembly(METHOD_INDUCTION_WELDED);
    struct bench bench;

    (void)state;
    memmove(a.patterns + 1, a.patterns, 8 * sizeof a.patterns[0]);
    a.patterns[0] = 6;
    a.pattern_count = 9;
    bench_init(&bench, a, 20, 10, 5, 1);
    bench_run(&bench);
    assert_int_equal(per_board(&bench, ZONE_CORNER), 8);
    assert_int_equal(per_board(&bench, ZONE_INTERIOR), 8);
    bench_release(&bench);
}

static void next_allowed_pattern_is_taken(void **state)
{
    static const struct {
        double demand;
        int count;
    } cases[] = {{30, 8},    {30.01, 10}, {37.5, 10}, {37.51, 12}, {45, 12}, {60, 16},
                 {60.1, 20}, {75.1, 24},  {90, 24},   {90.1, 32},  {120, 32}};
    struct bench bench;

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        bench_init(&bench, board_assembly(METHOD_ADHERED_FASTENED), cases[i].demand, 30,
                   30, 30);
        bench_run(&bench);
        assert_int_equal(per_board(&bench, ZONE_CORNER), cases[i].count);
        assert_int_equal(bench.roof.state, STATE_MET_ASSUMED);
        bench_release(&bench);
    }
}

static void allowable_rating_is_not_divided(void **state)
{
    struct assembly a = board_assembly(METHOD_INDUCTION_WELDED);
    struct bench bench;

    (void)state;
    a.rating_basis = RATING_ALLOWABLE;
    bench_init(&bench, a, 75, 60, 60, 60);
    bench_run(&bench);
    assert_int_equal(per_board(&bench, ZONE_PERIMETER), 8);
    assert_int_equal(per_board(&bench, ZONE_CORNER), 10);
    bench_release(&bench);
    bench_init(&bench, a, 300, 60, 60, 60);
    bench_run(&bench);
    reason_holds(zone_of(&bench, ZONE_CORNER), "allowable rating needed: 300 psf");
    reason_holds(zone_of(&bench, ZONE_CORNER), "gives at most 240 psf");
    bench_release(&bench);
}

/* Twice the tested density: 16 a board at most, 60 psf. */
static void extrapolation_ends_strength(void **state)
{
    struct assembly a = board_assembly(METHOD_ADHERED_FASTENED);
    struct bench bench;

    (void)state;
    a.extrapolation = 2;
    bench_init(&bench, a, 61, 60, 30, 30);
    bench_run(&bench);
    assert_int_equal(per_board(&bench, ZONE_PERIMETER), 16);
    assert_int_equal(zone_of(&bench, ZONE_PERIMETER)->state, STATE_MET_ASSUMED);
    assert_int_equal(per_board(&bench, ZONE_CORNER), 16);
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->state, STATE_NOT_MET);
    reason_holds(zone_of(&bench, ZONE_CORNER), "required 122 psf");
    reason_holds(zone_of(&bench, ZONE_CORNER), "at most 120 psf");
    bench_release(&bench);
}

/* Pull-out 200 lbf / 2 = 100 lbf instead of 120. */
static void pullout_governs_when_less(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, board_assembly(METHOD_INDUCTION_WELDED), 50, 31.25, 25, 25);
    bench.basis.pullout = 200 * N_PER_LBF;
    bench_run(&bench);
    assert_int_equal(per_board(&bench, ZONE_CORNER), 16);
    assert_int_equal(per_board(&bench, ZONE_PERIMETER), 10);
    assert_int_equal(per_board(&bench, ZONE_FIELD), 8);
    bench_release(&bench);
}

/* ---- Percentages: V5, derived from FM 1-29 as in Professional Roofing, May 2006 ---- */

static void percentages_of_2003(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, board_assembly(METHOD_ADHERED_FASTENED), 50, 45, 30, 20);
    bench.settings.edge_rule = RULE_PERCENTAGE;
    bench.settings.percentage_edition = PERCENTAGE_2003;
    bench_run(&bench);
    assert_int_equal(per_board(&bench, ZONE_FIELD), 8);
    assert_int_equal(per_board(&bench, ZONE_PERIMETER), 12);
    assert_int_equal(per_board(&bench, ZONE_CORNER), 14);
    assert_int_equal(bench.roof.state, STATE_MET_ASSUMED); /* 45 and 52.5 psf */
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->rule, RULE_PERCENTAGE);
    bench_release(&bench);
}

/* At 50 psf 12 a board are too few in the perimeter: the rule doesn't make it met. */
static void percentages_are_no_proof_of_strength(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, board_assembly(METHOD_ADHERED_FASTENED), 50, 50, 30, 20);
    bench.settings.edge_rule = RULE_PERCENTAGE;
    bench.settings.percentage_edition = PERCENTAGE_2003;
    bench_run(&bench);
    assert_int_equal(per_board(&bench, ZONE_PERIMETER), 12);
    assert_int_equal(zone_of(&bench, ZONE_PERIMETER)->state, STATE_NOT_MET);
    reason_holds(zone_of(&bench, ZONE_PERIMETER), "by this rule gives 90 psf");
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->state, STATE_MET_ASSUMED);
    bench_release(&bench);
}

static void percentages_of_2006(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, board_assembly(METHOD_ADHERED_FASTENED), 75, 50, 30, 20);
    bench.settings.edge_rule = RULE_PERCENTAGE;
    bench_run(&bench);
    assert_int_equal(per_board(&bench, ZONE_PERIMETER), 16);
    assert_int_equal(per_board(&bench, ZONE_CORNER), 32);
    assert_int_equal(bench.roof.state, STATE_MET_ASSUMED);
    bench_release(&bench);
}

/* A field of 10 a board holds 75 psf ultimate, one of 12 holds 90. */
static void percentages_of_2006_end_at_75_psf(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, board_assembly(METHOD_ADHERED_FASTENED), 60, 50, 37.5, 20);
    bench.settings.edge_rule = RULE_PERCENTAGE;
    bench_run(&bench);
    assert_int_equal(per_board(&bench, ZONE_FIELD), 10);
    assert_int_equal(bench.roof.state, STATE_MET_ASSUMED);
    bench_release(&bench);

    bench_init(&bench, board_assembly(METHOD_ADHERED_FASTENED), 60, 50, 37.6, 20);
    bench.settings.edge_rule = RULE_PERCENTAGE;
    bench_run(&bench);
    assert_int_equal(per_board(&bench, ZONE_FIELD), 12);
    assert_int_equal(zone_of(&bench, ZONE_FIELD)->state, STATE_MET_ASSUMED);
    assert_int_equal(zone_of(&bench, ZONE_PERIMETER)->state, STATE_NOT_MET);
    reason_holds(zone_of(&bench, ZONE_CORNER), "up to 75 psf");
    reason_holds(zone_of(&bench, ZONE_CORNER), "has 90 psf");
    bench_release(&bench);
}

static void percentage_beyond_the_patterns_is_not_met(void **state)
{
    struct assembly a = board_assembly(METHOD_INDUCTION_WELDED);
    struct bench bench;

    (void)state;
    a.pattern_count = 5; /* up to 16 */
    bench_init(&bench, a, 50, 50, 30, 20);
    bench.settings.edge_rule = RULE_PERCENTAGE;
    bench_run(&bench);
    assert_int_equal(zone_of(&bench, ZONE_PERIMETER)->state, STATE_MET_ASSUMED);
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->state, STATE_NOT_MET);
    reason_holds(zone_of(&bench, ZONE_CORNER), "asks for 32 fasteners a board");
    reason_holds(zone_of(&bench, ZONE_CORNER), "has 16 at most");
    bench_release(&bench);
}

/* Extrapolation ends at 16 a board, so 32 count no more than 16: 60 psf. */
static void percentage_adds_no_strength_beyond_extrapolation(void **state)
{
    struct assembly a = board_assembly(METHOD_ADHERED_FASTENED);
    struct bench bench;

    (void)state;
    a.extrapolation = 2;
    bench_init(&bench, a, 61, 50, 30, 20);
    bench.settings.edge_rule = RULE_PERCENTAGE;
    bench_run(&bench);
    assert_int_equal(per_board(&bench, ZONE_CORNER), 32);
    near(zone_of(&bench, ZONE_CORNER)->capacity, 60 * PSF);
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->state, STATE_NOT_MET);
    bench_release(&bench);
}

static void percentages_come_out_without_uplift(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, board_assembly(METHOD_ADHERED_FASTENED), NAN, NAN, NAN, NAN);
    bench.settings.edge_rule = RULE_PERCENTAGE;
    bench.settings.percentage_edition = PERCENTAGE_2003;
    bench_run(&bench);
    assert_int_equal(per_board(&bench, ZONE_PERIMETER), 12);
    assert_int_equal(per_board(&bench, ZONE_CORNER), 14);
    assert_int_equal(bench.roof.state, STATE_UNKNOWN);
    bench_release(&bench);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(strength_gives_the_count),
        cmocka_unit_test(never_sparser_than_tested),
        cmocka_unit_test(next_allowed_pattern_is_taken),
        cmocka_unit_test(allowable_rating_is_not_divided),
        cmocka_unit_test(extrapolation_ends_strength),
        cmocka_unit_test(pullout_governs_when_less),
        cmocka_unit_test(percentages_of_2003),
        cmocka_unit_test(percentages_are_no_proof_of_strength),
        cmocka_unit_test(percentages_of_2006),
        cmocka_unit_test(percentages_of_2006_end_at_75_psf),
        cmocka_unit_test(percentage_beyond_the_patterns_is_not_met),
        cmocka_unit_test(percentage_adds_no_strength_beyond_extrapolation),
        cmocka_unit_test(percentages_come_out_without_uplift),
    };

    return cmocka_run_group_tests_name("board", tests, NULL, NULL);
}
