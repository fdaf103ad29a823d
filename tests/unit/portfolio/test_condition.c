/* The curve against values worked out beside it: condition at t / life = 0, 1/4, 1/2,
 * 3/4, 1 for the shapes 1.5, 2, 2.5, 3, with 40 at the end of the service life (ours). */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>

#include "portfolio/condition.h"

static void test_derived_table(void **state)
{
    static const double shapes[] = {1.5, 2, 2.5, 3};
    static const double expected[][5] = {{100, 89.2, 72.3, 55.1, 40},
                                         {100, 94.4, 79.5, 59.7, 40},
                                         {100, 97.2, 85.0, 64.0, 40},
                                         {100, 98.6, 89.2, 67.9, 40}};

    (void)state;
    for (int i = 0; i < 4; i++)
        for (int k = 0; k < 5; k++) {
            struct condition_curve curve = {23, shapes[i]};

            assert_true(fabs(condition_at(&curve, 23 * k / 4.0) - expected[i][k]) <=
                        0.0501);
        }
}

static void test_age_is_the_way_back(void **state)
{
    struct condition_curve curve = {20, 2.5};

    (void)state;
    for (double condition = 1; condition <= 99; condition += 7)
        assert_true(fabs(condition_at(&curve, condition_age(&curve, condition)) -
                         condition) < 1e-9);
    assert_true(condition_age(&curve, 100) == 0);
    assert_true(fabs(condition_age(&curve, CONDITION_DUE) - 20) < 1e-9);
    assert_true(condition_age(&curve, 0) == condition_age(&curve, 1));
    assert_true(isnan(condition_age(&curve, NAN)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_derived_table),
        cmocka_unit_test(test_age_is_the_way_back),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
