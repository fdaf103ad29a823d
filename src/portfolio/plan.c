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
}

static const struct quote *own_quote(const void *context, size_t i)
{
    (void)i;
    return context;
}

/* Without what a visit costs once. */
static money own_cost(const struct budget_settings *settings, const struct quote *quote)
{
    struct visit visit = visit_of(own_quote, quote, 1);
    money fixed = 0;
    money total = visit_total(&visit, &settings->prices, &fixed);

    return total - fixed;
}

bool plan_gather(struct plan *plan, const struct portfolio *portfolio)
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
                                 .adopted = MISSING,
                                 .soonest = MISSING,
                                 .last = MISSING,
                                 .reason = PLAN_UNPRICED};
        find_age(&plan->settings, of);
        if (!of->money->priced) {
            plan->unpriced++;
            continue;
        }
        plan->priced++;
        plan->assumed += of->basis == AGE_ASSUMED;
        plan->valued += of->money->replacement > 0;
        of->own = own_cost(&plan->settings, of->money->quote);
    }
    plan_order(plan);
    return true;
}

static int compare_places(const void *of_a, const void *of_b)
{
    const struct plan_roof *a = *(struct plan_roof *const *)of_a;
    const struct plan_roof *b = *(struct plan_roof *const *)of_b;

    return (a->roof > b->roof) - (a->roof < b->roof);
}

struct plan_roof **plan_places(struct plan *plan)
{
    struct plan_roof **out = arena_array(plan->arena, plan->count + 1, sizeof *out);

    for (size_t i = 0; out && i < plan->count; i++)
        out[i] = &plan->roofs[i];
    if (out)
        qsort(out, plan->count, sizeof *out, compare_places);
    return out;
}

/* What another plan has read of the adopted one. @return false when out of memory */
static bool adopt_like(struct plan *plan, struct plan *from)
{
    struct plan_roof **to = plan_places(plan), **like = plan_places(from);

    for (size_t i = 0; to && like && i < plan->count; i++) {
        to[i]->was_adopted = like[i]->was_adopted;
        to[i]->adopted = like[i]->adopted;
        to[i]->adopted_action = like[i]->adopted_action;
    }
    plan->gone = from->gone;
    return to && like;
}

/* ---- The search ---- */

static void put_money(char *out, size_t size, money value)
{
    snprintf(out, size, "%lld.%02d", (long long)(value / 100), (int)(value % 100));
}

/* The dearest roof that must be done and is, in the year that is over. */
static const struct plan_roof *dearest(const struct plan *plan,
                                       const struct program_pick *picks, int year)
{
    const struct plan_roof *out = NULL;

    for (size_t i = 0; i < plan->priced; i++) {
        const struct plan_roof *of = &plan->roofs[i];
        struct plan_window window = plan_window_of(&plan->settings, of->money);

        if (window.must && picks[i].option >= 0 && picks[i].year == year &&
            (!out || of->own > out->own))
            out = of;
    }
    return out;
}

/* Says no more than is proven. */
static const char *lead_of(const struct program_answer *answer)
{
    if (!answer->hopeless)
        return "no plan was found that does in time what must be done and keeps the "
               "caps; the nearest one is";
    return answer->state == PROGRAM_GAP
               ? "what must be done by fixed or latest years is"
               : "no plan does in time what must be done and keeps the caps; the nearest "
                 "one found is";
}

static enum outlay_status over_the_caps(const struct plan *plan,
                                        const struct program_answer *answer,
                                        struct outlay_error *err)
{
    char over[32], cap[32];
    const struct plan_roof *worst = NULL;
    int years = 0, first = -1;

    for (int k = plan->settings.years - 1; k >= 0; k--)
        if (answer->over[k] > 0) {
            first = k;
            years++;
        }
    if (first < 0) {
        outlay_fail(err, OUTLAY_E_LIMIT,
                    "no plan keeps the roofs' own years with one visit a building");
        outlay_fail_todo(err, "free latest and fixed_year of some roofs, or plan without "
                              "--together");
        return OUTLAY_E_LIMIT;
    }
    put_money(over, sizeof over, answer->over[first]);
    put_money(cap, sizeof cap, plan->settings.caps[first]);
    worst = dearest(plan, answer->picks, first);
    outlay_fail(err, OUTLAY_E_LIMIT, "%s over the cap of %d (%s) by %s%s",
                lead_of(answer), plan->settings.start + first, cap, over,
                years > 1 ? ", and over those of other years" : "");
    if (worst)
        outlay_fail_where(err, "among others roof %.80s", portfolio_id(worst->roof));
    outlay_fail_todo(err, "raise --cap, or free latest and fixed_year of some roofs%s%s",
                     answer->hopeless ? "" : ", or allow more ",
                     answer->hopeless                ? ""
                     : answer->state == PROGRAM_TIME ? "--time-limit"
                                                     : "--steps");
    return OUTLAY_E_LIMIT;
}

