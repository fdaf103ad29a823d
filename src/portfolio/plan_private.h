#ifndef OUTLAY_PORTFOLIO_PLAN_PRIVATE_H
#define OUTLAY_PORTFOLIO_PLAN_PRIVATE_H

/* What the files of the plan share. */

#include "portfolio/plan.h"

/** The units of the program: roofs, or buildings kept together. */
struct plan_units {
    struct choice choice;
    struct choice_unit *units; /**< choice.unit; in the plan's arena, as the next */
    money *values, *costs;
    int *worn;   /**< first year that finds a roof of it worn */
    double *age; /**< of the oldest roof in it, years: worst first goes by it */
};

/** Groups priced roofs and says when each unit may be done. Roofs must be in the order of
 *  portfolio_compare(). */
enum outlay_status plan_units_make(struct plan *plan, struct plan_units *out,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Worst first: year by year what must be done now, then the worst that still fits.
 *  @param years  gets a year, from 0, for each unit; settings->years: later */
bool plan_worst_first(const struct plan *plan, const struct plan_units *units,
                      int *years);

/** What comes of a choice of years. */
void plan_follow(const struct plan *plan, const struct plan_units *units,
                 const int *years, const money *caps, struct plan_course *out);

#endif
