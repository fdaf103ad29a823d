#ifndef OUTLAY_WRITE_SHOWN_H
#define OUTLAY_WRITE_SHOWN_H

/**
 * @file write/shown.h
 * The rows of the roofs that the workbook shows: of the SHOWN_MOST that rank highest, in
 * output order. They are kept packed, so that memory is bounded whatever the portfolio's
 * size: about 1 kB a roof, and 3 kB for each of its layouts.
 *
 * Out of memory: shown_failed(). Threads: one a collection.
 */

#include <stdbool.h>
#include <stddef.h>

#include "portfolio/rank.h"
#include "write/tables.h"
#include "write/workbook.h"

#define SHOWN_MOST 2000

enum shown_table {
    SHOWN_SUMMARY,
    SHOWN_MATERIALS,
    SHOWN_ORDERS,
    SHOWN_COMPARISON,
    SHOWN_PROBLEMS,
    SHOWN_TABLES
};

struct shown;

/** @param set  borrowed until the end @return owned, NULL when out of memory */
struct shown *shown_new(const struct write_settings *set);

/** NULL is ignored. */
void shown_free(struct shown *shown);

/** Adds the i-th of a building's roofs, in output order; it drops out again for those
 *  that rank higher. Rows of the building's orders go with its last roof. */
void shown_add(struct shown *shown, const struct building *building, size_t i,
               const struct ranked *merit);

/** To be called once all roofs were added, and ranked; where not all are shown, those go
 *  that turned out not to be among the first. */
void shown_finish(struct shown *shown, const struct ranking *ranking);

/** Adds rows of a table that belong to no single roof, behind those of the roofs. */
void shown_add_rows(struct shown *shown, enum shown_table table, const struct grid *rows);

/** Takes the rows of roofs' problems out again that are the first of a grid but for the
 *  roof. */
void shown_withdraw_problem(struct shown *shown, const struct grid *single);

/** All roofs that were added are shown. */
bool shown_whole(const struct shown *shown);

bool shown_failed(const struct shown *shown);

/** A grid of all rows of a table that belong to roofs. @return owned, NULL when out of
 *  memory */
struct grid *shown_grid(const struct shown *shown, enum shown_table table);

/** Writes a table as a sheet. */
void shown_sheet(const struct shown *shown, enum shown_table table, struct book *book);

#endif
