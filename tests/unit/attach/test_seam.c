#include "site.h"

/* Rows and screws of a zone, in ft and in. */
static void rows_are(const struct bench *bench, enum zone_role role, double row_ft,
                     double spacing_in)
{
    near(zone_of(bench, role)->row_spacing / M_PER_FT, row_ft);
    near(zone_of(bench, role)->fastener_spacing / M_PER_IN, spacing_in);
}

static double tested_load(double rating_psf, double row_ft, double spacing_in)
{
    struct bench bench;
    struct site site = {0};
    struct assembly a = seam_assembly();
    bool by_pullout = true;
    double load;

    bench_init(&bench, a, 1, 1, 1, 1);
    site.settings = &bench.settings;
    site.roof = &bench.roof;
    bench.roof.basis.pullout = NAN;
    a.rating = rating_psf * PSF;
    a.rating_basis = RATING_ALLOWABLE; /* the load itself, not divided */
    load = fastener_allowable(&site, &a, row_ft * M_PER_FT * spacing_in * M_PER_IN,
                              &by_pullout);
    assert_false(by_pullout);
    bench_release(&bench);
    return load / N_PER_LBF;
}

/* V1, published: SPRI steel deck task force, "Steel Roof Deck Considerations", RCI
 * Interface, July 2004: 6.5 ft sheet, 6 in seam, 90 psf: 540 lbf a fastener at 12 in,
 * 810 lbf at 18 in. */
static void published_loads(void **state)
{
    (void)state;
    near(tested_load(90, 6.5 - 0.5, 12), 540);
    near(tested_load(90, 6.5 - 0.5, 18), 810);
}

/* V2, derived: 10 ft sheet, 9.5 ft rows, 12 in, 60 psf ultimate: 570 lbf, 285 allowed. */
static void ultimate_load_is_halved_once(void **state)
{
    struct bench bench;

    (void)state;
    near(tested_load(60, 9.5, 12), 570);
    bench_init(&bench, seam_assembly(), 20, 20, 20, 20);
    bench_run(&bench);
    rows_are(&bench, ZONE_FIELD, 9.5, 12);
    near(zone_of(&bench, ZONE_FIELD)->capacity * 9.5 * FT2 / N_PER_LBF, 285);
    bench_release(&bench);
}

static void allowable_rating_is_not_divided(void **state)
{
    struct assembly a = seam_assembly();
    struct bench bench;

    (void)state;
    a.rating_basis = RATING_ALLOWABLE;
    bench_init(&bench, a, 60, 60, 60, 60);
    bench_run(&bench);
    rows_are(&bench, ZONE_FIELD, 9.5, 12);
    near(zone_of(&bench, ZONE_FIELD)->capacity, 60 * PSF);
    assert_int_equal(bench.roof.state, STATE_MET_ASSUMED);
    bench_release(&bench);
}

/* V3, derived: at 50 psf a fastener may serve 5.70 ft2. Full sheet at 6 in: 4.75, half
 * sheet at 12 in: 4.5; the full sheet needs fewer. */
static void fifty_psf_needs_half_the_spacing(void **state)
{
    struct assembly a = seam_assembly();
    struct bench bench;

    (void)state;
    bench_init(&bench, a, 50, 50, 30, 30);
    bench_run(&bench);
    rows_are(&bench, ZONE_PERIMETER, 9.5, 6);
    near(zone_of(&bench, ZONE_PERIMETER)->fasteners, 1000 / 4.75);
    bench_release(&bench);

    a.spacing_count = 1; /* 12 in only: half sheets */
    bench_init(&bench, a, 50, 50, 30, 30);
    bench_run(&bench);
    assert_int_equal(bench.roof.state, STATE_MET_ASSUMED);
    rows_are(&bench, ZONE_PERIMETER, 4.5, 12);
    rows_are(&bench, ZONE_FIELD, 9.5, 12);
    near(zone_of(&bench, ZONE_PERIMETER)->fasteners, 1000 / 4.5);
    bench_release(&bench);
}

/* V4, derived: at 75 psf 3.80 ft2. Half sheet at 9 in (3.375) passes, at 12 in and full
 * sheet at 6 in fail; on ribs 6 in apart 9 in can't be placed: 6 in. */
