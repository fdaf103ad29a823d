/* The plan: closed forms of money over time, the index, years and caps that are kept,
 * sums to the cent, contradictions that are given, and an answer that depends on nothing
 * but the roofs. Costs are made by hand. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

#include "roofs.h"

#include "portfolio/plan.h"

static struct budget_settings settings_for(int years, const char *cap)
{
    struct budget_settings settings = budget_defaults();

    settings.start = 2027;
    settings.years = years;
    settings.cap = cap;
    assert_int_equal(budget_settings_read(&settings, NULL), OUTLAY_OK);
    return settings;
}

/* A roof that costs so many whole units of money. */
static void add_priced(struct portfolio *portfolio, struct roof *roof, double units)
{
    struct layout layout = {.method = METHOD_SEAM_FASTENED};
    struct cost cost = {.known = true, .total = llround(100 * units)};

    roof->layouts = &layout;
    roof->layout_count = 1;
    roof->costs = &cost;
    roof_add(portfolio, roof);
}

static const struct plan_roof *found(const struct plan *plan, const char *id)
{
    for (size_t i = 0; i < plan->count; i++)
        if (strcmp(portfolio_id(plan->roofs[i].roof), id) == 0)
            return &plan->roofs[i];
    fail();
    return NULL;
}

/* 100,000 at 3 % is 103,000, 106,090 and 109,272.70 one, two, three years later; with a
 * discount of 3 % its present cost stays, with 5 % it is 100,000 x (1.03 / 1.05)^k. */
static void test_money_over_time(void **state)
{
    struct budget_settings settings = settings_for(5, "1");

    (void)state;
    assert_int_equal(plan_nominal(&settings, 10000000, 0), 10000000);
    assert_int_equal(plan_nominal(&settings, 10000000, 1), 10300000);
    assert_int_equal(plan_nominal(&settings, 10000000, 2), 10609000);
    assert_int_equal(plan_nominal(&settings, 10000000, 3), 10927270);
    assert_int_equal(plan_present(&settings, 10000000, 4), 10000000);
    settings.discount = 5;
    assert_int_equal(plan_present(&settings, 10000000, 2), 9622676);
}

/* A roof of condition 52 falls below 50 within a year: 2 % of 100,000 for the first year
 * of waiting, 5 % for each of the next ones, 10 % once it is below 30. */
static void test_waiting_grows_by_band(void **state)
{
    struct budget_settings settings = settings_for(5, "1");
    double age = condition_age(&settings.curve, 52);
    int k = 1;
    money sum = 200000;

    (void)state;
    assert_int_equal(plan_waiting(&settings, 10000000, age, 0), 0);
    assert_int_equal(plan_waiting(&settings, 10000000, age, 1), sum);
    for (; condition_at(&settings.curve, age + k) >= 30; k++) {
        assert_true(condition_at(&settings.curve, age + k) < 50);
        sum += 500000;
        assert_int_equal(plan_waiting(&settings, 10000000, age, k + 1), sum);
    }
    assert_int_equal(plan_waiting(&settings, 10000000, age, k + 1), sum + 1000000);
    settings.escalation = 0;
    assert_int_equal(plan_waiting(&settings, 10000000, age, 2),
                     llround(200000 + 500000 / 1.03));
}

/* A roof that costs 100,000 to replace, due and not done, of a building of 1,000,000. */
static void test_index_is_deferred_cost_over_value(void **state)
{
    struct budget_settings settings = settings_for(1, "0");
    struct portfolio *portfolio = portfolio_new(true);
    struct plan *plan = NULL;
    struct roof roof;

    (void)state;
    roof_sample(&roof, "a");
    roof.given.condition = 35;
    roof.given.replacement_value = 1000000;
    add_priced(portfolio, &roof, 100000);
    assert_int_equal(plan_make(portfolio, &settings, &plan, NULL), OUTLAY_OK);
    assert_true(fabs(plan->best.years[0].index - 0.10) < 1e-12);
    assert_int_equal(plan->best.years[0].backlog, 10000000);
    assert_int_equal(plan->roofs[0].reason, PLAN_DEAR);
    plan_free(plan);
    portfolio_free(portfolio);
}

/* 30 roofs of 10 buildings, conditions from 5 to 95; every seventh is given nothing. */
static struct portfolio *town(size_t step)
{
    enum { COUNT = 30 };
    struct portfolio *portfolio = portfolio_new(true);

    for (size_t k = 0; k < COUNT; k++) {
        size_t i = k * step % COUNT;
        char id[16], building[16];
        struct roof roof;

        snprintf(id, sizeof id, "r%02zu", i);
        snprintf(building, sizeof building, "b%zu", i % 10);
        roof_sample(&roof, id);
        roof.building = building;
        roof.area = 500 + 37 * (double)i;
        if (i % 7)
            roof.given.condition = 5 + (double)(i * 31 % 91);
        if (i == 4)
            roof.given.fixed_year = 2028;
        if (i == 11)
            roof.given.latest = 2027;
        if (i == 12)
            roof.given.earliest = 2029;
        roof.given.replacement_value = i % 3 ? 90000 : NAN;
        add_priced(portfolio, &roof, 10000.37 + 1013.11 * (double)(i * i % 97));
    }
    return portfolio;
}

