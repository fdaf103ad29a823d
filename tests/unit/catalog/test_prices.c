/* The table of prices: what is built in, what finds what, and what the loader refuses. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "base/units.h"
#include "catalog/prices.h"

struct site {
    struct catalog catalog;
    struct item_list items;
};

static int set_up(void **state)
{
    struct site *site = calloc(1, sizeof *site);
    struct outlay_error err = {0};

    assert_non_null(site);
    assert_int_equal(catalog_builtin(&site->catalog, &err), OUTLAY_OK);
    assert_int_equal(items_load(site->catalog.arena, NULL, &site->items, &err),
                     OUTLAY_OK);
    *state = site;
    return 0;
}

static int tear_down(void **state)
{
    struct site *site = *state;

    catalog_release(&site->catalog);
    free(site);
    return 0;
}

static struct price_list built_in(struct site *site)
{
    struct outlay_error err = {0};
    struct price_list list;

    assert_int_equal(
        prices_load(site->catalog.arena, NULL, &site->items, &site->catalog, &list, &err),
        OUTLAY_OK);
    return list;
}

static void near(double value, double expected)
{
    assert_true(fabs(value - expected) <= 1e-9 * fmax(1, fabs(expected)));
}

static void test_built_in(void **state)
{
    struct site *site = *state;
    struct price_list list = built_in(site);

    assert_true(list.built_in);
    assert_string_equal(list.currency, "usd");
    assert_string_equal(list.date, "2026-07");
    near(list.terms[TERM_OVERHEAD], 0.1);
    near(list.terms[TERM_MOBILISATION], 480000);
    near(list.terms[TERM_SIZE_AREA], 20000 * M2_PER_FT2);
    for (size_t i = 0; i < site->items.count; i++)
        if (site->items.items[i].use < USE_WELD_SIDE)
            assert_non_null(
                price_find(&list, site->items.items[i].use, site->items.items[i].name));
}

static void test_longest_fit(void **state)
{
    struct site *site = *state;
    struct price_list list = built_in(site);
    const struct price *screw = price_find(&list, USE_SEAM_SCREW, "auger screw, 4 in");

    assert_non_null(screw);
    assert_string_equal(screw->item, "auger screw");
    assert_string_equal(
        price_find(&list, USE_SEAM_SCREW, "membrane screw #15, 10 in")->item,
        "membrane screw #15, 10 in");
    assert_string_equal(
        price_find(&list, USE_SEAM_SCREW, "membrane screw #15, 4 in")->item, "");
    assert_string_equal(price_find(&list, USE_BOARD, "recover board 4 ft x 8 ft")->item,
                        "recover board");
    assert_null(price_find(&list, USE_WELD_SIDE, "side-lap weld"));
    near(price_hour(&list, USE_TEAR_OFF), 5800);
    near(price_hour(&list, USE_BOARD), 7200);
}

static void test_units(void **state)
{
    struct price_list list = built_in(*state);
    const struct price *board = price_find(&list, USE_BOARD, "insulation board");
    const struct price *pail = price_find(&list, USE_BONDING, "bonding adhesive, 5 gal");

    /* 1 ft2 of 4 in: 4 board feet of 0.68 */
    assert_true(board->by_volume);
    near(board->amount * M2_PER_FT2 * 4 * M_PER_IN, 4 * 68);
    assert_true(pail->by_pack);
    near(pail->amount, 16500);
    near(price_find(&list, USE_DEBRIS_WEIGHT, "")->amount * 2000 * KG_PER_LB, 7500);
    near(price_find(&list, USE_COPING, "coping, 10 ft")->amount * M_PER_FT, 1400);
}

/* The built-in table with one piece of text put in another's place. */
static enum outlay_status read_changed(struct site *site, const char *from,
                                       const char *to, struct price_list *out,
                                       struct outlay_error *err)
{
    struct table table;
    enum outlay_status status;
    struct text text = TEXT_INIT;
    const char *at = strstr(catalog_prices_csv, from);

    assert_non_null(at);
    text_append(&text, catalog_prices_csv, (size_t)(at - catalog_prices_csv));
    text_puts(&text, to);
    text_puts(&text, at + strlen(from));
    assert_false(text.failed);
    assert_int_equal(
        table_parse(site->catalog.arena, "prices.csv", text.data, &table, err),
        OUTLAY_OK);
    status =
        prices_read(site->catalog.arena, &table, &site->items, &site->catalog, out, err);
    text_release(&text);
    return status;
}

static void expect_refused(struct site *site, const char *from, const char *to,
                           const char *what, const char *where)
{
    struct outlay_error err = {0};
    struct price_list list;

    assert_int_equal(read_changed(site, from, to, &list, &err), OUTLAY_E_USAGE);
    assert_non_null(strstr(err.what, what));
    assert_non_null(strstr(err.where, where));
}

