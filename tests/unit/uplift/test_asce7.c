#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <string.h>

#include "uplift/uplift.h"

#define FT M_PER_FT
#define MPH MPS_PER_MPH
#define PSF PA_PER_PSF

static const double close = 1e-9; /* relative */

/* cmocka compares floats only. */
#define assert_near(value, expected, tolerance) \
    assert_near_at((value), (expected), (tolerance), __LINE__)

/* What nobody compared with the print is assumed. */
static const uint64_t memory = ASSUMPTION_BIT(ASSUME_COEFFICIENTS);

static void assert_near_at(double value, double expected, double tolerance, int line)
{
    if (!(fabs(value - expected) <= tolerance * fabs(expected))) {
        fail_msg("line %d: %.12g isn't %.12g", line, value, expected);
    }
}

struct fixture {
    struct arena *arena;
    struct roof roof;
    struct building building;
    struct uplift_settings settings;
};

/* A roof of 30 ft with all four zones, all that can be given given. */
static int setup(void **state)
{
    static const char *const labels[] = {"3", "2", "1", "1'"};
    struct fixture *fixture = test_calloc(1, sizeof *fixture);
    struct roof *roof = &fixture->roof;

    *state = fixture;
    fixture->arena = arena_new();
    if (fixture->arena == NULL) {
        return -1;
    }
    fixture->settings = uplift_defaults();
    *roof = (struct roof){.id = "1", .given = attributes_missing(), .zoned = true};
    roof->given.wind_speed = 120.0 * MPH;
    roof->given.exposure = EXPOSURE_C;
    roof->given.enclosure = ENCLOSURE_ENCLOSED;
    roof->given.elevation = 0.0;
    roof->given.topographic = 1.0;
    roof->given.parapet = roof->level.parapet = 0.0;
    roof->given.slope = 0.02;
    roof->level.height = 30.0 * FT;
    roof->zone_count = ZONE_ROLES;
    for (int i = 0; i < ZONE_ROLES; i++) {
        roof->zones[i].role = (enum zone_role)i;
        roof->zones[i].label = labels[i];
    }
    fixture->building.arena = fixture->arena;
    fixture->building.roofs = roof;
    fixture->building.roof_count = 1;
    return 0;
}

static int teardown(void **state)
{
    struct fixture *fixture = *state;

    arena_free(fixture->arena);
    test_free(fixture);
    return 0;
}

static const struct zone_uplift *uplift_of(const struct fixture *fixture,
                                           enum zone_role role)
{
    return &fixture->roof.zones[role].uplift;
}

/* As zoning leaves it on a level of one roof. */
static void give_parapet(struct fixture *fixture, double height)
{
    fixture->roof.given.parapet = fixture->roof.level.parapet = height;
}

static bool assumed(const struct fixture *fixture, enum assumption what)
{
    return (fixture->roof.assumed & 1u << what) != 0;
}

static bool has_problem(const struct fixture *fixture, enum problem_code code)
{
    for (const struct problem *p = fixture->roof.problems; p != NULL; p = p->next) {
        if (p->code == code) {
            return true;
        }
    }
    return false;
}

/* By hand, in psf and mph: qh = 0.0025586 x 0.9805 x 120^2 = 36.13 (0.613 in SI);
 * corner 36.13 x 0.85 x (3.2 + 0.18) = 103.80, and so on. */
static void the_chain_by_hand(void **state)
{
    struct fixture *fixture = *state;
    static const double net[] = {103.80, 76.16, 57.74, 33.17};

    uplift_run(&fixture->building, &fixture->settings);
    assert_true(fixture->roof.velocity.known);
    assert_near(fixture->roof.velocity.pressure / PSF, 36.13, 5e-4);
    for (int role = 0; role < ZONE_ROLES; role++) {
        const struct zone_uplift *uplift = uplift_of(fixture, (enum zone_role)role);

        assert_true(uplift->known);
        assert_near(uplift->net / PSF, net[role], 5e-4);
        assert_near(uplift->uplift, uplift->net, close);
        assert_near(uplift->allowable, 0.6 * uplift->uplift, close);
        assert_near(uplift->required, 1.2 * uplift->uplift, close);
        assert_int_equal(uplift->basis, BASIS_MEMORY);
        assert_non_null(strstr(uplift->source, "from memory"));
        assert_false(uplift->parapet_relief);
    }
    assert_int_equal(fixture->roof.assumed, memory);
    assert_null(fixture->roof.problems);
}

