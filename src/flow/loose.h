#ifndef OUTLAY_FLOW_LOOSE_H
#define OUTLAY_FLOW_LOOSE_H

/** @file flow/loose.h  Problems that are no roof's: of files beside the outlines. */

#include "flow/tally.h"
#include "write/grid.h"

struct loose_problems {
    struct grid *rows; /**< of problems.csv */
    struct totals *totals;
    struct tally *tally;
    size_t count; /**< so far; start from 0 */
    struct outlay_error *err;
};

/** Adds a row, counts it, and has it told. @return OUTLAY_E_MEMORY */
enum outlay_status loose_problem(struct loose_problems *loose,
                                 const struct problem *problem) OUTLAY_MUST_CHECK;

#endif
