#include "site.h"

/* What nobody names a source for. */
static const uint64_t rating = ASSUMPTION_BIT(ASSUME_RATINGS);

/* ---- Which method, deck and assembly --------------------------------------------- */

static void method_and_deck_default_with_a_note(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 30, 30, 30, 30);
    bench.settings.method = METHOD_NOT_GIVEN;
    bench.basis.deck = DECK_NOT_GIVEN;
    bench_run(&bench);
    assert_int_equal(bench.roof.method, METHOD_SEAM_FASTENED);
    assert_int_equal(bench.roof.assumed, rating | ASSUMPTION_BIT(ASSUME_METHOD) |
                                             ASSUMPTION_BIT(ASSUME_DECK) |
                                             ASSUMPTION_BIT(ASSUME_RIBS) |
                                             ASSUMPTION_BIT(ASSUME_LAYOUT));
    assert_int_equal(bench.roof.state, STATE_MET_ASSUMED);
    bench_release(&bench);
}

static void the_roof_is_heard_before_the_settings(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 30, 30, 30, 30);
    bench.assemblies[1] = board_assembly(METHOD_INDUCTION_WELDED);
    bench.assemblies[1].decks = 1u << DECK_GYPSUM;
    bench.catalog.assembly_count = 2;
    bench.roof.given.method = METHOD_INDUCTION_WELDED;
    bench.roof.given.deck = DECK_GYPSUM;
    bench_run(&bench);
    assert_int_equal(bench.roof.method, METHOD_INDUCTION_WELDED);
    assert_ptr_equal(zone_of(&bench, ZONE_FIELD)->assembly, bench.assemblies[1].name);
    assert_int_equal(bench.roof.assumed, rating | ASSUMPTION_BIT(ASSUME_LAYOUT));
    bench_release(&bench);
}

/* The setting's assembly is taken though another is as good and comes first; where the
 * deck doesn't allow it, strength chooses. */
static void the_assembly_may_be_given(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 30, 30, 30, 30);
    bench.assemblies[1] = bench.assemblies[0];
    bench.assemblies[1].name = "the other";
    bench.catalog.assembly_count = 2;
    bench_run(&bench);
    assert_ptr_equal(zone_of(&bench, ZONE_FIELD)->assembly, bench.assemblies[0].name);
    bench.settings.assembly = &bench.assemblies[1];
    bench_run(&bench);
    assert_ptr_equal(zone_of(&bench, ZONE_FIELD)->assembly, bench.assemblies[1].name);
    bench.assemblies[1].decks = 1u << DECK_GYPSUM;
    bench_run(&bench);
    assert_ptr_equal(zone_of(&bench, ZONE_FIELD)->assembly, bench.assemblies[0].name);
    bench_release(&bench);
}

static void unsuited_deck_is_not_met(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, ribbon_assembly(), 30, 30, 30, 30);
    bench.basis.deck = DECK_WOOD_FIBRE;
    bench_run(&bench);
    assert_int_equal(bench.roof.state, STATE_NOT_MET);
    for (int i = 0; i < ZONE_ROLES; i++) {
        const struct zone_attachment *zone = zone_of(&bench, (enum zone_role)i);

        assert_int_equal(zone->state, STATE_NOT_MET);
        assert_null(zone->assembly);
        assert_true(isnan(zone->fasteners));
        assert_int_equal(zone->per_board, MISSING);
        reason_holds(zone,
                     "no adhered assembly of the catalogue suits a wood-fibre deck");
    }
    assert_int_equal(bench.roof.problems->code, PROBLEM_NOT_MET);
    assert_null(bench.roof.problems->next);
    bench_release(&bench);
}

