#include "portfolio/program_scheme.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What a hundredth above a cap counts while an answer is made: more than any value. */
static const double over = 1e6;

enum { PASSES_MAX = 6, SHAKEN = 5 };

/* Where a building comes in the order of being put in. */
struct rank {
    double gain; /* for each hundredth that it takes of the caps, tolls paid */
    size_t part;
};

bool scheme_make(struct scheme *scheme, struct desk *desk, struct arena *arena)
{
    const struct parts *parts = desk->parts;
    size_t years = (size_t)parts->program->years, roofs = parts->most_roofs + 1;

    *scheme = (struct scheme){
        .desk = desk,
        .picks =
            arena_array(arena, parts->program->roof_count + 1, sizeof *scheme->picks),
        .costs = arena_array(arena, (parts->count + 1) * years, sizeof *scheme->costs),
        .values = arena_array(arena, parts->count + 1, sizeof *scheme->values),
        .left = arena_array(arena, years, sizeof *scheme->left),
        .weight = 1,
        .plan = arena_array(arena, roofs, sizeof *scheme->plan),
        .kept_picks = arena_array(arena, SHAKEN * roofs, sizeof *scheme->kept_picks),
        .plan_costs = arena_array(arena, years, sizeof *scheme->plan_costs),
        .room = arena_array(arena, years, sizeof *scheme->room),
        .kept_costs = arena_array(arena, SHAKEN * years, sizeof *scheme->kept_costs),
        .kept_values = arena_array(arena, SHAKEN, sizeof *scheme->kept_values),
        .tolls = arena_array(arena, years, sizeof *scheme->tolls),
        .order = arena_array(arena, parts->count + 1, sizeof *scheme->order),
    };
    return scheme->picks && scheme->costs && scheme->values && scheme->left &&
           scheme->plan && scheme->kept_picks && scheme->plan_costs && scheme->room &&
           scheme->kept_costs && scheme->kept_values && scheme->tolls && scheme->order;
}

void scheme_copy(struct scheme *to, const struct scheme *from)
{
    const struct parts *parts = from->desk->parts;
    size_t years = (size_t)parts->program->years;

    memcpy(to->picks, from->picks, parts->program->roof_count * sizeof *to->picks);
    memcpy(to->costs, from->costs, parts->count * years * sizeof *to->costs);
    memcpy(to->values, from->values, parts->count * sizeof *to->values);
    memcpy(to->left, from->left, years * sizeof *to->left);
    to->value = from->value;
}

money scheme_excess(const struct scheme *scheme)
{
    money sum = 0;

    for (int k = 0; k < scheme->desk->parts->program->years; k++)
        sum -= scheme->left[k] < 0 ? scheme->left[k] : 0;
    return sum;
}

bool scheme_better(const struct scheme *a, const struct scheme *b)
{
    money more = scheme_excess(a), less = scheme_excess(b);

    return more != less ? more < less : a->weight * a->value < b->weight * b->value;
}

/* ---- One building ---- */

static money *costs_of(struct scheme *scheme, size_t part)
{
    return scheme->costs + part * (size_t)scheme->desk->parts->program->years;
}

/* Puts a plan in the place of a building's. */
static void put(struct scheme *scheme, size_t b, const struct program_pick *picks,
                const money *costs, double value)
{
    const struct part *part = &scheme->desk->parts->list[b];
    int years = scheme->desk->parts->program->years;
    money *of = costs_of(scheme, b);

    for (int k = 0; k < years; k++) {
        scheme->left[k] += of[k] - costs[k];
        of[k] = costs[k];
    }
    memcpy(scheme->picks + part->first, picks, part->count * sizeof *picks);
    scheme->value += value - scheme->values[b];
    scheme->values[b] = value;
}

/* Nothing is done to a building, also where something must be. */
static void take_out(struct scheme *scheme, size_t b)
{
    const struct parts *parts = scheme->desk->parts;
    const struct part *part = &parts->list[b];

    for (size_t i = 0; i < part->count; i++)
        scheme->plan[i] = (struct program_pick){-1, 0};
    put(scheme, b, scheme->plan,
        memset(scheme->plan_costs, 0,
               (size_t)parts->program->years * sizeof *scheme->plan_costs),
        part_value(parts, part, scheme->plan, scheme->desk->trial, scheme->room));
}