static void seventy_five_psf_depends_on_the_ribs(void **state)
{
    struct assembly a = seam_assembly();
    struct bench bench;

    (void)state;
    a.spacings[1] = 9 * M_PER_IN;
    a.spacings[2] = 6 * M_PER_IN;
    a.spacing_count = 3;
    bench_init(&bench, a, 75, 75, 30, 30);
    bench_run(&bench);
    rows_are(&bench, ZONE_CORNER, 4.5, 9);
    bench_release(&bench);

    bench_init(&bench, a, 75, 75, 30, 30);
    bench.basis.deck = DECK_STEEL;
    bench_run(&bench);
    rows_are(&bench, ZONE_CORNER, 4.5, 6);
    assert_int_equal(bench.roof.state, STATE_MET_ASSUMED);
    bench_release(&bench);
}

/* 285 lbf / 9.5 ft2 is exactly 30 psf. */
static void equal_is_enough(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 30, 30, 30, 30);
    bench_run(&bench);
    rows_are(&bench, ZONE_CORNER, 9.5, 12);
    bench_release(&bench);
    bench_init(&bench, seam_assembly(), 30, 30, 30.0001, 30);
    bench_run(&bench);
    rows_are(&bench, ZONE_FIELD, 9.5, 6);
    rows_are(&bench, ZONE_INTERIOR, 9.5, 12);
    bench_release(&bench);
}

static void never_sparser_than_tested(void **state)
{
    struct assembly a = seam_assembly();
    struct bench bench;

    (void)state;
    memmove(a.spacings + 1, a.spacings, 2 * sizeof a.spacings[0]);
    a.spacings[0] = 18 * M_PER_IN;
    a.spacing_count = 3;
    bench_init(&bench, a, 1, 1, 1, 1);
    bench_run(&bench);
    rows_are(&bench, ZONE_INTERIOR, 9.5, 12);
    rows_are(&bench, ZONE_CORNER, 9.5, 12);
    bench_release(&bench);
}

/* Field 50 psf: full sheets at 6 in. Perimeter 62 psf: a half sheet at 12 in would hold
 * by itself (279 lbf), but the row where the full sheets begin carries
 * 1 ft x (62 x 4.5 + 50 x 9.5) / 2 = 377 lbf. */
static void row_between_half_and_full_sheets_counts(void **state)
{
    struct assembly a = seam_assembly();
    struct bench bench;

    (void)state;
    bench_init(&bench, a, 62, 62, 50, 30);
    bench_run(&bench);
    rows_are(&bench, ZONE_FIELD, 9.5, 6);
    rows_are(&bench, ZONE_PERIMETER, 4.5, 6);
    assert_int_equal(bench.roof.state, STATE_MET_ASSUMED);
    bench_release(&bench);

    a.extrapolation = 2.5; /* half sheets at 6 in would be 4.2 times the tested density */
    bench_init(&bench, a, 62, 62, 50, 30);
    bench_run(&bench);
    rows_are(&bench, ZONE_PERIMETER, 4.5, 12);
    assert_int_equal(zone_of(&bench, ZONE_PERIMETER)->state, STATE_NOT_MET);
    reason_holds(zone_of(&bench, ZONE_PERIMETER), "carry 377 lbf");
    reason_holds(zone_of(&bench, ZONE_PERIMETER), "may carry 285 lbf");
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->state,
                     STATE_MET_ASSUMED); /* same rows on */
    assert_int_equal(zone_of(&bench, ZONE_FIELD)->state, STATE_MET_ASSUMED);
    bench_release(&bench);
}

/* Densest allowed is half sheets at 6 in: 285 / 2.25 = 126.67 psf allowable. */
static void too_weak_is_not_met_with_numbers(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 130, 75, 30, 30);
    bench_run(&bench);
    rows_are(&bench, ZONE_CORNER, 4.5, 6);
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->state, STATE_NOT_MET);
    reason_holds(zone_of(&bench, ZONE_CORNER), "required 260 psf (12.45 kPa)");
    reason_holds(zone_of(&bench, ZONE_CORNER), "gives at most 253.3 psf (12.12 kPa)");
    assert_int_equal(zone_of(&bench, ZONE_PERIMETER)->state, STATE_MET_ASSUMED);
    bench_release(&bench);
}

static void extrapolation_ends_strength(void **state)
{
    struct assembly a = seam_assembly();
    struct bench bench;

    (void)state;
    a.extrapolation = 0;
    bench_init(&bench, a, 31, 30, 30, 30);
    bench_run(&bench);
    rows_are(&bench, ZONE_CORNER, 9.5, 12);
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->state, STATE_NOT_MET);
    near(zone_of(&bench, ZONE_CORNER)->capacity, 30 * PSF);
    assert_int_equal(zone_of(&bench, ZONE_PERIMETER)->state, STATE_MET_ASSUMED);
    bench_release(&bench);
}

