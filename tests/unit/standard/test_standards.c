#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <string.h>

#include "base/units.h"
#include "standard/standard.h"

#define FT M_PER_FT

static struct zone_figure plan_of(const char *name, double height_ft, double least_ft,
                                  enum mid_rise mid_rise)
{
    struct figure_input in = {height_ft * FT, least_ft * FT, mid_rise};
    struct zone_figure figure = {0};

    standard_find(name)->figure(&in, &figure);
    return figure;
}

/* cmocka compares floats only. */
static void assert_near(double value, double expected)
{
    if (!(fabs(value - expected) <= 1e-9)) {
        fail_msg("%.12g isn't %.12g", value, expected);
    }
}

static void assert_feet(double metres, double feet)
{
    assert_near(metres / FT, feet);
}

static void standards_are_found_by_name(void **state)
{
    (void)state;
    assert_ptr_equal(standard_find("asce7-22"), &standard_asce7_22);
    assert_ptr_equal(standard_find("asce7-05"), &standard_asce7_05);
    assert_null(standard_find("asce7"));
    assert_null(standard_find(""));
    assert_ptr_equal(standards[0], &standard_asce7_22);
    assert_false(standard_asce7_05.offered);
    assert_true(standard_asce7_10.offered && standard_asce7_16.offered);
}

static void every_value_names_its_source(void **state)
{
    (void)state;
    for (size_t i = 0; standards[i] != NULL; i++) {
        const struct standard *standard = standards[i];

        assert_ptr_equal(standard_find(standard->name), standard);
        for (int role = 0; role < ZONE_ROLES; role++) {
            const struct gcp_curve *curves[] = {&standard->low[role],
                                                &standard->tall[role]};

            for (size_t j = 0; j < 2; j++) {
                if (curves[j]->small_area <= 0.0) {
                    continue;
                }
                assert_non_null(strstr(curves[j]->source, standard->title));
                assert_int_not_equal(curves[j]->basis, BASIS_NOT_GIVEN);
                assert_int_equal(curves[j]->basis == BASIS_MEMORY,
                                 strstr(curves[j]->source, "from memory") != NULL);
                assert_int_equal(curves[j]->basis == BASIS_RECOVERED,
                                 strstr(curves[j]->source, "recovered from") != NULL);
            }
        }
        assert_non_null(standard->kz_source);
        assert_non_null(standard->kd_source);
        assert_non_null(standard->gcpi_source);
        assert_non_null(standard->pressure_source);
        assert_non_null(standard->minimum_source);
        assert_non_null(standard->parapet_source);
        assert_int_equal(standard->has_ke, standard->ke_source != NULL);
    }
}

/* Net minimum 16 psf at strength level, 10 psf nominal in 7-05; parapets from 3 ft on. */
static void constants_of_the_editions(void **state)
{
    (void)state;
    for (size_t i = 0; standards[i] != NULL; i++) {
        bool nominal = standards[i] == &standard_asce7_05;

        assert_near(standards[i]->minimum / PA_PER_PSF, nominal ? 10.0 : 16.0);
        assert_near(standards[i]->allowable_factor, nominal ? 1.0 : 0.6);
        assert_int_equal(standards[i]->has_importance, nominal);
        assert_feet(standards[i]->parapet_height, 3.0);
        assert_near(standards[i]->kd, 0.85);
        assert_int_equal(standards[i]->kd_outside, standards[i] == &standard_asce7_22);
    }
}

static void each_zone_of_a_plan_has_a_curve(void **state)
{
    static const double heights[] = {30.0, 100.0};

    (void)state;
    for (size_t i = 0; standards[i] != NULL; i++) {
        for (size_t j = 0; j < 2; j++) {
            struct zone_figure figure =
                plan_of(standards[i]->name, heights[j], 200.0, MID_RISE_TALL);
            const struct gcp_curve *curves =
                figure.tall ? standards[i]->tall : standards[i]->low;

            assert_ptr_equal(figure.source, figure.tall
                                                ? standards[i]->figure_tall_source
                                                : standards[i]->figure_low_source);
            for (int role = 0; role < ZONE_ROLES; role++) {
                assert_int_equal(figure.labels[role] != NULL,
                                 isfinite(gcp_at(&curves[role], 1.0)));
            }
            assert_int_equal(figure.labels[ZONE_INTERIOR] != NULL,
                             isfinite(figure.field_depth));
        }
    }
}

static void sixty_feet_is_low_and_a_hair_more_is_tall(void **state)
{
    (void)state;
    for (size_t i = 0; standards[i] != NULL; i++) {
        const char *name = standards[i]->name;

        assert_false(plan_of(name, 60.0, 200.0, MID_RISE_TALL).tall);
        assert_false(plan_of(name, 60.0, 200.0, MID_RISE_TALL).mid_rise_choice);
        assert_false(plan_of(name, nextafter(60.0, 61.0), 200.0, MID_RISE_TALL).tall);
        assert_true(plan_of(name, 60.01, 200.0, MID_RISE_TALL).tall);
        assert_true(plan_of(name, 90.0, 200.0, MID_RISE_LOW).tall);
        assert_false(plan_of(name, 90.0, 200.0, MID_RISE_LOW).mid_rise_choice);
    }
}