static void fewest_fasteners_win(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 30, 30, 30, 30);
    bench.assemblies[1] = seam_assembly(); /* 12 ft sheets: fewer rows */
    bench.assemblies[1].name = "wide";
    bench.assemblies[1].sheet_width = 12 * M_PER_FT;
    bench.assemblies[1].tested_row_spacing = 11.5 * M_PER_FT;
    bench.assemblies[2] = bench.assemblies[1]; /* as good, later in the catalogue */
    bench.assemblies[2].name = "wide again";
    bench.catalog.assembly_count = 3;
    bench_run(&bench);
    for (int i = 0; i < ZONE_ROLES; i++)
        assert_string_equal(zone_of(&bench, (enum zone_role)i)->assembly, "wide");
    bench_release(&bench);
}

/* The sparse one fails in the corner, so the dense one serves the whole roof. */
static void all_zones_must_be_met(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 40, 30, 30, 30);
    bench.assemblies[0].extrapolation = 0;
    bench.assemblies[1] = seam_assembly();
    bench.assemblies[1].name = "narrow";
    bench.assemblies[1].sheet_width = 6 * M_PER_FT;
    bench.assemblies[1].tested_row_spacing = 5.5 * M_PER_FT;
    bench.catalog.assembly_count = 2;
    bench_run(&bench);
    assert_string_equal(zone_of(&bench, ZONE_FIELD)->assembly, "narrow");
    assert_int_equal(bench.roof.state, STATE_MET_ASSUMED);
    bench_release(&bench);
}

/* Nothing holds the corner. Least failing area first, then the smaller shortfall. */
static void least_failure_wins(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 100, 32, 30, 30);
    bench.assemblies[0].extrapolation = 0; /* fails in corner and perimeter */
    bench.assemblies[1] = bench.assemblies[0];
    bench.assemblies[1].name = "better"; /* fails in the corner only */
    bench.assemblies[1].rating = 64 * PSF;
    bench.assemblies[2] = bench.assemblies[0];
    bench.assemblies[2].name = "best"; /* fails there by less */
    bench.assemblies[2].rating = 80 * PSF;
    bench.catalog.assembly_count = 2;
    bench_run(&bench);
    assert_string_equal(zone_of(&bench, ZONE_FIELD)->assembly, "better");
    bench.catalog.assembly_count = 3;
    bench_run(&bench);
    assert_string_equal(zone_of(&bench, ZONE_FIELD)->assembly, "best");
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->state, STATE_NOT_MET);
    assert_int_equal(zone_of(&bench, ZONE_PERIMETER)->state, STATE_MET_ASSUMED);
    bench_release(&bench);
}

/* ---- States ------------------------------------------------------------------------ */

static void unknown_uplift_still_gives_quantities(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), NAN, NAN, NAN, NAN);
    bench.assemblies[1] = seam_assembly(); /* fewer fasteners, but who knows */
    bench.assemblies[1].sheet_width = 12 * M_PER_FT;
    bench.assemblies[1].tested_row_spacing = 11.5 * M_PER_FT;
    bench.catalog.assembly_count = 2;
    bench_run(&bench);
    assert_int_equal(bench.roof.state, STATE_UNKNOWN);
    for (int i = 0; i < ZONE_ROLES; i++) {
        const struct zone_attachment *zone = zone_of(&bench, (enum zone_role)i);

        assert_int_equal(zone->state, STATE_UNKNOWN);
        reason_holds(zone, "no wind speed");
        assert_ptr_equal(zone->assembly, bench.assemblies[0].name);
        near(zone->fasteners, 1000 / 9.5);
        near(zone->board_fasteners, 1000.0 / 32 * 5);
        near(zone->adhesive_area, 0);
    }
    assert_null(bench.roof.problems);
    bench_release(&bench);
}

static void storey_rule_works_without_uplift(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), NAN, NAN, NAN, NAN);
    bench.settings.edge_rule = RULE_STOREY;
    bench.roof.storeys = 3;
    bench_run(&bench);
    assert_int_equal(bench.roof.half_sheets, 2);
    near(zone_of(&bench, ZONE_PERIMETER)->fasteners, 1000 / 4.5);
    assert_int_equal(bench.roof.state, STATE_UNKNOWN);
    bench_release(&bench);
}

