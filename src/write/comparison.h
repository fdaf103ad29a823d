#ifndef OUTLAY_WRITE_COMPARISON_H
#define OUTLAY_WRITE_COMPARISON_H

/**
 * @file write/comparison.h
 * Methods side by side: a row for each layout of each roof, then the portfolio by each
 * method, by the roofs' own ones, and by the cheapest of each roof.
 *
 * A method that leaves a zone `not met` or unknown has no rank and is never the cheapest;
 * in the portfolio, neither is one that does so on any roof. Equal totals rank in the
 * order of enum method. Rows of roofs and of the portfolio's packs add up to the row of
 * the portfolio to the cent; the last two rows of the portfolio leave its packs out,
 * which are known by one method only.
 *
 * plates, screws: as laid, without spare ones. penetrations: fasteners that go through
 * the membrane (in rows and at base securement); those of curbs and drains are the same
 * by all methods. lap_share: laps in what is laid of the membrane. waste_share: what is
 * ordered of the membrane beyond what the roof needs, laps among it, by that need.
 */

#include "roof/bill.h"
#include "roof/cost.h"
#include "roof/layout.h"
#include "roof/roof.h"
#include "write/grid.h"

extern const struct grid_sheet comparison_sheet;

/** What rows of the portfolio sum up. */
struct comparison_sums {
    size_t roofs;          /**< that are laid out and priced */
    size_t not_met;        /**< of all zoned ones: not met, unknown or nothing laid */
    enum zone_state state; /**< the worst */
    double area;           /**< m2, of those priced */
    double sheets, rows, plates, screws, penetrations, welds;
    double net, laps, laid, ordered; /**< of the membrane, m2 */
    double hours;
    money parts[COST_PARTS], total;
};

/** Start from zero and add in output order. */
struct comparison_totals {
    size_t zoned; /**< roofs */
    struct comparison_sums methods[METHOD_KINDS];
    struct comparison_sums own, cheapest;
};

/** Adds the rows of one roof. */
void comparison_of_roof(struct grid *grid, const struct roof *roof);

void comparison_add(struct comparison_totals *totals, const struct building *building);

/** Adds what the portfolio's packs cost by one method. */
void comparison_add_packs(struct comparison_totals *totals, enum method method,
                          const struct cost *cost);

/** Adds the row of these packs; none where they cost nothing. */
void comparison_of_packs(struct grid *grid, enum method method, const struct cost *cost);

/** Adds the rows of the portfolio: last of all. */
void comparison_of_totals(struct grid *grid, const struct comparison_totals *totals);

/** comparison.csv. */
void comparison_header(struct text *out, const struct write_settings *set);
void comparison_rows(struct text *out, const struct building *building,
                     const struct write_settings *set);

/** The portfolio on a terminal: a line a method, and what is invented. */
void comparison_print(struct text *out, const struct comparison_totals *totals,
                      const struct write_settings *set);

/** The layout whose method is the cheapest that meets all zones; -1 for none. */
int comparison_cheapest(const struct roof *roof);

#endif
