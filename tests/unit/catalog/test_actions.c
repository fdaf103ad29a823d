/* The table of actions: what is built in, what is allowed, what the loader refuses. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <string.h>

#include "base/text.h"
#include "base/units.h"
#include "catalog/actions.h"

static int set_up(void **state)
{
    *state = arena_new();
    assert_non_null(*state);
    return 0;
}

static int tear_down(void **state)
{
    arena_free(*state);
    return 0;
}

static struct action_list built_in(struct arena *arena, const char *currency)
{
    struct outlay_error err = {0};
    struct action_list list;

    assert_int_equal(actions_load(arena, NULL, currency, &list, &err), OUTLAY_OK);
    return list;
}

static void near(double value, double expected)
{
    assert_true(fabs(value - expected) <= 1e-9 * fmax(1, fabs(expected)));
}

static void test_built_in(void **state)
{
    struct action_list list = built_in(*state, "usd");
    const struct action *coat = &list.actions[2];

    assert_true(list.built_in);
    assert_int_equal(list.count, 4);
    for (int kind = 0; kind < ACTION_KINDS; kind++) {
        assert_int_equal(list.actions[kind].kind, kind);
        assert_int_equal(list.actions[kind].states & 1u << STATE_NOT_MET, 0);
        assert_non_null(strstr(list.actions[kind].note, "invented"));
    }
    assert_null(action_kind_name(ACTION_KINDS));
    assert_true(list.actions[ACTION_REPLACE].built_up);
    assert_string_equal(coat->name, "coat");
    near(coat->cost, 0);
    near(coat->cost_per_area * M2_PER_FT2, 450);
    near(coat->most_wet, 0);
    near(coat->gives_years, 8);
    assert_true(isnan(coat->gives_condition) && isnan(coat->life));
    near(list.actions[ACTION_REPAIR].cost, 150000);
    near(list.actions[ACTION_REPAIR].most_wet, 0.1);
}

/* Invented dollars aren't invented euros. */
static void test_other_currency(void **state)
{
    struct action_list list = built_in(*state, "eur");

    assert_int_equal(list.count, 2);
    assert_true(list.actions[0].built_up && list.actions[1].built_up);
}

static void test_allowed(void **state)
{
    struct action_list list = built_in(*state, "usd");
    const struct action *coat = &list.actions[ACTION_RESTORE];
    struct action limited = *coat;
    struct action_case of = {60, MISSING, 0, STATE_UNKNOWN};

    assert_true(action_allowed(coat, &of));
    of.condition = 45;
    assert_true(action_allowed(coat, &of));
    of.condition = 44.9;
    assert_false(action_allowed(coat, &of));
    of.condition = 80.1;
    assert_false(action_allowed(coat, &of));
    of.condition = 60;
    of.wet_share = 0.01;
    assert_false(action_allowed(coat, &of));
    of.wet_share = NAN; /* nobody looked */
    assert_false(action_allowed(coat, &of));
    assert_true(action_allowed(&list.actions[ACTION_REPLACE],
                               &(struct action_case){60, 3, NAN, STATE_MET_ASSUMED}));
    of.wet_share = 0;
    of.state = STATE_NOT_MET;
    assert_false(action_allowed(coat, &of));
    of.state = STATE_MET;
    limited.most_covers = 1;
    assert_false(action_allowed(&limited, &of));
    of.covers = 1;
    assert_true(action_allowed(&limited, &of));
    of.covers = 2;
    assert_false(action_allowed(&limited, &of));
}

/* The built-in table with one piece of text put in another's place. */
static enum outlay_status read_changed(struct arena *arena, const char *from,
                                       const char *to, struct action_list *out,
                                       struct outlay_error *err)
{
    struct table table;
    struct text text = TEXT_INIT;
    const char *at = strstr(catalog_actions_csv, from);
    enum outlay_status status;

    assert_non_null(at);
    text_append(&text, catalog_actions_csv, (size_t)(at - catalog_actions_csv));
    text_puts(&text, to);
    text_puts(&text, at + strlen(from));
    assert_false(text.failed);
    assert_int_equal(table_parse(arena, "actions.csv", text.data, &table, err),
                     OUTLAY_OK);
    status = actions_read(arena, &table, "usd", out, err);
    text_release(&text);
    return status;
}

