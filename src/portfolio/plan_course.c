/* What comes of picks, year by year. */

#include <math.h>

#include "portfolio/plan_private.h"

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
    double due, value, area;
};

/* The roof at the end of year k, that is as year k + 1 finds it. */
static void follow_roof(const struct plan *plan, const struct plan_roof *of,
                        const struct action *action, int done, int k,
                        struct plan_year *year, struct index_sums *sums)
{
    bool now = action && done == k;
    const struct action *sofar = action && done <= k ? action : NULL;
    struct plan_state state = plan_state_at(&plan->settings, of, sofar, done, k + 1);
    double condition = plan_condition(&plan->settings, &state);
    bool due = condition <= CONDITION_DUE;
    double value = of->money->replacement;

    year->condition_area += of->roof->area * condition / 100;
    sums->area += of->roof->area;
    if (now) {
        year->roofs++;
        year->area += of->roof->area;
        year->retired += action->kind <= ACTION_RECOVER ? force_on(of->roof) : 0;
    }
    if (due)
        year->backlog += plan_nominal(&plan->settings, of->own, k);
    if (value > 0) {
        sums->value += value;
        sums->due += due ? (double)of->own / 100 : 0;
    }
}

static const struct action *action_of(const struct plan_model *model, size_t roof,
                                      const struct program_pick *pick)
{
    return pick->option < 0
               ? NULL
               : model->options[model->first[roof] + (size_t)pick->option].action;
}

static void follow_year(const struct plan_model *model, const struct program_pick *picks,
                        int k, struct plan_year *year)
{
    struct index_sums sums = {0};

    for (size_t i = 0; i < model->program.roof_count; i++)
        follow_roof(model->plan, &model->plan->roofs[i], action_of(model, i, &picks[i]),
                    picks[i].year, k, year, &sums);
    year->condition = sums.area > 0 ? 100 * year->condition_area / sums.area : NAN;
    year->index = sums.value > 0 ? sums.due / sums.value : NAN;
}

/* The visits of a building. @return how many years it has some in */
static int follow_building(const struct plan_model *model, size_t building,
                           const struct program_pick *picks, struct plan_course *out)
{
    const struct program_building *of = &model->buildings[building];
    bool visited[PLAN_YEARS_MAX] = {false};
    int visits = 0;

    for (size_t i = of->first; i < of->first + of->count; i++) {
        int k = picks[i].year;
        struct plan_trip trip = {model, building, &picks[of->first], k};
        struct visit visit;
        money cost = 0;

        if (picks[i].option < 0 || visited[k])
            continue;
        visited[k] = true;
        visits++;
        visit = plan_visit_of(&trip);
        cost = visit_total(&visit, &model->plan->settings.prices, NULL);
        out->years[k].visits++;
        out->years[k].cost += llround((double)cost * model->nominal[k]);
        out->present += llround((double)cost * model->present[k]);
    }
    return visits;
}

static void add_sums(struct plan_sums *to, const struct plan_sums *sums)
{
    to->waiting += sums->waiting;
    to->wind += sums->wind;
    to->residual += sums->residual;
    to->change += sums->change;
}

void plan_follow(const struct plan_model *model, const struct program_pick *picks,
                 struct plan_course *out)
{
    const struct budget_settings *settings = &model->plan->settings;
    bool apart = false;

    *out = (struct plan_course){.gap = NAN};
    for (size_t b = 0; b < model->program.building_count; b++)
        if (follow_building(model, b, picks, out) > 1)
            apart = settings->together;
    for (int k = 0; k < settings->years; k++) {
        struct plan_year *year = &out->years[k];

        year->cap = model->program.caps[k];
        follow_year(model, picks, k, year);
        out->roofs += year->roofs;
        out->visits += year->visits;
        out->cost += year->cost;
        out->cap += year->cap;
        out->over += year->cost > year->cap;
    }
    for (size_t i = 0; i < model->program.roof_count; i++) {
        struct plan_sums sums =
            plan_sums_of(settings, &model->plan->roofs[i], action_of(model, i, &picks[i]),
                         picks[i].year);

        add_sums(&out->sums, &sums);
        out->late += model->roofs[i].must && picks[i].option < 0;
    }
    out->possible = !apart && out->late == 0 && out->over == 0;
}
