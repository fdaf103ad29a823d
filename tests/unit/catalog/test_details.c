/* The table of details: what is built in, and what the loader refuses. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <string.h>

#include "base/text.h"
#include "base/units.h"
#include "catalog/details.h"

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

static const struct detail *find(const struct detail_list *list, enum edge_kind kind,
                                 enum item_use use)
{
    for (size_t i = 0; i < list->count; i++)
        if (list->details[i].kind == kind && list->details[i].use == use)
            return &list->details[i];
    return NULL;
}

static void test_built_in(void **state)
{
    struct outlay_error err = {0};
    struct detail_list list;

    assert_int_equal(details_load(*state, NULL, &list, &err), OUTLAY_OK);
    assert_true(fabs(find(&list, EDGE_WALL, USE_FLASHING)->add - 0.1524) < 1e-9);
    assert_true(find(&list, EDGE_WALL, USE_FLASHING)->per == PER_GIRTH);
    assert_true(find(&list, EDGE_WALL, USE_BAR)->amount == 1);
    assert_true(fabs(find(&list, EDGE_WALL, USE_BAR_SCREW)->amount - 1 / 0.3048) < 1e-9);
    assert_true(fabs(find(&list, EDGE_GUTTER, USE_DOWNSPOUT)->amount * 2000 * M2_PER_FT2 -
                     1) < 1e-9);
    /* A comma in a note doesn't end it. */
    assert_non_null(strstr(find(&list, EDGE_WALL, USE_FLASHING)->note, "no source"));
    assert_non_null(strstr(find(&list, EDGE_CURB, USE_FLASHING)->note, "no source"));
    assert_null(find(&list, EDGE_METAL, USE_GUTTER));
    assert_null(find(&list, EDGE_CURB, USE_COUNTERFLASHING));
}

/* The built-in table with one piece of text put in another's place. */
static void expect_refused(struct arena *arena, const char *from, const char *to,
                           const char *what, const char *where)
{
    struct outlay_error err = {0};
    struct detail_list list;
    struct table table;
    struct text text = TEXT_INIT;
    const char *at = strstr(catalog_details_csv, from);

    assert_non_null(at);
    text_append(&text, catalog_details_csv, (size_t)(at - catalog_details_csv));
    text_puts(&text, to);
    text_puts(&text, at + strlen(from));
    assert_false(text.failed);
    assert_int_equal(table_parse(arena, "details.csv", text.data, &table, &err),
                     OUTLAY_OK);
    assert_int_equal(details_read(arena, &table, &list, &err), OUTLAY_E_USAGE);
    assert_non_null(strstr(err.what, what));
    assert_non_null(strstr(err.where, where));
    text_release(&text);
}

static void test_refusals(void **state)
{
    const char *const metal = "metal,edge metal,length,1,";

    expect_refused(*state, "kind,item", "kinds,item", "isn't known", "row 1");
    expect_refused(*state, metal, "tin,edge metal,length,1,", "tin",
                   "row 2, column kind");
    expect_refused(*state, metal, "continuous,edge metal,length,1,", "continuous",
                   "row 2, column kind");
    expect_refused(*state, metal, "metal,rope,length,1,", "rope", "row 2, column item");
    expect_refused(*state, metal, "metal,tear-off,length,1,", "tear-off", "column item");
    expect_refused(*state, metal, "metal,edge metal,metre,1,", "metre", "column per");
    expect_refused(*state, metal, "metal,edge metal,girth,1,", "girth for items by area",
                   "column per");
    expect_refused(*state, metal, "metal,edge metal,convex,1,", "for pieces",
                   "column per");
    expect_refused(*state, metal, "metal,edge metal,length,-1,", "-1", "column amount");
    expect_refused(*state, metal, "metal,edge metal,length,,", "amount", "column amount");
    expect_refused(*state, metal, "metal,edge metal,length,1,6", "but for girth",
                   "column add_in");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_built_in, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_refusals, set_up, tear_down),
    };

    return cmocka_run_group_tests_name("catalog/details", tests, NULL, NULL);
}