money plan_total(const struct plan_course *course)
{
    const struct plan_sums *sums = &course->sums;

    return course->present + sums->waiting + sums->wind + sums->residual + sums->change;
}

/* Picks of the search and what it starts with. */
enum { START_WORST, START_NOTHING, START_ADOPTED, STARTS };

struct search {
    struct program_pick *starts[STARTS];
    size_t count; /* of starts */
    struct program_pick *best;
};

static bool search_start(const struct plan_model *model, struct search *out)
{
    struct plan *plan = model->plan;
    bool made = true;

    out->count = plan->settings.adopted ? STARTS : START_ADOPTED;
    for (size_t i = 0; i < out->count; i++) {
        out->starts[i] =
            arena_array(plan->arena, plan->priced + 1, sizeof *out->starts[i]);
        made = made && out->starts[i];
    }
    if (!made || !plan_worst_first(model, out->starts[START_WORST]))
        return false;
    plan_do_nothing(model, out->starts[START_NOTHING]);
    plan_follow(model, out->starts[START_WORST], &plan->worst_first);
    plan_follow(model, out->starts[START_NOTHING], &plan->nothing);
    if (out->count == STARTS) {
        size_t unkept = plan_keep_adopted(model, out->starts[START_ADOPTED]);

        plan_follow(model, out->starts[START_ADOPTED], &plan->adopted);
        plan->adopted.unkept = unkept;
        plan->adopted.possible = plan->adopted.possible && unkept == 0;
    }
    return true;
}

/* The search counts in fractions of cents, courses in whole ones: of two plans that are
 * alike but for these, the cheaper one as printed is taken. */
static void keep_better(const struct plan_model *model, struct search *search)
{
    struct plan *plan = model->plan;
    const struct plan_course *courses[STARTS] = {&plan->worst_first, &plan->nothing,
                                                 &plan->adopted};
    enum program_state state = plan->best.state;
    double gap = plan->best.gap;

    for (size_t i = 0; i < search->count && i < STARTS; i++)
        if (courses[i]->possible && plan_total(courses[i]) < plan_total(&plan->best)) {
            search->best = search->starts[i];
            plan->best = *courses[i];
            plan->best.state = state;
            plan->best.gap = gap;
        }
}

static enum outlay_status run_search(struct plan_model *model,
                                     const struct plan_stop *stop, struct search *search,
                                     struct outlay_error *err)
{
    struct plan *plan = model->plan;
    const struct budget_settings *settings = &plan->settings;
    struct program_limits limits = {.gap = settings->gap / 100,
                                    .steps = settings->steps,
                                    .seconds = settings->seconds,
                                    .stop = stop->asked,
                                    .stop_context = stop->context};
    struct program_answer answer;
    enum outlay_status status = program_solve(
        &model->program, &limits, (const struct program_pick *const *)search->starts,
        search->count, plan->arena, &answer, err);

    if (status == OUTLAY_E_LIMIT)
        outlay_fail_todo(err, "raise --cap, free latest and fixed_year of some roofs, or "
                              "allow more --steps");
    if (status == OUTLAY_OK && !answer.feasible)
        status = over_the_caps(plan, &answer, err);
    if (status != OUTLAY_OK)
        return status;
    search->best = answer.picks;
    plan_follow(model, answer.picks, &plan->best);
    plan->best.state = answer.state;
    plan->best.gap =
        answer.value != 0 ? fmax(answer.value - answer.bound, 0) / fabs(answer.value) : 0;
    keep_better(model, search);
    return OUTLAY_OK;
}

/* ---- What becomes of each roof ---- */

static bool any_state_allows(const struct plan *plan, const struct plan_roof *of)
{
    const struct action_list *actions = &plan->settings.actions;
    unsigned states = 0;

    for (size_t i = 0; i < actions->count; i++)
        states |=
            actions->actions[i].kind <= ACTION_RECOVER ? actions->actions[i].states : 0;
    return (states & 1u << of->money->state) != 0;
}