/* Pull-out 475 lbf / 2 = 237.5 lbf: at 12 in 25 psf, at 6 in exactly 50 psf. */
static void pullout_governs_when_less(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 50, 50, 25, 25);
    bench.basis.pullout = 5 * N_PER_LBF; /* the roof's own value counts */
    bench.roof.given.pullout = 475 * N_PER_LBF;
    bench_run(&bench);
    rows_are(&bench, ZONE_FIELD, 9.5, 12);
    rows_are(&bench, ZONE_PERIMETER, 9.5, 6);
    near(zone_of(&bench, ZONE_PERIMETER)->capacity, 50 * PSF);
    bench_release(&bench);

    bench_init(&bench, seam_assembly(), 500, 50, 25, 25);
    bench.basis.pullout = 475 * N_PER_LBF;
    bench_run(&bench);
    reason_holds(zone_of(&bench, ZONE_CORNER), "pull-out governs");
    bench_release(&bench);
}

static void no_spacing_on_the_ribs(void **state)
{
    struct assembly a = seam_assembly();
    struct bench bench;

    (void)state;
    bench_init(&bench, a, 20, 20, 20, 20);
    bench.basis.deck = DECK_STEEL;
    bench.basis.rib_pitch = 8 * M_PER_IN;
    bench_run(&bench);
    assert_int_equal(bench.roof.state, STATE_NOT_MET);
    reason_holds(zone_of(&bench, ZONE_FIELD), "deck ribs 8 in (203 mm) apart");
    assert_true(isnan(zone_of(&bench, ZONE_FIELD)->row_spacing));
    bench_release(&bench);
}

/* ---- Edge rules --------------------------------------------------------------- */

static void storey_rule_gives_half_sheets_at_field_spacing(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 60, 50, 30, 20);
    bench.settings.edge_rule = RULE_STOREY;
    bench.roof.storeys = 3; /* 2 half sheets reach 9 ft, as deep as the perimeter */
    bench_run(&bench);
    assert_int_equal(bench.roof.half_sheets, 2);
    rows_are(&bench, ZONE_CORNER, 4.5, 12);
    rows_are(&bench, ZONE_PERIMETER, 4.5, 12);
    rows_are(&bench, ZONE_FIELD, 9.5, 12);
    near(zone_of(&bench, ZONE_PERIMETER)->fasteners, 1000 / 4.5);
    assert_int_equal(bench.roof.state, STATE_MET_ASSUMED);
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->rule, RULE_STOREY);
    bench_release(&bench);
}

/* 285 / 4.5 = 63.33 psf. */
static void storey_rule_is_no_proof_of_strength(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 75, 50, 30, 20);
    bench.settings.edge_rule = RULE_STOREY;
    bench.roof.storeys = 3;
    bench_run(&bench);
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->state, STATE_NOT_MET);
    reason_holds(zone_of(&bench, ZONE_CORNER), "required 150 psf");
    reason_holds(zone_of(&bench, ZONE_CORNER), "gives 126.6 psf");
    bench_release(&bench);
}

/* Half sheets at 12 in are 2.11 times as dense as tested, but an extrapolation of 2 lets
 * them count no more than 60 psf. */
static void storey_rule_adds_no_strength_beyond_extrapolation(void **state)
{
    struct assembly a = seam_assembly();
    struct bench bench;

    (void)state;
    a.extrapolation = 2;
    bench_init(&bench, a, 61, 60, 30, 20);
    bench.settings.edge_rule = RULE_STOREY;
    bench.roof.storeys = 3;
    bench_run(&bench);
    near(zone_of(&bench, ZONE_CORNER)->capacity, 60 * PSF);
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->state, STATE_NOT_MET);
    assert_int_equal(zone_of(&bench, ZONE_PERIMETER)->state, STATE_MET_ASSUMED);
    bench_release(&bench);
}

/* One half sheet reaches 4.5 of 9 ft; the other half of the perimeter has full sheets
 * at 30 psf. Corners are 3 ft deep and covered. */
static void zone_beyond_the_half_sheets_is_judged(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 60, 50, 30, 20);
    bench.settings.edge_rule = RULE_STOREY;
    bench_run(&bench);
    assert_int_equal(bench.roof.half_sheets, 1);
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->state, STATE_MET_ASSUMED);
    assert_int_equal(zone_of(&bench, ZONE_PERIMETER)->state, STATE_NOT_MET);
    near(zone_of(&bench, ZONE_PERIMETER)->capacity, 30 * PSF);
    reason_holds(zone_of(&bench, ZONE_PERIMETER), "beyond the half sheets give 60 psf");
    near(zone_of(&bench, ZONE_PERIMETER)->fasteners, 500 / 4.5 + 500 / 9.5);
    bench_release(&bench);
}