static void what_isnt_given_is_assumed_and_said(void **state)
{
    struct fixture *fixture = *state;
    double given;

    uplift_run(&fixture->building, &fixture->settings);
    given = fixture->roof.velocity.pressure;

    fixture->roof.given = attributes_missing();
    fixture->settings.wind_speed = 120.0 * MPH;
    uplift_run(&fixture->building, &fixture->settings);
    assert_near(fixture->roof.velocity.pressure, given, close);
    assert_int_equal(fixture->roof.velocity.exposure, EXPOSURE_C);
    assert_int_equal(fixture->roof.velocity.enclosure, ENCLOSURE_ENCLOSED);
    assert_true(assumed(fixture, ASSUME_EXPOSURE));
    assert_true(assumed(fixture, ASSUME_ENCLOSURE));
    assert_true(assumed(fixture, ASSUME_ELEVATION));
    assert_true(assumed(fixture, ASSUME_TOPOGRAPHY));
    assert_true(assumed(fixture, ASSUME_PARAPET));
    assert_false(assumed(fixture, ASSUME_KZ_FLOOR));
}

static void settings_serve_roofs_without_their_own(void **state)
{
    struct fixture *fixture = *state;

    fixture->roof.given = attributes_missing();
    fixture->settings.wind_speed = 100.0 * MPH;
    fixture->settings.exposure = EXPOSURE_D;
    fixture->settings.enclosure = ENCLOSURE_PARTIALLY_ENCLOSED;
    fixture->settings.elevation = 5000.0 * FT;
    fixture->settings.topographic = 1.3;
    uplift_run(&fixture->building, &fixture->settings);
    assert_int_equal(fixture->roof.velocity.exposure, EXPOSURE_D);
    assert_near(fixture->roof.velocity.gcpi, 0.55, close);
    assert_near(fixture->roof.velocity.ke, 0.8344, 1e-4);
    assert_near(fixture->roof.velocity.kzt, 1.3, close);
    assert_int_equal(fixture->roof.assumed, memory | ASSUMPTION_BIT(ASSUME_PARAPET));
}

static void the_roofs_own_values_come_first(void **state)
{
    struct fixture *fixture = *state;

    fixture->settings.wind_speed = 200.0 * MPH;
    fixture->settings.exposure = EXPOSURE_B;
    fixture->settings.topographic = 2.0;
    fixture->settings.enclosure = ENCLOSURE_OPEN;
    fixture->settings.elevation = 5000.0;
    uplift_run(&fixture->building, &fixture->settings);
    assert_near(fixture->roof.velocity.speed, 120.0 * MPH, close);
    assert_int_equal(fixture->roof.velocity.exposure, EXPOSURE_C);
    assert_near(fixture->roof.velocity.kzt, 1.0, close);
    assert_near(fixture->roof.velocity.ke, 1.0, close);
    assert_near(fixture->roof.velocity.gcpi, 0.18, close);
}

static void without_wind_speed_uplift_is_unknown(void **state)
{
    struct fixture *fixture = *state;

    fixture->roof.given.wind_speed = NAN;
    give_parapet(fixture, NAN);
    uplift_run(&fixture->building, &fixture->settings);
    assert_false(fixture->roof.velocity.known);
    for (int role = 0; role < ZONE_ROLES; role++) {
        assert_false(uplift_of(fixture, (enum zone_role)role)->known);
    }
    assert_int_equal(fixture->roof.assumed, 0);
    assert_non_null(fixture->roof.problems);
    assert_int_equal(fixture->roof.problems->code, PROBLEM_NO_SPEED);
    assert_null(fixture->roof.problems->next);
}

static void a_roof_without_zones_is_passed_over(void **state)
{
    struct fixture *fixture = *state;

    fixture->roof.zoned = false;
    fixture->roof.given.slope = 1.0;
    uplift_run(&fixture->building, &fixture->settings);
    assert_false(fixture->roof.velocity.known);
    assert_null(fixture->roof.problems);
}

/* 7-16 has Kd inside q and 7-22 outside; with the constants of one edition the pressures
 * agree while q differs by Kd. */
static void kd_inside_or_outside_gives_the_same_pressure(void **state)
{
    struct fixture *fixture = *state;
    struct standard inside = standard_asce7_22;
    struct zone_uplift outside_uplift;
    double outside_pressure;

    uplift_run(&fixture->building, &fixture->settings);
    outside_uplift = *uplift_of(fixture, ZONE_CORNER);
    outside_pressure = fixture->roof.velocity.pressure;

    inside.kd_outside = false;
    fixture->settings.standard = &inside;
    uplift_run(&fixture->building, &fixture->settings);
    assert_near(fixture->roof.velocity.pressure, 0.85 * outside_pressure, close);
    assert_near(uplift_of(fixture, ZONE_CORNER)->net, outside_uplift.net, close);
    assert_near(fixture->roof.velocity.kd_outside, 1.0, close);
}

