/* The program against enumeration of all answers on small random portfolios, and its
 * caps to the cent on larger ones. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

#include <math.h>

#include "portfolio/choice.h"

enum { UNITS_MAX = 120, YEARS_MAX = 10 };

struct sample {
    struct choice choice;
    struct choice_unit units[UNITS_MAX];
    money values[UNITS_MAX * (YEARS_MAX + 1)];
    money costs[UNITS_MAX * YEARS_MAX];
    money caps[YEARS_MAX];
};

static uint64_t seed = 1;

static int below(int count)
{
    seed ^= seed << 13;
    seed ^= seed >> 7;
    seed ^= seed << 17;
    return (int)((seed >> 20) % (uint64_t)count);
}

/* Costs of some thousands, waiting of some percent a year, a part of all in the caps. */
static void make(struct sample *sample, size_t units, int years, int share)
{
    money total = 0;

    for (size_t i = 0; i < units; i++) {
        money cost = 100000 + below(3000000), wait = 0;
        int rate = 1 + below(100);
        struct choice_unit *unit = &sample->units[i];

        *unit = (struct choice_unit){0, years - 1, false};
        if (below(6) == 0)
            unit->first = below(years);
        if (below(8) == 0)
            unit->must = true;
        total += cost;
        for (int k = 0; k <= years; k++) {
            sample->values[i * (size_t)(years + 1) + (size_t)k] = cost + wait;
            if (k < years)
                sample->costs[i * (size_t)years + (size_t)k] =
                    llround((double)cost * pow(1.03, k));
            wait += cost * rate / 1000;
        }
    }
    for (int k = 0; k < years; k++)
        sample->caps[k] = total * share / 100 / years + below(1000);
    sample->choice = (struct choice){units,          years,         sample->units,
                                     sample->values, sample->costs, sample->caps};
}

/* Least sum over all answers; -1 for none. */
static money enumerate(const struct choice *choice, size_t unit, money *left)
{
    money best = -1;

    if (unit == choice->units)
        return 0;
    for (int k = 0; k <= choice->years; k++) {
        const struct choice_unit *of = &choice->unit[unit];
        bool later = k == choice->years;
        money cost = later ? 0 : choice_cost(choice, unit, k), rest;

        if (later ? of->must : k < of->first || k > of->last || cost > left[k])
            continue;
        if (!later)
            left[k] -= cost;
        rest = enumerate(choice, unit + 1, left);
        if (!later)
            left[k] += cost;
        if (rest >= 0 && (best < 0 || rest + choice_value(choice, unit, k) < best))
            best = rest + choice_value(choice, unit, k);
    }
    return best;
}

static void caps_hold(const struct choice *choice, const int *years)
{
    for (int k = 0; k < choice->years; k++) {
        money sum = 0;

        for (size_t i = 0; i < choice->units; i++)
            if (years[i] == k)
                sum += choice_cost(choice, i, k);
        assert_true(sum <= choice->caps[k]);
    }
    for (size_t i = 0; i < choice->units; i++) {
        const struct choice_unit *of = &choice->unit[i];

        assert_true(years[i] == choice->years
                        ? !of->must
                        : years[i] >= of->first && years[i] <= of->last);
    }
}

static void test_small_ones_are_as_enumerated(void **state)
{
    static struct sample sample;
    struct choice_limits limits = {0, 100000, 600};
    int none = 0;

    (void)state;
    for (int round = 0; round < 120; round++) {
        struct arena *arena = arena_new();
        struct choice_answer answer;
        money left[YEARS_MAX], least;

        size_t units = 2 + (size_t)below(7);
        int years = 1 + below(3);

        make(&sample, units, years, 30 + below(90));
        for (int k = 0; k < sample.choice.years; k++)
            left[k] = sample.caps[k];
        least = enumerate(&sample.choice, 0, left);
        assert_int_equal(choice_solve(&sample.choice, &limits, arena, &answer, NULL),
                         OUTLAY_OK);
        assert_int_equal(answer.feasible, least >= 0);
        none += least < 0;
        if (answer.feasible) {
            caps_hold(&sample.choice, answer.years);
            assert_true(answer.value == (double)least);
            assert_true(answer.bound <= answer.value);
            assert_int_equal(answer.state, CHOICE_GAP);
        }
        arena_free(arena);
    }
    assert_true(none > 3 && none < 60);
}

