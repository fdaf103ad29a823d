/* Which roofs are another one mapped again: by hand, and whatever the order. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "flow/duplicates.h"

struct pair {
    size_t a, b; /* of the roofs below */
    double shared;
};

/* Adds the pairs, backwards on request, and says who gave way: "a c". */
static void decide(const struct overlapping *roofs, const struct pair *pairs,
                   size_t count, bool backwards, char *gone, char *reasons, size_t size)
{
    struct duplicate_finder finder = {.arena = arena_new()};
    struct duplicate_list list;

    assert_non_null(finder.arena);
    for (size_t i = 0; i < count; i++) {
        const struct pair *pair = &pairs[backwards ? count - 1 - i : i];
        const struct overlapping *a = &roofs[backwards ? pair->b : pair->a];
        const struct overlapping *b = &roofs[backwards ? pair->a : pair->b];

        assert_int_equal(duplicates_add(&finder, a, b, pair->shared, NULL), OUTLAY_OK);
    }
    assert_int_equal(duplicates_decide(&finder, 10, &list, NULL), OUTLAY_OK);
    gone[0] = reasons[0] = '\0';
    for (size_t i = 0; i < list.count; i++) {
        size_t used = strlen(gone), told = strlen(reasons);

        snprintf(gone + used, size - used, "%s%s", i ? " " : "", list.roofs[i].id);
        snprintf(reasons + told, size - told, "%s|", list.roofs[i].reason);
    }
    arena_free(finder.arena);
}

static void expect(const struct overlapping *roofs, const struct pair *pairs,
                   size_t count, const char *expected, const char *expected_reasons)
{
    char gone[200], reasons[400];

    for (int backwards = 0; backwards < 2; backwards++) {
        decide(roofs, pairs, count, backwards, gone, reasons, sizeof gone);
        assert_string_equal(gone, expected);
        if (expected_reasons)
            assert_string_equal(reasons, expected_reasons);
    }
}

static void test_of_equal_ones_the_least_id_stays(void **state)
{
    const struct overlapping roofs[] = {{0, "b", 100.01}, {1, "a", 100}, {2, "c", 99.98}};
    const struct pair pairs[] = {{0, 1, 100}, {1, 2, 99}, {0, 2, 99}};

    (void)state;
    expect(roofs, pairs, 3, "b c",
           "overlapped to 100 % by roof a|overlapped to 99 % by roof a|");
}

/* The same feature twice, with the same id: the first one stays. */
static void test_of_the_same_id_the_first_stays(void **state)
{
    const struct overlapping roofs[] = {{4, "a", 100}, {2, "a", 100}};
    const struct pair pairs[] = {{0, 1, 100}};
    struct duplicate_finder finder = {.arena = arena_new()};
    struct duplicate_list list;

    (void)state;
    assert_int_equal(duplicates_add(&finder, &roofs[0], &roofs[1], 100, NULL), OUTLAY_OK);
    assert_int_equal(duplicates_decide(&finder, 5, &list, NULL), OUTLAY_OK);
    assert_int_equal(list.count, 1);
    assert_int_equal(list.roofs[0].position, 4);
    arena_free(finder.arena);
    expect(roofs, pairs, 1, "a", NULL);
}

static void test_half_of_a_roof_is_needed(void **state)
{
    const struct overlapping roofs[] = {{0, "small", 100}, {1, "large", 400}};

    (void)state;
    expect(roofs, (const struct pair[]){{0, 1, 50}}, 1, "", NULL);
    expect(roofs, (const struct pair[]){{0, 1, 50.1}}, 1, "small", NULL);
}

/* Two sections that fill a footprint; a penthouse mapped twice fills nothing. */
static void test_sections_beat_a_footprint_that_they_fill(void **state)
{
    const struct overlapping roofs[] = {
        {0, "all", 1000}, {1, "left", 600}, {2, "right", 390}, {3, "top", 60}};
    const struct pair pairs[] = {{0, 1, 600}, {0, 2, 390}, {1, 3, 60}, {0, 3, 60}};
    const struct overlapping twice[] = {
        {0, "all", 1000}, {1, "p", 480}, {2, "q", 480}, {3, "r", 480}};
    const struct pair tops[] = {{0, 1, 480}, {0, 2, 480}, {1, 2, 470}, {0, 3, 400}};

    (void)state;
    expect(roofs, pairs, 4, "all top",
           "filled to 99 % by 2 smaller roofs|"
           "overlapped to 100 % by roof left|");
    expect(roofs, pairs, 1, "left", NULL); /* one alone fills nothing */
    expect(twice, tops, 3, "p q", NULL);
    expect(twice, tops, 4, "p q r", NULL); /* 88 % */
}

static void test_nothing_overlaps_nothing(void **state)
{
    (void)state;
    expect(NULL, NULL, 0, "", "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_of_equal_ones_the_least_id_stays),
        cmocka_unit_test(test_of_the_same_id_the_first_stays),
        cmocka_unit_test(test_half_of_a_roof_is_needed),
        cmocka_unit_test(test_sections_beat_a_footprint_that_they_fill),
        cmocka_unit_test(test_nothing_overlaps_nothing),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
