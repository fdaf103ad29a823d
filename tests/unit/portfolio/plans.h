#ifndef OUTLAY_TESTS_PORTFOLIO_PLANS_H
#define OUTLAY_TESTS_PORTFOLIO_PLANS_H

/* Settings and portfolios made by hand for the tests of plans. All numbers are
 * invented. */

#include <stdio.h>

#include "roofs.h"

#include "portfolio/plan.h"

/* The first alone unless a test says otherwise. */
static struct action actions[] = {
    {.name = "replace",
     .kind = ACTION_REPLACE,
     .built_up = true,
     .most_condition = 100,
     .most_covers = MISSING,
     .most_wet = NAN,
     .states = 1u << STATE_MET | 1u << STATE_MET_ASSUMED,
     .gives_condition = 100,
     .gives_years = NAN,
     .life = NAN},
    {.name = "repair",
     .kind = ACTION_REPAIR,
     .cost = 200000,
     .cost_per_area = 50,
     .least_condition = 30,
     .most_condition = 70,
     .most_covers = MISSING,
     .most_wet = NAN,
     .states = 1u << STATE_UNKNOWN,
     .gives_condition = NAN,
     .gives_years = 3,
     .life = NAN},
};

static const struct plan_stop never = {NULL, NULL};

static inline struct budget_settings settings_for(int years, const char *cap)
{
    struct budget_settings settings = budget_defaults();

    settings.start = 2027;
    settings.years = years;
    settings.cap = cap;
    settings.actions = (struct action_list){actions, 1, false};
    settings.prices.terms[TERM_REGION] = 1;
    assert_int_equal(budget_settings_read(&settings, NULL), OUTLAY_OK);
    return settings;
}

/* A roof that costs so many whole units of money. */
static inline void add_priced(struct portfolio *portfolio, struct roof *roof,
                              double units)
{
    struct layout layout = {.method = METHOD_SEAM_FASTENED};
    struct cost cost = {.known = true};
    struct quote quote = {.area = roof->area, .flat = llround(100 * units), .height = 1};

    roof->layouts = &layout;
    roof->layout_count = 1;
    roof->costs = &cost;
    roof->quotes = &quote;
    roof_add(portfolio, roof);
}

static inline const struct plan_roof *found(const struct plan *plan, const char *id)
{
    for (size_t i = 0; i < plan->count; i++)
        if (strcmp(portfolio_id(plan->roofs[i].roof), id) == 0)
            return &plan->roofs[i];
    fail();
    return NULL;
}

/* 30 roofs of 10 buildings, conditions from 5 to 95; every seventh is given nothing. */
static inline struct portfolio *town(size_t step)
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

#endif