static void expect_refused(struct arena *arena, const char *from, const char *to,
                           const char *what, const char *where)
{
    struct outlay_error err = {0};
    struct action_list list;

    assert_int_equal(read_changed(arena, from, to, &list, &err), OUTLAY_E_USAGE);
    assert_non_null(strstr(err.what, what));
    assert_non_null(strstr(err.where, where));
}

#define COAT "coat,restore,,4.5,ft2,usd,45,80,,0,met|met assumed|unknown,,8,"

static void test_refused(void **state)
{
    expect_refused(*state, "name,action", "name,deed", "\"deed\" isn't known", "row 1");
    expect_refused(*state, "coat,", "Recover,", "each name once", "row 4, column name");
    expect_refused(*state, "coat,", ",", "name is empty", "row 4, column name");
    expect_refused(*state, "restore", "paint", "restore or repair",
                   "row 4, column action");
    expect_refused(*state, "coat,restore,,4.5", "coat,restore,,", "cost is empty",
                   "row 4, column cost");
    expect_refused(*state, "coat,restore,,4.5", "coat,restore,,0", "from 0.0001",
                   "row 4, column cost_per_area");
    expect_refused(*state, "repair,1500", "repair,0", "from 0.01", "row 5, column cost");
    expect_refused(*state, "repair,1500", "repair,built-up", "only replace and recover",
                   "row 5, column cost");
    expect_refused(*state, "built-up,,", "built-up,3,", "nothing where",
                   "row 2, column cost_per_area");
    expect_refused(*state, "4.5,ft2", "4.5,square", "ft2 or m2", "row 4, column unit");
    expect_refused(*state, "4.5,ft2,usd", "4.5,ft2,eur", "accepted: usd",
                   "row 4, column currency");
}

static void test_refused_limits(void **state)
{
    expect_refused(*state, "usd,45,80", "usd,45,40", "from 45 to 100",
                   "row 4, column most_condition");
    expect_refused(*state, "80,,0,", "80,1.5,0,", "a whole number",
                   "row 4, column most_covers");
    expect_refused(*state, "80,,0,", "80,,101,", "from 0 to 100",
                   "row 4, column most_wet_percent");
    expect_refused(*state, "met|met assumed,", "met|not met,", "never bought",
                   "row 2, column states");
    expect_refused(*state, "met|met assumed,", "met|,", "never bought",
                   "row 2, column states");
    expect_refused(*state, "met|met assumed,", ",", "states is empty",
                   "row 2, column states");
    expect_refused(*state, "unknown,,8", "unknown,,", "where gives_condition is empty",
                   "row 4, column gives_years");
    expect_refused(*state, "unknown,,8", "unknown,90,8", "nothing beside",
                   "row 4, column gives_years");
    expect_refused(*state, COAT, COAT "0", "from 1 to 200", "row 4, column life_years");
}

static void test_empty(void **state)
{
    struct outlay_error err = {0};
    struct action_list list;
    struct table table;
    struct text header = TEXT_INIT;

    text_append(&header, catalog_actions_csv, strcspn(catalog_actions_csv, "\n") + 1);
    assert_int_equal(table_parse(*state, "actions.csv", header.data, &table, &err),
                     OUTLAY_OK);
    assert_int_equal(actions_read(*state, &table, "usd", &list, &err), OUTLAY_E_USAGE);
    assert_non_null(strstr(err.what, "no action"));
    text_release(&header);
}

static void test_square_metres(void **state)
{
    struct outlay_error err = {0};
    struct action_list list;

    assert_int_equal(read_changed(*state, "4.5,ft2", "48,m2", &list, &err), OUTLAY_OK);
    near(list.actions[ACTION_RESTORE].cost_per_area, 4800);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_built_in, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_other_currency, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_allowed, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_refused, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_refused_limits, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_empty, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_square_metres, set_up, tear_down),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
