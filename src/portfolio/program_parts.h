#ifndef OUTLAY_PORTFOLIO_PROGRAM_PARTS_H
#define OUTLAY_PORTFOLIO_PROGRAM_PARTS_H

/**
 * @file portfolio/program_parts.h
 * A program taken apart by building, in an order that doesn't depend on the input's, with
 * the prices of all visits where they are few enough to know them all.
 *
 * Threads: any, each with a watch of its own.
 */

#include <stdint.h>
#include <time.h>

#include "portfolio/program.h"

/** Roofs of a building whose visits may all be priced. */
enum { PART_ROOFS_MAX = 12 };

/** A building. A set of roofs with their options is a number: the option of each roof,
 *  from 1 (0: not in the visit), is a digit of base option_count + 1; the first roof's
 *  is the lowest. */
struct part {
    size_t building, first, count; /**< roofs of the program */
    size_t sets;                   /**< so many numbers; 0: prices aren't known */
    const money *prices;           /**< by set; NULL: not known */
};

struct parts {
    const struct program *program;
    struct part *list;
    size_t count;
    size_t most_roofs, most_sets; /**< of a part; of one with prices */
    bool whole;                   /**< all have prices */
    double steps;                 /**< of finding the best plan of each once */
};

/** What says when to end. */
struct watch {
    const struct program_limits *limits;
    clockid_t clock;
    double begin, steps, next;
    bool stopped, late;
};

void watch_start(struct watch *watch, const struct program_limits *limits);

/** Counts steps and now and then asks. @return whether to go on; once false, always. */
bool watch_go(struct watch *watch, double steps);

/** @return OUTLAY_E_MEMORY, OUTLAY_E_ARGUMENT */
enum outlay_status parts_make(struct parts *parts, const struct program *program,
                              struct watch *watch, struct arena *arena,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

static inline const struct program_roof *part_roof(const struct parts *parts,
                                                   const struct part *part, size_t roof)
{
    return &parts->program->roofs[part->first + roof];
}

/** Price of the visit to a part in a year; 0 without one.
 *  @param picks    by roof of the part
 *  @param scratch  as many */
money part_price(const struct parts *parts, const struct part *part,
                 const struct program_pick *picks, int year,
                 struct program_pick *scratch);

/** Sum of values of a part's picks, and the costs of its visits by year. */
double part_value(const struct parts *parts, const struct part *part,
                  const struct program_pick *picks, struct program_pick *scratch,
                  money *costs);

/** What a visit takes of a year's cap: llround() of what is at least 0, but fast. */
static inline money visit_cost(const struct program *program, money price, int year)
{
    double exact = (double)price * program->nominal[year];
    money cost = (money)exact;

    return cost + (exact - (double)cost >= 0.5);
}

#endif