static void the_minimum_governs_a_weak_wind(void **state)
{
    struct fixture *fixture = *state;
    const struct zone_uplift *interior = uplift_of(fixture, ZONE_INTERIOR);

    fixture->roof.given.wind_speed = 75.0 * MPH;
    uplift_run(&fixture->building, &fixture->settings);
    assert_true(interior->net < 16.0 * PSF);
    assert_near(interior->uplift, 16.0 * PSF, close);
    assert_near(interior->allowable, 9.6 * PSF, close);
    assert_near(interior->required, 19.2 * PSF, close);
    assert_near(uplift_of(fixture, ZONE_CORNER)->uplift,
                uplift_of(fixture, ZONE_CORNER)->net, close);
}

static void a_low_speed_is_warned_of_once(void **state)
{
    struct fixture *fixture = *state;

    fixture->roof.given.wind_speed = 89.0 * MPH;
    uplift_run(&fixture->building, &fixture->settings);
    assert_int_equal(fixture->roof.problems->code, PROBLEM_LOW_SPEED);
    assert_non_null(strstr(fixture->roof.problems->what, "89.0 mph"));
    assert_null(fixture->roof.problems->next);
}

/* Where a speed begins to look like one of a nominal map. 7-05 asks for these. */
static void nominal_speeds_weaken(void **state)
{
    static const struct {
        const struct standard *standard;
        double mph;
        bool weakens;
    } cases[] = {
        {&standard_asce7_22, 90.0, true},  {&standard_asce7_22, 90.5, false},
        {&standard_asce7_16, 90.0, true},  {&standard_asce7_16, 90.5, false},
        {&standard_asce7_10, 99.5, true},  {&standard_asce7_10, 100.0, false},
        {&standard_asce7_05, 85.0, false},
    };

    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct fixture *fixture = *state;

        fixture->roof.assumed = 0;
        fixture->roof.problems = NULL;
        fixture->roof.problems_end = NULL;
        fixture->roof.given.wind_speed = cases[i].mph * MPH;
        fixture->settings.standard = cases[i].standard;
        uplift_run(&fixture->building, &fixture->settings);
        assert_int_equal(assumed(fixture, ASSUME_NOMINAL_SPEED), cases[i].weakens);
        assert_int_equal(has_problem(fixture, PROBLEM_LOW_SPEED), cases[i].weakens);
    }
}

/* The figures begin at 10 ft2, about what a fastener holds. */
static void an_area_larger_than_a_fasteners_weakens(void **state)
{
    struct fixture *fixture = *state;

    uplift_run(&fixture->building, &fixture->settings);
    assert_false(assumed(fixture, ASSUME_WIND_AREA));
    assert_false(has_problem(fixture, PROBLEM_WIND_AREA));
    fixture->settings.wind_area = 11 * FT * FT;
    uplift_run(&fixture->building, &fixture->settings);
    assert_true(assumed(fixture, ASSUME_WIND_AREA));
    assert_true(has_problem(fixture, PROBLEM_WIND_AREA));
}

/* Which zones the figures don't cover, as bits by role. */
static unsigned outside(const struct fixture *fixture)
{
    unsigned bits = 0;

    for (int role = 0; role < ZONE_ROLES; role++) {
        if (uplift_of(fixture, (enum zone_role)role)->outside != NULL) {
            bits |= 1u << role;
        }
    }
    return bits;
}

static void an_open_building_is_covered_nowhere(void **state)
{
    struct fixture *fixture = *state;

    uplift_run(&fixture->building, &fixture->settings);
    assert_int_equal(outside(fixture), 0);
    fixture->roof.given.enclosure = ENCLOSURE_NOT_GIVEN;
    fixture->settings.enclosure = ENCLOSURE_OPEN;
    uplift_run(&fixture->building, &fixture->settings);
    assert_int_equal(outside(fixture), 0xf);
    assert_true(has_problem(fixture, PROBLEM_OPEN));
    assert_non_null(strstr(uplift_of(fixture, ZONE_FIELD)->outside, "engineer"));
}

