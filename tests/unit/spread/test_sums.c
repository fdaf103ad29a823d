/* Sums over roofs: the same however they are put together; shared inputs add up, others
 * by their squares. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>

#include "spread/sums.h"

enum { DRAWS = 11 };

/* Draw i adds i to the force of a first batch and 10 i to that of a second. */
static struct spread_sums *batch(double factor)
{
    struct spread_sums *sums = spread_sums_new(DRAWS);

    assert_non_null(sums);
    for (size_t i = 0; i < DRAWS; i++)
        sums->values[SUM_FORCE][i] += factor * (double)i;
    sums->plain[SUM_FORCE] = factor;
    sums->roofs[SUM_FORCE] = 1;
    sums->acts[SPREAD_WIND_SPEED] = sums->acts[SPREAD_HEIGHT] = true;
    spread_sums_moved(sums, DRIVEN_FORCE, SPREAD_WIND_SPEED, 3);
    spread_sums_moved(sums, DRIVEN_FORCE, SPREAD_HEIGHT, 3);
    return sums;
}

static void batches_add_up(void **state)
{
    struct spread_sums *all = spread_sums_new(DRAWS), *one = batch(1), *two = batch(10);
    const struct driver *drivers = NULL;

    (void)state;
    assert_non_null(all);
    spread_sums_add(all, one);
    spread_sums_add(all, two);
    spread_sums_settle(all);
    assert_true(all->plain[SUM_FORCE] == 11);
    assert_int_equal(all->roofs[SUM_FORCE], 2);
    assert_float_equal(all->ranges[SUM_FORCE].low, 11, 1e-6f);
    assert_float_equal(all->ranges[SUM_FORCE].high, 99, 1e-6f);
    assert_true(isnan(all->ranges[SUM_COST].low));

    /* 3 + 3 against sqrt(9 + 9): 36 to 18 */
    drivers = all->drivers[DRIVEN_FORCE];
    assert_float_equal(drivers[SPREAD_WIND_SPEED].share, 2.0f / 3, 1e-6f);
    assert_float_equal(drivers[SPREAD_HEIGHT].share, 1.0f / 3, 1e-6f);
    assert_float_equal(drivers[SPREAD_HEIGHT].moved, (float)sqrt(18), 1e-5f);
    assert_true(isnan(drivers[SPREAD_TRACE].share));
    assert_true(isnan(drivers[SPREAD_HEIGHT].error));
    spread_sums_free(all);
    spread_sums_free(one);
    spread_sums_free(two);
}

static void cleared_sums_are_new(void **state)
{
    struct spread_sums *sums = batch(1);

    (void)state;
    spread_sums_clear(sums);
    spread_sums_settle(sums);
    assert_true(sums->plain[SUM_FORCE] == 0 && isnan(sums->ranges[SUM_FORCE].low));
    assert_true(isnan(sums->drivers[DRIVEN_FORCE][SPREAD_HEIGHT].share));
    spread_sums_free(sums);
    spread_sums_free(NULL);
}

/* With enough draws there are indices: of a force that is the sum of two inputs, one
 * twice as strong as the other, 0.8 and 0.2. */
static void many_draws_have_indices(void **state)
{
    enum { MANY = SPREAD_INDEX_DRAWS };
    struct spread_sums *sums = spread_sums_new(MANY);
    uint64_t chance = 88172645463325252u;
    const struct driver *drivers = NULL;

    (void)state;
    assert_non_null(sums);
    for (size_t i = 0; i < MANY; i++) {
        double at[4];

        for (int k = 0; k < 4; k++) {
            chance = chance * 6364136223846793005u + 1442695040888963407u;
            at[k] = (double)(chance >> 11) * 0x1p-53;
        }
        sums->values[SUM_FORCE][i] = 2 * at[0] + at[1];
        sums->other[DRIVEN_FORCE][i] = 2 * at[2] + at[3];
        sums->mixed[DRIVEN_FORCE][SPREAD_HEIGHT][i] = 2 * at[2] + at[1];
        sums->mixed[DRIVEN_FORCE][SPREAD_TRACE][i] = 2 * at[0] + at[3];
    }
    sums->acts[SPREAD_HEIGHT] = sums->acts[SPREAD_TRACE] = true;
    sums->roofs[SUM_FORCE] = 1;
    spread_sums_settle(sums);
    drivers = sums->drivers[DRIVEN_FORCE];
    assert_true(fabs(drivers[SPREAD_HEIGHT].share - 0.8) <
                3 * drivers[SPREAD_HEIGHT].error);
    assert_true(fabs(drivers[SPREAD_TRACE].share - 0.2) <
                3 * drivers[SPREAD_TRACE].error);
    assert_true(drivers[SPREAD_HEIGHT].error > 0 && drivers[SPREAD_HEIGHT].error < 0.05);
    spread_sums_free(sums);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(batches_add_up),
        cmocka_unit_test(cleared_sums_are_new),
        cmocka_unit_test(many_draws_have_indices),
    };

    return cmocka_run_group_tests_name("spread/sums", tests, NULL, NULL);
}
