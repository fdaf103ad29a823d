/* What is written and brought: every kind and task has it. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "draw/site_sheet.h"

static void test_every_kind_has_a_unit(void **state)
{
    (void)state;
    for (int kind = 0; kind < FINDING_KINDS; kind++)
        for (int si = 0; si < 2; si++)
            assert_non_null(site_entry_unit((enum finding_kind)kind, si));
    assert_string_equal(site_entry_unit(FINDING_PULLOUT, false), "lbf");
    assert_string_equal(site_entry_unit(FINDING_PULLOUT, true), "N");
    assert_string_equal(site_entry_unit(FINDING_HEIGHT, false), "ft, in");
    assert_string_equal(site_entry_unit(FINDING_STACK, true), "mm");
}

/* A unit says "word" or "letter" exactly where words are listed. */
static void test_words(void **state)
{
    (void)state;
    for (int kind = 0; kind < FINDING_KINDS; kind++) {
        const char *unit = site_entry_unit((enum finding_kind)kind, false);
        bool listed = finding_words((enum finding_kind)kind) != NULL;
        assert_int_equal(listed,
                         strcmp(unit, "word") == 0 || strcmp(unit, "letter") == 0);
    }
    assert_string_equal(finding_words(FINDING_DECK)(DECK_WOOD), "wood");
}

static bool brings(unsigned tasks, const char *tool)
{
    const char *name;
    for (size_t i = 0; (name = site_tool(tasks, i)); i++)
        if (strcmp(name, tool) == 0)
            return true;
    return false;
}

static void test_tools(void **state)
{
    (void)state;
    for (int task = 0; task < SURVEY_TASKS; task++)
        assert_non_null(site_tool(1u << task, 0));
    assert_true(brings(1u << TASK_PULLOUT, "pull-out tester"));
    assert_true(brings(1u << TASK_CORE | 1u << TASK_DECK, "core cutter"));
    assert_true(brings(1u << TASK_CORE, "repair material"));
    assert_false(brings(1u << TASK_HEIGHT, "core cutter"));
    assert_true(brings(1u << TASK_DECK, "compass"));
    assert_null(site_tool(~0u, 100));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_every_kind_has_a_unit),
        cmocka_unit_test(test_words),
        cmocka_unit_test(test_tools),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
