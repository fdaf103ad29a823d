#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <string.h>

#include "surroundings/topographic.h"

static void assert_near(double value, double expected, double tolerance)
{
    if (!(fabs(value - expected) <= tolerance))
        fail_msg("%.12g isn't %.12g", value, expected);
}

/* ---- The figure ---- */

/* Worked out by hand from Fig. 26.8-1 (multipliers from memory), z = 10 m:
 * ridge, C, H 30, Lh 100, x 0: K1 = 1.45 x 0.3 = 0.435; K3 = exp(-3 x 0.1) = 0.7408;
 *   Kzt = (1 + 0.3223)^2 = 1.7484
 * the same, x = 60 upwind: K2 = 1 - 60 / 150 = 0.6: (1 + 0.1934)^2 = 1.4241
 * escarpment, B, H 40, Lh 100, 200 m behind the crest: K1 = 0.3; K2 = 1 - 200 / 400 =
 *   0.5; K3 = exp(-0.25) = 0.7788; (1 + 0.11682)^2 = 1.2473
 * the same, 75 m upwind: K2 = 1 - 75 / 150 = 0.5: the same
 * hill, D, H 50, Lh 200, 100 m behind: K1 = 1.15 x 0.25 = 0.2875; K2 = 1 - 100 / 300 =
 *   0.6667; K3 = exp(-0.2) = 0.8187; (1 + 0.15692)^2 = 1.3385
 * ridge, D, H 60, Lh 80 (0.75: counts as 0.5, Lh as 120), x 36: K1 = 0.775; K2 = 1 -
 *   36 / 180 = 0.8; K3 = exp(-0.25) = 0.7788; (1 + 0.48286)^2 = 2.1989
 * ridge, C, H 19, Lh 100: 0.19 is too gentle: 1 */
static const struct {
    struct hill hill;
    enum exposure exposure;
    double expected;
} cases[] = {
    {{.shape = HILL_RIDGE, .height = 30, .length = 100}, EXPOSURE_C, 1.7484},
    {{.shape = HILL_RIDGE, .height = 30, .length = 100, .offset = -60},
     EXPOSURE_C,
     1.4241},
    {{.shape = HILL_ESCARPMENT, .height = 40, .length = 100, .offset = 200},
     EXPOSURE_B,
     1.2473},
    {{.shape = HILL_ESCARPMENT, .height = 40, .length = 100, .offset = -75},
     EXPOSURE_B,
     1.2473},
    {{.shape = HILL_AXISYMMETRIC, .height = 50, .length = 200, .offset = 100},
     EXPOSURE_D,
     1.3385},
    {{.shape = HILL_RIDGE, .height = 60, .length = 80, .offset = 36}, EXPOSURE_D, 2.1989},
    {{.shape = HILL_RIDGE, .height = 19, .length = 100}, EXPOSURE_C, 1},
};

static void the_figure(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct hill hill = cases[i].hill;

        assert_near(hill_factor(&hill, cases[i].exposure, 10), cases[i].expected, 1e-4);
    }
}

/* ---- Ground with known answers ---- */

struct made {
    enum hill_shape shape;
    double height, length; /* H, Lh: straight slopes of 2 Lh */
    double crest;          /* how far upwind of the building */
    double bearing;        /* that the wind comes from, degrees */
    double rise;           /* of the ground behind an escarpment, per m */
    double other;          /* height of a second ridge 1,000 m further upwind */
    double hole;           /* radius within which ground isn't missing; 0: all is known */
    bool under;            /* it is missing at the building */
};

static double slope(double far, const struct made *made)
{
    return made->height * fmax(0, 1 - fabs(far) / (2 * made->length));
}

static double made_at(const void *context, double x, double y)
{
    const struct made *made = context;
    double east = sin(made->bearing * acos(-1) / 180);
    double north = cos(made->bearing * acos(-1) / 180);
    double t = x * east + y * north - made->crest, across = x * north - y * east;
    double other = made->other * fmax(0, 1 - fabs(t - 1000) / 100);

    if (made->hole > 0 && hypot(x, y) > made->hole)
        return NAN;
    if (made->under && hypot(x, y) < 30)
        return NAN;
    switch (made->shape) {
    case HILL_ESCARPMENT:
        return 100 + fmax(t < 0 ? made->height - made->rise * t : slope(t, made), other);
    case HILL_AXISYMMETRIC:
        return 100 + fmax(slope(hypot(t, across), made), other);
    default:
        return 100 + fmax(slope(t, made), other);
    }
}

static struct topographic_finding find(const struct made *made, enum exposure exposure,
                                       double z)
{
    struct terrain terrain = {made_at, made, 10};
    struct topographic_finding finding;

    topographic_find(&terrain, exposure, z, &finding);
    return finding;
}

static void flat_ground_is_exactly_one(void **state)
{
    struct made flat = {.shape = HILL_RIDGE, .height = 0, .length = 100};
    struct topographic_finding finding = find(&flat, EXPOSURE_C, 10);

    (void)state;
    assert_true(finding.factor == 1);
    assert_false(finding.hilly);
    assert_true(finding.whole);
}