/* A refused rule is no matter of uplift. */
static void unknown_uplift_hides_no_refusal(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, board_assembly(METHOD_ADHERED_FASTENED), NAN, NAN, NAN, NAN);
    bench.assemblies[0].rating = 90 * PSF;
    bench.settings.edge_rule = RULE_PERCENTAGE;
    bench_run(&bench);
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->state, STATE_NOT_MET);
    assert_int_equal(zone_of(&bench, ZONE_FIELD)->state, STATE_UNKNOWN);
    bench_release(&bench);
}

/* Rows and boards may carry more than a zone by its area. */
static void by_area_nothing_is_met_for_certain(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 130, 30, 30, 30);
    bench_run(&bench);
    assert_int_equal(bench.roof.assumed, rating | ASSUMPTION_BIT(ASSUME_LAYOUT));
    assert_int_equal(zone_of(&bench, ZONE_FIELD)->state, STATE_MET_ASSUMED);
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->state, STATE_NOT_MET);
    bench_release(&bench);
}

static void an_untested_pullout_is_assumed(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 30, 30, 30, 30);
    bench.basis.pullout = NAN;
    bench_run(&bench);
    assert_int_equal(bench.roof.assumed, rating | ASSUMPTION_BIT(ASSUME_PULLOUT) |
                                             ASSUMPTION_BIT(ASSUME_LAYOUT));
    bench_release(&bench);
}

/* Rows must cross the ribs, or all screws of one pull on the same one or two. */
static void unknown_ribs_are_assumed_to_run_across(void **state)
{
    static const struct {
        enum deck deck;
        enum method method;
        double bearing; /* degrees */
        unsigned assumed;
    } cases[] = {
        {DECK_STEEL, METHOD_SEAM_FASTENED, NAN, ASSUMPTION_BIT(ASSUME_RIBS)},
        {DECK_STEEL, METHOD_SEAM_FASTENED, 90, 0},
        {DECK_STEEL, METHOD_INDUCTION_WELDED, NAN, 0},
        {DECK_CONCRETE, METHOD_SEAM_FASTENED, NAN, 0},
    };

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        bool seam = cases[i].method == METHOD_SEAM_FASTENED;
        struct bench bench;

        bench_init(&bench, seam ? seam_assembly() : board_assembly(cases[i].method), 30,
                   30, 30, 30);
        bench.basis.deck = cases[i].deck;
        bench.roof.given.deck_bearing = cases[i].bearing;
        bench_run(&bench);
        assert_int_equal(bench.roof.assumed,
                         cases[i].assumed | rating | ASSUMPTION_BIT(ASSUME_LAYOUT));
        bench_release(&bench);
    }
}

/* What the standard doesn't cover is never met; what fails by its figures fails. */
static void zones_outside_the_standard_are_unknown(void **state)
{
    static const char why[] = "outside; ask an engineer";
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 130, 30, 30, 30);
    bench.roof.zones[ZONE_CORNER].uplift.outside = why;
    bench.roof.zones[ZONE_PERIMETER].uplift.outside = why;
    bench_run(&bench);
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->state, STATE_NOT_MET);
    reason_holds(zone_of(&bench, ZONE_CORNER), why);
    assert_int_equal(zone_of(&bench, ZONE_PERIMETER)->state, STATE_UNKNOWN);
    assert_string_equal(zone_of(&bench, ZONE_PERIMETER)->reason, why);
    assert_int_equal(zone_of(&bench, ZONE_FIELD)->state, STATE_MET_ASSUMED);
    assert_null(zone_of(&bench, ZONE_FIELD)->reason);
    bench_release(&bench);
}

static void weak_decks_are_unknown_without_a_test(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 130, 30, 30, 30);
    bench.basis.deck = DECK_GYPSUM;
    bench.basis.pullout = NAN;
    bench_run(&bench);
    assert_int_equal(zone_of(&bench, ZONE_FIELD)->state, STATE_UNKNOWN);
    reason_holds(zone_of(&bench, ZONE_FIELD), "pull-out test");
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->state, STATE_NOT_MET);
    bench.basis.pullout = 10000;
    bench.roof.assumed = 0;
    bench_run(&bench);
    assert_int_equal(zone_of(&bench, ZONE_FIELD)->state, STATE_MET_ASSUMED);
    bench_release(&bench);
}