static void test_sums_agree_and_years_are_kept(void **state)
{
    struct budget_settings settings = settings_for(3, "230000,210000,190000");

    (void)state;
    for (int together = 0; together < 2; together++) {
        struct portfolio *portfolio = town(1);
        struct plan *plan = NULL;
        money nominal = 0, present = 0, waiting = 0;

        settings.together = together;
        assert_int_equal(plan_make(portfolio, &settings, &plan, NULL), OUTLAY_OK);
        for (size_t i = 0; i < plan->count; i++) {
            const struct plan_roof *of = &plan->roofs[i];

            nominal += of->nominal;
            present += of->present;
            waiting += of->waiting;
            for (size_t j = 0; together && j < i; j++)
                if (!of->stays && !plan->roofs[j].stays &&
                    strcmp(portfolio_building(of->roof),
                           portfolio_building(plan->roofs[j].roof)) == 0)
                    assert_int_equal(of->year, plan->roofs[j].year);
        }
        assert_int_equal(nominal, plan->best.cost);
        assert_int_equal(present, plan->best.present);
        assert_int_equal(waiting, plan->best.waiting);
        for (int k = 0; k < 3; k++) {
            assert_true(plan->best.years[k].cost <= settings.caps[k]);
            assert_true(plan->worst_first.years[k].cost <= settings.caps[k]);
        }
        assert_int_equal(found(plan, "r04")->year, 2028);
        assert_int_equal(found(plan, "r04")->reason, PLAN_FIXED);
        assert_int_equal(found(plan, "r11")->year, 2027);
        if (found(plan, "r12")->year != MISSING)
            assert_true(found(plan, "r12")->year >= 2029);
        assert_true(plan->best.present + plan->best.waiting <=
                    plan->worst_first.present + plan->worst_first.waiting);
        for (int i = 0; i < PLAN_EXTRAS; i++)
            assert_true(plan->extra[i].waiting <= plan->best.waiting);
        assert_int_equal(plan->assumed, 5);
        assert_int_equal(plan->valued, 20);
        plan_free(plan);
        portfolio_free(portfolio);
    }
}

static void test_input_order_changes_nothing(void **state)
{
    struct budget_settings settings = settings_for(3, "200000");
    struct portfolio *first = town(1), *second = town(7);
    struct plan *a = NULL, *b = NULL;

    (void)state;
    assert_int_equal(plan_make(first, &settings, &a, NULL), OUTLAY_OK);
    assert_int_equal(plan_make(second, &settings, &b, NULL), OUTLAY_OK);
    assert_memory_equal(&a->best.cost, &b->best.cost, sizeof a->best.cost);
    for (size_t i = 0; i < a->count; i++) {
        assert_string_equal(portfolio_id(a->roofs[i].roof),
                            portfolio_id(b->roofs[i].roof));
        assert_int_equal(a->roofs[i].year, b->roofs[i].year);
    }
    for (int k = 0; k < 3; k++)
        assert_int_equal(a->worst_first.years[k].cost, b->worst_first.years[k].cost);
    plan_free(a);
    plan_free(b);
    portfolio_free(first);
    portfolio_free(second);
}

/* Two roofs under a cap that holds one: the one whose waiting costs more comes first,
 * though the other is worse. Worst first takes the other. */
static void test_least_cost_is_not_worst_first(void **state)
{
    struct budget_settings settings = settings_for(2, "100000,104000");
    struct portfolio *portfolio = portfolio_new(true);
    struct plan *plan = NULL;
    struct roof roof;

    (void)state;
    roof_sample(&roof, "large");
    roof.given.condition = 28;
    add_priced(portfolio, &roof, 100000);
    roof_sample(&roof, "small");
    roof.given.condition = 20;
    add_priced(portfolio, &roof, 20000);
    assert_int_equal(plan_make(portfolio, &settings, &plan, NULL), OUTLAY_OK);
    assert_int_equal(found(plan, "large")->year, 2027);
    assert_int_equal(found(plan, "small")->year, 2028);
    assert_int_equal(plan->best.waiting, 200000);
    assert_int_equal(plan->worst_first.waiting, 1000000);
    plan_free(plan);
    portfolio_free(portfolio);
}

static void test_a_good_roof_stays(void **state)
{
    struct budget_settings settings = settings_for(2, "1e9");
    struct portfolio *portfolio = portfolio_new(true);
    struct plan *plan = NULL;
    struct roof roof;

    (void)state;
    roof_sample(&roof, "good");
    roof.given.condition = 90;
    add_priced(portfolio, &roof, 1000);
    roof_sample(&roof, "fixed");
    roof.given.condition = 90;
    roof.given.fixed_year = 2028;
    add_priced(portfolio, &roof, 1000);
    roof_sample(&roof, "unpriced");
    roof_add(portfolio, &roof);
    assert_int_equal(plan_make(portfolio, &settings, &plan, NULL), OUTLAY_OK);
    assert_int_equal(found(plan, "good")->reason, PLAN_GOOD);
    assert_int_equal(found(plan, "fixed")->year, 2028);
    assert_int_equal(found(plan, "unpriced")->reason, PLAN_UNPRICED);
    assert_int_equal(plan->unpriced, 1);
    plan_free(plan);
    portfolio_free(portfolio);
}