static void many_half_sheets_are_warned_of(void **state)
{
    struct bench bench;

    (void)state;
    for (int storeys = 4; storeys <= 6; storeys++) {
        bench_init(&bench, seam_assembly(), 30, 30, 30, 20);
        bench.settings.edge_rule = RULE_STOREY;
        bench.roof.storeys = storeys;
        bench_run(&bench);
        assert_int_equal(bench.roof.half_sheets, storeys - 1);
        if (storeys < 6) {
            assert_null(bench.roof.problems);
        } else {
            assert_int_equal(bench.roof.problems->code, PROBLEM_HALF_SHEETS);
            assert_non_null(strstr(bench.roof.problems->what, "5 half sheets"));
        }
        bench_release(&bench);
    }
}

/* 0.6 and 0.4 of 9.5 ft, from memory. */
static void row_fraction_narrows_the_rows(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 75, 50, 30, 20);
    bench.settings.edge_rule = RULE_ROW_FRACTION;
    bench_run(&bench);
    rows_are(&bench, ZONE_PERIMETER, 5.7, 12);
    rows_are(&bench, ZONE_CORNER, 3.8, 12);
    assert_int_equal(bench.roof.state,
                     STATE_MET_ASSUMED); /* 285 / 5.7 = 50, 285 / 3.8 = 75 */
    assert_int_equal(bench.roof.half_sheets, 0);
    bench_release(&bench);
    bench_init(&bench, seam_assembly(), 75.001, 50, 30, 20);
    bench.settings.edge_rule = RULE_ROW_FRACTION;
    bench_run(&bench);
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->state, STATE_NOT_MET);
    bench_release(&bench);
}

/* A roof without a field: the rule starts from the tested pattern. */
static void rules_work_without_a_field(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 60, 50, 0, 0);
    bench.settings.edge_rule = RULE_ROW_FRACTION;
    bench.roof.zone_count = 2;
    bench_run(&bench);
    rows_are(&bench, ZONE_PERIMETER, 5.7, 12);
    bench_release(&bench);
}

static void calculated_half_sheets_cover_the_zone(void **state)
{
    static const struct {
        double corner, perimeter; /* psf */
        double depth_ft;          /* of the perimeter */
        int half_sheets;
    } cases[] = {
        {30, 30, 9, 1},   /* none needed: still one along every edge */
        {75, 30, 9, 1},   /* corner only, 3 ft deep */
        {75, 75, 4.5, 1}, /* exactly one */
        {75, 75, 4.51, 2}, {75, 75, 9, 2}, {75, 75, 18, 4}, {75, 75, 60, 4},
    };
    struct bench bench;

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        bench_init(&bench, seam_assembly(), cases[i].corner, cases[i].perimeter, 30, 30);
        bench.roof.level.perimeter_depth = cases[i].depth_ft * M_PER_FT;
        bench_run(&bench);
        assert_int_equal(bench.roof.half_sheets, cases[i].half_sheets);
        bench_release(&bench);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(published_loads),
        cmocka_unit_test(ultimate_load_is_halved_once),
        cmocka_unit_test(allowable_rating_is_not_divided),
        cmocka_unit_test(fifty_psf_needs_half_the_spacing),
        cmocka_unit_test(seventy_five_psf_depends_on_the_ribs),
        cmocka_unit_test(equal_is_enough),
        cmocka_unit_test(never_sparser_than_tested),
        cmocka_unit_test(row_between_half_and_full_sheets_counts),
        cmocka_unit_test(too_weak_is_not_met_with_numbers),
        cmocka_unit_test(extrapolation_ends_strength),
        cmocka_unit_test(pullout_governs_when_less),
        cmocka_unit_test(no_spacing_on_the_ribs),
        cmocka_unit_test(storey_rule_gives_half_sheets_at_field_spacing),
        cmocka_unit_test(storey_rule_is_no_proof_of_strength),
        cmocka_unit_test(storey_rule_adds_no_strength_beyond_extrapolation),
        cmocka_unit_test(zone_beyond_the_half_sheets_is_judged),
        cmocka_unit_test(many_half_sheets_are_warned_of),
        cmocka_unit_test(row_fraction_narrows_the_rows),
        cmocka_unit_test(rules_work_without_a_field),
        cmocka_unit_test(calculated_half_sheets_cover_the_zone),
    };

    return cmocka_run_group_tests_name("seam", tests, NULL, NULL);
}
