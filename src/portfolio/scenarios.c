/* Other caps, a year's delay, other lives, and the cap that reaches a target. */

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/print.h"
#include "portfolio/plan_private.h"

/* What scenarios are made with. */
struct making {
    struct plan *plan;
    const struct portfolio *portfolio;
    const struct plan_stop *stop;
    struct outlay_error *err;
};

/* ---- One more plan ---- */

static bool put(struct plan *plan, const char *name, const struct plan_course *course)
{
    struct plan_scenario *out = &plan->scenarios[plan->scenario_count];

    *out = (struct plan_scenario){
        arena_text(plan->arena, name, strlen(name)), course != NULL, {.gap = NAN}};
    if (course)
        out->course = *course;
    plan->scenario_count++;
    return out->name != NULL;
}

/* There are many, and they are held against each other: each is searched to this gap, in
 * percent, or the plan's, and with a share of the plan's work (ours). */
static const double scenario_gap = 0.1;
enum { WORK_SHARE = 20 };

/* A plan by other settings; caps that hold nothing are a result.
 * @param[out] other  owned; NULL where there is none */
static enum outlay_status solve(const struct making *making, const char *name,
                                const struct budget_settings *settings,
                                struct plan **other)
{
    struct budget_settings cheaper = *settings;
    enum outlay_status status = OUTLAY_OK;

    cheaper.gap = fmax(settings->gap, scenario_gap);
    cheaper.steps = settings->steps / WORK_SHARE;
    status = plan_make_like(making->portfolio, &cheaper, making->plan, making->stop,
                            other, making->err);
    if (status != OUTLAY_OK && status != OUTLAY_E_LIMIT)
        return status;
    if (!put(making->plan, name, *other ? &(*other)->best : NULL)) {
        plan_free(*other);
        *other = NULL;
        return outlay_fail(making->err, OUTLAY_E_MEMORY, "out of memory");
    }
    return OUTLAY_OK;
}

static enum outlay_status solve_alone(const struct making *making, const char *name,
                                      const struct budget_settings *settings)
{
    struct plan *other = NULL;
    enum outlay_status status = solve(making, name, settings, &other);

    plan_free(other);
    return status;
}

/* ---- Caps ---- */

static enum outlay_status scale_caps(const struct making *making, int percent)
{
    struct budget_settings settings = making->plan->settings;
    char name[40];

    for (int k = 0; k < settings.years; k++)
        settings.caps[k] += settings.caps[k] / 100 * percent;
    snprintf(name, sizeof name, "caps %+d %%", percent);
    return solve_alone(making, name, &settings);
}

/* A fifth of each cap goes to the year as far from the other end. */
static enum outlay_status move_caps(const struct making *making, bool forward)
{
    struct budget_settings settings = making->plan->settings;

    for (int k = 0; k < settings.years / 2; k++) {
        int far = settings.years - 1 - k;
        money moved = (forward ? settings.caps[far] : settings.caps[k]) / 5;

        settings.caps[k] += forward ? moved : -moved;
        settings.caps[far] -= forward ? moved : -moved;
    }
    return solve_alone(making,
                       forward ? "20 % of later caps brought forward"
                               : "20 % of earlier caps put off",
                       &settings);
}

static enum outlay_status delay(const struct making *making)
{
    struct budget_settings settings = making->plan->settings;

    settings.caps[0] = 0;
    return solve_alone(making, "nothing in the first year", &settings);
}

/* ---- Lives ---- */

/* Widens each roof's range of years by those of another plan. */
static bool widen(struct plan *plan, struct plan *other)
{
    struct plan_roof **of = plan_places(plan), **by = plan_places(other);

    for (size_t i = 0; of && by && i < plan->count; i++) {
        int year = by[i]->year;

        if (year == MISSING)
            continue;
        if (of[i]->soonest == MISSING || year < of[i]->soonest)
            of[i]->soonest = year;
        if (of[i]->last == MISSING || year > of[i]->last)
            of[i]->last = year;
    }
    return of && by;
}

static enum outlay_status spread_lives(const struct making *making, int sign)
{
    struct budget_settings settings = making->plan->settings;
    double percent = sign * settings.life_spread;
    struct plan *other = NULL;
    enum outlay_status status = OUTLAY_OK;
    char name[40];

    if (!(settings.life_spread > 0))
        return OUTLAY_OK;
    print_into(name, sizeof name, "service lives %+.0f %%", percent);
    settings.curve.life *= 1 + percent / 100;
    status = solve(making, name, &settings, &other);
    if (other && !widen(making->plan, other))
        status = outlay_fail(making->err, OUTLAY_E_MEMORY, "out of memory");
    plan_free(other);
    return status;
}

