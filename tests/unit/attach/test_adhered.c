#include "site.h"

/* 60 psf ultimate at 12 in: 30 psf allowable; 60 at 6 in, 90 at 4 in. */
static void ribbons_close_up_with_demand(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, ribbon_assembly(), 90, 60, 30, 10);
    bench_run(&bench);
    near(zone_of(&bench, ZONE_CORNER)->ribbon_spacing, 4 * M_PER_IN);
    near(zone_of(&bench, ZONE_PERIMETER)->ribbon_spacing, 6 * M_PER_IN);
    near(zone_of(&bench, ZONE_FIELD)->ribbon_spacing, 12 * M_PER_IN);
    near(zone_of(&bench, ZONE_INTERIOR)->ribbon_spacing, 12 * M_PER_IN);
    near(zone_of(&bench, ZONE_CORNER)->capacity, 90 * PSF);
    near(zone_of(&bench, ZONE_CORNER)->fasteners, 0);
    near(zone_of(&bench, ZONE_CORNER)->adhesive_area, 1000 * FT2);
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->per_board, MISSING);
    assert_int_equal(bench.roof.half_sheets, MISSING);
    assert_int_equal(bench.roof.state, STATE_MET_ASSUMED);
    bench_release(&bench);
}

static void extrapolation_ends_the_ribbons(void **state)
{
    struct assembly a = ribbon_assembly();
    struct bench bench;

    (void)state;
    a.extrapolation = 2;
    bench_init(&bench, a, 61, 60, 30, 10);
    bench_run(&bench);
    near(zone_of(&bench, ZONE_CORNER)->ribbon_spacing, 6 * M_PER_IN);
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->state, STATE_NOT_MET);
    reason_holds(zone_of(&bench, ZONE_CORNER), "required 122 psf");
    reason_holds(zone_of(&bench, ZONE_CORNER), "at most 120 psf");
    bench_release(&bench);
}

static void full_cover_has_its_rating_and_no_more(void **state)
{
    struct assembly a = ribbon_assembly();
    struct bench bench;

    (void)state;
    a.tested_ribbon = 0;
    a.ribbons[0] = 0;
    a.ribbon_count = 1;
    bench_init(&bench, a, 31, 30, 30, 10);
    bench_run(&bench);
    near(zone_of(&bench, ZONE_FIELD)->ribbon_spacing, 0);
    near(zone_of(&bench, ZONE_FIELD)->capacity, 30 * PSF);
    assert_int_equal(zone_of(&bench, ZONE_PERIMETER)->state, STATE_MET_ASSUMED);
    assert_int_equal(zone_of(&bench, ZONE_CORNER)->state, STATE_NOT_MET);
    bench_release(&bench);
}

static void least_glue_wins(void **state)
{
    struct assembly full = ribbon_assembly();
    struct bench bench;

    (void)state;
    full.name = "full cover";
    full.tested_ribbon = 0;
    full.ribbons[0] = 0;
    full.ribbon_count = 1;
    full.rating = 240 * PSF;
    bench_init(&bench, full, 90, 60, 30, 10);
    bench.assemblies[1] = ribbon_assembly();
    bench.catalog.assembly_count = 2;
    bench_run(&bench);
    assert_string_equal(zone_of(&bench, ZONE_FIELD)->assembly, "ribbons");
    bench.roof.zones[ZONE_CORNER].uplift.allowable = 91 * PSF;
    bench_run(&bench);
    assert_string_equal(zone_of(&bench, ZONE_FIELD)->assembly, "full cover");
    assert_int_equal(bench.roof.state, STATE_MET_ASSUMED);
    bench_release(&bench);
}

/* Nothing is screwed into the deck, so its pull-out doesn't matter. */
static void pullout_plays_no_part(void **state)
{
    struct bench bench;

    (void)state;
    bench_init(&bench, ribbon_assembly(), 90, 60, 30, 10);
    bench.basis.pullout = NAN;
    bench_run(&bench);
    assert_int_equal(bench.roof.assumed & ASSUMPTION_BIT(ASSUME_PULLOUT), 0);
    assert_int_equal(bench.roof.state, STATE_MET_ASSUMED);
    bench.basis.pullout = 1;
    bench_run(&bench);
    assert_int_equal(bench.roof.state, STATE_MET_ASSUMED);
    bench_release(&bench);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ribbons_close_up_with_demand),
        cmocka_unit_test(extrapolation_ends_the_ribbons),
        cmocka_unit_test(full_cover_has_its_rating_and_no_more),
        cmocka_unit_test(least_glue_wins),
        cmocka_unit_test(pullout_plays_no_part),
    };

    return cmocka_run_group_tests_name("adhered", tests, NULL, NULL);
}
