/* Percentiles, means and spreads. */

#include "help.h"

#include "sample/zonal.h"

static void test_percentiles_are_linear_between_neighbours(void **state)
{
    double values[] = {40, 10, 30, 20};

    (void)state;
    assert_true(percentile(values, 4, 0) == 10);
    assert_true(percentile(values, 4, 50) == 25);
    assert_true(fabs(percentile(values, 4, 90) - 37) < 1e-12);
    assert_true(percentile(values, 4, 100) == 40);
    assert_true(percentile(values, 1, 73) == values[0]);
}

static int compare(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;

    return (a > b) - (a < b);
}

static void test_selection_agrees_with_sorting(void **state)
{
    enum { COUNT = 997 };
    double values[COUNT], sorted[COUNT];
    uint32_t draw = 1;

    (void)state;
    for (int turn = 0; turn < 3; turn++) {
        for (size_t i = 0; i < COUNT; i++) {
            draw = draw * 1664525u + 1013904223u;
            /* many ties in one turn, an order in another */
            values[i] = turn == 0 ? draw >> 8 : turn == 1 ? draw >> 29 : (double)i;
            sorted[i] = values[i];
        }
        qsort(sorted, COUNT, sizeof *sorted, compare);
        for (size_t i = 0; i < COUNT; i += 83) {
            double low = fmax((double)i - 1e-6, 0),
                   high = fmin((double)i + 1e-6, COUNT - 1);

            assert_true(percentile(values, COUNT, 100 * low / (COUNT - 1)) <= sorted[i]);
            assert_true(percentile(values, COUNT, 100 * high / (COUNT - 1)) >= sorted[i]);
        }
    }
}

static void test_the_other_statistics(void **state)
{
    double values[] = {4, 1, 7};

    (void)state;
    assert_true(statistic_of(values, 3, STATISTIC_MEAN, 50) == 4);
    assert_true(statistic_of(values, 3, STATISTIC_LEAST, 50) == 1);
    assert_true(statistic_of(values, 3, STATISTIC_MOST, 50) == 7);
    assert_true(statistic_of(values, 3, STATISTIC_PERCENTILE, 50) == 4);
    assert_true(fabs(spread_of(values, 3) - (6.4 - 1.6)) < 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_percentiles_are_linear_between_neighbours),
        cmocka_unit_test(test_selection_agrees_with_sorting),
        cmocka_unit_test(test_the_other_statistics),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