/* ---- The cap that reaches a target ---- */

static bool reaches(const struct budget_settings *settings,
                    const struct plan_course *course)
{
    int k = settings->target_year == MISSING ? settings->years - 1
                                             : settings->target_year - settings->start;
    const struct plan_year *year = &course->years[k];

    return (isnan(settings->target_index) || year->index <= settings->target_index) &&
           (isnan(settings->target_backlog) ||
            (double)year->backlog <= 100 * settings->target_backlog);
}

static bool follow_worst(struct plan_model *model, money cap, struct program_pick *picks,
                         struct plan_course *out)
{
    money caps[PLAN_YEARS_MAX] = {0};
    bool followed = false;

    for (int k = 0; k < model->program.years; k++)
        caps[k] = cap;
    model->program.caps = caps;
    followed = plan_worst_first(model, picks);
    if (followed)
        plan_follow(model, picks, out);
    model->program.caps = model->plan->settings.caps;
    return followed;
}

enum { HALVINGS = 20 };

/* Hundredths that no year of work costs. */
#define ANY_CAP ((money)10000000000000000)

/* Going worst first, since a plan of least cost doesn't aim at an index. */
static enum outlay_status find_cap(const struct making *making, struct plan_model *model,
                                   struct program_pick *picks)
{
    const struct budget_settings *settings = &making->plan->settings;
    struct plan_course course, best = {.roofs = 0};
    money low = 0, high = 100;
    char name[80];
    bool solved = follow_worst(model, ANY_CAP, picks, &best);

    if (solved && !reaches(settings, &best))
        return put(making->plan, "least constant cap for the target: none reaches it",
                   NULL)
                   ? OUTLAY_OK
                   : outlay_fail(making->err, OUTLAY_E_MEMORY, "out of memory");
    for (int k = 0; k < settings->years; k++)
        high += best.years[k].cost;
    for (int i = 0; solved && i < HALVINGS; i++) {
        money middle = low + (high - low) / 2;

        solved = follow_worst(model, middle, picks, &course);
        if (making->stop->asked && making->stop->asked(making->stop->context))
            return outlay_fail(making->err, OUTLAY_E_INTERRUPTED, "interrupted");
        if (solved && reaches(settings, &course) && course.late == 0) {
            high = middle;
            best = course;
        } else
            low = middle;
    }
    snprintf(name, sizeof name, "least constant cap for the target, worst first: %lld",
             (long long)(high / 100));
    return solved && put(making->plan, name, &best)
               ? OUTLAY_OK
               : outlay_fail(making->err, OUTLAY_E_MEMORY, "out of memory");
}

static enum outlay_status reach_target(const struct making *making)
{
    const struct budget_settings *settings = &making->plan->settings;
    enum outlay_status status = OUTLAY_OK;
    struct plan_model model = {.plan = NULL};
    struct plan copy = {.settings = *settings};
    struct program_pick *picks = NULL;

    if (isnan(settings->target_index) && isnan(settings->target_backlog))
        return OUTLAY_OK;
    copy.arena = arena_new();
    if (!copy.arena)
        return outlay_fail(making->err, OUTLAY_E_MEMORY, "out of memory");
    status = plan_gather(&copy, making->portfolio)
                 ? plan_model_make(&copy, &model, making->err)
                 : outlay_fail(making->err, OUTLAY_E_MEMORY, "out of memory");
    if (status == OUTLAY_OK) {
        picks = arena_array(copy.arena, copy.priced + 1, sizeof *picks);
        status = picks ? find_cap(making, &model, picks)
                       : outlay_fail(making->err, OUTLAY_E_MEMORY, "out of memory");
    }
    arena_free(copy.arena);
    return status;
}

enum outlay_status plan_scenarios(struct plan *plan, const struct portfolio *portfolio,
                                  const struct plan_stop *stop, struct outlay_error *err)
{
    static const int percents[] = {-20, -10, 10, 20};
    const struct making making = {plan, portfolio, stop, err};
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = 0; status == OUTLAY_OK && i < sizeof percents / sizeof percents[0];
         i++)
        status = scale_caps(&making, percents[i]);
    for (int forward = 1; status == OUTLAY_OK && plan->settings.years > 1 && forward >= 0;
         forward--)
        status = move_caps(&making, forward);
    if (status == OUTLAY_OK)
        status = delay(&making);
    if (status == OUTLAY_OK && !widen(plan, plan))
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    for (int sign = -1; status == OUTLAY_OK && sign <= 1; sign += 2)
        status = spread_lives(&making, sign);
    return status == OUTLAY_OK ? reach_target(&making) : status;
}