/* Perimeter 18 ft deep, field to 36 ft. */
static void an_overhang_leaves_the_zones_over_it(void **state)
{
    static const struct {
        double feet;
        unsigned outside;
    } cases[] = {{NAN, 0}, {0.0, 0}, {2.0, 0x3}, {18.0, 0x3}, {19.0, 0x7}, {37.0, 0xf}};

    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct fixture *fixture = *state;

        fixture->roof.level.perimeter_depth = 18.0 * FT;
        fixture->roof.level.field_depth = 36.0 * FT;
        fixture->roof.given.overhang = cases[i].feet * FT;
        uplift_run(&fixture->building, &fixture->settings);
        assert_int_equal(outside(fixture), cases[i].outside);
        assert_int_equal(has_problem(fixture, PROBLEM_OVERHANG), cases[i].outside != 0);
    }
}

static void tornado_loads_are_a_matter_of_risk_and_edition(void **state)
{
    static const struct {
        const struct standard *standard;
        int risk;
        bool weakens;
    } cases[] = {
        {&standard_asce7_22, MISSING, false}, {&standard_asce7_22, 2, false},
        {&standard_asce7_22, 3, true},        {&standard_asce7_22, 4, true},
        {&standard_asce7_16, 4, false},       {&standard_asce7_10, 4, false},
    };

    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct fixture *fixture = *state;

        fixture->roof.assumed = 0;
        fixture->roof.problems = NULL;
        fixture->roof.problems_end = NULL;
        fixture->roof.given.risk = cases[i].risk;
        fixture->settings.standard = cases[i].standard;
        uplift_run(&fixture->building, &fixture->settings);
        assert_int_equal(assumed(fixture, ASSUME_TORNADO), cases[i].weakens);
        assert_int_equal(has_problem(fixture, PROBLEM_TORNADO), cases[i].weakens);
    }
}

static void a_steep_roof_is_warned_of_even_without_wind(void **state)
{
    struct fixture *fixture = *state;

    fixture->roof.given.slope = tan(7.0 * acos(-1.0) / 180.0);
    uplift_run(&fixture->building, &fixture->settings);
    assert_false(has_problem(fixture, PROBLEM_STEEP));
    assert_int_equal(outside(fixture), 0);
    fixture->roof.given.slope = 0.125;
    fixture->roof.given.wind_speed = NAN;
    uplift_run(&fixture->building, &fixture->settings);
    assert_true(has_problem(fixture, PROBLEM_STEEP));
    assert_int_equal(outside(fixture), 0xf);
    assert_non_null(strstr(uplift_of(fixture, ZONE_FIELD)->outside, "engineer"));
}

static void a_parapet_of_three_feet_relieves_the_corner_only(void **state)
{
    struct fixture *fixture = *state;
    const struct zone_uplift *corner = uplift_of(fixture, ZONE_CORNER);
    const struct zone_uplift *perimeter = uplift_of(fixture, ZONE_PERIMETER);

    give_parapet(fixture, 2.99 * FT);
    uplift_run(&fixture->building, &fixture->settings);
    assert_false(corner->parapet_relief);
    assert_near(corner->gcp, -3.2, close);

    give_parapet(fixture, nextafter(3.0 * FT, 0.0));
    uplift_run(&fixture->building, &fixture->settings);
    assert_true(corner->parapet_relief);
    assert_true(assumed(fixture, ASSUME_PARAPET_AROUND));
    assert_false(perimeter->parapet_relief);
    assert_near(corner->gcp, -2.3, close);
    assert_near(corner->uplift, perimeter->uplift, close);
    assert_false(assumed(fixture, ASSUME_PARAPET));
}

static void an_unknown_parapet_gives_no_relief_and_says_so(void **state)
{
    struct fixture *fixture = *state;

    give_parapet(fixture, NAN);
    uplift_run(&fixture->building, &fixture->settings);
    assert_false(uplift_of(fixture, ZONE_CORNER)->parapet_relief);
    assert_int_equal(fixture->roof.assumed, memory | ASSUMPTION_BIT(ASSUME_PARAPET));
}

static void tall_levels_take_the_tall_figure(void **state)
{
    struct fixture *fixture = *state;

    fixture->roof.level.tall = true;
    fixture->roof.level.height = 100.0 * FT;
    fixture->roof.zone_count = 3;
    uplift_run(&fixture->building, &fixture->settings);
    assert_near(uplift_of(fixture, ZONE_FIELD)->gcp, -1.4, close);
    assert_near(fixture->roof.velocity.kz, 1.254, 4e-4);
    assert_non_null(strstr(uplift_of(fixture, ZONE_FIELD)->source, "30.4-1"));
}

