/* Buildings with more visits than can be priced: plans that grow, and what no plan is
 * below. */

#include <math.h>
#include <string.h>

#include "portfolio/program_best.h"

/* ---- Plans that grow and trade ---- */

enum { PASSES_MAX = 20 };

static bool in_window(const struct program_option *option, int year)
{
    return year >= option->first && year <= option->last;
}

static double judge_roof(const struct judge *judge, const struct program_roof *roof,
                         struct program_pick pick)
{
    if (pick.option >= 0)
        return judge->weight * roof->options[pick.option].values[pick.year];
    return roof->must ? INFINITY : judge->weight * roof->idle;
}

static double judge_year(struct desk *desk, const struct part *part,
                         const struct judge *judge, const struct program_pick *picks,
                         int year)
{
    money price = part_price(desk->parts, part, picks, year, desk->trial);

    (void)watch_go(desk->watch, 4 * (double)part->count);
    return judge_visit(judge, desk->parts->program, price, year);
}

static double judge_plan(struct desk *desk, const struct part *part,
                         const struct judge *judge, const struct program_pick *picks)
{
    double sum = 0;

    for (size_t i = 0; i < part->count; i++)
        sum += judge_roof(judge, part_roof(desk->parts, part, i), picks[i]);
    for (int year = 0; year < desk->parts->program->years; year++)
        sum += judge_year(desk, part, judge, picks, year);
    return sum;
}

/* All roofs in one year, each by what counts least without the visit; where that isn't
 * allowed, idle or, if that isn't either, in its first year. */
static void seed(const struct desk *desk, const struct part *part,
                 const struct judge *judge, int year, struct program_pick *picks)
{
    for (size_t i = 0; i < part->count; i++) {
        const struct program_roof *roof = part_roof(desk->parts, part, i);
        struct program_pick best = {-1, 0};
        double least = INFINITY;

        for (size_t o = 0; o < roof->option_count; o++) {
            const struct program_option *option = &roof->options[o];
            struct program_pick pick = {(int)o, year};

            if (!in_window(option, year) && roof->must && option->first <= option->last)
                pick.year = year < option->first ? option->first : option->last;
            if (in_window(option, pick.year) && judge_roof(judge, roof, pick) < least) {
                least = judge_roof(judge, roof, pick);
                best = pick;
            }
        }
        picks[i] = best;
    }
}

/* The visits of a plan, judged: those that a move changes are judged again. */
struct growth {
    struct desk *desk;
    const struct part *part;
    const struct judge *judge;
    struct program_pick *picks;
    double *years; /* by year: what its visit counts */
};

/* Does it when the whole counts less then. @return whether it did */
static bool try_pick(struct growth *growth, size_t i, struct program_pick pick)
{
    struct desk *desk = growth->desk;
    const struct program_roof *roof = part_roof(desk->parts, growth->part, i);
    struct program_pick old = growth->picks[i];
    double before = judge_roof(growth->judge, roof, old);
    double after = judge_roof(growth->judge, roof, pick);
    double from = 0, to = 0;

    growth->picks[i] = pick;
    if (old.option >= 0) {
        before += growth->years[old.year];
        from = judge_year(desk, growth->part, growth->judge, growth->picks, old.year);
        after += from;
    }
    if (pick.option >= 0 && !(old.option >= 0 && pick.year == old.year)) {
        before += growth->years[pick.year];
        to = judge_year(desk, growth->part, growth->judge, growth->picks, pick.year);
        after += to;
    } else {
        to = from;
    }
    if (!(after < before - 1e-6)) {
        growth->picks[i] = old;
        return false;
    }
    if (old.option >= 0)
        growth->years[old.year] = from;
    if (pick.option >= 0)
        growth->years[pick.year] = to;
    return true;
}

/* The year of the one visit that there may be, -1 for any. */
static int only_year(const struct desk *desk, const struct part *part,
                     const struct program_pick *picks)
{
    int year = -1;

    for (size_t i = 0; desk->parts->program->together && i < part->count; i++)
        if (picks[i].option >= 0)
            year = picks[i].year;
    return year;
}

