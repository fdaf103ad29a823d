#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <string.h>

#include "roof/edges.h"

struct list {
    const char *(*name_of)(int value);
    int first; /* index of the first real name */
    int count;
};

static const struct list lists[] = {
    {exposure_name, 1, EXPOSURE_D + 1},
    {enclosure_name, 1, ENCLOSURE_OPEN + 1},
    {deck_name, 1, DECK_KINDS},
    {method_name, 1, METHOD_KINDS},
    {hole_kind_name, 1, HOLES_PENTHOUSE + 1},
    {edge_kind_name, 1, EDGE_KINDS},
    {own_edge_name, 1, EDGE_WALL + 1},
    {edge_source_name, 0, EDGE_ASSUMED + 1},
    {edge_source_reason, 0, EDGE_ASSUMED + 1},
    {existing_kind_name, 1, EXISTING_BALLASTED + 1},
    {rating_basis_name, 1, RATING_ALLOWABLE + 1},
    {velocity_constant_name, 1, VELOCITY_SI + 1},
    {zone_role_name, 0, ZONE_ROLES},
    {zone_state_name, 0, STATE_NOT_MET + 1},
    {coefficient_basis_name, 1, BASIS_MEMORY + 1},
    {edge_rule_name, 0, EDGE_RULES},
    {estimate_name, 0, ESTIMATES},
    {estimate_reason, 0, ESTIMATES},
    {assumption_name, 0, ASSUMPTIONS},
    {assumption_reason, 0, ASSUMPTIONS},
};

static void lists_are_as_long_as_their_enums(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++) {
        const struct list *list = &lists[i];

        if (list->first == 1) {
            assert_string_equal(list->name_of(0), "");
        }
        for (int value = list->first; value < list->count; value++) {
            assert_non_null(list->name_of(value));
            assert_true(strlen(list->name_of(value)) > 0);
        }
        assert_null(list->name_of(list->count));
        assert_null(list->name_of(-1));
    }
}

static void every_name_is_found_again(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++) {
        for (int value = 0; value < lists[i].count; value++) {
            assert_int_equal(name_find(lists[i].name_of(value), lists[i].name_of), value);
        }
    }
}

static void finding_ignores_case_and_kinds_of_gap(void **state)
{
    (void)state;
    assert_int_equal(name_find("Seam_Fastened", method_name), METHOD_SEAM_FASTENED);
    assert_int_equal(name_find("INDUCTION WELDED", method_name), METHOD_INDUCTION_WELDED);
    assert_int_equal(name_find("  adhered -_ fastened\t", method_name),
                     METHOD_ADHERED_FASTENED);
    assert_int_equal(name_find("b", exposure_name), EXPOSURE_B);
    assert_int_equal(name_find("Not-Met", zone_state_name), STATE_NOT_MET);
}

static void other_usual_words_are_found_in_their_own_list_only(void **state)
{
    (void)state;
    assert_int_equal(name_find("Plywood", deck_name), DECK_WOOD);
    assert_int_equal(name_find("metal", deck_name), DECK_STEEL);
    assert_int_equal(name_find("metal", edge_kind_name), EDGE_METAL);
    assert_int_equal(name_find("wood_fiber", deck_name), DECK_WOOD_FIBRE);
    assert_int_equal(name_find("lightweight-concrete", deck_name), DECK_LIGHT_CONCRETE);
    assert_int_equal(name_find("mechanically attached", method_name),
                     METHOD_SEAM_FASTENED);
    assert_int_equal(name_find("Exposure D", exposure_name), EXPOSURE_D);
    assert_int_equal(name_find("plywood", method_name), -1);
}

static void unknown_words_are_not_found(void **state)
{
    (void)state;
    assert_int_equal(name_find("stel", deck_name), -1);
    assert_int_equal(name_find("steely", deck_name), -1);
    assert_int_equal(name_find("seamfastened", method_name), -1);
    assert_int_equal(name_find("fully adhered", method_name), -1);
    assert_int_equal(name_find("E", exposure_name), -1);
    assert_int_equal(name_find(NULL, exposure_name), -1);
}

static void nothing_is_told_by_an_empty_text(void **state)
{
    (void)state;
    assert_int_equal(name_find("", deck_name), DECK_NOT_GIVEN);
    assert_int_equal(name_find(" - ", deck_name), DECK_NOT_GIVEN);
    assert_int_equal(name_find("", zone_role_name), -1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lists_are_as_long_as_their_enums),
        cmocka_unit_test(every_name_is_found_again),
        cmocka_unit_test(finding_ignores_case_and_kinds_of_gap),
        cmocka_unit_test(other_usual_words_are_found_in_their_own_list_only),
        cmocka_unit_test(unknown_words_are_not_found),
        cmocka_unit_test(nothing_is_told_by_an_empty_text),
    };

    return cmocka_run_group_tests_name("roof names", tests, NULL, NULL);
}
