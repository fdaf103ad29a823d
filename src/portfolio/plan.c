#include "portfolio/plan.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "portfolio/plan_private.h"

/* Of a roof whose condition and age nobody gave (ours). */
#define CONDITION_NOT_GIVEN 50

/* ---- Roofs ---- */

static void find_age(const struct budget_settings *settings, struct plan_roof *of)
{
    double given = of->roof->condition;
    int installed = of->roof->installed;

    if (!isnan(given)) {
        of->basis = AGE_FROM_CONDITION;
        of->age = condition_age(&settings->curve, given);
    } else if (installed != MISSING && installed <= settings->start) {
        of->basis = AGE_FROM_YEAR;
        of->age = settings->start - installed;
    } else {
        of->basis = AGE_ASSUMED;
        of->age = condition_age(&settings->curve, CONDITION_NOT_GIVEN);
    }
    of->condition = condition_at(&settings->curve, of->age);
    while (of->worn < settings->years &&
           condition_at(&settings->curve, of->age + of->worn) >= settings->good)
        of->worn++;
    of->stays = of->worn == settings->years && of->money->fixed == MISSING &&
                of->money->latest == MISSING;
}

static int compare_roofs(const void *of_a, const void *of_b)
{
    const struct plan_roof *a = of_a, *b = of_b;

    return portfolio_compare(a->roof, b->roof);
}

static bool gather(struct plan *plan, const struct portfolio *portfolio)
{
    plan->count = portfolio_count(portfolio);
    plan->roofs = arena_array(plan->arena, plan->count + 1, sizeof *plan->roofs);
    if (!plan->roofs)
        return false;
    for (size_t i = 0; i < plan->count; i++) {
        struct plan_roof *of = &plan->roofs[i];

        *of = (struct plan_roof){.roof = portfolio_roof(portfolio, i),
                                 .money = portfolio_money(portfolio, i),
                                 .year = MISSING,
                                 .reason = PLAN_UNPRICED};
        find_age(&plan->settings, of);
        plan->unpriced += !of->money->priced;
        plan->assumed += of->money->priced && of->basis == AGE_ASSUMED;
        plan->valued += of->money->priced && of->money->replacement > 0;
    }
    qsort(plan->roofs, plan->count, sizeof *plan->roofs, compare_roofs);
    return true;
}

/* ---- The search ---- */

static void put_money(char *out, size_t size, money value)
{
    snprintf(out, size, "%lld.%02d", (long long)(value / 100), (int)(value % 100));
}

/* The dearest unit that must be done in or by the year that is over. */
static const struct plan_roof *dearest(const struct plan *plan,
                                       const struct plan_units *units, const int *years,
                                       int year)
{
    const struct plan_roof *out = NULL;

    for (size_t i = 0; i < plan->count; i++) {
        const struct plan_roof *of = &plan->roofs[i];

        if (of->money->priced && units->units[of->unit].must && years[of->unit] == year &&
            (!out || of->money->cost > out->money->cost))
            out = of;
    }
    return out;
}

static enum outlay_status over_the_caps(const struct plan *plan,
                                        const struct plan_units *units,
                                        const struct choice_answer *answer,
                                        struct outlay_error *err)
{
    char over[32], cap[32];
    const struct plan_roof *worst = NULL;
    int years = 0, first = 0;

    for (int k = plan->settings.years - 1; k >= 0; k--)
        if (answer->over[k] > 0) {
            first = k;
            years++;
        }
    put_money(over, sizeof over, answer->over[first]);
    put_money(cap, sizeof cap, units->choice.caps[first]);
    worst = dearest(plan, units, answer->years, first);
    outlay_fail(err, OUTLAY_E_LIMIT,
                "what must be done by fixed or latest years is over the cap of %d (%s) "
                "by %s%s",
                plan->settings.start + first, cap, over,
                years > 1 ? ", and over that of other years" : "");
    if (worst)
        outlay_fail_where(err, "among others roof %.80s", portfolio_id(worst->roof));
    outlay_fail_todo(err, "raise --cap, or free latest and fixed_year of some roofs");
    return OUTLAY_E_LIMIT;
}

static enum outlay_status search(struct plan *plan, struct plan_units *units,
                                 const money *caps, int *years, struct plan_course *out,
                                 struct outlay_error *err)
{
    const struct budget_settings *settings = &plan->settings;
    struct choice_limits limits = {settings->gap / 100, settings->nodes,
                                   settings->seconds};
    struct choice_answer answer;
    struct arena *arena = arena_new();
    enum outlay_status status = OUTLAY_OK;

