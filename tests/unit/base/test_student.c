/* Student's t against a printed table and against itself. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "base/student.h"

struct row {
    int freedom;
    double t;
};

static void quantiles_are_those_of_scipy(void **state)
{
    /* scipy.stats.t.ppf(0.95, freedom) of SciPy 1.10 */
    static const struct row rows[] = {
        {1, 6.313751514800932},   {2, 2.919985580355516},   {3, 2.3533634348018264},
        {4, 2.13184678133629},    {9, 1.8331129326536335},  {19, 1.729132811521367},
        {29, 1.6991270265334972}, {49, 1.6765508919142629}, {199, 1.652546746165939}};

    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        assert_true(fabs(student_t(0.95, rows[i].freedom) - rows[i].t) < 1e-8);
}

static void one_degree_is_cauchy(void **state)
{
    (void)state;
    for (double t = -9; t < 9; t += 0.37)
        assert_true(fabs(student_p(t, 1) - (0.5 + atan(t) / 3.14159265358979323846)) <
                    1e-12);
}

static void chances_grow_and_are_even(void **state)
{
    (void)state;
    for (int freedom = 1; freedom < 40; freedom++)
        for (double t = 0; t < 12; t += 0.5) {
            assert_true(student_p(t + 0.5, freedom) > student_p(t, freedom));
            assert_true(fabs(student_p(t, freedom) + student_p(-t, freedom) - 1) < 1e-12);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(quantiles_are_those_of_scipy),
        cmocka_unit_test(one_degree_is_cauchy),
        cmocka_unit_test(chances_grow_and_are_even),
    };

    return cmocka_run_group_tests_name("student", tests, NULL, NULL);
}
