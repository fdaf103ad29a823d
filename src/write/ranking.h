#ifndef OUTLAY_WRITE_RANKING_H
#define OUTLAY_WRITE_RANKING_H

/**
 * @file write/ranking.h
 * The ranking as a grid: ranking.csv, a sheet of the workbook, a table of the page.
 *
 *     struct grid *grid = grid_new(&ranking_sheet, set);
 *     ranking_fill(grid, &ranking, 0, ranking.count, set);
 *
 * Threads: one a grid.
 */

#include "outlay/status.h"
#include "portfolio/rank.h"
#include "write/grid.h"
#include "write/output.h"

extern const struct grid_sheet ranking_sheet;

/** Appends rows `from` up to `from + count` of the ranking, as far as there are any. */
void ranking_fill(struct grid *grid, const struct ranking *ranking, size_t from,
                  size_t count, const struct write_settings *set);

/** Appends one row. */
void ranking_row(struct grid *grid, const struct ranking *ranking, size_t row,
                 const struct write_settings *set);

/** Appends as JSON what a feature of a roof says of its place: rank, group, score and
 *  reason, by column from 0 to PLACE_COLUMNS - 1.
 *  @param roof  of the portfolio, from 0 */
void ranking_place(struct text *out, const struct ranking *ranking, size_t roof,
                   size_t column, const struct write_settings *set);

/** Appends how scores come about, and what is apart. */
void ranking_formula(struct text *out, const struct ranking *ranking,
                     const struct write_settings *set);

/** Appends the caution of the table and the formula of the score. */
void ranking_caution(struct text *out, const struct ranking *ranking,
                     const struct write_settings *set);

/** Writes the whole table, some thousand rows at a time.
 *  @return OUTLAY_E_OUTPUT, OUTLAY_E_MEMORY */
enum outlay_status ranking_csv(struct output *output, const struct ranking *ranking,
                               const struct write_settings *set,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Appends the first `most` roofs as a table for the terminal, and the formula. */
void ranking_print(struct text *out, const struct ranking *ranking, size_t most,
                   const struct write_settings *set);

#endif
