/* The program of a plan: what can be done to each roof, when, and what it counts. */

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "portfolio/plan_private.h"

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

enum outlay_status plan_check_years(const struct plan *plan, const struct plan_roof *of,
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

struct plan_window plan_window_of(const struct budget_settings *settings,
                                  const struct portfolio_money *of)
{
    int end = settings->years - 1;
    struct plan_window window = {0, end, false};

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
        window = (struct plan_window){1, 0, false};
    return window;
}

/* ---- Order ---- */

/* A building's roofs together, those that pay first in front; roofs without a building
 * are each one. */
static int compare_payers(const void *of_a, const void *of_b)
{
    const struct plan_roof *a = of_a, *b = of_b;
    int order = b->money->priced - a->money->priced;

    if (order == 0)
        order = strcmp(portfolio_building(a->roof), portfolio_building(b->roof));
    if (order == 0 && *portfolio_building(a->roof) != '\0')
        order = (a->roof->area < b->roof->area) - (a->roof->area > b->roof->area);
    return order ? order : portfolio_compare(a->roof, b->roof);
}

void plan_order(struct plan *plan)
{
    qsort(plan->roofs, plan->count, sizeof *plan->roofs, compare_payers);
}

static bool same_building(const struct plan_roof *a, const struct plan_roof *b)
{
    const char *building = portfolio_building(a->roof);

    return *building && strcmp(building, portfolio_building(b->roof)) == 0;
}

/* ---- What a visit costs ---- */

static const struct quote *picked_quote(const void *context, size_t i)
{
    const struct plan_trip *trip = context;
    const struct plan_model *model = trip->model;
    size_t roof = model->buildings[trip->building].first + i;
    const struct program_pick *pick = &trip->picks[i];

    if (pick->option < 0 || (trip->year >= 0 && pick->year != trip->year))
        return NULL;
    return model->options[model->first[roof] + (size_t)pick->option].quote;
}

struct visit plan_visit_of(const struct plan_trip *trip)
{
    return visit_of(picked_quote, trip, trip->model->buildings[trip->building].count);
}

static money price(const void *context, size_t building, const struct program_pick *picks)
{
    const struct plan_model *model = context;
    struct plan_trip trip = {model, building, picks, -1};
    struct visit visit = plan_visit_of(&trip);

    return visit_total(&visit, &model->plan->settings.prices, NULL);
}

/* Cents that rounding the parts of a roof's cost may take off. */
#define ROUNDING COST_PARTS

static const struct quote *only_quote(const void *context, size_t i)
{
    (void)i;
    return context;
}

/* Of a roof alone, without rounding up to packs, for a visit of that size. Together with
 * others a line costs a roof up to a cent less: half of its own, half of the order's. */
static money least_share(const struct budget_settings *settings, struct quote quote,
                         double area, bool once)
{
    struct visit visit = {.quote = only_quote,
                          .context = &quote,
                          .count = 1,
                          .area = area,
                          .set_up = once ? 0 : 1};

    quote.material = quote.material > (money)quote.good_count
                         ? quote.material - (money)quote.good_count
                         : 0;
    quote.list = NULL;
    return visit_total(&visit, &settings->prices, NULL);
}

/* The size effect is one way all along, so its ends are the least. */
static money least_of(const struct plan_model *model, const struct program_building *of,
                      struct quote quote, bool once)
{
    const struct budget_settings *settings = &model->plan->settings;
    double area = 0, alone = INFINITY;
    money large = 0, small = 0;

    for (size_t i = of->first; i < of->first + of->count; i++) {
        double size = model->plan->roofs[i].roof->area;

        area += size;
        alone = fmin(alone, size);
    }
    large = least_share(settings, quote, area, once);
    small = least_share(settings, quote, alone, once);
    large = (large < small ? large : small) - ROUNDING;
    return large > 0 ? large : 0;
}

static money share(const void *context, size_t building, size_t roof, int option)
{
    const struct plan_model *model = context;
    const struct program_building *of = &model->buildings[building];
    double height = INFINITY;

    if (option >= 0)
        return least_of(
            model, of,
            *model->options[model->first[of->first + roof] + (size_t)option].quote,
            false);
    for (size_t i = model->first[of->first]; i < model->first[of->first + of->count]; i++)
        height = fmin(height, model->options[i].quote->height);
    return isfinite(height) ? least_of(model, of, (struct quote){.height = height}, true)
                            : 0;
}

/* ---- What can be done ---- */

static enum zone_state rated_state(const struct portfolio_roof *roof)
{
    if (isnan((double)roof->demand) || isnan((double)roof->capacity))
        return STATE_UNKNOWN;
    return roof->capacity >= roof->demand ? STATE_MET : STATE_NOT_MET;
}

/* What decides whether an action may be done; condition apart. */
static struct action_case case_of(const struct plan_roof *of, const struct action *action)
{
    bool covers = action->kind <= ACTION_RECOVER;

    return (struct action_case){.condition = of->condition,
                                .covers = of->money->covers,
                                .wet_share = (double)of->money->wet_share,
                                .state = covers ? (enum zone_state)of->money->state
                                                : rated_state(of->roof)};
}

/* A built-up price is that of recover where the old cover stays, else of replace. */
static bool fits_scope(const struct plan_roof *of, const struct action *action)
{
    enum action_kind kind =
        of->money->scope == SCOPE_RECOVER ? ACTION_RECOVER : ACTION_REPLACE;

    return !action->built_up || action->kind == kind;
}

static struct plan_window years_of(const struct budget_settings *settings,
                                   const struct plan_roof *of,
                                   const struct action *action)
{
    struct plan_window window = plan_window_of(settings, of->money), out = {1, 0, false};
    struct action_case is = case_of(of, action);

    for (int k = window.first; fits_scope(of, action) && k <= window.last; k++) {
        is.condition = condition_at(&settings->curve, of->age + k);
        if (!action_allowed(action, &is))
            continue;
        if (out.first > out.last)
            out.first = k;
        out.last = k;
    }
    return out;
}

static const struct quote *quote_of(struct arena *arena, const struct plan_roof *of,
                                    const struct action *action)
{
    struct quote *flat = NULL;

    if (action->built_up)
        return of->money->quote;
    flat = arena_array(arena, 1, sizeof *flat);
    if (flat)
        *flat = (struct quote){
            .area = of->roof->area,
            .height = of->money->quote->height,
            .flat = llround(action->cost + action->cost_per_area * of->roof->area)};
    return flat;
}

static double value_of(const struct plan_sums *sums)
{
    return (double)(sums->waiting + sums->wind + sums->residual + sums->change);
}

static bool add_option(struct plan_model *model, const struct plan_roof *of,
                       const struct action *action, struct program_option *option,
                       struct plan_option *out)
{
    struct plan *plan = model->plan;
    struct plan_window window = years_of(&plan->settings, of, action);
    double *values = NULL;

    *out = (struct plan_option){action, quote_of(plan->arena, of, action)};
    values = arena_array(plan->arena, (size_t)plan->settings.years, sizeof *values);
    if (!values || !out->quote)
        return false;
    for (int k = window.first; k <= window.last; k++) {
        struct plan_sums sums = plan_sums_of(&plan->settings, of, action, k);

        values[k] = value_of(&sums);
    }
    *option = (struct program_option){window.first, window.last, values};
    return true;
}

/* It must be done, and nothing can be. */
static enum outlay_status no_action(const struct plan *plan, const struct plan_roof *of,
                                    struct outlay_error *err)
{
    bool fixed = of->money->fixed != MISSING;

    outlay_fail(err, OUTLAY_E_LIMIT,
                "%s is %d, and no action holds: attachment %s, condition %.0f",
                fixed ? "fixed_year" : "latest",
                fixed ? of->money->fixed : of->money->latest,
                zone_state_name(of->money->state), of->condition);
    outlay_fail_where(err, "roof %.80s, plan of %d to %d", portfolio_id(of->roof),
                      plan->settings.start,
                      plan->settings.start + plan->settings.years - 1);
    outlay_fail_todo(err, "give it another method or assembly, allow an action for it in "
                          "--actions, or free its year");
    return OUTLAY_E_LIMIT;
}

static enum outlay_status add_roof(struct plan_model *model, size_t i,
                                   struct program_roof *roof,
                                   struct program_option *options, size_t *used,
                                   struct outlay_error *err)
{
    struct plan *plan = model->plan;
    const struct plan_roof *of = &plan->roofs[i];
    const struct action_list *actions = &plan->settings.actions;
    struct plan_sums idle = plan_sums_of(&plan->settings, of, NULL, 0);
    enum outlay_status status = plan_check_years(plan, of, err);

    model->first[i] = *used;
    *roof =
        (struct program_roof){.options = &options[*used],
                              .idle = value_of(&idle),
                              .must = plan_window_of(&plan->settings, of->money).must};
    for (size_t k = 0; status == OUTLAY_OK && k < actions->count; k++) {
        struct plan_window window = years_of(&plan->settings, of, &actions->actions[k]);

        if (window.first > window.last || roof->option_count == PROGRAM_OPTIONS_MAX)
            continue;
        if (!add_option(model, of, &actions->actions[k], &options[*used],
                        &model->options[*used]))
            return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
        roof->option_count++;
        ++*used;
    }
    if (status == OUTLAY_OK && roof->must && roof->option_count == 0)
        status = no_action(plan, of, err);
    return status;
}

/* Roofs that must be done in one visit have a year in common. */
static enum outlay_status check_building(const struct plan_model *model,
                                         const struct program_building *of,
                                         struct outlay_error *err)
{
    const struct plan *plan = model->plan;
    int first = 0, last = plan->settings.years - 1;

    for (size_t i = of->first; i < of->first + of->count; i++) {
        struct plan_window window = plan_window_of(&plan->settings, plan->roofs[i].money);

        if (!window.must)
            continue;
        first = window.first > first ? window.first : first;
        last = window.last < last ? window.last : last;
        if (first <= last)
            continue;
        outlay_fail(err, OUTLAY_E_INPUT,
                    "the roofs of one building have no year in common, by %d",
                    first - last);
        outlay_fail_where(err, "building %.80s, roof %.60s",
                          portfolio_building(plan->roofs[i].roof),
                          portfolio_id(plan->roofs[i].roof));
        outlay_fail_todo(err, "correct earliest, latest or fixed_year, or plan without "
                              "--together");
        return OUTLAY_E_INPUT;
    }
    return OUTLAY_OK;
}

/* ---- The program ---- */

/* Most options that the roofs may have. */
static size_t most_options(const struct plan *plan)
{
    size_t count = 0;

    for (size_t i = 0; i < plan->priced; i++)
        for (size_t k = 0; k < plan->settings.actions.count; k++) {
            struct plan_window window = years_of(&plan->settings, &plan->roofs[i],
                                                 &plan->settings.actions.actions[k]);

            count += window.first <= window.last;
        }
    return count;
}

static size_t group(struct plan_model *model, struct program_building *buildings)
{
    const struct plan *plan = model->plan;
    size_t count = 0;

    for (size_t i = 0; i < plan->priced; i++) {
        if (i == 0 || !same_building(&plan->roofs[i - 1], &plan->roofs[i]))
            buildings[count++].first = i;
        buildings[count - 1].count++;
        model->building[i] = count - 1;
    }
    return count;
}

static void set_program(struct plan_model *model, size_t buildings)
{
    const struct budget_settings *settings = &model->plan->settings;

    for (int k = 0; k < settings->years; k++) {
        model->nominal[k] = plan_escalated(settings, k);
        model->present[k] = plan_discounted(settings, k);
    }
    model->program = (struct program){.years = settings->years,
                                      .caps = settings->caps,
                                      .roofs = model->roofs,
                                      .roof_count = model->plan->priced,
                                      .buildings = model->buildings,
                                      .building_count = buildings,
                                      .together = settings->together,
                                      .price = price,
                                      .share = share,
                                      .context = model,
                                      .nominal = model->nominal,
                                      .present = model->present};
}

enum outlay_status plan_model_make(struct plan *plan, struct plan_model *out,
                                   struct outlay_error *err)
{
    struct arena *arena = plan->arena;
    size_t most = most_options(plan), used = 0, buildings = 0;
    struct program_roof *roofs = arena_array(arena, plan->priced + 1, sizeof *roofs);
    struct program_option *options = arena_array(arena, most + 1, sizeof *options);
    struct program_building *of = arena_array(arena, plan->priced + 1, sizeof *of);
    enum outlay_status status = OUTLAY_OK;

    *out = (struct plan_model){.plan = plan, .roofs = roofs, .buildings = of};
    out->options = arena_array(arena, most + 1, sizeof *out->options);
    out->first = arena_array(arena, plan->priced + 1, sizeof *out->first);
    out->building = arena_array(arena, plan->priced + 1, sizeof *out->building);
    if (!roofs || !options || !of || !out->options || !out->first || !out->building)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    for (size_t i = 0; status == OUTLAY_OK && i < plan->priced; i++)
        status = add_roof(out, i, &roofs[i], options, &used, err);
    if (status != OUTLAY_OK)
        return status;
    out->first[plan->priced] = used;
    buildings = group(out, of);
    for (size_t b = 0; plan->settings.together && b < buildings; b++)
        if (status == OUTLAY_OK)
            status = check_building(out, &of[b], err);
    set_program(out, buildings);
    return status;
}
