/* Methods side by side: ranks, and sums of the portfolio to the cent. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <string.h>

#include "base/units.h"
#include "write/comparison.h"

enum { KINDS = 3 };

/* A roof of one zone, laid out by three methods. */
struct site {
    struct roof roof;
    struct layout layouts[KINDS];
    struct bill bills[KINDS];
    struct bill_item items[KINDS][2];
    struct cost costs[KINDS];
};

static void cost_of(struct cost *cost, money material, money labour)
{
    *cost = (struct cost){.known = true, .hours = 10};
    cost->parts[COST_MATERIAL] = material;
    cost->parts[COST_LABOUR] = labour;
    cost->total = material + labour;
}

static void start(struct site *site, const char *id)
{
    static const enum method methods[KINDS] = {
        METHOD_ADHERED_FASTENED, METHOD_SEAM_FASTENED, METHOD_INDUCTION_WELDED};

    memset(site, 0, sizeof *site);
    site->roof = (struct roof){.id = id,
                               .area = 1000 * M2_PER_FT2,
                               .zoned = true,
                               .zone_count = 1,
                               .layouts = site->layouts,
                               .bills = site->bills,
                               .layout_count = KINDS,
                               .costs = site->costs};
    site->roof.zones[0].role = ZONE_FIELD;
    for (size_t k = 0; k < KINDS; k++) {
        site->layouts[k].method = methods[k];
        site->layouts[k].states[ZONE_FIELD] = STATE_MET_ASSUMED;
        site->items[k][0] = (struct bill_item){
            .use = USE_SEAM_PLATE, .item = "plate", .net = 50, .ordered = 52};
        site->items[k][1] =
            (struct bill_item){.use = USE_WALKWAY, .item = "pad", .ordered = NAN};
        site->bills[k] = (struct bill){.items = site->items[k], .count = 2};
        cost_of(&site->costs[k], 100001, 50001 + (money)k);
    }
}

static const struct write_settings us = {.units = &unit_system_us, .currency = "usd"};

static size_t column_of(const char *name)
{
    for (size_t i = 0; i < comparison_sheet.column_count; i++)
        if (strcmp(comparison_sheet.columns[i].name, name) == 0)
            return i;
    fail();
    return 0;
}

static double number_at(const struct grid *grid, size_t row, const char *column)
{
    return grid_cell_number(grid, row, column_of(column));
}

static const char *text_at(const struct grid *grid, size_t row, const char *column)
{
    const char *text = grid_cell_text(grid, row, column_of(column));

    return text ? text : "";
}

static void test_ranks(void **state)
{
    struct grid *grid = grid_new(&comparison_sheet, &us);
    struct site site;

    (void)state;
    assert_non_null(grid);
    start(&site, "a");
    comparison_of_roof(grid, &site.roof);
    assert_false(grid_failed(grid));
    assert_int_equal(grid_rows(grid), KINDS);
    for (size_t k = 0; k < KINDS; k++)
        assert_true(number_at(grid, k, "rank") == (double)k + 1);
    assert_string_equal(text_at(grid, 0, "cheapest"), "cheapest");
    assert_string_equal(text_at(grid, 1, "cheapest"), "");
    assert_string_equal(text_at(grid, 0, "own"), "own");
    assert_string_equal(text_at(grid, 0, "not_counted"), "walkway pad");
    assert_true(number_at(grid, 0, "penetrations") == 50);
    assert_true(number_at(grid, 0, "total") == 1500.02);
    assert_int_equal(comparison_cheapest(&site.roof), 0);
    grid_free(grid);
}

/* Equal totals: the method that comes first, not the one laid out first. */
static void test_ties(void **state)
{
    struct site site;

    (void)state;
    start(&site, "a");
    cost_of(&site.costs[1], 100001, 50001);
    assert_int_equal(comparison_cheapest(&site.roof), 1);
}

static void test_not_met_is_never_cheapest(void **state)
{
    static const enum zone_state weak[] = {STATE_NOT_MET, STATE_UNKNOWN};
    struct site site;

    (void)state;
    for (size_t i = 0; i < 2; i++) {
        struct grid *grid = grid_new(&comparison_sheet, &us);

        assert_non_null(grid);
        start(&site, "a");
        site.layouts[0].states[ZONE_FIELD] = weak[i];
        comparison_of_roof(grid, &site.roof);
        assert_true(isnan(number_at(grid, 0, "rank")));
        assert_true(number_at(grid, 1, "rank") == 1);
        assert_string_equal(text_at(grid, 0, "zones_not_met"),
                            i == 0 ? "field" : "field unknown");
        assert_true(number_at(grid, 0, "total") == 1500.02);
        grid_free(grid);
        site.costs[1].known = site.costs[2].known = false;
        assert_int_equal(comparison_cheapest(&site.roof), -1);
    }
}