/* What is given of years that can't be: status, and words of the message. */
static void test_contradictions_are_told(void **state)
{
    static const struct {
        int earliest, latest, fixed;
        enum outlay_status status;
        const char *what;
    } cases[] = {
        {2029, 2028, MISSING, OUTLAY_E_INPUT,
         "latest 2028 is before earliest 2029, by 1"},
        {2030, MISSING, 2028, OUTLAY_E_INPUT, "fixed_year 2028 is before earliest 2030"},
        {MISSING, 2027, 2029, OUTLAY_E_INPUT, "latest 2027 is before fixed_year 2029"},
        {MISSING, 2020, MISSING, OUTLAY_E_INPUT, "the plan's first year 2027, by 7"},
        {MISSING, MISSING, 2026, OUTLAY_E_INPUT, "fixed_year 2026 is before the plan's"},
        {MISSING, MISSING, 2028, OUTLAY_E_LIMIT,
         "over the cap of 2028 (1000.00) by 50.60"},
        {MISSING, MISSING, 2040, OUTLAY_OK, ""},
        {2040, MISSING, MISSING, OUTLAY_OK, ""},
    };
    struct budget_settings settings = settings_for(3, "1000");

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct portfolio *portfolio = portfolio_new(true);
        struct outlay_error err = {0};
        struct plan *plan = NULL;
        struct roof roof;

        roof_sample(&roof, "a");
        roof.given.condition = 20;
        roof.given.earliest = cases[i].earliest;
        roof.given.latest = cases[i].latest;
        roof.given.fixed_year = cases[i].fixed;
        add_priced(portfolio, &roof, 1020); /* 1050.60 in 2028 */
        assert_int_equal(plan_make(portfolio, &settings, &plan, &err), cases[i].status);
        assert_non_null(strstr(err.what, cases[i].what));
        if (plan)
            assert_int_equal(plan->roofs[0].reason, PLAN_OUTSIDE);
        plan_free(plan);
        portfolio_free(portfolio);
    }
}

static void test_buildings_without_a_common_year(void **state)
{
    struct budget_settings settings = settings_for(3, "1000000");
    struct portfolio *portfolio = portfolio_new(true);
    struct outlay_error err = {0};
    struct plan *plan = NULL;
    struct roof roof;

    (void)state;
    settings.together = true;
    for (int i = 0; i < 2; i++) {
        roof_sample(&roof, i ? "a" : "b");
        roof.building = "hall";
        roof.given.fixed_year = 2027 + 2 * i;
        add_priced(portfolio, &roof, 1000);
    }
    assert_int_equal(plan_make(portfolio, &settings, &plan, &err), OUTLAY_E_INPUT);
    assert_non_null(strstr(err.what, "no year in common, by 2"));
    assert_non_null(strstr(err.where, "hall"));
    settings.together = false;
    assert_int_equal(plan_make(portfolio, &settings, &plan, NULL), OUTLAY_OK);
    plan_free(plan);
    portfolio_free(portfolio);
}

static void test_settings_are_read(void **state)
{
    struct budget_settings settings = settings_for(3, "1000.50, 2k,3000");
    struct outlay_error err = {0};

    (void)state;
    assert_int_equal(settings.caps[0], 100050);
    assert_int_equal(settings.caps[2], 300000);
    assert_true(settings.rates[BAND_BAD] == 0.1);
    for (int i = 0; i < 5; i++) {
        static const char *const bad[] = {"1000,2000", "", "ten", "-1", "1,500,000"};

        settings.cap = bad[i];
        assert_int_equal(budget_settings_read(&settings, &err), OUTLAY_E_USAGE);
    }
    settings.cap = "10";
    settings.waiting = "1,2,3";
    assert_int_equal(budget_settings_read(&settings, &err), OUTLAY_E_USAGE);
    settings.waiting = "1,2,3,4";
    settings.start = MISSING;
    assert_int_equal(budget_settings_read(&settings, &err), OUTLAY_E_USAGE);
    assert_non_null(strstr(err.todo, "--start"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_money_over_time),
        cmocka_unit_test(test_waiting_grows_by_band),
        cmocka_unit_test(test_index_is_deferred_cost_over_value),
        cmocka_unit_test(test_sums_agree_and_years_are_kept),
        cmocka_unit_test(test_input_order_changes_nothing),
        cmocka_unit_test(test_least_cost_is_not_worst_first),
        cmocka_unit_test(test_a_good_roof_stays),
        cmocka_unit_test(test_contradictions_are_told),
        cmocka_unit_test(test_buildings_without_a_common_year),
        cmocka_unit_test(test_settings_are_read),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
