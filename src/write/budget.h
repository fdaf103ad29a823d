#ifndef OUTLAY_WRITE_BUDGET_H
#define OUTLAY_WRITE_BUDGET_H

/**
 * @file write/budget.h
 * The plan as grids: budget.csv, one row per year and one for all years, of the best plan
 * and of those that it was weighed against; scenarios.csv, the same of other caps and
 * lives; visits.csv, one row per visit, the sum of whose totals in a year is that year's
 * cost; and plan.csv, one row per roof.
 *
 *     struct grid *grid = grid_new(&budget_sheet, set);
 *     budget_fill(grid, plan);
 *
 * Threads: one per grid.
 */

#include "portfolio/plan.h"
#include "write/grid.h"

extern const struct grid_sheet budget_sheet;
extern const struct grid_sheet scenarios_sheet;
extern const struct grid_sheet visits_sheet;
extern const struct grid_sheet plan_sheet;

void budget_fill(struct grid *grid, const struct plan *plan);
void scenarios_fill(struct grid *grid, const struct plan *plan);
void visits_fill(struct grid *grid, const struct plan *plan);
void plan_fill(struct grid *grid, const struct plan *plan);

/** Appends the state of a search, or what a plan doesn't keep. */
void course_state(struct text *out, const struct plan_course *course);

/** Appends the caution of all these tables: what in them is ours or invented, rates and
 *  years that they rest on, and which roofs are in no sum. */
void budget_caution(struct text *out, const struct plan *plan,
                    const struct write_settings *set);

/** Appends all of one table. */
void plan_csv(struct text *out, const struct grid_sheet *sheet,
              void (*fill)(struct grid *, const struct plan *), const struct plan *plan,
              const struct write_settings *set);

/** Appends the years as a table for the terminal, and what it comes to. */
void budget_print(struct text *out, const struct plan *plan,
                  const struct write_settings *set);

#endif
