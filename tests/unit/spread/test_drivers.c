/* Quantiles and shares against closed forms. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>

#include "spread/draw.h"
#include "spread/drivers.h"
#include "spread/normal.h"

enum { DRAWS = 4000 };

static void test_quantiles(void **state)
{
    static const double values[] = {1, 2, 4, 8, 16}, equal[] = {0.1, 0.1, 0.1};

    (void)state;
    assert_true(isnan(sorted_quantile(values, 0, 0.5)));
    assert_true(sorted_quantile(values, 1, 0.9) == 1);
    assert_true(sorted_quantile(values, 5, 0) == 1);
    assert_true(sorted_quantile(values, 5, 0.5) == 4);
    assert_true(sorted_quantile(values, 5, 1) == 16);
    assert_true(fabs(sorted_quantile(values, 5, 0.1) - 1.4) < 1e-12);
    assert_true(fabs(sorted_quantile(values, 5, 0.9) - 12.8) < 1e-12);
    assert_true(sorted_quantile(equal, 3, 0.1) == 0.1);
}

static void test_one_at_a_time(void **state)
{
    double shares[3];

    (void)state;
    shares_one_at_a_time((double[]){3, -4, 0}, 3, shares);
    assert_true(fabs(shares[0] - 0.36) < 1e-12);
    assert_true(fabs(shares[1] - 0.64) < 1e-12);
    assert_true(shares[2] == 0);
    shares_one_at_a_time((double[]){0, 0}, 2, shares);
    assert_true(shares[0] == 0 && shares[1] == 0);
}

/* x + y / 2 + x y: with deviates of variance v, first-order variances are v and v / 4,
 * and v^2 belongs to both together. */
static double result_of(double x, double y)
{
    return x + y / 2 + x * y;
}

static void test_first_order(void **state)
{
    static double a[DRAWS], b[DRAWS], of_x[DRAWS], of_y[DRAWS];
    uint64_t key_x = draw_key(1, SPREAD_TRACE, "r");
    uint64_t key_y = draw_key(1, SPREAD_CONDITION, "r");
    double v = 0.98658 * 0.98658, all = v + v / 4 + v * v;

    (void)state;
    for (int i = 0; i < DRAWS; i++) {
        uint64_t first = (uint64_t)i, second = first + DRAWS;
        double x = draw_normal(key_x, first), other_x = draw_normal(key_x, second);
        double y = draw_normal(key_y, first), other_y = draw_normal(key_y, second);

        a[i] = result_of(x, y);
        b[i] = result_of(other_x, other_y);
        of_x[i] = result_of(other_x, y);
        of_y[i] = result_of(x, other_y);
    }
    struct first_order x = first_order_index(a, b, of_x, DRAWS);
    struct first_order y = first_order_index(a, b, of_y, DRAWS);
    assert_true(x.error > 0 && x.error < 0.05 && y.error > 0 && y.error < 0.05);
    assert_true(fabs(x.index - v / all) < 3 * x.error);
    assert_true(fabs(y.index - v / 4 / all) < 3 * y.error);
    struct first_order none = first_order_index(a, a, a, DRAWS);
    assert_true(isnan(none.index) && isnan(none.error));
}

/* scipy.stats.norm.ppf and truncnorm.ppf */
static void test_normal(void **state)
{
    static const double cases[][2] = {
        {1e-300, -37.047096299361201},
        {1e-20, -9.2623400897984087},
        {1e-10, -6.3613409024040557},
        {0.001, -3.0902323061678132},
        {0.01, -2.3263478740408408},
        {0.07, -1.4757910281791706},
        {0.1, -1.2815515655446004},
        {0.3, -0.52440051270804089},
        {0.5, 0},
        {0.9, 1.2815515655446004},
        {0.926, 1.446632067158979},
        {0.999, 3.0902323061678132},
    };

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_true(fabs(normal_quantile(cases[i][0]) - cases[i][1]) <=
                    4e-15 * fmax(fabs(cases[i][1]), 1));
    assert_true(isnan(normal_quantile(0)) && isnan(normal_quantile(1)));
    assert_true(isnan(normal_cut_quantile(0)) && isnan(normal_cut_quantile(NAN)));
    assert_true(normal_cut_quantile(0.5) == 0);
    assert_true(fabs(normal_cut_quantile(0.1) + 1.275422223468) < 1e-9);
    assert_true(fabs(normal_cut_quantile(0.9) - 1.275422223468) < 1e-9);
    assert_true(normal_cut_quantile(1e-300) >= -NORMAL_CUT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_normal),
        cmocka_unit_test(test_quantiles),
        cmocka_unit_test(test_one_at_a_time),
        cmocka_unit_test(test_first_order),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
