/* The table of a survey's rules: what it asks for, and what the loader refuses. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <string.h>

#include "base/text.h"
#include "base/units.h"
#include "survey/rules.h"

static int set_up(void **state)
{
    *state = arena_new();
    return *state ? 0 : -1;
}

static int tear_down(void **state)
{
    arena_free(*state);
    return 0;
}

struct size_row {
    double size;
    int tests;
};

/* ANSI/SPRI FX-1, from memory: 10 up to 50,000 ft2, 5 for each further 50,000 ft2. */
static void pullouts_follow_the_area_of_the_deck(void **state)
{
    static const struct size_row rows[] = {{1, 10},      {50000, 10},  {50001, 15},
                                           {100000, 15}, {100001, 20}, {400000, 45}};
    struct outlay_error err = {0};
    struct survey_rules rules;
    const struct survey_rule *rule = NULL;

    assert_int_equal(survey_rules_load(*state, NULL, &rules, &err), OUTLAY_OK);
    rule = survey_rule_of(&rules, TASK_PULLOUT);
    assert_int_equal(rule->by, BY_DECK_AREA);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        assert_int_equal(survey_rule_count(rule, rows[i].size * M2_PER_FT2),
                         rows[i].tests);
}

static void cores_edges_and_the_rest(void **state)
{
    struct outlay_error err = {0};
    struct survey_rules rules;

    assert_int_equal(survey_rules_load(*state, NULL, &rules, &err), OUTLAY_OK);
    assert_int_equal(rules.count, SURVEY_TASKS);
    assert_int_equal(
        survey_rule_count(survey_rule_of(&rules, TASK_CORE), 10000 * M2_PER_FT2), 1);
    assert_int_equal(
        survey_rule_count(survey_rule_of(&rules, TASK_CORE), 100803 * M2_PER_FT2), 11);
    assert_int_equal(
        survey_rule_count(survey_rule_of(&rules, TASK_EDGE), 1320 * M_PER_FT), 7);
    assert_int_equal(survey_rule_of(&rules, TASK_TRIAL_WELD)->by, BY_DAY);
    for (size_t i = 0; i < rules.count; i++)
        assert_true(rules.rows[i].source[0] != '\0');
}

/* The built-in table with one piece of text put in another's place. */
static void expect_refused(struct arena *arena, const char *from, const char *to,
                           const char *what, const char *where)
{
    struct outlay_error err = {0};
    struct survey_rules rules;
    struct table table;
    struct text text = TEXT_INIT;
    const char *at = strstr(survey_rules_csv, from);

    assert_non_null(at);
    text_append(&text, survey_rules_csv, (size_t)(at - survey_rules_csv));
    text_puts(&text, to);
    text_puts(&text, at + strlen(from));
    assert_int_equal(table_parse(arena, "survey-rules.csv", text.data, &table, &err),
                     OUTLAY_OK);
    assert_int_equal(survey_rules_read(arena, &table, &rules, &err), OUTLAY_E_USAGE);
    if (!strstr(err.what, what) || !strstr(err.where, where))
        fail_msg("%s: %s: %s", to, err.where, err.what);
    text_release(&text);
}

static void refusals(void **state)
{
    struct arena *arena = *state;

    expect_refused(arena, "core cut,area", "core,area", "a task of",
                   "row 3, column task");
    expect_refused(arena, "core cut,area", "deck,area", "each task once", "row 4");
    expect_refused(arena, "core cut,area", "core cut,size", "roof, area", "column by");
    expect_refused(arena, "10000,1,10000,ft2", "10000,1,10000,ft", "ft2, m2",
                   "row 3, column unit");
    expect_refused(arena, "200,1,200,ft", "200,1,200,ft2", "ft, m", "column unit");
    expect_refused(arena, "10000,1,10000,ft2", "10000,1,0,ft2", "10 to", "column step");
    expect_refused(arena, "10000,1,10000,ft2", "10000,0.5,10000,ft2", "whole number",
                   "column further");
    expect_refused(arena, "deck area,10,", "deck area,-1,", "0 to", "column least");
    expect_refused(arena, "height,roof,1,,", "height,roof,1,9,", "nothing",
                   "column first");
    expect_refused(arena, "common practice, no source", "", "where the rule is from",
                   "column source");
    expect_refused(arena, ",source\n", ",sauce\n", "isn't known", "row 1");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(pullouts_follow_the_area_of_the_deck, set_up,
                                        tear_down),
        cmocka_unit_test_setup_teardown(cores_edges_and_the_rest, set_up, tear_down),
        cmocka_unit_test_setup_teardown(refusals, set_up, tear_down),
    };

    return cmocka_run_group_tests_name("rules", tests, NULL, NULL);
}
