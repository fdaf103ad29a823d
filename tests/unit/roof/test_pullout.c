/* What pull-out tests come to. */

#include "../../vectors/vector_file.h"

#include "base/arena.h"
#include "roof/finding.h"
#include "roof/pullout.h"

enum { TESTS_MOST = 40 };

struct tests {
    struct arena *arena;
    struct finding items[TESTS_MOST];
    const struct finding *list[TESTS_MOST];
};

static int set_up(void **state)
{
    struct tests *tests = test_calloc(1, sizeof *tests);

    tests->arena = arena_new();
    *state = tests;
    return tests->arena ? 0 : -1;
}

static int tear_down(void **state)
{
    struct tests *tests = *state;

    arena_free(tests->arena);
    test_free(tests);
    return 0;
}

static const struct pullout *come_to(struct tests *tests, const double *values,
                                     size_t count, enum pullout_by by)
{
    for (size_t i = 0; i < count; i++) {
        tests->items[i] = (struct finding){.kind = FINDING_PULLOUT,
                                           .roof = "1",
                                           .place = "",
                                           .value = values[i],
                                           .when = i == 1 ? "2026-11-20" : "2026-11-18",
                                           .where = "findings.csv, row 7"};
        tests->list[i] = &tests->items[i];
    }
    return pullout_of(tests->arena, tests->list, count, by);
}

static bool compute(const struct vector_case *vector, const char *key, double *value)
{
    bool known = strcmp(key, "k") == 0 && vector->inputs.count == 1;

    if (known)
        *value = pullout_k((size_t)vector->inputs.pairs[0].number);
    return known;
}

static void k_is_that_of_the_printed_rows(void **state)
{
    int cases = 0;

    (void)state;
    assert_int_equal(vector_file_run(TESTDATA "/vectors/pullout-k.txt", compute, &cases),
                     0);
    assert_int_equal(cases, 8);
}

/* By hand: 400, 420, 440, 460, 480: mean 440, s = sqrt(4000 / 4) = 31.623,
 * k = 2.13185 sqrt(1.2) = 2.33532, 440 - 73.85 = 366.15. */
static void an_example_by_hand(void **state)
{
    static const double values[] = {480, 400, 440, 420, 460};
    const struct pullout *out = come_to(*state, values, 5, PULLOUT_BY_FRACTILE);

    assert_true(fabs(out->mean - 440) < 1e-9);
    assert_true(fabs(out->deviation - 31.6228) < 1e-4);
    assert_true(fabs(out->k - 2.33532) < 1e-5);
    assert_true(fabs(out->design - 366.15) < 0.005);
    assert_null(out->unknown);
    assert_string_equal(pullout_last(out), "2026-11-20");
    out = come_to(*state, values, 5, PULLOUT_BY_MEAN);
    assert_true(fabs(out->design - 440) < 1e-9);
}

/* Forty even tests have a fractile above the one weak screw, which then counts. */
static void never_more_than_the_least(void **state)
{
    double values[TESTS_MOST];
    const struct pullout *out = NULL;

    for (int i = 0; i < TESTS_MOST; i++)
        values[i] = i == 7 ? 380 : 500 + i % 5;
    out = come_to(*state, values, TESTS_MOST, PULLOUT_BY_FRACTILE);
    assert_true(out->fractile > 380);
    assert_true(fabs(out->design - 380) < 1e-9);
    assert_true(380 < out->low); /* shown as an outlier, and yet it governs */
    assert_true(500 >= out->low && 504 <= out->high);
}

static void few_or_wild_tests_tell_nothing(void **state)
{
    static const double two[] = {400, 410};
    static const double wild[] = {100, 900, 500};
    const struct pullout *out = come_to(*state, two, 2, PULLOUT_BY_FRACTILE);

    assert_true(isnan(out->design));
    assert_non_null(strstr(out->unknown, "2 pull-out tests"));
    out = come_to(*state, two, 1, PULLOUT_BY_MEAN);
    assert_true(isnan(out->design));
    assert_non_null(strstr(out->unknown, "1 pull-out test:"));
    out = come_to(*state, wild, 3, PULLOUT_BY_FRACTILE);
    assert_true(isnan(out->design));
    assert_non_null(strstr(out->unknown, "scatter"));
}

static void a_test_that_is_lost_leaves_all_unknown(void **state)
{
    static const double values[] = {400, 410, NAN, 420, 430};
    const struct pullout *out = come_to(*state, values, 5, PULLOUT_BY_FRACTILE);

    assert_true(isnan(out->design));
    assert_non_null(strstr(out->unknown, "findings.csv, row 7"));
}

static void the_order_of_the_tests_changes_nothing(void **state)
{
    static const double up[] = {401.5, 410.25, 423, 431.125, 455};
    static const double down[] = {455, 431.125, 423, 410.25, 401.5};
    double design = come_to(*state, up, 5, PULLOUT_BY_FRACTILE)->design;

    assert_true(come_to(*state, down, 5, PULLOUT_BY_FRACTILE)->design == design);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(k_is_that_of_the_printed_rows),
        cmocka_unit_test_setup_teardown(an_example_by_hand, set_up, tear_down),
        cmocka_unit_test_setup_teardown(never_more_than_the_least, set_up, tear_down),
        cmocka_unit_test_setup_teardown(few_or_wild_tests_tell_nothing, set_up,
                                        tear_down),
        cmocka_unit_test_setup_teardown(a_test_that_is_lost_leaves_all_unknown, set_up,
                                        tear_down),
        cmocka_unit_test_setup_teardown(the_order_of_the_tests_changes_nothing, set_up,
                                        tear_down),
    };

    return cmocka_run_group_tests_name("pullout", tests, NULL, NULL);
}
