#ifndef OUTLAY_PORTFOLIO_PROGRAM_DUAL_H
#define OUTLAY_PORTFOLIO_PROGRAM_DUAL_H

/**
 * @file portfolio/program_dual.h
 * What no answer is below. With a toll on each year's cap instead of the cap, buildings
 * have nothing to do with each other: the sum of their least plans, less the tolls on the
 * whole caps, is below every answer that keeps the caps, whatever the tolls are
 * (Lagrangian relaxation). Tolls are raised where caps are exceeded and lowered where
 * there is room, by the volume algorithm (Barahona and Anbil 2000, from memory).
 *
 * Where only what exceeds the caps counts, tolls are shares of it: what a year's visits
 * exceed a cap by is at least what all of them do, and at least the sum of what each does
 * alone, so it is at least any mean of the two.
 *
 * Threads: as its desk.
 */

#include "portfolio/program_best.h"

struct dual {
    struct desk *desk;
    struct judge judge; /**< its toll and room are left out */
    const money *rooms; /**< by part and year, where over is INFINITY; NULL: the caps */
    double most;        /**< of a toll */
    double *toll;       /**< by year: the best so far */
    double bound;
    double *trial, *slope; /* by year */
    double step;
    int worse;
    money *costs;               /* by year: of the last plans; of one part */
    struct program_pick *picks; /**< by roof: the plans of the last tolls */
    bool begun;
};

/** @return whether there was memory */
bool dual_make(struct dual *dual, struct desk *desk, struct arena *arena);

/** Forgets the bound but not the tolls: for another judge. */
void dual_again(struct dual *dual);

/** One step. @param aim  value of an answer, INFINITY for none
 *  @return the bound of the tolls that were tried */
double dual_step(struct dual *dual, double aim);

#endif