/* A cap as large as the cost holds; a cent less doesn't, and that cent is over. */
static void test_caps_hold_to_the_cent(void **state)
{
    struct choice_limits limits = {0.001, 1000, 600};
    struct choice_unit unit = {0, 0, true};
    money values[] = {25000001, 26000000}, cost = 25000001, cap = 25000001;
    struct choice choice = {1, 1, &unit, values, &cost, &cap};
    struct arena *arena = arena_new();
    struct choice_answer answer;

    (void)state;
    assert_int_equal(choice_solve(&choice, &limits, arena, &answer, NULL), OUTLAY_OK);
    assert_true(answer.feasible && answer.years[0] == 0);
    cap--;
    assert_int_equal(choice_solve(&choice, &limits, arena, &answer, NULL), OUTLAY_OK);
    assert_false(answer.feasible);
    assert_true(answer.over[0] == 1);
    arena_free(arena);
}

/* Roofs that must be done and fill all caps to the cent, in one way that is hard to
 * find. */
static void make_tight(struct sample *sample, size_t units, int years)
{
    for (int k = 0; k < years; k++)
        sample->caps[k] = 0;
    for (size_t i = 0; i < units; i++) {
        money cost = 100000 + below(3000000);

        sample->units[i] = (struct choice_unit){0, years - 1, true};
        for (int k = 0; k <= years; k++)
            sample->values[i * (size_t)(years + 1) + (size_t)k] = cost + k * cost / 100;
        for (int k = 0; k < years; k++)
            sample->costs[i * (size_t)years + (size_t)k] = cost;
        sample->caps[below(years)] += cost;
    }
    sample->choice = (struct choice){units,          years,         sample->units,
                                     sample->values, sample->costs, sample->caps};
}

/* A search that ends before it finds anything proves nothing: that is no excess. */
static void test_what_is_not_found_is_not_over(void **state)
{
    static struct sample sample;
    struct choice_limits limits = {0, 1, 600};
    int unfound = 0;

    (void)state;
    for (int round = 0; round < 20; round++) {
        struct arena *arena = arena_new();
        struct choice_answer answer;
        enum outlay_status status;

        make_tight(&sample, 16, 4);
        status = choice_solve(&sample.choice, &limits, arena, &answer, NULL);
        unfound += status == OUTLAY_E_LIMIT;
        assert_true(status == OUTLAY_E_LIMIT || answer.feasible);
        if (status == OUTLAY_OK)
            caps_hold(&sample.choice, answer.years);
        arena_free(arena);
    }
    assert_true(unfound > 0);
}

static void test_larger_ones_reach_their_gap(void **state)
{
    static struct sample sample;
    struct choice_limits limits = {0.001, 300, 600};

    (void)state;
    for (int share = 30; share <= 80; share += 50) {
        struct arena *arena = arena_new();
        struct choice_answer first, second;

        make(&sample, UNITS_MAX, 5, share);
        assert_int_equal(choice_solve(&sample.choice, &limits, arena, &first, NULL),
                         OUTLAY_OK);
        assert_true(first.feasible);
        caps_hold(&sample.choice, first.years);
        assert_true(first.value - first.bound <= 0.001 * first.value);
        assert_int_equal(choice_solve(&sample.choice, &limits, arena, &second, NULL),
                         OUTLAY_OK);
        assert_memory_equal(first.years, second.years, UNITS_MAX * sizeof *first.years);
        arena_free(arena);
    }
}

static void test_nothing_to_choose_from(void **state)
{
    struct choice_limits limits = {0.001, 1000, 600};
    money cap = 100;
    struct choice_unit unit = {1, 0, false};
    money values[] = {0, 0}, cost = 0;
    struct choice choice = {0, 1, &unit, values, &cost, &cap};
    struct arena *arena = arena_new();
    struct choice_answer answer;

    (void)state;
    assert_int_equal(choice_solve(&choice, &limits, arena, &answer, NULL), OUTLAY_OK);
    assert_true(answer.feasible && answer.value == 0);
    choice.units = 1;
    assert_int_equal(choice_solve(&choice, &limits, arena, &answer, NULL), OUTLAY_OK);
    assert_true(answer.feasible && answer.years[0] == 1);
    arena_free(arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_small_ones_are_as_enumerated),
        cmocka_unit_test(test_caps_hold_to_the_cent),
        cmocka_unit_test(test_what_is_not_found_is_not_over),
        cmocka_unit_test(test_larger_ones_reach_their_gap),
        cmocka_unit_test(test_nothing_to_choose_from),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