/* What one more roof costs in its building's visit of year k, in hundredths of today. */
static money marginal(const struct plan_model *model, size_t i,
                      struct program_pick *picks, int option, int k)
{
    size_t building = model->building[i];
    struct plan_trip trip = {model, building, &picks[model->buildings[building].first],
                             k};
    struct program_pick kept = picks[i];
    struct visit visit = plan_visit_of(&trip);
    money before = visit_total(&visit, &model->plan->settings.prices, NULL);
    money after = 0;

    picks[i] = (struct program_pick){option, k};
    visit = plan_visit_of(&trip);
    after = visit_total(&visit, &model->plan->settings.prices, NULL);
    picks[i] = kept;
    return after - before;
}

/* The year of the building's visit, where there is one. */
static int visit_year(const struct plan_model *model, size_t i,
                      const struct program_pick *picks)
{
    const struct program_building *of = &model->buildings[model->building[i]];

    for (size_t k = of->first; k < of->first + of->count; k++)
        if (picks[k].option >= 0)
            return picks[k].year;
    return -1;
}

/* Of a roof that isn't done though it may be. */
static enum plan_reason left_out(const struct plan_model *model, size_t i,
                                 struct program_pick *picks)
{
    const struct plan *plan = model->plan;
    const struct program_roof *of = &model->roofs[i];
    int only = model->program.together ? visit_year(model, i, picks) : -1;
    bool gains = false, fits = false, ever = false, apart = false;

    for (size_t o = 0; o < of->option_count; o++)
        for (int k = of->options[o].first; k <= of->options[o].last; k++) {
            money more = marginal(model, i, picks, (int)o, k);
            money cost = llround((double)more * model->nominal[k]);
            const struct plan_year *year = &plan->best.years[k];

            if (of->options[o].values[k] + (double)more * model->present[k] >= of->idle)
                continue;
            if (only >= 0 && k != only) {
                apart = true;
                continue;
            }
            gains = true;
            ever = ever || cost <= year->cap;
            fits = fits || year->cost + cost <= year->cap;
        }
    if (!gains)
        return apart ? PLAN_APART : PLAN_IDLE;
    return !ever ? PLAN_DEAR : fits ? PLAN_GAP : PLAN_LATER;
}

static enum plan_reason reason_of(const struct plan_model *model, size_t i,
                                  struct program_pick *picks)
{
    const struct plan *plan = model->plan;
    const struct plan_roof *of = &plan->roofs[i];
    const struct program_roof *roof = &model->roofs[i];
    struct plan_window window = plan_window_of(&plan->settings, of->money);

    if (picks[i].option >= 0 && of->money->fixed != MISSING)
        return PLAN_FIXED;
    if (picks[i].option >= 0)
        return window.must && window.last == picks[i].year ? PLAN_LATEST : PLAN_CHOSEN;
    if (window.first > window.last)
        return PLAN_OUTSIDE;
    if (roof->option_count == 0)
        return any_state_allows(plan, of) ? PLAN_UNFIT : PLAN_UNHELD;
    return left_out(model, i, picks);
}

/* Shares of a visit in the money of another time: rounded so that they add up. */
static money share_of(money before, money cost, double factor)
{
    return llround((double)(before + cost) * factor) - llround((double)before * factor);
}

static void settle_visit(const struct plan_model *model, size_t building,
                         const struct program_pick *picks, int k,
                         struct plan_visit *visit)
{
    struct plan *plan = model->plan;
    const struct program_building *of = &model->buildings[building];
    struct plan_trip trip = {model, building, &picks[of->first], k};
    struct visit priced = plan_visit_of(&trip);
    money sum = 0, fixed = 0;

    *visit =
        (struct plan_visit){.building = portfolio_building(plan->roofs[of->first].roof),
                            .year = plan->settings.start + k};
    for (size_t i = 0; i < of->count; i++) {
        struct plan_roof *roof = &plan->roofs[of->first + i];

        if (!priced.quote(priced.context, i))
            continue;
        roof->cost = visit_share(&priced, i, &plan->settings.prices).total;
        roof->nominal = share_of(sum, roof->cost, model->nominal[k]);
        roof->present = share_of(sum, roof->cost, model->present[k]);
        sum += roof->cost;
        visit->roofs++;
    }
    (void)visit_total(&priced, &plan->settings.prices, &fixed);
    visit->fixed = llround((double)fixed * model->nominal[k]);
    visit->work = llround((double)sum * model->nominal[k]) - visit->fixed;
}