static bool grow_once(struct growth *growth)
{
    const struct part *part = growth->part;
    bool better = false;

    for (size_t i = 0; i < part->count; i++) {
        const struct program_roof *roof = part_roof(growth->desk->parts, part, i);

        better = try_pick(growth, i, (struct program_pick){-1, 0}) || better;
        for (size_t o = 0; o < roof->option_count; o++)
            for (int k = roof->options[o].first; k <= roof->options[o].last; k++) {
                int only = only_year(growth->desk, part, growth->picks);

                if (!watch_go(growth->desk->watch, (double)part->count))
                    return false;
                if (only < 0 || only == k)
                    better =
                        try_pick(growth, i, (struct program_pick){(int)o, k}) || better;
            }
    }
    return better;
}

/* Takes a whole visit to another year, where all its roofs may go. */
static bool try_year(struct growth *growth, int from, int to)
{
    const struct part *part = growth->part;
    const struct parts *parts = growth->desk->parts;
    double before = growth->years[from] + growth->years[to], after = 0, merged;

    memcpy(growth->desk->moved, growth->picks, part->count * sizeof *growth->picks);
    for (size_t i = 0; i < part->count; i++) {
        const struct program_roof *roof = part_roof(parts, part, i);
        struct program_pick *pick = &growth->desk->moved[i];

        if (pick->option < 0 || pick->year != from)
            continue;
        if (!in_window(&roof->options[pick->option], to))
            return false;
        before += judge_roof(growth->judge, roof, *pick);
        pick->year = to;
        after += judge_roof(growth->judge, roof, *pick);
    }
    merged = judge_year(growth->desk, part, growth->judge, growth->desk->moved, to);
    if (!(after + merged < before - 1e-6))
        return false;
    memcpy(growth->picks, growth->desk->moved, part->count * sizeof *growth->picks);
    growth->years[from] = 0;
    growth->years[to] = merged;
    return true;
}

static bool trade_years(struct growth *growth)
{
    int years = growth->desk->parts->program->years;
    bool better = false;

    for (int from = 0; from < years; from++)
        for (int to = 0; to < years && watch_go(growth->desk->watch, 0); to++)
            if (to != from && growth->years[from] != 0)
                better = try_year(growth, from, to) || better;
    return better;
}

static void grow(struct desk *desk, const struct part *part, const struct judge *judge,
                 struct program_pick *picks)
{
    struct growth growth = {desk, part, judge, picks, desk->opened};
    bool better = true;

    for (int year = 0; year < desk->parts->program->years; year++)
        growth.years[year] = judge_year(desk, part, judge, picks, year);
    for (int pass = 0; better && pass < PASSES_MAX; pass++) {
        better = trade_years(&growth);
        better = grow_once(&growth) || better;
    }
}

static bool one_visit(const struct desk *desk, const struct part *part,
                      const struct program_pick *picks)
{
    int only = only_year(desk, part, picks);

    for (size_t i = 0; only >= 0 && i < part->count; i++)
        if (picks[i].option >= 0 && picks[i].year != only)
            return false;
    return true;
}

double large_best(struct desk *desk, const struct part *part, const struct judge *judge,
                  struct program_pick *picks, money *costs)
{
    const struct program *program = desk->parts->program;
    size_t size = part->count * sizeof *picks;
    double least = INFINITY;

    memcpy(desk->plan, picks, size);
    if (one_visit(desk, part, picks))
        least = judge_plan(desk, part, judge, picks);
    for (int year = 0; year < program->years && watch_go(desk->watch, 0); year++) {
        double sum;

        seed(desk, part, judge, year, desk->seed);
        sum = one_visit(desk, part, desk->seed)
                  ? judge_plan(desk, part, judge, desk->seed)
                  : INFINITY;
        if (sum < least) {
            least = sum;
            memcpy(desk->plan, desk->seed, size);
        }
    }
    if (!one_visit(desk, part, desk->plan))
        return INFINITY;
    grow(desk, part, judge, desk->plan);
    least = judge_plan(desk, part, judge, desk->plan);
    if (least < INFINITY) {
        memcpy(picks, desk->plan, size);
        (void)part_value(desk->parts, part, picks, desk->trial, costs);
    }
    return least;
}

