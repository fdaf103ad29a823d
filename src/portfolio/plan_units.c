/* Roofs that are done together, what doing them counts, and when it is allowed. */

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "portfolio/plan_private.h"

/* Years from 0; last before first: not within the plan. */
struct window {
    int first, last;
    bool must;
};

/* ---- When ---- */

static enum outlay_status contradiction(const struct plan_roof *of, const char *what,
                                        int year, const char *other, int against,
                                        struct outlay_error *err)
{
    outlay_fail(err, OUTLAY_E_INPUT, "%s %d is before %s %d, by %d", what, year, other,
                against, against - year);
    outlay_fail_where(err, "roof %.80s", portfolio_id(of->roof));
    outlay_fail_todo(err, "correct the roof's years, or the plan's first year");
    return OUTLAY_E_INPUT;
}

static enum outlay_status check_years(const struct plan *plan, const struct plan_roof *of,
                                      struct outlay_error *err)
{
    const struct portfolio_money *given = of->money;
    int start = plan->settings.start;

    if (given->latest != MISSING && given->earliest > given->latest)
        return contradiction(of, "latest", given->latest, "earliest", given->earliest,
                             err);
    if (given->fixed != MISSING && given->earliest > given->fixed)
        return contradiction(of, "fixed_year", given->fixed, "earliest", given->earliest,
                             err);
    if (given->latest != MISSING && given->fixed > given->latest)
        return contradiction(of, "latest", given->latest, "fixed_year", given->fixed,
                             err);
    if (given->latest != MISSING && given->latest < start)
        return contradiction(of, "latest", given->latest, "the plan's first year", start,
                             err);
    if (given->fixed != MISSING && given->fixed < start)
        return contradiction(of, "fixed_year", given->fixed, "the plan's first year",
                             start, err);
    return OUTLAY_OK;
}

static struct window window_of(const struct plan *plan, const struct portfolio_money *of)
{
    const struct budget_settings *settings = &plan->settings;
    int end = settings->years - 1;
    struct window window = {0, end, false};

    if (of->fixed != MISSING) {
        window.first = window.last = of->fixed - settings->start;
        window.must = true;
    } else {
        if (of->earliest != MISSING && of->earliest > settings->start)
            window.first = of->earliest - settings->start;
        if (of->latest != MISSING && of->latest - settings->start <= end) {
            window.last = of->latest - settings->start;
            window.must = true;
        }
    }
    if (window.first > end)
        window = (struct window){1, 0, false};
    return window;
}

/* ---- Which ---- */

static bool same_unit(const struct plan *plan, const struct plan_roof *a,
                      const struct plan_roof *b)
{
    const char *building = portfolio_building(a->roof);

    return plan->settings.together && *building && !a->stays && !b->stays &&
           strcmp(building, portfolio_building(b->roof)) == 0;
}

static int compare_buildings(const void *of_a, const void *of_b)
{
    const struct plan_roof *a = *(struct plan_roof *const *)of_a;
    const struct plan_roof *b = *(struct plan_roof *const *)of_b;
    int order = strcmp(portfolio_building(a->roof), portfolio_building(b->roof));

    if (order == 0)
        order = a->stays - b->stays;
    return order ? order : (a > b) - (a < b);
}

/* Numbers the units; roofs of a building stand together in `order`. */
static size_t number_units(struct plan *plan, struct plan_roof **order, size_t count)
{
    size_t units = 0;

    qsort(order, count, sizeof *order, compare_buildings);
    for (size_t i = 0; i < count; i++) {
        if (i > 0 && !same_unit(plan, order[i - 1], order[i]))
            units++;
        order[i]->unit = units;
    }
    return count ? units + 1 : 0;
}

/* ---- What it counts ---- */

static void count_roof(const struct plan *plan, const struct plan_roof *of,
                       struct plan_units *out)
{
    const struct budget_settings *settings = &plan->settings;
    size_t years = (size_t)settings->years;

    for (int k = 0; k <= settings->years; k++) {
        out->values[of->unit * (years + 1) + (size_t)k] +=
            plan_present(settings, of->money->cost, k) +
            plan_waiting(settings, of->money->cost, of->age, k);
        if (k < settings->years)
            out->costs[of->unit * years + (size_t)k] +=
                plan_nominal(settings, of->money->cost, k);
    }
    if (of->age > out->age[of->unit])
        out->age[of->unit] = of->age;
}

/* Narrows a unit's years to those of one more roof. A roof that comes after the plan
 * takes its building along, unless the building must be done within it. */
static enum outlay_status narrow(const struct plan *plan, const struct plan_roof *of,
                                 struct plan_units *out, struct outlay_error *err)
{
    struct choice_unit *unit = &out->units[of->unit];
    struct window window = window_of(plan, of->money);
    bool must = unit->must || window.must;

    if (window.first > unit->first)
        unit->first = window.first;
    if (window.last < unit->last)
        unit->last = window.last;
    unit->must = must;
    if (window.must)
        out->worn[of->unit] = 0;
    else if (of->worn < out->worn[of->unit])
        out->worn[of->unit] = of->worn;
    if (!must || unit->first <= unit->last)
        return OUTLAY_OK;
    outlay_fail(err, OUTLAY_E_INPUT,
                "the roofs of one building have no year in common, by %d",
                unit->first - unit->last);
    outlay_fail_where(err, "building %.80s, roof %.60s", portfolio_building(of->roof),
                      portfolio_id(of->roof));
    outlay_fail_todo(err, "correct earliest, latest or fixed_year, or plan without "
                          "--together");
    return OUTLAY_E_INPUT;
}

static bool make_room(struct plan *plan, size_t units, struct plan_units *out)
{
    size_t years = (size_t)plan->settings.years;

    out->units = arena_array(plan->arena, units + 1, sizeof *out->units);
    out->values = arena_array(plan->arena, (units + 1) * (years + 1), sizeof(money));
    out->costs = arena_array(plan->arena, (units + 1) * years, sizeof(money));
    out->age = arena_array(plan->arena, units + 1, sizeof *out->age);
    out->worn = arena_array(plan->arena, units + 1, sizeof *out->worn);
    if (!out->units || !out->values || !out->costs || !out->age || !out->worn)
        return false;
    for (size_t i = 0; i < units; i++) {
        out->units[i] = (struct choice_unit){0, plan->settings.years - 1, false};
        out->worn[i] = plan->settings.years;
    }
    out->choice = (struct choice){.units = units,
                                  .years = plan->settings.years,
                                  .unit = out->units,
                                  .values = out->values,
                                  .costs = out->costs,
                                  .caps = plan->settings.caps};
    return true;
}

enum outlay_status plan_units_make(struct plan *plan, struct plan_units *out,
                                   struct outlay_error *err)
{
    struct plan_roof **order = arena_array(plan->arena, plan->count + 1, sizeof *order);
    enum outlay_status status = OUTLAY_OK;
    size_t count = 0, units = 0;

    for (size_t i = 0; order && i < plan->count; i++)
        if (plan->roofs[i].money->priced)
            order[count++] = &plan->roofs[i];
    if (order)
        units = number_units(plan, order, count);
    if (!order || !make_room(plan, units, out))
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    for (size_t i = 0; status == OUTLAY_OK && i < count; i++) {
        status = check_years(plan, order[i], err);
        if (status == OUTLAY_OK)
            status = narrow(plan, order[i], out, err);
        count_roof(plan, order[i], out);
    }
    for (size_t i = 0; i < units; i++)
        if (out->worn[i] > out->units[i].first && !out->units[i].must)
            out->units[i].first = out->worn[i];
    return status;
}
