#include <math.h>

#include "portfolio/caps.h"
#include "portfolio/plan_private.h"

struct budget_settings budget_defaults(void)
{
    return (struct budget_settings){.start = MISSING,
                                    .years = 5,
                                    .waiting = 12,
                                    .consequence = 0.25,
                                    .escalation = 3,
                                    .discount = 3,
                                    .curve = {.life = 20, .shape = 2.5},
                                    .life_spread = 20,
                                    .change = 2,
                                    .target_index = NAN,
                                    .target_backlog = NAN,
                                    .target_year = MISSING,
                                    .gap = 0.01,
                                    .steps = 2000,
                                    .seconds = 600};
}

enum outlay_status budget_settings_read(struct budget_settings *settings,
                                        struct outlay_error *err)
{
    if (!settings->cap)
        return OUTLAY_OK;
    if (caps_read(settings->cap, settings->years, settings->caps, err) != OUTLAY_OK)
        return OUTLAY_E_USAGE;
    if (settings->start == MISSING) {
        outlay_fail(err, OUTLAY_E_USAGE, "a plan needs its first year");
        outlay_fail_todo(err, "give --start 2027");
        return OUTLAY_E_USAGE;
    }
    if (settings->target_year == MISSING ||
        (settings->target_year >= settings->start &&
         settings->target_year < settings->start + settings->years))
        return OUTLAY_OK;
    outlay_fail(err, OUTLAY_E_USAGE, "target-year %d isn't in the plan of %d to %d",
                settings->target_year, settings->start,
                settings->start + settings->years - 1);
    outlay_fail_todo(err, "name a year of the plan, or plan more --years");
    return OUTLAY_E_USAGE;
}

const char *plan_reason_words(int reason)
{
    static const char *const words[] = {
#define X(code, text) text,
        PLAN_REASON_MAP(X)
#undef X
    };

    return reason >= 0 && reason < PLAN_REASONS ? words[reason] : NULL;
}

const char *plan_age_name(int age)
{
    static const char *const names[] = {"given", "from age", "assumed"};

    return age >= 0 && age <= AGE_ASSUMED ? names[age] : NULL;
}

/* ---- Closed forms ---- */

double plan_escalated(const struct budget_settings *settings, int k)
{
    return pow(1 + settings->escalation / 100, k);
}

double plan_discounted(const struct budget_settings *settings, int k)
{
    return pow((1 + settings->escalation / 100) / (1 + settings->discount / 100), k);
}

money plan_nominal(const struct budget_settings *settings, money cost, int k)
{
    return llround((double)cost * plan_escalated(settings, k));
}

double plan_rate(const struct budget_settings *settings, double condition)
{
    double worn = (100 - condition) / 100;

    return settings->waiting / 100 * worn * worn;
}

/* What isn't given is less than any category. */
double plan_consequence(const struct budget_settings *settings,
                        const struct portfolio_roof *roof)
{
    int by_use = building_use_category((enum building_use)roof->use);
    int category = by_use > roof->risk ? by_use : roof->risk;

    return category == MISSING ? 1 : fmax(1 + settings->consequence * (category - 2), 0);
}

static double overload(const struct portfolio_roof *roof)
{
    double over = (double)roof->demand / (double)roof->capacity - 1;

    return roof->capacity > 0 && over > 0 ? over : 0;
}

/* ---- One roof on its way ---- */

static struct plan_state state_after(const struct budget_settings *settings,
                                     const struct action *action, double age)
{
    struct plan_state state = {age, settings->curve.life};
    struct condition_curve curve = settings->curve;

    if (!isnan(action->life))
        state.life = curve.life = action->life;
    state.age = isnan(action->gives_years)
                    ? condition_age(&curve, action->gives_condition)
                    : fmax(age - action->gives_years, 0);
    return state;
}

struct plan_state plan_state_at(const struct budget_settings *settings,
                                const struct plan_roof *of, const struct action *action,
                                int done, int k)
{
    struct plan_state state = {of->age + k, settings->curve.life};

    if (!action || k < done)
        return state;
    state = state_after(settings, action, of->age + done);
    state.age += k - done;
    return state;
}

double plan_condition(const struct budget_settings *settings,
                      const struct plan_state *state)
{
    struct condition_curve curve = {state->life, settings->curve.shape};

    return condition_at(&curve, state->age);
}

struct plan_sums plan_sums_of(const struct budget_settings *settings,
                              const struct plan_roof *of, const struct action *action,
                              int done)
{
    double own = (double)of->own, waiting = 0, wind = 0, change = 0;
    struct plan_state state = plan_state_at(settings, of, action, done, settings->years);
    double left =
        fmax(state.life - state.age, 0) / fmax(state.life, settings->curve.life);
    bool covers = action && action->kind <= ACTION_RECOVER;

    for (int j = 0; j < settings->years; j++) {
        struct plan_state now = plan_state_at(settings, of, action, done, j);
        double present = own * plan_discounted(settings, j);

        waiting += present * plan_rate(settings, plan_condition(settings, &now));
        if (!covers || j < done)
            wind += present * overload(of->roof);
    }
    if (of->was_adopted &&
        (action != of->adopted_action ||
         (of->adopted == MISSING ? action != NULL
                                 : !action || settings->start + done != of->adopted)))
        change = own * settings->change / 100;
    return (struct plan_sums){
        .waiting = llround(waiting * plan_consequence(settings, of->roof)),
        .wind = llround(wind * settings->wind),
        .residual = -llround(own * plan_discounted(settings, settings->years) * left),
        .change = llround(change)};
}
