/* What comes of a choice of years: year by year, and the rule that goes worst first. */

#include <math.h>
#include <stdlib.h>

#include "portfolio/plan_private.h"

/* ---- Year by year ---- */

static double condition_after(const struct plan *plan, const struct plan_roof *of,
                              int done, int k)
{
    double age = k >= done ? k - done : of->age + k + 1;

    return condition_at(&plan->settings.curve, age);
}

static double force_on(const struct portfolio_roof *roof)
{
    double sum = 0;

    for (int role = 0; role < ZONE_ROLES; role++) {
        double force = portfolio_force(roof, (enum zone_role)role);

        sum += isnan(force) ? 0 : force;
    }
    return sum;
}

/* Sums that only become results at the end of a year. */
struct index_sums {
    double due, value;
    double area;
};

static void follow_year(const struct plan *plan, const struct plan_roof *of, int done,
                        int k, struct plan_year *year, struct index_sums *sums)
{
    double condition = condition_after(plan, of, done, k);
    bool due = k < done && condition <= CONDITION_DUE;
    double value = of->money->replacement;

    year->condition_area += of->roof->area * condition / 100;
    sums->area += of->roof->area;
    if (k == done) {
        year->roofs++;
        year->cost += plan_nominal(&plan->settings, of->money->cost, k);
        year->area += of->roof->area;
        year->retired += force_on(of->roof);
    }
    if (due)
        year->backlog += plan_nominal(&plan->settings, of->money->cost, k);
    if (value > 0) {
        sums->value += value;
        sums->due += due ? (double)of->money->cost / 100 : 0;
    }
}

void plan_follow(const struct plan *plan, const struct plan_units *units,
                 const int *years, const money *caps, struct plan_course *out)
{
    const struct budget_settings *settings = &plan->settings;

    *out = (struct plan_course){.gap = NAN};
    for (int k = 0; k < settings->years; k++) {
        struct plan_year *year = &out->years[k];
        struct index_sums sums = {0};

        year->cap = caps[k];
        for (size_t i = 0; i < plan->count; i++)
            if (plan->roofs[i].money->priced)
                follow_year(plan, &plan->roofs[i], years[plan->roofs[i].unit], k, year,
                            &sums);
        year->condition = sums.area > 0 ? 100 * year->condition_area / sums.area : NAN;
        year->index = sums.value > 0 ? sums.due / sums.value : NAN;
        out->roofs += year->roofs;
        out->cost += year->cost;
        out->cap += year->cap;
    }
    for (size_t i = 0; i < plan->count; i++) {
        const struct plan_roof *of = &plan->roofs[i];

        if (!of->money->priced)
            continue;
        out->present += plan_present(settings, of->money->cost, years[of->unit]);
        out->waiting += plan_waiting(settings, of->money->cost, of->age, years[of->unit]);
        out->late += units->units[of->unit].must && years[of->unit] == settings->years;
    }
}

/* ---- Worst first ---- */

struct worst {
    double age;
    size_t unit;
};

static int compare_worst(const void *of_a, const void *of_b)
{
    const struct worst *a = of_a, *b = of_b;

    if (a->age != b->age)
        return a->age > b->age ? -1 : 1;
    return a->unit < b->unit ? -1 : a->unit > b->unit;
}

static void take(const struct plan_units *units, size_t unit, int k, money *left,
                 int *years)
{
    const struct choice *choice = &units->choice;
    const struct choice_unit *of = &units->units[unit];

    if (years[unit] < choice->years || k < of->first || k > of->last ||
        choice_cost(choice, unit, k) > *left)
        return;
    years[unit] = k;
    *left -= choice_cost(choice, unit, k);
}

bool plan_worst_first(const struct plan *plan, const struct plan_units *units, int *years)
{
    const struct choice *choice = &units->choice;
    struct worst *order = arena_array(plan->arena, choice->units + 1, sizeof *order);

    if (!order)
        return false;
    for (size_t i = 0; i < choice->units; i++) {
        order[i] = (struct worst){units->age[i], i};
        years[i] = choice->years;
    }
    qsort(order, choice->units, sizeof *order, compare_worst);
    for (int k = 0; k < choice->years; k++) {
        money left = choice->caps[k];

        for (size_t i = 0; i < choice->units; i++)
            if (units->units[order[i].unit].must && units->units[order[i].unit].last == k)
                take(units, order[i].unit, k, &left, years);
        for (size_t i = 0; i < choice->units; i++)
            take(units, order[i].unit, k, &left, years);
    }
    return true;
}