static void between_sixty_and_ninety_feet_the_setting_decides(void **state)
{
    struct zone_figure low = plan_of("asce7-22", 75.0, 75.0, MID_RISE_LOW);
    struct zone_figure tall = plan_of("asce7-22", 75.0, 75.0, MID_RISE_TALL);
    struct zone_figure slender = plan_of("asce7-22", 75.0, 74.0, MID_RISE_LOW);

    (void)state;
    assert_true(low.mid_rise_choice);
    assert_false(low.tall);
    assert_feet(low.perimeter_depth, 45.0);
    assert_true(tall.mid_rise_choice);
    assert_true(tall.tall);
    assert_feet(tall.perimeter_depth, 7.5);
    assert_false(slender.mid_rise_choice);
    assert_true(slender.tall);
    assert_false(plan_of("asce7-22", 89.99, 90.0, MID_RISE_LOW).tall);
}

static void low_depths_follow_the_height_from_2016_on(void **state)
{
    static const char *const names[] = {"asce7-16", "asce7-22"};

    (void)state;
    for (size_t i = 0; i < 2; i++) {
        struct zone_figure figure = plan_of(names[i], 30.0, 1000.0, MID_RISE_TALL);

        assert_feet(figure.perimeter_depth, 18.0);
        assert_feet(figure.field_depth, 36.0);
        assert_feet(figure.leg_length, 18.0);
        assert_feet(figure.leg_depth, 6.0);
        assert_int_equal(figure.corner_shape, CORNER_LEGS);
        assert_string_equal(figure.labels[ZONE_CORNER], "3");
        assert_string_equal(figure.labels[ZONE_PERIMETER], "2");
        assert_string_equal(figure.labels[ZONE_FIELD], "1");
        assert_string_equal(figure.labels[ZONE_INTERIOR], "1'");
    }
}

/* The width a of 7-10 and 7-05: min(10 % LHD, 0.4h), at least 4 % LHD and 3 ft. */
static void low_depth_before_2016_has_a_cap_and_two_floors(void **state)
{
    struct zone_figure figure = plan_of("asce7-10", 30.0, 100.0, MID_RISE_TALL);

    (void)state;
    assert_feet(figure.perimeter_depth, 10.0);
    assert_feet(figure.leg_length, 20.0);
    assert_feet(figure.leg_depth, 10.0);
    assert_int_equal(figure.corner_shape, CORNER_CROSSED);
    assert_true(isinf(figure.field_depth));
    assert_null(figure.labels[ZONE_INTERIOR]);
    assert_feet(plan_of("asce7-10", 24.0, 169.0, MID_RISE_TALL).perimeter_depth, 9.6);
    assert_feet(plan_of("asce7-10", 10.0, 500.0, MID_RISE_TALL).perimeter_depth, 20.0);
    assert_feet(plan_of("asce7-10", 30.0, 20.0, MID_RISE_TALL).perimeter_depth, 3.0);
    assert_feet(plan_of("asce7-05", 55.0, 40.0, MID_RISE_TALL).perimeter_depth, 4.0);
}

static void tall_depth_has_one_floor_and_no_cap(void **state)
{
    (void)state;
    for (size_t i = 0; standards[i] != NULL; i++) {
        const char *name = standards[i]->name;
        struct zone_figure figure = plan_of(name, 61.0, 400.0, MID_RISE_TALL);

        assert_feet(figure.perimeter_depth, 40.0); /* 0.4h would be 24.4 */
        assert_feet(figure.leg_length, 80.0);
        assert_feet(figure.leg_depth, 40.0);
        assert_int_equal(figure.corner_shape, CORNER_LEGS);
        assert_true(isinf(figure.field_depth));
        assert_null(figure.labels[ZONE_INTERIOR]);
        assert_feet(plan_of(name, 61.0, 20.0, MID_RISE_TALL).perimeter_depth, 3.0);
    }
}

static void coefficients_are_constant_outside_the_curve(void **state)
{
    const struct gcp_curve *curve = &standard_asce7_22.low[ZONE_CORNER];

    (void)state;
    assert_near(gcp_at(curve, 0.01 * M2_PER_FT2), -3.2);
    assert_near(gcp_at(curve, 10.0 * M2_PER_FT2), -3.2);
    assert_near(gcp_at(curve, 500.0 * M2_PER_FT2), -1.4);
    assert_near(gcp_at(curve, 5000.0 * M2_PER_FT2), -1.4);
    assert_true(isnan(gcp_at(&standard_asce7_10.low[ZONE_INTERIOR], 1.0)));
}

static void internal_coefficient_follows_the_enclosure(void **state)
{
    (void)state;
    assert_near(gcpi_of(ENCLOSURE_ENCLOSED), 0.18);
    assert_near(gcpi_of(ENCLOSURE_PARTIALLY_ENCLOSED), 0.55);
    assert_near(gcpi_of(ENCLOSURE_PARTIALLY_OPEN), 0.18);
    assert_near(gcpi_of(ENCLOSURE_OPEN), 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(standards_are_found_by_name),
        cmocka_unit_test(every_value_names_its_source),
        cmocka_unit_test(constants_of_the_editions),
        cmocka_unit_test(each_zone_of_a_plan_has_a_curve),
        cmocka_unit_test(sixty_feet_is_low_and_a_hair_more_is_tall),
        cmocka_unit_test(between_sixty_and_ninety_feet_the_setting_decides),
        cmocka_unit_test(low_depths_follow_the_height_from_2016_on),
        cmocka_unit_test(low_depth_before_2016_has_a_cap_and_two_floors),
        cmocka_unit_test(tall_depth_has_one_floor_and_no_cap),
        cmocka_unit_test(coefficients_are_constant_outside_the_curve),
        cmocka_unit_test(internal_coefficient_follows_the_enclosure),
    };

    return cmocka_run_group_tests_name("standards", tests, NULL, NULL);
}