static void settle_roofs(const struct plan_model *model, struct program_pick *picks)
{
    struct plan *plan = model->plan;

    for (size_t i = 0; i < plan->priced; i++) {
        struct plan_roof *of = &plan->roofs[i];
        const struct program_pick *pick = &picks[i];

        of->reason = reason_of(model, i, picks);
        if (pick->option >= 0) {
            of->action = model->options[model->first[i] + (size_t)pick->option].action;
            of->year = plan->settings.start + pick->year;
        }
        of->sums = plan_sums_of(&plan->settings, of, of->action, pick->year);
    }
}

/* By year; those after the plan next, those without a cost last. */
static int compare_planned(const void *of_a, const void *of_b)
{
    const struct plan_roof *a = of_a, *b = of_b;
    int order = 0;

    if (a->money->priced != b->money->priced)
        return a->money->priced ? -1 : 1;
    if (a->year != b->year)
        return a->year == MISSING || (b->year != MISSING && a->year > b->year) ? 1 : -1;
    if (a->year != MISSING)
        order = strcmp(portfolio_building(a->roof), portfolio_building(b->roof));
    return order ? order : portfolio_compare(a->roof, b->roof);
}

/* Visits stand as their roofs do; the first roof of each is found by walking along. */
static int compare_visits(const void *of_a, const void *of_b)
{
    const struct plan_visit *a = of_a, *b = of_b;

    if (a->year != b->year)
        return a->year < b->year ? -1 : 1;
    if (strcmp(a->building, b->building) != 0)
        return strcmp(a->building, b->building);
    return (a->first > b->first) - (a->first < b->first);
}

static bool settle(const struct plan_model *model, struct program_pick *picks)
{
    struct plan *plan = model->plan;
    size_t first = 0;

    plan->visits = arena_array(plan->arena, plan->best.visits + 1, sizeof *plan->visits);
    if (!plan->visits)
        return false;
    settle_roofs(model, picks);
    for (size_t b = 0; b < model->program.building_count; b++) {
        const struct program_building *of = &model->buildings[b];

        for (int k = 0; k < plan->settings.years; k++) {
            bool visited = false;

            for (size_t i = of->first; i < of->first + of->count; i++)
                visited = visited || (picks[i].option >= 0 && picks[i].year == k);
            if (!visited)
                continue;
            settle_visit(model, b, picks, k, &plan->visits[plan->visit_count]);
            plan->visits[plan->visit_count++].first = b;
        }
    }
    qsort(plan->roofs, plan->count, sizeof *plan->roofs, compare_planned);
    qsort(plan->visits, plan->visit_count, sizeof *plan->visits, compare_visits);
    for (size_t i = 0; i < plan->visit_count; i++) {
        plan->visits[i].first = first;
        first += plan->visits[i].roofs;
    }
    return true;
}

static enum outlay_status fill(struct plan *plan, const struct portfolio *portfolio,
                               struct plan *from, const struct plan_stop *stop,
                               struct outlay_error *err)
{
    struct plan_model model = {.plan = NULL};
    struct search search = {.count = 0};
    enum outlay_status status = OUTLAY_OK;

    if (!plan_gather(plan, portfolio))
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    if (from && !adopt_like(plan, from))
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    if (!from && plan->settings.adopted)
        status = plan_adopt(plan, err);
    if (status == OUTLAY_OK)
        status = plan_model_make(plan, &model, err);
    if (status == OUTLAY_OK && !search_start(&model, &search))
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    if (status == OUTLAY_OK)
        status = run_search(&model, stop, &search, err);
    if (status == OUTLAY_OK && !(settle(&model, search.best) && plan_part_sections(plan)))
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    return status;
}

enum outlay_status plan_make_like(const struct portfolio *portfolio,
                                  const struct budget_settings *settings,
                                  struct plan *from, const struct plan_stop *stop,
                                  struct plan **out, struct outlay_error *err)
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
    status = fill(plan, portfolio, from, stop, err);
    if (status != OUTLAY_OK)
        plan_free(plan);
    else
        *out = plan;
    return status;
}

enum outlay_status plan_make(const struct portfolio *portfolio,
                             const struct budget_settings *settings,
                             const struct plan_stop *stop, struct plan **out,
                             struct outlay_error *err)
{
    return plan_make_like(portfolio, settings, NULL, stop, out, err);
}

void plan_free(struct plan *plan)
{
    if (!plan)
        return;
    arena_free(plan->arena);
    free(plan);
}
