/* The catalogue of items: what is built in, and what the loader refuses. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <string.h>

#include "base/text.h"
#include "base/units.h"
#include "catalog/items.h"

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

static void test_built_in(void **state)
{
    struct outlay_error err = {0};
    struct item_list list;

    assert_int_equal(items_load(*state, NULL, &list, &err), OUTLAY_OK);
    for (int use = 0; use < USE_WELD_SIDE; use++)
        for (int deck = DECK_STEEL; deck < DECK_KINDS; deck++)
            assert_non_null(item_find(&list, (enum item_use)use, (enum deck)deck));
    assert_true(fabs(item_find(&list, USE_FIELD_SHEET, DECK_STEEL)->holds -
                     100 * M_PER_FT) < 1e-9);
    assert_true(fabs(item_find(&list, USE_SEAM_PLATE, DECK_STEEL)->spare - 0.03) < 1e-9);
}

static const char *screw(const struct item_list *list, enum deck deck, double inches)
{
    return item_screw(list, USE_SEAM_SCREW, deck, inches * M_PER_IN)->name;
}

static void test_pads(void **state)
{
    struct outlay_error err = {0};
    struct item_list list;
    struct pad_size size;

    assert_int_equal(items_load(*state, NULL, &list, &err), OUTLAY_OK);
    size = pad_size_of(item_find(&list, USE_WALKWAY, DECK_STEEL)->name);
    assert_true(fabs(size.width - 30 * M_PER_IN) < 1e-9);
    assert_true(fabs(size.length - 60 * M_PER_IN) < 1e-9);
    size = pad_size_of("pad type 7, 36 in x 24 in");
    assert_true(fabs(size.width - 24 * M_PER_IN) < 1e-9);
    assert_true(fabs(size.length - 36 * M_PER_IN) < 1e-9);
    size = pad_size_of("pad");
    assert_true(fabs(size.width - 30 * M_PER_IN) < 1e-9);
}

static void test_screws(void **state)
{
    struct outlay_error err = {0};
    struct item_list list;

    assert_int_equal(items_load(*state, NULL, &list, &err), OUTLAY_OK);
    assert_string_equal(screw(&list, DECK_STEEL, 4), "membrane screw #15, 4 in");
    assert_string_equal(screw(&list, DECK_STEEL, 4.01), "membrane screw #15, 5 in");
    assert_string_equal(screw(&list, DECK_WOOD, 0.5), "membrane screw #14, 2-1/4 in");
    assert_string_equal(screw(&list, DECK_STEEL, 40), "membrane screw #15, 16 in");
    assert_non_null(strstr(screw(&list, DECK_GYPSUM, 5), "auger"));
}

/* The built-in table with one piece of text put in another's place. */
static void expect_refused(struct arena *arena, const char *from, const char *to,
                           const char *what, const char *where)
{
    struct outlay_error err = {0};
    struct item_list list;
    struct table table;
    struct text text = TEXT_INIT;
    const char *at = strstr(catalog_items_csv, from);

    assert_non_null(at);
    text_append(&text, catalog_items_csv, (size_t)(at - catalog_items_csv));
    text_puts(&text, to);
    text_puts(&text, at + strlen(from));
    assert_false(text.failed);
    assert_int_equal(table_parse(arena, "items.csv", text.data, &table, &err), OUTLAY_OK);
    assert_int_equal(items_read(arena, &table, &list, &err), OUTLAY_E_USAGE);
    assert_non_null(strstr(err.what, what));
    assert_non_null(strstr(err.where, where));
    text_release(&text);
}

static void test_refusals(void **state)
{
    expect_refused(*state, "use,item", "uses,item", "isn't known", "row 1");
    expect_refused(*state, "use,item", "item,item", "stands twice", "row 1");
    expect_refused(*state, "field sheet,,,,100", "flat sheet,,,,100", "flat sheet",
                   "row 2, column use");
    expect_refused(*state, "field sheet,,,,100", "field sheet,,,,x", "\"x\"",
                   "row 2, column holds");
    expect_refused(*state, "field sheet,,,,100", "field sheet,,,,", "holds is empty",
                   "column holds");
    expect_refused(*state, "field sheet,,,,100", "field sheet,,,2,100",
                   "nothing for this use", "column length_in");
    expect_refused(*state, "steel,2.25", "tin,2.25", "tin", "column decks");
    expect_refused(*state, "steel,2.25", "steel,225", "225", "column length_in");
    expect_refused(*state, "box,,3,0,count", "box,,99,0,count", "99",
                   "column spare_percent");
    expect_refused(*state, "piece,24,", "piece,0,", "from 1 to", "column bundle");
    expect_refused(*state, "tear-off,,,,,,", "tear-off,,,,,,24", "nothing for this use",
                   "column bundle");
    expect_refused(*state, ",note\n", ",remark\n", "remark", "row 1");
    expect_refused(*state, "\ncoping,", "\nedge metal,", "no row has", "items.csv");
}

/* A table of before there were bundles. */
static void test_without_bundles(void **state)
{
    struct outlay_error err = {0};
    struct item_list list;
    struct table table;

    assert_int_equal(items_load(*state, NULL, &list, &err), OUTLAY_OK);
    assert_true(item_find(&list, USE_BOARD, DECK_STEEL)->bundle == 24);
    assert_true(isnan(item_find(&list, USE_SEAM_PLATE, DECK_STEEL)->bundle));
    assert_int_equal(table_parse(*state, "items.csv", catalog_items_csv, &table, &err),
                     OUTLAY_OK);
    for (size_t row = 0; row < table.row_count; row++) {
        char **cells = table.rows[row].cells;
        size_t at = 6;

        if (row == 0)
            assert_string_equal(cells[at], "bundle");
        memmove(&cells[at], &cells[at + 1], (table.columns - at - 1) * sizeof *cells);
    }
    table.columns--;
    assert_int_equal(items_read(*state, &table, &list, &err), OUTLAY_OK);
    assert_true(isnan(item_find(&list, USE_BOARD, DECK_STEEL)->bundle));
}

/* A table of before scuppers were counted. */
static void test_without_scuppers(void **state)
{
    struct outlay_error err = {0};
    struct item_list list;
    struct table table;

    assert_int_equal(table_parse(*state, "items.csv", catalog_items_csv, &table, &err),
                     OUTLAY_OK);
    for (size_t row = 1; row < table.row_count; row++)
        if (strcmp(table.rows[row].cells[0], "scupper") == 0)
            table.rows[row] = table.rows[--table.row_count];
    assert_int_equal(items_read(*state, &table, &list, &err), OUTLAY_OK);
    assert_null(item_find(&list, USE_SCUPPER, DECK_STEEL));
    assert_non_null(item_find(&list, USE_SUMP, DECK_STEEL));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_built_in, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_pads, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_screws, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_without_bundles, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_without_scuppers, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_refusals, set_up, tear_down),
    };

    return cmocka_run_group_tests_name("catalog/items", tests, NULL, NULL);
}
