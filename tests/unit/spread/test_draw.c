/* Keyed draws: what they hang on, and that they are distributed as they should be. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>

#include "base/number.h"
#include "spread/draw.h"
#include "spread/normal.h"

enum { DRAWS = 100000 };

static double drawn[DRAWS];

static void test_keys(void **state)
{
    uint64_t key = draw_key(1, SPREAD_HEIGHT, "b1");

    (void)state;
    assert_true(key == draw_key(1, SPREAD_HEIGHT, "b1"));
    assert_true(key != draw_key(2, SPREAD_HEIGHT, "b1"));
    assert_true(key != draw_key(1, SPREAD_HEIGHT, "b2"));
    assert_true(key != draw_key(1, SPREAD_EXPOSURE, "b1"));
    assert_true(draw_normal(key, 0) != draw_normal(key, 1));
    assert_true(draw_key(1, SPREAD_PRICE, "b1") == draw_key(1, SPREAD_PRICE, NULL));
}

/* Kolmogorov and Smirnov: 1.95 / sqrt(n) is passed by chance once in 1,000 seeds. */
static void test_uniform(void **state)
{
    double worst = 0;
    uint64_t key = draw_key(1, SPREAD_TRACE, "roof 7");

    (void)state;
    for (int i = 0; i < DRAWS; i++)
        drawn[i] = draw_uniform(key, (uint64_t)i);
    numbers_sort(drawn, DRAWS);
    assert_true(drawn[0] > 0 && drawn[DRAWS - 1] < 1);
    for (int i = 0; i < DRAWS; i++)
        worst = fmax(worst, fabs(drawn[i] - (i + 0.5) / DRAWS));
    assert_true(worst < 1.95 / sqrt(DRAWS));
}

/* Mean and standard deviation of a normal cut at 3 (scipy.stats.truncnorm: 0.98658); no
 * correlation with the next draw, another input or another roof; all within 4 sigma. */
static void test_moments(void **state)
{
    uint64_t key = draw_key(1, SPREAD_TRACE, "r1");
    uint64_t other_input = draw_key(1, SPREAD_CONDITION, "r1");
    uint64_t other_roof = draw_key(1, SPREAD_TRACE, "r2");
    double sum = 0, squares = 0, next = 0, input = 0, roof = 0;

    (void)state;
    for (uint64_t i = 0; i < DRAWS; i++) {
        double z = draw_normal(key, i);

        assert_true(fabs(z) <= NORMAL_CUT);
        sum += z;
        squares += z * z;
        next += z * draw_normal(key, i + 1);
        input += z * draw_normal(other_input, i);
        roof += z * draw_normal(other_roof, i);
    }
    double sigma = 1 / sqrt(DRAWS);
    assert_true(fabs(sum / DRAWS) < 4 * sigma);
    assert_true(fabs(sqrt(squares / DRAWS) - 0.98658) < 4 * sigma / sqrt(2));
    assert_true(fabs(next / DRAWS) < 4 * sigma);
    assert_true(fabs(input / DRAWS) < 4 * sigma);
    assert_true(fabs(roof / DRAWS) < 4 * sigma);
}

static void test_steps(void **state)
{
    uint64_t key = draw_key(1, SPREAD_EXPOSURE, "b1");
    int rougher = 0, smoother = 0;

    (void)state;
    for (uint64_t i = 0; i < DRAWS; i++) {
        int step = draw_step(key, i, 0.2);

        assert_int_equal(draw_step(key, i, 0), 0);
        rougher += step == -1;
        smoother += step == 1;
    }
    double sigma = sqrt(0.2 * 0.8 * DRAWS);
    assert_true(fabs(rougher - 0.2 * DRAWS) < 4 * sigma);
    assert_true(fabs(smoother - 0.2 * DRAWS) < 4 * sigma);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_keys),
        cmocka_unit_test(test_uniform),
        cmocka_unit_test(test_moments),
        cmocka_unit_test(test_steps),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