static void the_roof_has_its_worst_zone(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 130, 130, 30, 30);
    bench_run(&bench);
    assert_int_equal(bench.roof.state, STATE_NOT_MET);
    assert_int_equal(bench.roof.problems->code, PROBLEM_NOT_MET);
    assert_null(bench.roof.problems->next);
    assert_non_null(
        strstr(bench.roof.problems->what, "corner, perimeter: required 260 psf"));
    bench_release(&bench);
}

static void roofs_without_zones_are_passed_over(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 30, 30, 30, 30);
    bench.roof.zoned = false;
    bench.roof.state = STATE_MET_ASSUMED;
    bench_run(&bench);
    assert_int_equal(bench.roof.state, STATE_UNKNOWN);
    assert_int_equal(bench.roof.half_sheets, MISSING);
    assert_null(zone_of(&bench, ZONE_FIELD)->assembly);
    assert_null(bench.roof.problems);
    bench_release(&bench);
}

/* ---- Properties over the built-in catalogue ------------------------------------ */

static double fasteners_of(const struct bench *bench)
{
    double sum = 0;

    for (int i = 0; i < ZONE_ROLES; i++)
        sum += zone_of(bench, (enum zone_role)i)->fasteners;
    return sum;
}

/* Each zone that is met carries its demand, whichever way the pattern came about. */
static void check_strength(const struct bench *bench)
{
    for (int i = 0; i < ZONE_ROLES; i++) {
        const struct zone *zone = &bench->roof.zones[i];

        if (zone->attachment.state == STATE_MET_ASSUMED)
            assert_true(zone->attachment.capacity >= zone->uplift.allowable * (1 - 1e-6));
        else
            assert_non_null(zone->attachment.reason);
    }
}

static void set_demand(struct bench *bench, double psf)
{
    static const double ratios[ZONE_ROLES] = {2.2, 1.6, 1, 0.6};

    for (int i = 0; i < ZONE_ROLES; i++)
        bench->roof.zones[i].uplift.allowable = psf * ratios[i] * PSF;
}

/* More uplift never means fewer fasteners, nor that a failing roof holds again. */
static void more_uplift_never_means_fewer_fasteners(void **state)
{
    struct catalog catalog;

    (void)state;
    assert_int_equal(catalog_builtin(&catalog, NULL), OUTLAY_OK);
    for (int method = METHOD_SEAM_FASTENED; method < METHOD_KINDS; method++) {
        for (int deck = DECK_STEEL; deck < DECK_KINDS; deck++) {
            struct assembly any = seam_assembly();
            enum zone_state last_state = STATE_MET_ASSUMED;
            struct bench bench;
            double last = 0;
            int met = 0;

            bench_init(&bench, any, 0, 0, 0, 0);
            bench.settings.catalog = &catalog;
            bench.settings.method = (enum method)method;
            bench.basis.deck = (enum deck)deck;
            for (double psf = 1; psf < 120; psf += 0.25) {
                set_demand(&bench, psf);
                bench_run(&bench);
                if (isnan(fasteners_of(&bench)))
                    break; /* no assembly for this deck */
                check_strength(&bench);
                assert_true(last_state != STATE_NOT_MET ||
                            bench.roof.state == STATE_NOT_MET);
                if (bench.roof.state == STATE_MET_ASSUMED) {
                    assert_true(fasteners_of(&bench) >= last * (1 - 1e-12));
                    last = fasteners_of(&bench);
                    met++;
                }
                last_state = bench.roof.state;
            }
            if (!(method == METHOD_ADHERED &&
                  (deck == DECK_STEEL || deck == DECK_WOOD_FIBRE))) {
                assert_true(met > 0);
                assert_int_equal(last_state, STATE_NOT_MET);
            }
            bench_release(&bench);
        }
    }
    catalog_release(&catalog);
}