/* The best plan in what the others leave; above the caps only where there is no other. */
static bool plan_again(struct scheme *scheme, size_t b, const double *toll)
{
    const struct parts *parts = scheme->desk->parts;
    const struct part *part = &parts->list[b];
    struct judge judge = {scheme->weight, toll, scheme->room,
                          scheme->weight > 0 ? INFINITY : 1, NULL};
    const money *of = costs_of(scheme, b);
    double sum, value;

    for (int k = 0; k < parts->program->years; k++)
        scheme->room[k] = scheme->left[k] + of[k];
    memcpy(scheme->plan, scheme->picks + part->first, part->count * sizeof *scheme->plan);
    sum = best_plan(scheme->desk, part, &judge, scheme->plan, scheme->plan_costs);
    if (sum == INFINITY) {
        judge.over = over;
        sum = best_plan(scheme->desk, part, &judge, scheme->plan, scheme->plan_costs);
    }
    if (sum == INFINITY)
        return false;
    value =
        part_value(parts, part, scheme->plan, scheme->desk->trial, scheme->plan_costs);
    put(scheme, b, scheme->plan, scheme->plan_costs, value);
    return true;
}

bool scheme_take(struct scheme *scheme, const struct program_pick *picks)
{
    const struct parts *parts = scheme->desk->parts;
    const struct program *program = parts->program;

    for (size_t i = 0; i < program->roof_count; i++) {
        const struct program_roof *roof = &program->roofs[i];
        int option = picks[i].option, year = picks[i].year;

        if (option < 0 ? roof->must
                       : (size_t)option >= roof->option_count ||
                             year < roof->options[option].first ||
                             year > roof->options[option].last)
            return false;
    }
    memset(scheme->costs, 0,
           parts->count * (size_t)program->years * sizeof *scheme->costs);
    memcpy(scheme->left, program->caps, (size_t)program->years * sizeof *scheme->left);
    memset(scheme->values, 0, parts->count * sizeof *scheme->values);
    scheme->value = 0;
    for (size_t b = 0; b < parts->count; b++) {
        const struct part *part = &parts->list[b];
        const struct program_pick *of = picks + part->first;
        int year = -1;

        for (size_t i = 0; i < part->count; i++) {
            if (of[i].option < 0)
                continue;
            if (program->together && year >= 0 && of[i].year != year)
                return false;
            year = of[i].year;
        }
        put(scheme, b, of, scheme->plan_costs,
            part_value(parts, part, of, scheme->desk->trial, scheme->plan_costs));
    }
    return true;
}

/* ---- All buildings ---- */

static int compare_ranks(const void *left, const void *right)
{
    const struct rank *a = left, *b = right;

    if (a->gain != b->gain)
        return a->gain > b->gain ? -1 : 1;
    return a->part < b->part ? -1 : a->part > b->part;
}

/* What a building gains for each hundredth of the caps; what must be done goes first, the
 * dearest of it before all. */
static double gain_of(struct scheme *scheme, size_t b, const double *toll)
{
    const struct parts *parts = scheme->desk->parts;
    const struct part *part = &parts->list[b];
    struct judge judge = {scheme->weight, toll, NULL, INFINITY, NULL};
    double idle = 0, sum, cost = 0;

    for (size_t i = 0; i < part->count; i++) {
        const struct program_roof *roof = part_roof(parts, part, i);

        scheme->plan[i] = (struct program_pick){-1, 0};
        idle += roof->must ? INFINITY : scheme->weight * roof->idle;
    }
    memset(scheme->plan_costs, 0,
           (size_t)parts->program->years * sizeof *scheme->plan_costs);
    sum = best_plan(scheme->desk, part, &judge, scheme->plan, scheme->plan_costs);
    for (int k = 0; k < parts->program->years; k++)
        cost += (double)scheme->plan_costs[k];
    if (isinf(idle))
        return 1e12 + cost;
    return cost > 0 ? (idle - sum) / cost : 0;
}

static double scaled_pass(struct scheme *scheme, const double *toll, double share)
{
    const struct parts *parts = scheme->desk->parts;
    double before = scheme->value;

    for (int k = 0; k < parts->program->years; k++)
        scheme->tolls[k] = toll[k] * share;
    for (size_t i = 0; i < parts->count && watch_go(scheme->desk->watch, 1); i++)
        (void)plan_again(scheme, scheme->order[i].part, scheme->tolls);
    return before - scheme->value;
}

