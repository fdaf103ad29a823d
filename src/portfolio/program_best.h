#ifndef OUTLAY_PORTFOLIO_PROGRAM_BEST_H
#define OUTLAY_PORTFOLIO_PROGRAM_BEST_H

/**
 * @file portfolio/program_best.h
 * The best plan of one building alone, when each year's cap has a price.
 *
 * Where all visits are priced it is the best of all plans. The best visit to each set of
 * roofs in a year is found first; then sets are put together year by year: the best of a
 * set up to a year is that of a part of it before, and a visit to the rest. That takes
 * 3^roofs steps a year. A larger building's plan grows roof by roof and need not be the
 * best.
 *
 * Threads: a desk belongs to one.
 */

#include <math.h>

#include "portfolio/program_parts.h"

/** What a roof is left to choose from: bits of years, of options; the bit number `years`
 *  is doing nothing. */
struct domain {
    uint64_t years;
    uint32_t options;
};

/** How plans are judged: weight x values + toll x costs + over x what exceeds room, of
 *  which its toll is a part. */
struct judge {
    double weight;
    const double *toll;           /**< by year, of each hundredth; NULL: 0 */
    const money *room;            /**< by year, for this building; NULL: without end */
    double over;                  /**< INFINITY: never exceeds it */
    const struct domain *domains; /**< by roof of the program; NULL: all */
};

/** A visit of a year that may be best: none to the same roofs is as cheap and counts as
 *  little. */
struct candidate {
    money price;
    double value; /**< sum of its roofs' */
    uint32_t set;
    uint16_t members; /**< roofs as bits */
};

/** Those of a part with prices. */
struct candidates {
    const struct candidate *years[PROGRAM_YEARS_MAX];
    const uint32_t *first[PROGRAM_YEARS_MAX]; /**< by roofs as bits, and the end */
    double steps;                             /**< of finding a best plan with them */
};

/** Room to work in. */
struct desk {
    const struct parts *parts;
    struct watch *watch;
    struct candidates **candidates;                   /* by part; NULL without prices */
    struct program_pick *trial, *plan, *seed, *moved; /* by roof of a part */
    double *idle;                                     /* by roofs done, or by roof */
    double *best, *sums;
    uint32_t *sets, *best_set;  /* best_set: by year and roofs */
    uint16_t *members, *chosen; /* roofs as bits; chosen: by year and roofs */
    double *alone, *opened;     /* of a large part: by roof and year; by year */
};

/** @return whether there was memory */
bool desk_make(struct desk *desk, const struct parts *parts, struct watch *watch,
               struct arena *arena);

/**
 * Of a large part the picks are also where the search begins, and in its windows.
 * @param picks  by roof of the part; untouched when there is none
 * @param costs  of its visits by year; the same
 * @return what the judge counts; INFINITY: there is none
 */
double best_plan(struct desk *desk, const struct part *part, const struct judge *judge,
                 struct program_pick *picks, money *costs);

/** No plan is judged lower; needs no room and no domains of a large part. Of a part with
 *  prices it is best_plan(). @param costs  about what goes with it */
double least_plan(struct desk *desk, const struct part *part, const struct judge *judge,
                  struct program_pick *picks, money *costs);

/** The least that the visit to a part with prices costs in a year, where domains leave a
 *  roof nothing else than that year; else 0. */
money forced_cost(struct desk *desk, const struct part *part,
                  const struct domain *domains, int year);

/** The two for large parts; program_large.c. */
double large_best(struct desk *desk, const struct part *part, const struct judge *judge,
                  struct program_pick *picks, money *costs);
double large_least(struct desk *desk, const struct part *part, const struct judge *judge,
                   money *costs);

/** What a judge counts for a visit, without its roofs' values. */
static inline double judge_visit(const struct judge *judge, const struct program *program,
                                 money price, int year)
{
    money cost = visit_cost(program, price, year);
    double sum = judge->weight * (double)price * program->present[year];

    if (judge->toll)
        sum += judge->toll[year] * (double)cost;
    if (judge->room) {
        money room = judge->room[year] > 0 ? judge->room[year] : 0;

        if (cost > room)
            sum += fmax(judge->over - (judge->toll ? judge->toll[year] : 0), 0) *
                   (double)(cost - room);
    }
    return sum;
}

#endif
