/* How many tests each roof of a building gets, and what counts as one deck. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "base/units.h"
#include "survey/counts.h"
#include "survey/survey.h"

enum { ROOFS = 4 };

struct place {
    struct arena *arena;
    struct survey_rules rules;
    struct roof roofs[ROOFS];
    struct building building;
};

static int set_up(void **state)
{
    struct place *place = test_calloc(1, sizeof *place);
    struct outlay_error err = {0};

    place->arena = arena_new();
    *state = place;
    if (!place->arena ||
        survey_rules_load(place->arena, NULL, &place->rules, &err) != OUTLAY_OK)
        return -1;
    place->building = (struct building){.arena = place->arena, .roofs = place->roofs};
    return 0;
}

static int tear_down(void **state)
{
    struct place *place = *state;

    arena_free(place->arena);
    test_free(place);
    return 0;
}

static void add(struct place *place, const char *id, double area, enum deck deck,
                enum method method)
{
    struct roof *roof = &place->roofs[place->building.roof_count++];

    *roof = (struct roof){.id = id,
                          .zoned = true,
                          .area = area * M2_PER_FT2,
                          .method = method,
                          .given = attributes_missing()};
    roof->basis.deck = deck;
}

static void pullouts_are(struct place *place, int a, int b, int c, int d)
{
    const int expected[ROOFS] = {a, b, c, d};
    int counts[ROOFS][SURVEY_TASKS];

    assert_int_equal(survey_counts(place->arena, &place->building, &place->rules, counts),
                     OUTLAY_OK);
    for (size_t i = 0; i < place->building.roof_count; i++)
        assert_int_equal(counts[i][TASK_PULLOUT], expected[i]);
}

static void a_deck_is_counted_over_its_sections(void **state)
{
    struct place *place = *state;

    add(place, "a", 70000, DECK_STEEL, METHOD_SEAM_FASTENED);
    add(place, "b", 25000, DECK_STEEL, METHOD_INDUCTION_WELDED);
    add(place, "c", 5000, DECK_STEEL, METHOD_SEAM_FASTENED);
    pullouts_are(place, 10, 4, 1, 0); /* 100,000 ft2: 15 */
    assert_int_equal(survey_pullouts(&place->building, DECK_STEEL, &place->rules), 15);
    assert_int_equal(survey_pullouts(&place->building, DECK_WOOD, &place->rules), 0);
}

static void another_deck_is_counted_apart_and_glue_needs_none(void **state)
{
    struct place *place = *state;

    add(place, "a", 40000, DECK_STEEL, METHOD_SEAM_FASTENED);
    add(place, "b", 40000, DECK_CONCRETE, METHOD_SEAM_FASTENED);
    add(place, "c", 40000, DECK_CONCRETE, METHOD_ADHERED);
    add(place, "d", 100, DECK_STEEL, METHOD_SEAM_FASTENED);
    pullouts_are(place, 9, 10, 0, 1);
}

/* Of equal sections the id decides and not the order of the input. */
static void the_order_of_the_input_changes_nothing(void **state)
{
    struct place *place = *state;

    add(place, "c", 1000, DECK_STEEL, METHOD_SEAM_FASTENED);
    add(place, "a", 1000, DECK_STEEL, METHOD_SEAM_FASTENED);
    add(place, "b", 1000, DECK_STEEL, METHOD_SEAM_FASTENED);
    pullouts_are(place, 3, 4, 3, 0);
}

static void shares_give_each_one_first(void **state)
{
    const double weights[] = {1, 0, 100, 1};
    int shares[4];

    (void)state;
    share_by_weight(10, weights, 4, shares);
    assert_int_equal(shares[0], 1);
    assert_int_equal(shares[1], 0);
    assert_int_equal(shares[2], 8);
    assert_int_equal(shares[3], 1);
    share_by_weight(1, weights, 4, shares); /* not enough: the largest */
    assert_int_equal(shares[2], 1);
    assert_int_equal(shares[0] + shares[3], 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(a_deck_is_counted_over_its_sections, set_up,
                                        tear_down),
        cmocka_unit_test_setup_teardown(another_deck_is_counted_apart_and_glue_needs_none,
                                        set_up, tear_down),
        cmocka_unit_test_setup_teardown(the_order_of_the_input_changes_nothing, set_up,
                                        tear_down),
        cmocka_unit_test(shares_give_each_one_first),
    };

    return cmocka_run_group_tests_name("counts", tests, NULL, NULL);
}