static void hills_are_found_and_measured(void **state)
{
    static const struct made hills[] = {
        {.shape = HILL_RIDGE, .height = 30, .length = 100},
        {.shape = HILL_RIDGE, .height = 30, .length = 100, .crest = 43, .bearing = 90},
        {.shape = HILL_RIDGE, .height = 30, .length = 100, .crest = -43, .bearing = 225},
        {.shape = HILL_ESCARPMENT, .height = 40, .length = 100, .crest = 200},
        {.shape = HILL_ESCARPMENT,
         .height = 40,
         .length = 100,
         .crest = -60,
         .bearing = 45},
        {.shape = HILL_ESCARPMENT,
         .height = 40,
         .length = 50,
         .crest = 120,
         .bearing = 180},
        {.shape = HILL_AXISYMMETRIC,
         .height = 50,
         .length = 200,
         .crest = 100,
         .bearing = 270},
        {.shape = HILL_AXISYMMETRIC, .height = 50, .length = 80, .crest = -57},
        {.shape = HILL_RIDGE, .height = 60, .length = 80, .crest = 36, .bearing = 135},
    };

    (void)state;
    for (size_t i = 0; i < sizeof hills / sizeof *hills; i++) {
        const struct made *made = &hills[i];
        struct hill hill = {.shape = made->shape,
                            .height = made->height,
                            .length = made->length,
                            .offset = made->crest};
        struct topographic_finding finding = find(made, EXPOSURE_C, 10);

        assert_true(finding.hilly);
        assert_int_equal(finding.hill.shape, made->shape);
        assert_near(finding.hill.height, made->height, 0.5);
        assert_near(finding.factor, hill_factor(&hill, EXPOSURE_C, 10), 0.01);
    }
}

/* The edge of a plateau counts though the ground goes on up behind it; a terrace of a
 * mountain doesn't. */
static void a_plateau_needs_not_be_level(void **state)
{
    struct made made = {.shape = HILL_ESCARPMENT, .height = 40, .length = 100};
    double level = find(&made, EXPOSURE_C, 10).factor;

    (void)state;
    for (made.rise = 0.001; made.rise < 0.03; made.rise += 0.004) {
        struct topographic_finding finding = find(&made, EXPOSURE_C, 10);

        assert_near(finding.factor, level, 0.02);
        assert_int_equal(finding.hill.shape, HILL_ESCARPMENT);
    }
    made.rise = 0.06;
    assert_true(find(&made, EXPOSURE_C, 10).factor == 1);
}

static void what_does_not_stand_alone_does_not_count(void **state)
{
    struct made made = {.shape = HILL_RIDGE, .height = 30, .length = 100, .other = 14};

    (void)state;
    assert_true(find(&made, EXPOSURE_C, 10).factor > 1.5);
    made.other = 16;
    /* from the other side nothing stands before it */
    assert_near(find(&made, EXPOSURE_C, 10).hill.bearing, 180, 90);
    made.shape = HILL_ESCARPMENT;
    assert_true(find(&made, EXPOSURE_C, 10).factor == 1);
}

/* 26.8.1: at least 15 ft in C and D, 60 ft in B; H / Lh >= 0.2; the upper half. */
static void small_gentle_and_distant_hills_do_not_count(void **state)
{
    struct made made = {.shape = HILL_ESCARPMENT, .height = 4.5, .length = 15};

    (void)state;
    assert_true(find(&made, EXPOSURE_C, 5).factor == 1);
    made.height = 4.65;
    assert_true(find(&made, EXPOSURE_C, 5).factor > 1);
    assert_true(find(&made, EXPOSURE_B, 5).factor == 1);
    made.height = 18.4;
    made.length = 50;
    assert_true(find(&made, EXPOSURE_B, 5).factor > 1);
    made.length = 100;
    assert_true(find(&made, EXPOSURE_B, 5).factor == 1);
    made = (struct made){.shape = HILL_RIDGE, .height = 30, .length = 100, .crest = 120};
    assert_true(find(&made, EXPOSURE_C, 5).factor == 1);
}

static void missing_ground_is_said(void **state)
{
    struct made made = {.shape = HILL_RIDGE, .height = 30, .length = 100, .hole = 900};
    struct topographic_finding finding = find(&made, EXPOSURE_C, 10);
    struct text out = TEXT_INIT;

    (void)state;
    assert_false(finding.whole);
    topographic_explain(&out, &finding, &unit_system_si);
    assert_non_null(strstr(out.data, "some terrain is missing"));
    text_release(&out);
}

/* Where the building stands on its hill is not known then. */
static void missing_ground_under_the_building_finds_nothing(void **state)
{
    struct made made = {.shape = HILL_RIDGE, .height = 30, .length = 100, .crest = 120};

    (void)state;
    assert_true(find(&made, EXPOSURE_C, 10).known);
    made.under = true;
    assert_false(find(&made, EXPOSURE_C, 10).known);
    assert_true(find(&made, EXPOSURE_C, 10).factor == 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_figure),
        cmocka_unit_test(flat_ground_is_exactly_one),
        cmocka_unit_test(hills_are_found_and_measured),
        cmocka_unit_test(a_plateau_needs_not_be_level),
        cmocka_unit_test(what_does_not_stand_alone_does_not_count),
        cmocka_unit_test(small_gentle_and_distant_hills_do_not_count),
        cmocka_unit_test(missing_ground_is_said),
        cmocka_unit_test(missing_ground_under_the_building_finds_nothing),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
