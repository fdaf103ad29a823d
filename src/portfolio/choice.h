#ifndef OUTLAY_PORTFOLIO_CHOICE_H
#define OUTLAY_PORTFOLIO_CHOICE_H

/**
 * @file portfolio/choice.h
 * The mixed-integer program behind the plan: each unit is done in one of the years, or
 * later, so that the sum of values is least and no year's costs exceed its cap.
 *
 * Solved by branch and cut (CBC) to a gap of the sum of values, or until it has looked
 * at a number of nodes; both give the same answer each time, a stop by the clock may
 * not. The answer is checked in whole hundredths: caps hold to the cent.
 *
 * Threads: any.
 */

#include <stdbool.h>
#include <stddef.h>

#include "base/arena.h"
#include "outlay/status.h"
#include "roof/cost.h"

struct choice_unit {
    int first, last; /**< years that are allowed, from 0; first > last: none */
    bool must;       /**< not later */
};

/** Years count from 0; the year number `years` means later. */
struct choice {
    size_t units;
    int years;
    const struct choice_unit *unit;
    const money *values; /**< units x (years + 1): what doing it then counts */
    const money *costs;  /**< units x years: what it takes from the cap */
    const money *caps;   /**< years */
};

enum choice_state {
    CHOICE_GAP,   /**< proven within the gap */
    CHOICE_NODES, /**< stopped after so many nodes */
    CHOICE_TIME   /**< stopped by the clock: another run may give another answer */
};

/** "within gap", "node limit", "time limit". */
const char *choice_state_name(int state);

struct choice_limits {
    double gap;     /**< share of the sum of values */
    int nodes;      /**< of the search */
    double seconds; /**< of processor time */
};

struct choice_answer {
    bool feasible;
    enum choice_state state;
    int *years;   /**< of each unit; in the arena */
    double value; /**< sum, hundredths */
    double bound; /**< no answer is below, hundredths */
    money *over;  /**< not feasible: least excess over each cap, together least; arena */
};

/** @return OUTLAY_E_MEMORY, OUTLAY_E_LIMIT when the limits leave no answer at all */
enum outlay_status choice_solve(const struct choice *choice,
                                const struct choice_limits *limits, struct arena *arena,
                                struct choice_answer *out,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Value of a unit in a year, or later. */
static inline money choice_value(const struct choice *choice, size_t unit, int year)
{
    return choice->values[unit * (size_t)(choice->years + 1) + (size_t)year];
}

static inline money choice_cost(const struct choice *choice, size_t unit, int year)
{
    return choice->costs[unit * (size_t)choice->years + (size_t)year];
}

#endif
