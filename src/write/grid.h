#ifndef OUTLAY_WRITE_GRID_H
#define OUTLAY_WRITE_GRID_H

/**
 * @file write/grid.h
 * A table of the portfolio, held once and printed as CSV, as a sheet of the workbook and
 * in the portfolio page, so that these can't disagree.
 *
 *     struct grid *grid = grid_new(&ranking_sheet, &set);
 *     for each row
 *         for each column, in order: grid_text() or grid_number()
 *     grid_csv_header(&out, grid, caution);
 *     grid_csv_rows(&out, grid);
 *     grid_free(grid);
 *
 * Numbers go in as SI (money: in hundredths) and are kept in the unit of the settings,
 * rounded as they are printed. Names of columns carry their units: `area_ft2`,
 * `total_usd`. Long tables are printed in chunks: rows, grid_clear(), rows.
 *
 * Out of memory makes the grid fail: grid_failed(), and the texts printed from it fail.
 * Threads: one a grid.
 */

#include <stdbool.h>
#include <stddef.h>

#include "base/text.h"
#include "write/columns.h"
#include "write/write.h"

enum grid_kind {
    GRID_TEXT,
    GRID_NUMBER,  /**< in the column's measure */
    GRID_MONEY,   /**< hundredths go in, units with two decimals come out */
    GRID_RATE,    /**< money for one m2 goes in; money for one ft2 or m2 comes out */
    GRID_QUANTITY /**< of mixed units, as another cell of the row names them */
};

enum { GRID_EXACT = 6 };

struct grid_column {
    const char *name; /**< without unit: "area" */
    enum grid_kind kind;
    enum measure measure;       /**< of GRID_NUMBER */
    int decimals[UNIT_SYSTEMS]; /**< of GRID_NUMBER */
    bool summed;                /**< a row of totals adds it up */
};

/** The usual columns. */
#define TEXT_COLUMN(name)                            \
    {                                                \
        name, GRID_TEXT, MEASURE_NONE, {0, 0}, false \
    }
#define NUMBER_COLUMN(name, measure, decimals)                  \
    {                                                           \
        name, GRID_NUMBER, measure, {decimals, decimals}, false \
    }
#define COUNT_COLUMN(name) NUMBER_COLUMN(name, MEASURE_NONE, 0)
#define QUANTITY_COLUMN(name)                            \
    {                                                    \
        name, GRID_QUANTITY, MEASURE_NONE, {0, 0}, false \
    }
#define MONEY_COLUMN(name)                            \
    {                                                 \
        name, GRID_MONEY, MEASURE_NONE, {0, 0}, false \
    }

/** What all grids of one kind share; static data. */
struct grid_sheet {
    const char *name; /**< "ranking" */
    const struct grid_column *columns;
    size_t column_count;
};

struct grid;

/** An empty grid. sheet and set are borrowed. @return owned, NULL when out of memory */
struct grid *grid_new(const struct grid_sheet *sheet, const struct write_settings *set);

/** NULL is ignored. */
void grid_free(struct grid *grid);

/** Takes all rows out again; nothing else changes. */
void grid_clear(struct grid *grid);

/** Next cell of the row, a text that is copied; NULL and "" are empty cells. Where the
 *  column has numbers it stands there as it is, "all years" among years. */
void grid_text(struct grid *grid, const char *text);

/** Likewise, a text that was put together; one that failed fails the grid. NULL is an
 *  empty cell. */
void grid_made(struct grid *grid, const struct text *text);

/** Likewise, a text that gives quantities in both units ("60 ft (18.3 m)"), with those of
 *  the settings alone. */
void grid_words(struct grid *grid, const char *text);

/** Next cell of the row, a number; NAN is an empty cell. */
void grid_number(struct grid *grid, double value);

/** Next cell of the row, of a GRID_QUANTITY: in its printed unit; NAN is an empty cell.
 *  @param decimals  0 to 9 */
void grid_quantity(struct grid *grid, double printed, int decimals);

bool grid_failed(const struct grid *grid);

/** Appends all rows in a form that takes little memory. */
void grid_pack(struct text *out, const struct grid *grid);

/** Adds packed rows of the same sheet and settings. */
void grid_unpack(struct grid *grid, const struct text *packed);

/* What printers need. Column and row count from 0. */
const struct grid_sheet *grid_sheet(const struct grid *grid);
size_t grid_rows(const struct grid *grid); /**< whole ones */
int grid_decimals(const struct grid *grid, size_t column);

/** Next cell of the row, a number in the column's measure or in its printed unit that
 *  readers compute with: sheets show `decimals`, the cell keeps GRID_EXACT of them, and
 *  CSV prints those where they aren't zeros. */
void grid_exact(struct grid *grid, double value, int decimals);

/** As grid_decimals(), or what one cell of a GRID_QUANTITY was given. */
int grid_cell_decimals(const struct grid *grid, size_t row, size_t column);

/** Appends the column's name with its unit. */
void grid_column_name(struct text *out, const struct grid *grid, size_t column);

/** The text of a cell; NULL for an empty one and for a number. Borrowed. */
const char *grid_cell_text(const struct grid *grid, size_t row, size_t column);

/** The number of a cell in its printed unit, rounded; NAN for an empty one and a text. */
double grid_cell_number(const struct grid *grid, size_t row, size_t column);

/** Appends the header row; the caution is the name of a last, empty column. */
void grid_csv_header(struct text *out, const struct grid *grid, const char *caution);

void grid_csv_rows(struct text *out, const struct grid *grid);

/** Appends all rows as JSON arrays of cells with ",\n" between them; an empty cell is
 *  null. */
void grid_json_rows(struct text *out, const struct grid *grid);

/** Appends a row as members of a JSON object: "area_ft2":12,... */
void grid_json_members(struct text *out, const struct grid *grid, size_t row);

/** Appends the names of the columns as a JSON array. */
void grid_json_names(struct text *out, const struct grid *grid);

/** Appends the whole grid: {"name":...,"columns":[...],"decimals":[...],"rows":[...]};
 *  the decimals of a column of texts are null. */
void grid_json(struct text *out, const struct grid *grid);

/** Appends the caution of a table: that of write.h, and what in it is invented.
 *  @param prices the table holds prices */
void grid_caution(struct text *out, const struct write_settings *set, bool prices);

#endif