/* Read, with one doubt. */
static void expect_doubt(struct site *site, const char *from, const char *to,
                         const char *what, const char *where)
{
    struct outlay_error err = {0};
    struct price_list list;

    assert_int_equal(read_changed(site, from, to, &list, &err), OUTLAY_OK);
    assert_int_equal(list.doubt_count, 1);
    assert_non_null(strstr(list.doubts[0].what, what));
    assert_string_equal(list.doubts[0].where, where);
}

static void expect_trusted(struct site *site, const char *from, const char *to)
{
    struct outlay_error err = {0};
    struct price_list list;

    assert_int_equal(read_changed(site, from, to, &list, &err), OUTLAY_OK);
    assert_int_equal(list.doubt_count, 0);
}

static void test_doubts(void **state)
{
    struct site *site = *state;

    expect_trusted(site, "0.95,ft2", "0.96,ft2");
    expect_trusted(site, "0.95,ft2", "18,ft2");
    expect_doubt(site, "0.95,ft2", "95,ft2", "some 100.00 times",
                 "prices.csv, row 2, column price");
    expect_doubt(site, "0.34,each", "6.9,each", "some 20.29 times",
                 "prices.csv, row 7, column price");
    expect_doubt(site, "0.34,each", "0.017,each", "some 0.05 times",
                 "prices.csv, row 7, column price");
    expect_doubt(site, "coping,,14", "coping,,0", "counted as free",
                 "prices.csv, row 53, column price");
    expect_doubt(site, "tear-off,58", "tear-off,0", "counted as free",
                 "prices.csv, row 71, column price");
    expect_trusted(site, "profit,,8", "profit,,0");
    expect_doubt(site, "overhead,,10", "overhead,,0.1", "0.1 percent is little",
                 "prices.csv, row 78, column price");
    expect_doubt(site, "permit fee,,0.8", "permit fee,,0.008", "0.008 percent",
                 "prices.csv, row 77, column price");
    expect_doubt(site, "usd,2026,7", "usd,2016,7", "10 years older",
                 "prices.csv, row 2, column year");
    expect_trusted(site, "usd,2026,7", "usd,2023,8");
}

/* A square as a unit, and shares with their sign. */
static void test_refused_units(void **state)
{
    struct site *site = *state;
    struct outlay_error err = {0};
    struct price_list list;

    assert_int_equal(read_changed(site, "0.95,ft2", "95,square", &list, &err),
                     OUTLAY_E_USAGE);
    assert_non_null(strstr(err.todo, "a square is 100 ft2"));
    assert_non_null(strstr(err.where, "prices.csv, row 2, column unit"));
    expect_refused(site, "overhead,,10,", "overhead,,10%,", "12 stands for 12 percent",
                   "prices.csv, row 78, column price");
    expect_refused(site, "overhead,,10,", "overhead,,-1,", "from 0 to 100",
                   "column price");
}

/* A spreadsheet that shows 12 % holds 0.12: read as written, doubted with its cell. */
static void test_percent_cell_of_a_spreadsheet(void **state)
{
    struct site *site = *state;
    struct outlay_error err = {0};
    struct price_list list;

    assert_int_equal(prices_load(site->catalog.arena, TESTDATA "/catalogs/percent.xlsx",
                                 &site->items, &site->catalog, &list, &err),
                     OUTLAY_OK);
    near(list.terms[TERM_PROFIT], 0.08);
    assert_int_equal(list.doubt_count, 1);
    assert_non_null(strstr(list.doubts[0].what, "0.12 percent is little"));
    assert_string_equal(list.doubts[0].where, "percent.xlsx, row 77, column price");
    assert_non_null(strstr(list.doubts[0].todo, "write 12 for 12 percent"));
    /* and as a table saved as CSV has it */
    expect_refused(site, "overhead,,10,", "overhead,,12.00%,", "12 stands for",
                   "prices.csv, row 78, column price");
    assert_int_equal(prices_load(site->catalog.arena, "prices.ods", &site->items,
                                 &site->catalog, &list, &err),
                     OUTLAY_E_USAGE);
    assert_non_null(strstr(err.what, ".csv or .xlsx"));
}

#define SUMP "drain sump,"