/* ---- What no plan is below ---- */

/* What a share of a price is sure to count; rounding to whole hundredths takes at most a
 * half from a visit's cost. */
static double sure(const struct judge *judge, const struct program *program, money share,
                   int year)
{
    double toll = judge->toll ? judge->toll[year] : 0;

    return (double)share *
           (judge->weight * program->present[year] + toll * program->nominal[year]);
}

static money share_of(const struct program *program, const struct part *part, size_t roof,
                      int option)
{
    return program->share ? program->share(program->context, part->building, roof, option)
                          : 0;
}

/* The least of a roof in a year, its visit left out; INFINITY where it can't be done. */
static double least_alone(const struct desk *desk, const struct part *part,
                          const struct judge *judge, size_t i, int year, money *share)
{
    const struct program *program = desk->parts->program;
    const struct program_roof *roof = part_roof(desk->parts, part, i);
    double least = INFINITY;

    for (size_t o = 0; o < roof->option_count; o++) {
        money part_of = 0;
        double sum;

        if (!in_window(&roof->options[o], year))
            continue;
        part_of = share_of(program, part, i, (int)o);
        sum = judge->weight * roof->options[o].values[year] +
              sure(judge, program, part_of, year);
        if (sum < least) {
            least = sum;
            *share = part_of;
        }
    }
    return least;
}

/* All that are done, in one year. */
static double least_together(const struct desk *desk, const struct part *part)
{
    size_t years = (size_t)desk->parts->program->years;
    double least = 0;

    for (size_t i = 0; i < part->count; i++)
        least += desk->idle[i];
    for (size_t year = 0; year < years; year++) {
        double sum = desk->opened[year];

        for (size_t i = 0; i < part->count; i++)
            sum += fmin(desk->idle[i], desk->alone[i * years + year]);
        least = fmin(least, sum);
    }
    return least;
}

/* What all visits take is shared out: a roof may bear of each year's what is left, so
 * that it is as dear there as in the cheapest other way (the dual of choosing places to
 * open). */
static double least_shared(const struct desk *desk, const struct part *part)
{
    size_t years = (size_t)desk->parts->program->years;
    double sum = 0;

    for (size_t year = 0; year < years; year++) {
        sum += fmin(0, desk->opened[year]);
        desk->opened[year] = fmax(0, desk->opened[year]);
    }
    for (size_t i = 0; i < part->count; i++) {
        const double *alone = desk->alone + i * years;
        double least = desk->idle[i];

        for (size_t year = 0; year < years; year++)
            least = fmin(least, alone[year] + desk->opened[year]);
        for (size_t year = 0; year < years; year++)
            if (alone[year] < least)
                desk->opened[year] -= least - alone[year];
        sum += least;
    }
    return sum;
}

double large_least(struct desk *desk, const struct part *part, const struct judge *judge,
                   money *costs)
{
    const struct program *program = desk->parts->program;
    size_t years = (size_t)program->years;
    money fixed = share_of(program, part, 0, -1);

    (void)watch_go(desk->watch, 8 * (double)(part->count * years));
    for (size_t year = 0; year < years; year++) {
        desk->opened[year] = sure(judge, program, fixed, (int)year) -
                             (judge->toll ? judge->toll[year] / 2 : 0);
        costs[year] = 0;
    }
    for (size_t i = 0; i < part->count; i++) {
        const struct program_roof *roof = part_roof(desk->parts, part, i);
        double *alone = desk->alone + i * years, least;
        money best = 0;
        size_t when = 0;

        desk->idle[i] = roof->must ? INFINITY : judge->weight * roof->idle;
        least = desk->idle[i];
        for (size_t year = 0; year < years; year++) {
            money share = 0;

            alone[year] = least_alone(desk, part, judge, i, (int)year, &share);
            if (alone[year] < least) {
                least = alone[year];
                best = share;
                when = year;
            }
        }
        costs[when] += visit_cost(program, best, (int)when);
    }
    for (size_t year = 0; year < years; year++)
        if (costs[year] > 0)
            costs[year] += visit_cost(program, fixed, (int)year);
    return program->together ? least_together(desk, part) : least_shared(desk, part);
}
