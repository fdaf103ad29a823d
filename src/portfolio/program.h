#ifndef OUTLAY_PORTFOLIO_PROGRAM_H
#define OUTLAY_PORTFOLIO_PROGRAM_H

/**
 * @file portfolio/program.h
 * The program behind the plan: what is done to which roof, in which year, so that the sum
 * of all values is least and no year's visits cost more than its cap.
 *
 * Work on a building in a year is a visit. What a visit costs depends on all that is done
 * in it (what a building costs once, packs, the size effect), so it is asked for by set:
 * program.price. Years count from 0. Values are present costs in hundredths, and may be
 * negative (what is left of a roof's life at the horizon).
 *
 * No answer depends on the order of the buildings, but for ties between alike ones.
 *
 * Threads: any.
 */

#include <stdbool.h>
#include <stddef.h>

#include "base/arena.h"
#include "outlay/status.h"
#include "roof/cost.h"

enum { PROGRAM_YEARS_MAX = 50, PROGRAM_OPTIONS_MAX = 32 };

/** One thing that can be done to a roof, in the years first to last. */
struct program_option {
    int first, last;
    const double *values; /**< years: all that doing it in a year counts, but its visit */
};

struct program_roof {
    const struct program_option *options;
    size_t option_count; /**< 0 to PROGRAM_OPTIONS_MAX */
    double idle;         /**< value of doing nothing; of no meaning where it must */
    bool must;           /**< something has to be done */
};

struct program_building {
    size_t first, count; /**< of program.roofs */
};

/** What happens to a roof: option < 0 (and no meaning in year) when nothing does. */
struct program_pick {
    int option, year;
};

struct program {
    int years;         /**< 1 to PROGRAM_YEARS_MAX */
    const money *caps; /**< by year, at least 0 */
    const struct program_roof *roofs;
    size_t roof_count;
    const struct program_building *buildings;
    size_t building_count;
    bool together; /**< at most one visit a building */

    /** Cost of a visit at prices of year 0, in hundredths, at least 0. `picks` has one
     *  entry for each roof of the building; those with an option are in the visit, their
     *  year is of no meaning. A pure function of building and options: any thread.
     *  Nothing else is taken for granted: a visit may be cheaper for one more roof. */
    money (*price)(const void *context, size_t building,
                   const struct program_pick *picks);
    /** What is sure of it, for the bound where a building has too many roofs to price all
     *  its visits: no visit is cheaper than what it takes whatever its roofs are (option
     *  < 0, roof of no meaning), and the sum over its roofs (from 0 within the building).
     *  NULL: 0, and such a building's bound counts no visits. */
    money (*share)(const void *context, size_t building, size_t roof, int option);
    const void *context;
    const double
        *nominal; /**< by year: a visit takes llround(price x nominal) of the cap */
    const double *present; /**< by year: and counts price x present */
};

enum program_state {
    PROGRAM_GAP,   /**< proven within the gap */
    PROGRAM_NODES, /**< the work that was allowed is done; the bound holds */
    PROGRAM_TIME   /**< stopped by the clock: another run may give another answer */
};

/** "within gap", "work limit", "time limit". */
const char *program_state_name(int state);

struct program_limits {
    double gap;     /**< share of the answer's value */
    int steps;      /**< work of the search after the first answer, in millions of steps
                         (some ms each): the same answer each time */
    double seconds; /**< of processor time */
    bool (*stop)(const void *context); /**< asked often: end at once; NULL: never */
    const void *stop_context;
};

struct program_answer {
    bool feasible; /**< else only `hopeless`, `over` and `state` have a meaning */
    bool hopeless; /**< proven that no answer keeps the caps */
    enum program_state state;
    struct program_pick *picks; /**< by roof; in the arena */
    double value;               /**< hundredths */
    double bound;               /**< no answer is below, hundredths */
    money *over; /**< not feasible: excess over each cap, together the least that was
                      found (PROGRAM_GAP: that there is); all 0 where windows and
                      `together` have no answer under any caps; arena */
};

/**
 * @param starts  answers (roof_count picks each) to begin with: those that keep caps and
 *                windows are never better than the result
 * @return OUTLAY_E_MEMORY, OUTLAY_E_INTERRUPTED where limits->stop said so,
 *         OUTLAY_E_LIMIT when the limits leave no answer at all, OUTLAY_E_ARGUMENT
 */
enum outlay_status program_solve(const struct program *program,
                                 const struct program_limits *limits,
                                 const struct program_pick *const *starts,
                                 size_t start_count, struct arena *arena,
                                 struct program_answer *out,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

/** The sum of values of picks, visits included; what each year's visits cost goes to
 *  `costs` (years). NAN when out of memory. */
double program_value(const struct program *program, const struct program_pick *picks,
                     money *costs);

#endif
