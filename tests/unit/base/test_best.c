/* The best of many. */

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

#include "base/best.h"

enum { MANY = 500, MOST = 37 };

static int by_value(const void *a, const void *b)
{
    return (*(const int *)a > *(const int *)b) - (*(const int *)a < *(const int *)b);
}

/* Each value of 0 to MANY - 1 once, in an order that depends on `step`. */
static void keeps_the_best(int step)
{
    struct best best;
    int values[MANY];
    int seen[MOST] = {0};
    size_t put_out = 0;

    assert_true(best_open(&best, MOST, by_value));
    for (int i = 0; i < MANY; i++) {
        values[i] = i * step % MANY;
        if (best_wants(&best, &values[i]))
            put_out += best_keep(&best, &values[i]) != NULL;
    }
    assert_int_equal(best.count, MOST);
    for (size_t k = 0; k < MOST; k++) {
        int value = *(const int *)best.items[k];

        assert_in_range(value, 0, MOST - 1);
        seen[value]++;
    }
    for (int value = 0; value < MOST; value++)
        assert_int_equal(seen[value], 1);
    assert_int_equal(*(const int *)best.items[0], MOST - 1);
    assert_int_equal(put_out > 0, step != 1);
    best_close(&best);
    best_close(&best);
}

static void keeps_the_best_in_any_order(void **state)
{
    (void)state;
    for (int step = 1; step < MANY; step += 2)
        if (step % 5 != 0)
            keeps_the_best(step);
}

static void keeps_all_while_there_is_room(void **state)
{
    struct best best;
    int values[] = {3, 1, 2};

    (void)state;
    assert_true(best_open(&best, 3, by_value));
    for (int i = 0; i < 3; i++) {
        assert_true(best_wants(&best, &values[i]));
        assert_null(best_keep(&best, &values[i]));
    }
    assert_false(best_wants(&best, &values[0]));
    best_close(&best);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(keeps_the_best_in_any_order),
                                       cmocka_unit_test(keeps_all_while_there_is_room)};

    return cmocka_run_group_tests_name("base/best", tests, NULL, NULL);
}
