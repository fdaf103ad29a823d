#ifndef OUTLAY_WRITE_BUDGET_H
#define OUTLAY_WRITE_BUDGET_H

/**
 * @file write/budget.h
 * The plan as two grids: budget.csv, one row per year and one for all years, of the best
 * plan and of the rule that goes worst first, then what higher caps would buy; and
 * plan.csv, one row per roof.
 *
 *     struct grid *grid = grid_new(&budget_sheet, set);
 *     budget_fill(grid, plan);
 *
 * Threads: one per grid.
 */

#include "portfolio/plan.h"
#include "write/grid.h"

extern const struct grid_sheet budget_sheet;
extern const struct grid_sheet plan_sheet;

void budget_fill(struct grid *grid, const struct plan *plan);
void plan_fill(struct grid *grid, const struct plan *plan);

/** Appends the caution of both tables: what in them is ours or invented, rates and years
 *  that they rest on, and which roofs are in no sum. */
void budget_caution(struct text *out, const struct plan *plan,
                    const struct write_settings *set);

/** Appends all of budget.csv. */
void budget_csv(struct text *out, const struct plan *plan,
                const struct write_settings *set);

/** Appends all of plan.csv. */
void plan_csv(struct text *out, const struct plan *plan,
              const struct write_settings *set);

/** Appends the years as a table for the terminal, and what it comes to. */
void budget_print(struct text *out, const struct plan *plan,
                  const struct write_settings *set);

#endif
