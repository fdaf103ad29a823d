/* Plans that the search begins with: worst first, the adopted one, nothing. */

#include <stdlib.h>
#include <string.h>

#include "portfolio/plan_private.h"

void plan_do_nothing(const struct plan_model *model, struct program_pick *picks)
{
    for (size_t i = 0; i < model->program.roof_count; i++)
        picks[i] = (struct program_pick){-1, 0};
}

/* The option of an action in year k; -1: it can't be done then. */
static int option_of(const struct plan_model *model, size_t roof,
                     const struct action *action, int k)
{
    const struct program_roof *of = &model->roofs[roof];

    for (size_t i = 0; i < of->option_count; i++)
        if (of->options[i].first <= k && k <= of->options[i].last &&
            (!action || model->options[model->first[roof] + i].action == action))
            return (int)i;
    return -1;
}

size_t plan_keep_adopted(const struct plan_model *model, struct program_pick *picks)
{
    const struct plan *plan = model->plan;
    size_t unkept = 0;

    plan_do_nothing(model, picks);
    for (size_t i = 0; i < model->program.roof_count; i++) {
        const struct plan_roof *of = &plan->roofs[i];
        int k = of->adopted - plan->settings.start;
        int option = -1;

        if (of->adopted == MISSING || k < 0)
            continue;
        if (of->adopted_action && k < plan->settings.years)
            option = option_of(model, i, of->adopted_action, k);
        picks[i] = (struct program_pick){option, k};
        unkept += option < 0;
    }
    return unkept;
}

/* ---- Worst first ---- */

struct worst {
    double age;
    size_t roof;
};

static int compare_worst(const void *of_a, const void *of_b)
{
    const struct worst *a = of_a, *b = of_b;

    if (a->age != b->age)
        return a->age > b->age ? -1 : 1;
    return a->roof < b->roof ? -1 : a->roof > b->roof;
}

static money nominal(const struct plan_model *model, size_t building,
                     const struct program_pick *picks, int k)
{
    struct plan_trip trip = {model, building, &picks[model->buildings[building].first],
                             k};
    struct visit visit = plan_visit_of(&trip);
    money cost = visit_total(&visit, &model->plan->settings.prices, NULL);

    return llround((double)cost * model->nominal[k]);
}

/* Puts what a roof takes along into year k. With --together that is all of its building
 * that can be done then. @return false where a roof that must be done would be left */
static bool put(const struct plan_model *model, size_t roof, int k,
                struct program_pick *picks)
{
    const struct program_building *of = &model->buildings[model->building[roof]];
    bool together = model->program.together, whole = true;
    size_t first = together ? of->first : roof;
    size_t end = together ? of->first + of->count : roof + 1;

    for (size_t i = first; i < end; i++) {
        int option = option_of(model, i, NULL, k);

        if (picks[i].option >= 0)
            continue;
        picks[i] = (struct program_pick){option, k};
        whole = whole && (option >= 0 || !model->roofs[i].must);
    }
    return whole;
}

static void take_back(const struct plan_model *model, size_t roof,
                      struct program_pick *picks)
{
    const struct program_building *of = &model->buildings[model->building[roof]];
    bool together = model->program.together;
    size_t first = together ? of->first : roof;

    for (size_t i = first; i < first + (together ? of->count : 1); i++)
        picks[i].option = -1;
}

static void take(const struct plan_model *model, size_t roof, int k, money *left,
                 struct program_pick *picks)
{
    size_t building = model->building[roof];
    money before = 0, more = 0;

    if (picks[roof].option >= 0 || option_of(model, roof, NULL, k) < 0)
        return;
    if (model->program.together)
        for (size_t i = 0; i < model->buildings[building].count; i++)
            if (picks[model->buildings[building].first + i].option >= 0)
                return;
    before = nominal(model, building, picks, k);
    if (put(model, roof, k, picks))
        more = nominal(model, building, picks, k) - before;
    else
        more = *left + 1;
    if (more > *left)
        take_back(model, roof, picks);
    else
        *left -= more;
}

/* Whether a roof can't be done later than year k. */
static bool now_or_never(const struct plan_model *model, size_t roof, int k)
{
    const struct program_roof *of = &model->roofs[roof];
    int last = -1;

    for (size_t i = 0; i < of->option_count; i++)
        last = of->options[i].last > last ? of->options[i].last : last;
    return of->must && last == k;
}

bool plan_worst_first(const struct plan_model *model, struct program_pick *picks)
{
    size_t count = model->program.roof_count;
    struct worst *order = calloc(count + 1, sizeof *order);

    plan_do_nothing(model, picks);
    for (size_t i = 0; order && i < count; i++)
        order[i] = (struct worst){model->plan->roofs[i].age, i};
    if (order)
        qsort(order, count, sizeof *order, compare_worst);
    for (int k = 0; order && k < model->program.years; k++) {
        money left = model->program.caps[k];

        for (size_t i = 0; i < count; i++)
            if (now_or_never(model, order[i].roof, k))
                take(model, order[i].roof, k, &left, picks);
        for (size_t i = 0; i < count; i++)
            take(model, order[i].roof, k, &left, picks);
    }
    free(order);
    return order != NULL;
}