static void test_roof_rates(void **state)
{
    struct site *site = *state;
    struct outlay_error err = {0};
    struct price_list list;

    assert_true(isnan(built_in(site).roof_rates[EXISTING_NOT_GIVEN]));
    assert_int_equal(read_changed(site, SUMP,
                                  "roof,ballasted,150,m2,usd,2026,7,\n"
                                  "roof,,11,ft2,usd,2026,7,\n" SUMP,
                                  &list, &err),
                     OUTLAY_OK);
    near(list.roof_rates[EXISTING_BALLASTED], 15000);
    near(list.roof_rates[EXISTING_NOT_GIVEN] * M2_PER_FT2, 1100);
    assert_true(isnan(list.roof_rates[EXISTING_SMOOTH]));
    assert_int_equal(list.doubt_count, 0);
    expect_refused(site, SUMP, "roof,thatched,150,m2,usd,2026,7,\n" SUMP, "thatched",
                   "column item");
    expect_refused(site, SUMP, "roof,,0,m2,usd,2026,7,\n" SUMP, "from 0.01",
                   "column price");
    expect_refused(site, SUMP, "roof,,150,each,usd,2026,7,\n" SUMP, "ft2, m2",
                   "column unit");
    expect_refused(site, SUMP,
                   "roof,,150,m2,usd,2026,7,\nroof,,150,m2,usd,2026,7,\n" SUMP,
                   "each kind of roof once", "column item");
    expect_doubt(site, SUMP, "roof,smooth,900,ft2,usd,2026,7,\n" SUMP, "some 60.00 times",
                 "prices.csv, row 67, column price");
}

static void test_refused(void **state)
{
    struct site *site = *state;

    expect_refused(site, "use,item", "use,thing", "\"thing\" isn't known", "row 1");
    expect_refused(site, "field sheet,,", "field sheat,,", "field sheat",
                   "prices.csv, row 2, column use");
}

static void test_refused_values(void **state)
{
    struct site *site = *state;

    expect_refused(site, "0.95,ft2", "-0.95,ft2", "price is \"-0.95\"",
                   "prices.csv, row 2, column price");
    expect_refused(site, "0.95,ft2", ",ft2", "price is empty",
                   "prices.csv, row 2, column price");
    expect_refused(site, "0.95,ft2", "0.95,ft", "unit is \"ft\"",
                   "prices.csv, row 2, column unit");
    expect_refused(site, "0.98,ft2,usd", "0.98,ft2,eur", "accepted: usd",
                   "prices.csv, row 3, column currency");
    expect_refused(site, "0.98,ft2,usd", "0.98,ft2,", "currency is empty",
                   "prices.csv, row 3, column currency");
    expect_refused(site, "usd,2026,7", "usd,26,7", "year is", "row 2, column year");
    expect_refused(site, "usd,2026,7", "usd,2026,13", "month is", "row 2, column month");
    expect_refused(site, "usd,2026,7", "usd,2026,", "month is empty",
                   "row 2, column month");
    expect_refused(site, "10,percent", "110,percent", "price is \"110\"", "column price");
    expect_refused(site, "size effect,,4", "size effect,,100", "from 0 to 50",
                   "column price");
}

static void test_refused_items(void **state)
{
    struct site *site = *state;

    expect_refused(site, "\"membrane screw #15, 5 in\"", "\"membrane screw #15, 9 in\"",
                   "membrane screw #15, 9 in", "prices.csv, row 7, column item");
    expect_refused(site, "\"membrane screw #15, 6 in\"", "\"membrane screw #15, 5 in\"",
                   "once", "prices.csv, row 8, column item");
    expect_refused(site, "crew hours,tear-off", "crew hours,singing", "singing",
                   "column item");
    expect_refused(site, "profit,,8", "overhead,,8", "once", "column use");
    expect_refused(site, "profit,,8,percent,,2026,7", ",,,,,,", "use is empty",
                   "column use");
    expect_refused(site, "coping,,14,ft", "coping,\"coping, 11 ft\",14,ft",
                   "coping, 11 ft", "column item");
    expect_refused(site, "seam plate,,0.16", "coping,\"coping, 10 ft\",0.16",
                   "unit is \"each\"", "column unit");
}

/* A row too few: what it leaves without a price is named. */
static void test_missing(void **state)
{
    struct site *site = *state;

    expect_refused(site, "coping,,14,ft,usd,2026,7,invented value\n", "",
                   "coping \"coping, 10 ft\"", "prices.csv");
    expect_refused(site, "board,,0.68", "board,insulation board,0.68", "\"board\"",
                   "prices.csv");
    expect_refused(site, "permit,,350,each,usd,2026,7,a building; invented value\n", "",
                   "\"permit\"", "prices.csv");
}

/* A table of before scuppers were counted. */
static void test_without_scuppers(void **state)
{
    struct site *site = *state;
    struct outlay_error err = {0};
    struct price_list list;

    assert_int_equal(read_changed(site, "scupper,,140,each,usd,2026,7,invented value\n",
                                  "", &list, &err),
                     OUTLAY_OK);
    assert_null(price_find(&list, USE_SCUPPER, "scupper box with flange flashing"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_built_in, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_percent_cell_of_a_spreadsheet, set_up,
                                        tear_down),
        cmocka_unit_test_setup_teardown(test_longest_fit, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_units, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_refused, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_refused_values, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_refused_items, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_missing, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_without_scuppers, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_doubts, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_refused_units, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_roof_rates, set_up, tear_down),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