bool scheme_fill(struct scheme *scheme, const double *toll)
{
    const struct parts *parts = scheme->desk->parts;
    struct watch *watch = scheme->desk->watch;
    bool all = true;

    memset(scheme->costs, 0,
           parts->count * (size_t)parts->program->years * sizeof *scheme->costs);
    memset(scheme->values, 0, parts->count * sizeof *scheme->values);
    memcpy(scheme->left, parts->program->caps,
           (size_t)parts->program->years * sizeof *scheme->left);
    scheme->value = 0;
    for (size_t b = 0; b < parts->count && watch_go(watch, 1); b++) {
        scheme->order[b] = (struct rank){gain_of(scheme, b, toll), b};
        take_out(scheme, b);
    }
    if (!watch_go(watch, 0))
        return false;
    qsort(scheme->order, parts->count, sizeof *scheme->order, compare_ranks);
    for (size_t i = 0; all && i < parts->count && watch_go(watch, 1); i++)
        all = plan_again(scheme, scheme->order[i].part, toll);
    if (!all || !watch_go(watch, 0))
        return false;
    (void)scaled_pass(scheme, toll, 0.9);
    (void)scaled_pass(scheme, toll, 0.5);
    for (int i = 0; i < PASSES_MAX && scaled_pass(scheme, toll, 0) > 0; i++)
        ;
    return true;
}

/* ---- Shaking ---- */

/* xorshift64: the same numbers on every machine. */
static size_t random_below(uint64_t *state, size_t count)
{
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    return (size_t)(*state >> 11) % count;
}

/* Takes parts out and puts them back by tolls times a share for each year, then
 * without. */
static bool shake(struct scheme *scheme, const double *toll, const size_t *taken,
                  size_t count, uint64_t *state)
{
    static const double shares[] = {0, 0.5, 0.9, 1, 1.1, 1.5};
    int years = scheme->desk->parts->program->years;
    bool whole = true;

    for (int k = 0; k < years; k++)
        scheme->tolls[k] =
            toll[k] * shares[random_below(state, sizeof shares / sizeof *shares)];
    for (size_t i = 0; i < count; i++)
        take_out(scheme, taken[i]);
    for (size_t i = 0; whole && i < count; i++)
        whole = plan_again(scheme, taken[i], scheme->tolls);
    for (size_t i = count; whole && i-- > 0;)
        whole = plan_again(scheme, taken[i], NULL);
    return whole && watch_go(scheme->desk->watch, 1);
}

static void keep(struct scheme *scheme, const size_t *taken, size_t count)
{
    const struct parts *parts = scheme->desk->parts;
    size_t years = (size_t)parts->program->years;

    for (size_t i = 0; i < count; i++) {
        const struct part *part = &parts->list[taken[i]];

        memcpy(scheme->kept_picks + i * (parts->most_roofs + 1),
               scheme->picks + part->first, part->count * sizeof *scheme->picks);
        memcpy(scheme->kept_costs + i * years, costs_of(scheme, taken[i]),
               years * sizeof *scheme->costs);
        scheme->kept_values[i] = scheme->values[taken[i]];
    }
}

static void put_back(struct scheme *scheme, const size_t *taken, size_t count)
{
    const struct parts *parts = scheme->desk->parts;
    size_t years = (size_t)parts->program->years;

    for (size_t i = 0; i < count; i++)
        put(scheme, taken[i], scheme->kept_picks + i * (parts->most_roofs + 1),
            scheme->kept_costs + i * years, scheme->kept_values[i]);
}

/* Different ones. */
static size_t choose(size_t parts, uint64_t *state, size_t *taken)
{
    size_t count = 2 + random_below(state, SHAKEN - 1);

    count = count > parts ? parts : count;
    for (size_t i = 0; i < count;) {
        bool known = false;

        taken[i] = random_below(state, parts);
        for (size_t j = 0; j < i; j++)
            known = known || taken[j] == taken[i];
        i += !known;
    }
    return count;
}

/* What is to get lower; INFINITY where the caps must hold and don't. */
static double counted(const struct scheme *scheme)
{
    money excess = scheme_excess(scheme);

    if (scheme->weight > 0)
        return excess > 0 ? INFINITY : scheme->value;
    return (double)excess;
}

void scheme_shake(struct scheme *scheme, const double *toll, double steps, double enough)
{
    struct watch *watch = scheme->desk->watch;
    uint64_t state = 88172645463325252u;

    while (watch->steps < steps && watch_go(watch, 100) && counted(scheme) > enough) {
        size_t taken[SHAKEN];
        size_t count = choose(scheme->desk->parts->count, &state, taken);
        double value = scheme->value;
        money excess = scheme_excess(scheme), now;
        bool whole;

        keep(scheme, taken, count);
        whole = shake(scheme, toll, taken, count, &state);
        now = scheme_excess(scheme);
        if (!whole || now > excess || (now == excess && scheme->value > value + 1e-6)) {
            put_back(scheme, taken, count);
            scheme->value = value;
        }
    }
}
