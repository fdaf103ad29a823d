#ifndef OUTLAY_WRITE_WORKBOOK_H
#define OUTLAY_WRITE_WORKBOOK_H

/**
 * @file write/workbook.h
 * A workbook (XLSX) whose sheets are grids: what the sheet holds, the caution, a header
 * that stays in sight and filters, rows, and a row of totals where columns are summed.
 *
 *     status = book_open(path, &set, &book, err);
 *     if (status == OUTLAY_OK) {
 *         overview_add(book, &overview);         the first sheet, write/overview.h
 *         book_add(book, grid, &about, &caution);
 *         status = book_commit(book, err);
 *     }
 *
 * Texts are always texts: no roof can bring a formula or a link. Totals are formulas over
 * the rows that a filter leaves, each with its value. Numbers are those of the grid, as
 * rounded there.
 *
 * Printed, a sheet is one landscape page across: the first columns, as many as can be
 * read there, under a header that is repeated. A sheet of book_add() is printed to its
 * last row, one of book_begin() its first page only, since it may hold thousands of rows;
 * the head of each page says what was left out.
 *
 * Rows go to temporary files at once, so memory doesn't grow with them; the order of
 * sheets is that of book_begin(). Dates inside are fixed: the same content gives the same
 * bytes. What fails shows in book_commit(). Threads: one a book.
 */

#include "outlay/status.h"
#include "write/grid.h"

struct book;

/** @param path  borrowed until the end @param set  likewise
 *  @return OUTLAY_E_MEMORY; the file itself is made by book_commit() */
enum outlay_status book_open(const char *path, const struct write_settings *set,
                             struct book **out,
                             struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Starts a sheet with the name and the columns of the grid, whose rows aren't added yet.
 *  @param about  what it holds, a sentence or two
 *  @param caution  as on the CSV file of the same name */
void book_begin(struct book *book, const struct grid *grid, const struct text *about,
                const struct text *caution);

/** Adds all rows of a grid of the same sheet and settings. */
void book_rows(struct book *book, const struct grid *grid);

/** Ends the sheet. */
void book_end(struct book *book);

/** A sheet with all rows of a grid. */
void book_add(struct book *book, const struct grid *grid, const struct text *about,
              const struct text *caution);

/** Writes the file and frees the book. @return OUTLAY_E_OUTPUT, OUTLAY_E_MEMORY */
enum outlay_status book_commit(struct book *book,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Frees the book; nothing is written. NULL is ignored. */
void book_abort(struct book *book);

#endif