/* What wasn't laid out has no numbers, rather than cheap ones. */
static void test_nothing_laid(void **state)
{
    struct grid *grid = grid_new(&comparison_sheet, &us);
    struct site site;

    (void)state;
    assert_non_null(grid);
    start(&site, "a");
    site.layouts[0].states[ZONE_FIELD] = STATE_NOT_MET;
    site.layouts[0].reasons[ZONE_FIELD] = "no assembly for this deck";
    site.bills[0].count = 0;
    site.costs[0] = (struct cost){.known = false};
    comparison_of_roof(grid, &site.roof);
    assert_true(isnan(number_at(grid, 0, "total")));
    assert_true(isnan(number_at(grid, 0, "penetrations")));
    assert_true(isnan(number_at(grid, 0, "hours")));
    assert_string_equal(text_at(grid, 0, "note"), "no assembly for this deck");
    grid_free(grid);
}

static struct comparison_totals totals_of(struct site *sites, size_t count)
{
    struct comparison_totals totals = {0};

    for (size_t i = 0; i < count; i++) {
        struct building building = {.roofs = &sites[i].roof, .roof_count = 1};

        comparison_add(&totals, &building);
    }
    return totals;
}

/* The state of a sum is its worst roof's, in any order. */
static void test_unmet_in_any_order(void **state)
{
    (void)state;
    for (size_t unmet = 0; unmet < 2; unmet++) {
        struct site sites[2];
        struct comparison_totals totals;

        start(&sites[0], "a");
        start(&sites[1], "b");
        for (size_t k = 0; k < KINDS; k++)
            sites[unmet].layouts[k].states[ZONE_FIELD] = STATE_NOT_MET;
        totals = totals_of(sites, 2);
        assert_int_equal(totals.cheapest.not_met, 1);
        assert_int_equal(totals.cheapest.state, STATE_NOT_MET);
        assert_int_equal(totals.own.state, STATE_NOT_MET);
    }
}

static void test_portfolio(void **state)
{
    struct site sites[2];
    struct comparison_totals totals;
    struct grid *grid = grid_new(&comparison_sheet, &us);
    struct cost packs;

    (void)state;
    assert_non_null(grid);
    start(&sites[0], "a");
    start(&sites[1], "b");
    cost_of(&sites[1].costs[0], 99999, 99999);
    totals = totals_of(sites, 2);
    assert_int_equal(totals.methods[METHOD_ADHERED_FASTENED].total, 150002 + 199998);
    assert_int_equal(totals.own.total, 150002 + 199998);
    assert_int_equal(totals.cheapest.total, 150002 + 150003);
    cost_of(&packs, 777, 0);
    comparison_add_packs(&totals, METHOD_SEAM_FASTENED, &packs);
    comparison_of_packs(grid, METHOD_SEAM_FASTENED, &packs);
    packs.total = 0;
    comparison_of_packs(grid, METHOD_SEAM_FASTENED, &packs);
    comparison_of_totals(grid, &totals);
    assert_int_equal(grid_rows(grid), 1 + KINDS + 2);
    assert_string_equal(text_at(grid, 0, "of"), "packs");
    assert_true(number_at(grid, 0, "total") == 7.77);
    assert_string_equal(text_at(grid, 1, "method"), "seam-fastened");
    assert_true(number_at(grid, 1, "total") == 3007.83); /* 2 x 1,500.03 and packs */
    assert_true(number_at(grid, 1, "rank") == 2);        /* induction-welded: 3,000.08 */
    assert_string_equal(text_at(grid, 2, "cheapest"), "cheapest");
    assert_string_equal(text_at(grid, 5, "method"), "cheapest");
    grid_free(grid);
}

/* One roof that a method doesn't serve bars it from the portfolio's ranks. */
static void test_portfolio_not_met(void **state)
{
    struct site sites[2];
    struct comparison_totals totals;
    struct grid *grid = grid_new(&comparison_sheet, &us);

    (void)state;
    assert_non_null(grid);
    start(&sites[0], "a");
    start(&sites[1], "b");
    sites[1].layouts[1].states[ZONE_FIELD] = STATE_NOT_MET;
    sites[0].roof.layout_count = 2; /* not asked for the third */
    totals = totals_of(sites, 2);
    comparison_of_totals(grid, &totals);
    assert_true(isnan(number_at(grid, 0, "rank")));
    assert_string_equal(text_at(grid, 0, "state"), "not met");
    assert_true(number_at(grid, 0, "roofs_not_met") == 1);
    assert_true(isnan(number_at(grid, 1, "rank"))); /* one of two roofs */
    assert_true(number_at(grid, 2, "rank") == 1);
    grid_free(grid);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_ranks),
        cmocka_unit_test(test_ties),
        cmocka_unit_test(test_not_met_is_never_cheapest),
        cmocka_unit_test(test_nothing_laid),
        cmocka_unit_test(test_unmet_in_any_order),
        cmocka_unit_test(test_portfolio),
        cmocka_unit_test(test_portfolio_not_met),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
