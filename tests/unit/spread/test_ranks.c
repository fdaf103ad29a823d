/* Ranks of one draw: shared ones, unranked roofs, and against counting. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "spread/draw.h"
#include "spread/ranks.h"

enum { ROOFS = 500 };

static void test_shared_and_unranked(void **state)
{
    const uint32_t scores[] = {7, 9, SCORE_NONE, UINT32_MAX, 9, 3};
    const uint32_t expected[] = {4, 2, 0, 1, 2, 5};
    uint64_t scratch[6];
    uint32_t ranks[6];

    (void)state;
    ranks_of_scores(scores, 6, scratch, ranks);
    assert_memory_equal(ranks, expected, sizeof ranks);
    ranks_of_scores(scores, 0, scratch, ranks);
    assert_memory_equal(ranks, expected, sizeof ranks);
    ranks_of_scores(scores + 2, 1, scratch, ranks);
    assert_int_equal(ranks[0], 0);
}

static void test_counted(void **state)
{
    uint64_t key = draw_key(3, SPREAD_TRACE, "scores"), scratch[ROOFS];
    uint32_t scores[ROOFS], ranks[ROOFS];

    (void)state;
    for (uint64_t i = 0; i < ROOFS; i++)
        scores[i] = 1 + (uint32_t)(draw_uniform(key, i) * 100);
    ranks_of_scores(scores, ROOFS, scratch, ranks);
    for (int i = 0; i < ROOFS; i++) {
        uint32_t higher = 0;

        for (int k = 0; k < ROOFS; k++)
            higher += scores[k] > scores[i];
        assert_int_equal(ranks[i], higher + 1);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_shared_and_unranked),
        cmocka_unit_test(test_counted),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