    if (!arena)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    units->choice.caps = caps;
    status = choice_solve(&units->choice, &limits, arena, &answer, err);
    if (status == OUTLAY_OK && !answer.feasible)
        status = over_the_caps(plan, units, &answer, err);
    if (status == OUTLAY_OK) {
        memcpy(years, answer.years, units->choice.units * sizeof *years);
        plan_follow(plan, units, years, caps, out);
        out->state = answer.state;
        out->gap = answer.value > 0 ? (answer.value - answer.bound) / answer.value : 0;
    }
    arena_free(arena);
    return status;
}

/* ---- What becomes of each roof ---- */

static enum plan_reason reason_of(const struct plan *plan, const struct plan_units *units,
                                  const struct plan_roof *of, int year)
{
    const struct choice_unit *unit = &units->units[of->unit];
    const struct choice *choice = &units->choice;
    bool fits = false, gains = false;

    if (year < choice->years && of->money->fixed != MISSING)
        return PLAN_FIXED;
    if (year < choice->years)
        return unit->must && unit->last == year ? PLAN_LATEST : PLAN_CHOSEN;
    if (unit->first > unit->last)
        return of->stays ? PLAN_GOOD : PLAN_OUTSIDE;
    for (int k = unit->first; k <= unit->last; k++) {
        fits = fits || choice_cost(choice, of->unit, k) <= plan->settings.caps[k];
        gains = gains || choice_value(choice, of->unit, k) <
                             choice_value(choice, of->unit, choice->years);
    }
    return !fits ? PLAN_DEAR : gains ? PLAN_LATER : PLAN_IDLE;
}

static void settle(struct plan *plan, const struct plan_units *units, const int *years)
{
    const struct budget_settings *settings = &plan->settings;

    for (size_t i = 0; i < plan->count; i++) {
        struct plan_roof *of = &plan->roofs[i];
        int year;

        if (!of->money->priced)
            continue;
        year = years[of->unit];
        of->reason = reason_of(plan, units, of, year);
        of->present = plan_present(settings, of->money->cost, year);
        of->waiting = plan_waiting(settings, of->money->cost, of->age, year);
        if (year == settings->years)
            continue;
        of->year = settings->start + year;
        of->nominal = plan_nominal(settings, of->money->cost, year);
    }
}

/* By year; those after the plan next, those without a cost last. */
static int compare_planned(const void *of_a, const void *of_b)
{
    const struct plan_roof *a = of_a, *b = of_b;

    if (a->money->priced != b->money->priced)
        return a->money->priced ? -1 : 1;
    if (a->year != b->year)
        return a->year == MISSING || (b->year != MISSING && a->year > b->year) ? 1 : -1;
    return portfolio_compare(a->roof, b->roof);
}

static enum outlay_status fill(struct plan *plan, const struct portfolio *portfolio,
                               struct outlay_error *err)
{
    const struct budget_settings *settings = &plan->settings;
    struct plan_units units;
    enum outlay_status status = OUTLAY_OK;
    int *best = NULL, *other = NULL;

    if (!gather(plan, portfolio))
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    status = plan_units_make(plan, &units, err);
    if (status != OUTLAY_OK)
        return status;
    best = arena_array(plan->arena, units.choice.units + 1, sizeof *best);
    other = arena_array(plan->arena, units.choice.units + 1, sizeof *other);
    if (!best || !other || !plan_worst_first(plan, &units, other))
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    plan_follow(plan, &units, other, settings->caps, &plan->worst_first);
    status = search(plan, &units, settings->caps, best, &plan->best, err);
    for (int i = 0; status == OUTLAY_OK && i < PLAN_EXTRAS; i++) {
        money caps[PLAN_YEARS_MAX];

        for (int k = 0; k < settings->years; k++)
            caps[k] = settings->caps[k] + settings->caps[k] * (i + 1) / 10;
        status = search(plan, &units, caps, other, &plan->extra[i], err);
    }
    if (status != OUTLAY_OK)
        return status;
    units.choice.caps = settings->caps;
    settle(plan, &units, best);
    qsort(plan->roofs, plan->count, sizeof *plan->roofs, compare_planned);
    return OUTLAY_OK;
}

enum outlay_status plan_make(const struct portfolio *portfolio,
                             const struct budget_settings *settings, struct plan **out,
                             struct outlay_error *err)
{
    struct plan *plan = calloc(1, sizeof *plan);
    enum outlay_status status = OUTLAY_OK;

    *out = NULL;
    if (plan)
        plan->arena = arena_new();
    if (!plan || !plan->arena) {
        plan_free(plan);
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    }
    plan->settings = *settings;
    status = fill(plan, portfolio, err);
    if (status != OUTLAY_OK)
        plan_free(plan);
    else
        *out = plan;
    return status;
}

void plan_free(struct plan *plan)
{
    if (!plan)
        return;
    arena_free(plan->arena);
    free(plan);
}
