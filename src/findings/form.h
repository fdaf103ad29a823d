#ifndef OUTLAY_FINDINGS_FORM_H
#define OUTLAY_FINDINGS_FORM_H

/**
 * @file findings/form.h
 * A form that people filled in, whatever it was kept in: CSV, XLSX, or a layer that GDAL
 * reads, where each feature is a row and may have a point.
 *
 * Owned: in the arena that is handed in. Threads: any, one a form.
 */

#include "catalog/table.h"
#include "geo/shape.h"

struct form {
    struct table table;   /**< rows[header] names the columns */
    size_t header;        /**< its row: there may be lines above it */
    const char *row_word; /**< "row", or "feature" of a layer */
    struct point *points; /**< of each row, degrees; NAN: none; NULL: a table */
};

/**
 * Reads a form.
 * @param column  one that the header must have, by which its row is found
 * @return OUTLAY_E_USAGE, OUTLAY_E_INPUT: can't be read; OUTLAY_E_MEMORY
 */
enum outlay_status form_read(struct arena *arena, const char *path, const char *column,
                             struct form *out,
                             struct outlay_error *err) OUTLAY_MUST_CHECK;

/** The place of a column by any of two names, in any case; form->table.columns: none.
 *  @param other  NULL: it has one name */
size_t form_column(const struct form *form, const char *name, const char *other);

/** The text of a cell; "" where the column isn't there. */
const char *form_cell(const struct form *form, size_t row, size_t column);

/** "findings.csv, row 7", in the arena; NULL when out of memory. */
const char *form_where(struct arena *arena, const struct form *form, size_t row);

#endif
