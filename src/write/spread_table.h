#ifndef OUTLAY_WRITE_SPREAD_TABLE_H
#define OUTLAY_WRITE_SPREAD_TABLE_H

/**
 * @file write/spread_table.h
 * How far results may be off, and which inputs cause it, as tables.
 */

#include "spread/sums.h"
#include "write/grid.h"

/* spread: what the inputs as given come to, beside P10 and P90 of the draws; a row for
 * each zone of a roof and one for the roof, at the end the same of all roofs. */
extern const struct grid_sheet spread_sheet;

/* drivers: a row for each input that has a spread, of each roof and at the end of all
 * roofs; what causes most comes first. */
extern const struct grid_sheet drivers_sheet;

void spread_header(struct text *out, const struct write_settings *set);
void spread_rows(struct text *out, const struct building *building,
                 const struct write_settings *set);

/** The rows of all roofs. @param sums  settled; NULL: no rows */
void spread_totals(struct text *out, const struct spread_sums *sums,
                   const struct write_settings *set);

void drivers_header(struct text *out, const struct write_settings *set);
void drivers_rows(struct text *out, const struct building *building,
                  const struct write_settings *set);
void drivers_totals(struct text *out, const struct spread_sums *sums,
                    const struct write_settings *set);

/** Appends the portfolio's cost or force with P10 and P90, and what to check first, for a
 *  terminal. @param sums  settled */
void spread_table_print(struct text *out, const struct spread_sums *sums,
                        const struct write_settings *set);

/** Inputs that move what is driven, the most first. @return their number */
int drivers_sorted(const struct driver drivers[SPREAD_INPUTS], int order[SPREAD_INPUTS]);

/** Appends a spread in the unit in which it is written: "1.5 ft", "10 %". */
void spread_print(struct text *out, enum spread_input input, double spread,
                  const struct unit_system *units);

/** What takes an input's spread away: "measure the height". Static storage. */
const char *spread_check(enum spread_input input);

#endif