/* Each method that was asked for but the own has its own assembly, and its failures are
 * no problem of the roof. */
static void other_methods(void **state)
{
    struct bench bench;
    const struct roof *roof = &bench.roof;

    (void)state;
    bench_init(&bench, seam_assembly(), 20, 20, 20, 20);
    bench.assemblies[1] = board_assembly(METHOD_INDUCTION_WELDED);
    bench.catalog.assembly_count = 2;
    bench.settings.methods = ~0u & ~(1u << METHOD_ADHERED);
    bench_run(&bench);
    assert_int_equal(roof->other_count, 2);
    assert_int_equal(roof->others[0].method, METHOD_INDUCTION_WELDED);
    assert_ptr_equal(roof->others[0].assembly, &bench.assemblies[1]);
    assert_int_equal(roof->others[0].state, STATE_MET_ASSUMED);
    assert_int_equal(roof->others[1].method, METHOD_ADHERED_FASTENED);
    assert_null(roof->others[1].assembly);
    assert_int_equal(roof->others[1].state, STATE_NOT_MET);
    assert_int_equal(roof->method, METHOD_SEAM_FASTENED);
    assert_ptr_equal(roof->assembly, &bench.assemblies[0]);
    near(roof->fastener_load, 30 * PSF * 9.5 * FT2);
    assert_null(roof->problems);
    bench_release(&bench);
}

/* A method isn't weak for what another one assumes. */
static void methods_assume_their_own(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, seam_assembly(), 20, 20, 20, 20);
    bench.assemblies[1] = ribbon_assembly();
    bench.catalog.assembly_count = 2;
    bench.basis.deck = DECK_STEEL;
    bench.basis.pullout = NAN;
    bench.settings.method = METHOD_NOT_GIVEN;
    bench.settings.methods = 1u << METHOD_ADHERED;
    bench_run(&bench);
    assert_int_equal(bench.roof.assumed, rating | ASSUMPTION_BIT(ASSUME_METHOD) |
                                             ASSUMPTION_BIT(ASSUME_PULLOUT) |
                                             ASSUMPTION_BIT(ASSUME_RIBS) |
                                             ASSUMPTION_BIT(ASSUME_LAYOUT));
    assert_int_equal(bench.roof.others[0].method, METHOD_ADHERED);
    assert_int_equal(bench.roof.others[0].assumed,
                     rating | ASSUMPTION_BIT(ASSUME_LAYOUT));
    bench_release(&bench);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(method_and_deck_default_with_a_note),
        cmocka_unit_test(the_roof_is_heard_before_the_settings),
        cmocka_unit_test(the_assembly_may_be_given),
        cmocka_unit_test(unsuited_deck_is_not_met),
        cmocka_unit_test(fewest_fasteners_win),
        cmocka_unit_test(all_zones_must_be_met),
        cmocka_unit_test(least_failure_wins),
        cmocka_unit_test(unknown_uplift_still_gives_quantities),
        cmocka_unit_test(storey_rule_works_without_uplift),
        cmocka_unit_test(unknown_uplift_hides_no_refusal),
        cmocka_unit_test(by_area_nothing_is_met_for_certain),
        cmocka_unit_test(an_untested_pullout_is_assumed),
        cmocka_unit_test(zones_outside_the_standard_are_unknown),
        cmocka_unit_test(weak_decks_are_unknown_without_a_test),
        cmocka_unit_test(the_roof_has_its_worst_zone),
        cmocka_unit_test(roofs_without_zones_are_passed_over),
        cmocka_unit_test(more_uplift_never_means_fewer_fasteners),
        cmocka_unit_test(unknown_ribs_are_assumed_to_run_across),
        cmocka_unit_test(other_methods),
        cmocka_unit_test(methods_assume_their_own),
    };

    return cmocka_run_group_tests_name("attach", tests, NULL, NULL);
}
