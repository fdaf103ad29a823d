#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "uplift/uplift.h"

#define FT M_PER_FT

static void assert_near(double value, double expected, double tolerance)
{
    if (!(fabs(value - expected) <= tolerance)) {
        fail_msg("%.12g isn't %.12g", value, expected);
    }
}

static double kz_at(const struct standard *standard, enum exposure exposure,
                    double height_ft)
{
    return velocity_kz(standard, exposure, height_ft * FT, false).kz;
}

static void below_fifteen_feet_fifteen_count(void **state)
{
    (void)state;
    for (size_t i = 0; standards[i] != NULL; i++) {
        for (int e = EXPOSURE_B; e <= EXPOSURE_D; e++) {
            struct exposure_factor low =
                velocity_kz(standards[i], (enum exposure)e, 3.0 * FT, false);
            struct exposure_factor at =
                velocity_kz(standards[i], (enum exposure)e, 15.0 * FT, false);

            assert_near(low.z, 15.0 * FT, 1e-12);
            assert_near(low.kz, at.kz, 1e-12);
            assert_true(velocity_kz(standards[i], (enum exposure)e, 32.0 * FT, false).kz >
                        at.kz);
        }
    }
}

static void open_ground_is_windier(void **state)
{
    (void)state;
    for (size_t i = 0; standards[i] != NULL; i++) {
        for (double z = 10.0; z < 600.0; z += 10.0) {
            assert_true(kz_at(standards[i], EXPOSURE_B, z) <
                        kz_at(standards[i], EXPOSURE_C, z));
            assert_true(kz_at(standards[i], EXPOSURE_C, z) <
                        kz_at(standards[i], EXPOSURE_D, z));
        }
    }
}

static void above_the_gradient_height_it_stays(void **state)
{
    (void)state;
    assert_near(kz_at(&standard_asce7_22, EXPOSURE_D, 1935.0), 2.41, 1e-9);
    assert_near(kz_at(&standard_asce7_22, EXPOSURE_D, 2500.0), 2.41, 1e-9);
    assert_near(kz_at(&standard_asce7_16, EXPOSURE_D, 700.0), 2.01, 1e-9);
    assert_near(kz_at(&standard_asce7_16, EXPOSURE_D, 2500.0), 2.01, 1e-9);
}

static void the_floor_ends_at_thirty_feet_and_at_exposure_b(void **state)
{
    struct exposure_factor factor;

    (void)state;
    factor = velocity_kz(&standard_asce7_10, EXPOSURE_B, 29.9 * FT, false);
    assert_true(factor.floored);
    assert_near(factor.kz, 0.70, 1e-12);
    factor = velocity_kz(&standard_asce7_10, EXPOSURE_B, 30.0 * FT, false);
    assert_false(factor.floored);
    assert_near(factor.kz, 0.701, 5e-4);
    factor = velocity_kz(&standard_asce7_10, EXPOSURE_C, 10.0 * FT, true);
    assert_false(factor.floored);
    assert_near(factor.kz, 0.849, 5e-4);
}

static void elevation_thins_the_air(void **state)
{
    (void)state;
    assert_near(velocity_ke(0.0), 1.0, 1e-12);
    assert_near(velocity_ke(1000.0 * FT), 0.9644, 5e-5);
    assert_true(velocity_ke(-100.0 * FT) > 1.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(below_fifteen_feet_fifteen_count),
        cmocka_unit_test(open_ground_is_windier),
        cmocka_unit_test(above_the_gradient_height_it_stays),
        cmocka_unit_test(the_floor_ends_at_thirty_feet_and_at_exposure_b),
        cmocka_unit_test(elevation_thins_the_air),
    };

    return cmocka_run_group_tests_name("velocity pressure", tests, NULL, NULL);
}