static void a_zone_without_a_coefficient_stays_unknown(void **state)
{
    struct fixture *fixture = *state;

    fixture->settings.standard = &standard_asce7_10; /* knows no interior */
    uplift_run(&fixture->building, &fixture->settings);
    assert_true(uplift_of(fixture, ZONE_FIELD)->known);
    assert_int_equal(uplift_of(fixture, ZONE_FIELD)->basis, BASIS_RECOVERED);
    assert_false(uplift_of(fixture, ZONE_INTERIOR)->known);
    assert_true(isnan(uplift_of(fixture, ZONE_INTERIOR)->required));
}

static void the_floor_is_assumed_only_where_it_is_open(void **state)
{
    struct fixture *fixture = *state;

    fixture->roof.given.exposure = EXPOSURE_B;
    fixture->roof.level.height = 20.0 * FT;
    fixture->settings.standard = &standard_asce7_16;
    uplift_run(&fixture->building, &fixture->settings);
    assert_near(fixture->roof.velocity.kz, 0.70, close);
    assert_true(fixture->roof.velocity.kz_floored);
    assert_int_equal(fixture->roof.assumed, memory | ASSUMPTION_BIT(ASSUME_KZ_FLOOR));

    fixture->settings.kz_floor = false;
    uplift_run(&fixture->building, &fixture->settings);
    assert_near(fixture->roof.velocity.kz, 0.624, 1e-3);
    assert_false(fixture->roof.velocity.kz_floored);
    assert_true(assumed(fixture, ASSUME_KZ_FLOOR));

    fixture->roof.assumed = 0;
    fixture->settings.standard = &standard_asce7_10;
    uplift_run(&fixture->building, &fixture->settings);
    assert_near(fixture->roof.velocity.kz, 0.70, close);
    fixture->settings.standard = &standard_asce7_22;
    fixture->settings.kz_floor = true;
    uplift_run(&fixture->building, &fixture->settings);
    assert_near(fixture->roof.velocity.kz, 0.619, 1e-3);
    assert_int_equal(fixture->roof.assumed, memory);
}

static void importance_enters_old_editions_only(void **state)
{
    struct fixture *fixture = *state;
    double without;

    fixture->settings.standard = &standard_asce7_05;
    uplift_run(&fixture->building, &fixture->settings);
    without = fixture->roof.velocity.pressure;
    fixture->settings.importance = 1.15;
    uplift_run(&fixture->building, &fixture->settings);
    assert_near(fixture->roof.velocity.pressure, 1.15 * without, close);
    assert_near(uplift_of(fixture, ZONE_FIELD)->allowable,
                uplift_of(fixture, ZONE_FIELD)->uplift, close);
    fixture->settings.standard = &standard_asce7_22;
    uplift_run(&fixture->building, &fixture->settings);
    assert_near(fixture->roof.velocity.importance, 1.0, close);
}

static void risk_changes_nothing(void **state)
{
    struct fixture *fixture = *state;
    double before;

    uplift_run(&fixture->building, &fixture->settings);
    before = uplift_of(fixture, ZONE_CORNER)->required;
    fixture->roof.given.risk = 4;
    uplift_run(&fixture->building, &fixture->settings);
    assert_near(uplift_of(fixture, ZONE_CORNER)->required, before, close);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, setup, teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(the_chain_by_hand),
        TEST(what_isnt_given_is_assumed_and_said),
        TEST(settings_serve_roofs_without_their_own),
        TEST(the_roofs_own_values_come_first),
        TEST(without_wind_speed_uplift_is_unknown),
        TEST(a_roof_without_zones_is_passed_over),
        TEST(kd_inside_or_outside_gives_the_same_pressure),
        TEST(the_minimum_governs_a_weak_wind),
        TEST(a_low_speed_is_warned_of_once),
        TEST(nominal_speeds_weaken),
        TEST(an_area_larger_than_a_fasteners_weakens),
        TEST(an_open_building_is_covered_nowhere),
        TEST(an_overhang_leaves_the_zones_over_it),
        TEST(tornado_loads_are_a_matter_of_risk_and_edition),
        TEST(a_steep_roof_is_warned_of_even_without_wind),
        TEST(a_parapet_of_three_feet_relieves_the_corner_only),
        TEST(an_unknown_parapet_gives_no_relief_and_says_so),
        TEST(tall_levels_take_the_tall_figure),
        TEST(a_zone_without_a_coefficient_stays_unknown),
        TEST(the_floor_is_assumed_only_where_it_is_open),
        TEST(importance_enters_old_editions_only),
        TEST(risk_changes_nothing),
    };

    return cmocka_run_group_tests_name("uplift", tests, NULL, NULL);
}
