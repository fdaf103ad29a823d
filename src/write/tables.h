#ifndef OUTLAY_WRITE_TABLES_H
#define OUTLAY_WRITE_TABLES_H

/**
 * @file write/tables.h
 * What fills the grids of `run`'s tables: the same rows for CSV, workbook and page.
 * Threads: any, one grid per thread. Out of memory: grid_failed().
 */

#include "base/arena.h"
#include "roof/bill.h"
#include "roof/order.h"
#include "write/grid.h"
#include "write/output.h"

/* materials: what a roof takes by a method, an item of its bill a row. Net, laps, cuts,
 * spare and rounding add up to `ordered`, the roof's share of an order: the rest of last
 * packs that are shared with other roofs is the order's alone. */
extern const struct grid_sheet materials_sheet;

/** Adds the rows of all layouts of one roof. */
void materials_of_roof(struct grid *grid, const struct roof *roof,
                       const struct write_settings *set);

/* orders: goods bought together, a line of an order a row: needed + spare + rounding =
 * ordered = packs x pack_holds, and packs x unit_price = line_total. */
extern const struct grid_sheet orders_sheet;

/** Adds the rows of some orders. */
void orders_of(struct grid *grid, const struct order *orders, size_t count,
               const struct write_settings *set);

/* rolls: a piece of a roll a row, roll by roll, in the order in which they are cut. */
extern const struct grid_sheet rolls_sheet;

/** Adds the rows of all layouts of one roof. */
void rolls_of_roof(struct grid *grid, const struct roof *roof);

/* problems: roof_id, severity, code, message, done. */
extern const struct grid_sheet problems_sheet;
void problems_of_roof(struct grid *grid, const struct roof *roof);

/** Whether a row of problems is the first of another grid but for the roof. */
bool problems_same(const struct grid *grid, size_t row, const struct grid *single);

/** Takes such rows out of problems.csv again. A pipe or device keeps them.
 *  @return OUTLAY_E_OUTPUT, OUTLAY_E_MEMORY */
enum outlay_status problems_withdraw(struct output *output, const struct grid *single,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

/* totals: quantity, of, value. Sums of roofs without a count are left out of
 * `fasteners`, and the number of such roofs is a row. */
extern const struct grid_sheet totals_sheet;
void totals_fill(struct grid *grid, const struct totals *totals,
                 const struct write_settings *set);

/** summary: the columns of write/columns.h. @return in arena; NULL when out of memory */
const struct grid_sheet *summary_sheet(struct arena *arena);
void summary_of_roof(struct grid *grid, const struct roof *roof,
                     const struct write_settings *set);

#endif
