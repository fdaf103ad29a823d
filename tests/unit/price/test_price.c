/* What bills cost: closed forms by hand with round prices, and sums to the cent. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/units.h"
#include "price/price.h"
#include "price/visit.h"
#include "roof/layout.h"

struct site {
    struct catalog catalog;
    struct item_list items;
    struct price_list prices;
    struct price_settings settings;
    struct building building;
    struct roof roofs[3];
    struct layout layouts[3];
    struct bill bills[3];
    struct bill_item goods[3][3];
};

static struct bill_item item(enum item_use use, const char *name, double ordered)
{
    return (struct bill_item){.use = use,
                              .item = name,
                              .net = ordered,
                              .laid = ordered,
                              .ordered = ordered,
                              .holds = NAN,
                              .packs = NAN};
}

/* Three roofs of 1,000, 3,000 and 2,000 ft2 that need 100, 300 and 200 ft of coping. */
static int set_up(void **state)
{
    static const char *const ids[] = {"a", "b", "c"};
    static const double areas[] = {1000, 3000, 2000};
    struct site *site = calloc(1, sizeof *site);
    struct outlay_error err = {0};

    assert_non_null(site);
    assert_int_equal(catalog_builtin(&site->catalog, &err), OUTLAY_OK);
    assert_int_equal(items_load(site->catalog.arena, NULL, &site->items, &err),
                     OUTLAY_OK);
    assert_int_equal(prices_load(site->catalog.arena, NULL, &site->items, &site->catalog,
                                 &site->prices, &err),
                     OUTLAY_OK);
    site->settings = (struct price_settings){&site->prices, &site->items};
    for (size_t i = 0; i < 3; i++) {
        site->layouts[i].method = METHOD_SEAM_FASTENED;
        site->goods[i][0] = item(USE_COPING, "coping, 10 ft", areas[i] / 10 * M_PER_FT);
        site->bills[i] = (struct bill){.items = site->goods[i], .count = 1};
        site->roofs[i] = (struct roof){.id = ids[i],
                                       .area = areas[i] * M2_PER_FT2,
                                       .layouts = &site->layouts[i],
                                       .bills = &site->bills[i],
                                       .layout_count = 1};
    }
    site->building = (struct building){
        .arena = site->catalog.arena, .roofs = site->roofs, .roof_count = 3};
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

static void run(struct site *site)
{
    struct outlay_error err = {0};

    assert_int_equal(price_run(&site->building, &site->settings, &err), OUTLAY_OK);
    for (size_t i = 0; i < site->building.roof_count; i++) {
        const struct cost *cost = site->building.roofs[i].costs;
        money sum = 0;

        for (int part = 0; cost && part < COST_PARTS; part++) {
            assert_true(cost->parts[part] >= 0);
            sum += cost->parts[part];
        }
        if (cost)
            assert_int_equal(sum, cost->total);
    }
}

/* No effects, 10 % each of overhead, profit and contingency, 5 % tax, 1 % permit fee. */
static void plain(struct site *site)
{
    double *terms = site->prices.terms;

    terms[TERM_OVERHEAD] = terms[TERM_PROFIT] = terms[TERM_CONTINGENCY] = 0.1;
    terms[TERM_MOBILISATION] = 240000;
    terms[TERM_PERMIT] = 35000;
    terms[TERM_TAX] = 0.05;
    terms[TERM_PERMIT_SHARE] = 0.01;
    terms[TERM_SIZE_SHARE] = 0;
}

static void test_closed_form(void **state)
{
    struct site *site = *state;
    const struct cost *cost = NULL;

    plain(site);
    site->building.roof_count = 1;
    site->goods[0][1] = item(USE_SET_UP, "set-up", 1);
    site->goods[0][2] = item(USE_CREW, "crew hours", 28);
    site->bills[0].count = 3;
    run(site);
    cost = &site->roofs[0].costs[0];
    assert_true(cost->known);
    /* 100 ft of coping at 14.00; its 6 h and the set-up's 16 h at 72.00, 28 h in all
     * with the height factor */
    assert_int_equal(cost->parts[COST_MATERIAL], 140000);
    assert_int_equal(cost->parts[COST_LABOUR], 28 * 7200);
    assert_int_equal(cost->parts[COST_TEAR_OFF] + cost->parts[COST_DISPOSAL], 0);
    assert_int_equal(cost->parts[COST_MOBILISATION], 240000);
    /* direct 1,400 + 2,016 + 2,400 = 5,816.00; permit 350 + 58.16 */
    assert_int_equal(cost->parts[COST_PERMIT], 40816);
    assert_int_equal(cost->parts[COST_OVERHEAD], 62242);    /* of 6,224.16 */
    assert_int_equal(cost->parts[COST_PROFIT], 68466);      /* of 6,846.58 */
    assert_int_equal(cost->parts[COST_CONTINGENCY], 75312); /* of 7,531.24 */
    assert_int_equal(cost->parts[COST_TAX], 7000);
    assert_int_equal(cost->total, 835436);
    assert_true(fabs(cost->hours - 28) < 1e-9);
}

static void test_tear_off(void **state)
{
    struct site *site = *state;
    const struct cost *cost = NULL;

    plain(site);
    site->building.roof_count = 1;
    site->goods[0][0] = item(USE_TEAR_OFF, "tear-off", 1000 * M2_PER_FT2);
    site->goods[0][1] = item(USE_DEBRIS_WEIGHT, "debris, weight", 2 * 2000 * KG_PER_LB);
    site->goods[0][2] = item(USE_DEBRIS_VOLUME, "debris, loose volume", 10 * M3_PER_YD3);
    site->bills[0].count = 3;
    run(site);
    cost = &site->roofs[0].costs[0];
    /* 12 h at 58.00 and 0.18 a ft2; 2 tons at 75, 10 yd3 at 16 */
    assert_int_equal(cost->parts[COST_TEAR_OFF], 12 * 5800 + 18000);
    assert_int_equal(cost->parts[COST_DISPOSAL], 15000 + 16000);
    assert_int_equal(cost->parts[COST_LABOUR] + cost->parts[COST_MATERIAL], 0);
}

/* Twice the reference area: labour falls by the share once; a thousandth: it rises three
 * times at most. */
static void test_size(void **state)
{
    struct site *site = *state;

    site->building.roof_count = 1;
    site->prices.terms[TERM_SIZE_SHARE] = 0.1;
    site->prices.terms[TERM_SIZE_AREA] = 500 * M2_PER_FT2;
    site->goods[0][0] = item(USE_SET_UP, "set-up", 1);
    run(site);
    assert_int_equal(site->roofs[0].costs[0].parts[COST_LABOUR],
                     llround(16 * 7200 * 0.9));
    site->prices.terms[TERM_SIZE_AREA] = 1e6 * M2_PER_FT2;
    run(site);
    assert_int_equal(site->roofs[0].costs[0].parts[COST_LABOUR],
                     llround(16 * 7200 / 0.9 / 0.9 / 0.9));
}

static void test_region(void **state)
{
    struct site *site = *state;

    site->prices.terms[TERM_REGION] = 1.2;
    run(site);
    assert_int_equal(site->roofs[0].costs[0].parts[COST_MATERIAL], 168000);
}

static void test_boards_by_thickness(void **state)
{
    struct site *site = *state;

    site->goods[0][0] =
        item(USE_BOARD, "insulation board 4 ft x 4 ft", 2000 * M2_PER_FT2);
    site->goods[0][0].thickness = 2 * M_PER_IN;
    site->goods[1][0] = item(USE_BONDING, "bonding adhesive, 5 gal", 1200 * M2_PER_FT2);
    site->goods[1][0].holds = 600 * M2_PER_FT2;
    run(site);
    assert_int_equal(site->roofs[0].costs[0].parts[COST_MATERIAL], 2000 * 2 * 68);
    assert_int_equal(site->roofs[1].costs[0].parts[COST_MATERIAL], 2 * 16500);
}

/* What nobody counted costs nothing, and a roof without a layout isn't priced. */
static void test_unknown(void **state)
{
    struct site *site = *state;

    site->goods[0][0] = item(USE_BOOT, "pipe boot, prefabricated", NAN);
    site->bills[1].count = 0;
    site->roofs[2].layout_count = 0;
    run(site);
    assert_true(site->roofs[0].costs[0].known);
    assert_int_equal(site->roofs[0].costs[0].total, 0);
    assert_false(site->roofs[1].costs[0].known);
    assert_int_equal(site->roofs[1].costs[0].total, 0);
    assert_null(site->roofs[2].costs);
}

/* 600 ft of coping in packs of 55 ft: 11 packs hold 605 ft. The largest roof pays for
 * the rest, in whatever order the roofs stand. */
static void test_rounding(void **state)
{
    struct site *site = *state;
    struct roof swapped;

    for (size_t i = 0; i < 3; i++)
        site->goods[i][0].holds = 55 * M_PER_FT;
    site->building.shares_packs = true;
    run(site);
    assert_int_equal(site->roofs[0].costs[0].parts[COST_MATERIAL], 100 * 1400);
    assert_int_equal(site->roofs[1].costs[0].parts[COST_MATERIAL], 305 * 1400);
    assert_int_equal(site->roofs[2].costs[0].parts[COST_MATERIAL], 200 * 1400);
    swapped = site->roofs[0];
    site->roofs[0] = site->roofs[1];
    site->roofs[1] = swapped;
    site->roofs[1].area = site->roofs[0].area; /* of equals the first id */
    run(site);
    assert_int_equal(site->roofs[1].costs[0].parts[COST_MATERIAL], 105 * 1400);
}

/* Roofs that a visit has, of a site. */
struct members {
    const struct site *site;
    unsigned in;
};

static const struct quote *member(const void *context, size_t i)
{
    static const size_t payers[] = {1, 2, 0}; /* by area */
    const struct members *members = context;
    size_t roof = payers[i];

    return members->in & 1u << roof ? members->site->roofs[roof].quotes : NULL;
}

static money total_of(const struct site *site, unsigned in, money *fixed)
{
    struct visit_prices prices = visit_prices_of(&site->prices, &site->items);
    struct members members = {site, in};
    struct visit visit = visit_of(member, &members, 3);

    return visit_total(&visit, &prices, fixed);
}

/* A visit of all roofs costs what the building does. One of the small roofs alone pays
 * mobilisation, permit and set-up too, its own packs, and has its own size effect. */
static void test_visits(void **state)
{
    struct site *site = *state;
    money all = 0, fixed = 0, alone = 0;

    plain(site);
    for (size_t i = 0; i < 3; i++)
        site->goods[i][0].holds = 55 * M_PER_FT;
    site->goods[1][1] = item(USE_SET_UP, "set-up", 1);
    site->bills[1].count = 2;
    site->building.shares_packs = true;
    site->prices.terms[TERM_SIZE_SHARE] = 0.07;
    run(site);
    for (size_t i = 0; i < 3; i++)
        all += site->roofs[i].costs[0].total;
    assert_int_equal(total_of(site, 7, NULL), all);

    site->prices.terms[TERM_SIZE_SHARE] = 0.1;
    site->prices.terms[TERM_SIZE_AREA] = 500 * M2_PER_FT2;
    alone = total_of(site, 1, &fixed);
    /* 110 ft at 14.00 and 6 h of work less a tenth; 16 h of set-up, less a tenth too, */
    /* 2,400.00 of mobilisation: 1,540.00 + 388.80 + 1,036.80 + 2,400.00 = 5,365.60; */
    /* permit 350 + 53.66; 576.93, 634.62, 698.08; tax 77.00 */
    assert_int_equal(alone, 536560 + 40366 + 57693 + 63462 + 69808 + 7700);
    /* without: 1,928.80, permit fee 19.29, 194.81, 214.29, 235.72, tax 77.00 */
    assert_int_equal(alone - fixed, 192880 + 1929 + 19481 + 21429 + 23572 + 7700);
    assert_int_equal(total_of(site, 0, &fixed), 0);
    assert_int_equal(fixed, 0);
}

/* Three roofs of 100, 300 and 200 ft at 14.005 a ft in packs of 55 ft: 1,400.50, 4,201.50
 * and 2,801.00 by themselves, with no fraction of a cent. 605 ft are 8,473.025: 8,473.03,
 * so the largest pays 4,271.53. */
static void test_cents_of_a_line(void **state)
{
    struct site *site = *state;
    money sum = 0;

    for (size_t i = 0; i < 3; i++)
        site->goods[i][0].holds = 55 * M_PER_FT;
    site->building.shares_packs = true;
    site->prices.terms[TERM_REGION] = 14.005 / 14;
    run(site);
    for (size_t i = 0; i < 3; i++)
        sum += site->roofs[i].costs[0].parts[COST_MATERIAL];
    assert_int_equal(site->roofs[0].costs[0].parts[COST_MATERIAL], 140050);
    assert_int_equal(site->roofs[2].costs[0].parts[COST_MATERIAL], 280100);
    assert_int_equal(sum, bill_money(605 * M_PER_FT, site->goods[0][0].price));
    assert_int_equal(sum, 847303);
    /* 3,118.5 hundredths, and as another order of adding up may leave them */
    assert_int_equal(bill_money(519.75, 6), 3119);
    assert_int_equal(bill_money(519.75 * (1 - 1e-12), 6), 3119);
}

static void test_portfolio_rounding(void **state)
{
    struct site *site = *state;
    struct cost cost;

    plain(site);
    cost = price_material(7000, &site->settings);
    assert_int_equal(cost.parts[COST_MATERIAL], 7000);
    assert_int_equal(cost.parts[COST_PERMIT], 70);
    assert_int_equal(cost.parts[COST_OVERHEAD], 707);
    assert_int_equal(cost.parts[COST_TAX], 350);
    assert_int_equal(cost.parts[COST_LABOUR] + cost.parts[COST_MOBILISATION], 0);
}

static void expect_own(const struct cost *cost, enum price_basis basis, money total)
{
    assert_true(cost->known);
    assert_int_equal(cost->basis, basis);
    assert_int_equal(cost->total, total);
    assert_int_equal(cost->parts[COST_GIVEN], basis == PRICE_BUILT_UP ? 0 : total);
}

/* A bid beats the rate of the kind, that beats the bill; other methods stay built up. */
static void test_own_costs(void **state)
{
    struct site *site = *state;
    money built_up;

    plain(site);
    run(site);
    built_up = site->roofs[0].costs[0].total;
    expect_own(&site->roofs[0].costs[0], PRICE_BUILT_UP, built_up);

    site->roofs[0].given.cost = 12345.67;
    site->roofs[0].given.cost_per_area = 1;
    site->roofs[1].given.cost_per_area = 11 / M2_PER_FT2;
    site->prices.roof_rates[EXISTING_BALLASTED] = 1500 / M2_PER_FT2;
    site->roofs[2].given.existing = EXISTING_BALLASTED;
    run(site);
    expect_own(&site->roofs[0].costs[0], PRICE_GIVEN, 1234567);
    expect_own(&site->roofs[1].costs[0], PRICE_GIVEN, 3000 * 1100);
    expect_own(&site->roofs[2].costs[0], PRICE_BY_KIND, 2000 * 1500);
    assert_true(isnan(site->goods[0][0].price)); /* bought with the roof */
    assert_true(site->goods[0][0].paid);

    site->roofs[2].given.existing = EXISTING_SMOOTH;
    run(site);
    assert_int_equal(site->roofs[2].costs[0].basis, PRICE_BUILT_UP);
    site->prices.roof_rates[EXISTING_NOT_GIVEN] = 900 / M2_PER_FT2;
    run(site);
    expect_own(&site->roofs[2].costs[0], PRICE_BY_KIND, 2000 * 900);

    site->roofs[0].layouts = (struct layout[2]){site->layouts[0], site->layouts[0]};
    site->roofs[0].bills = (struct bill[2]){site->bills[0], site->bills[0]};
    site->roofs[0].layout_count = 2;
    run(site);
    expect_own(&site->roofs[0].costs[0], PRICE_GIVEN, 1234567);
    assert_int_equal(site->roofs[0].costs[1].basis, PRICE_BUILT_UP);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_own_costs, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_closed_form, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_tear_off, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_size, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_region, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_boards_by_thickness, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_unknown, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_rounding, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_cents_of_a_line, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_visits, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_portfolio_rounding, set_up, tear_down),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
