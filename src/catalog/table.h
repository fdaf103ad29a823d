#ifndef OUTLAY_CATALOG_TABLE_H
#define OUTLAY_CATALOG_TABLE_H

/**
 * @file catalog/table.h
 * A spreadsheet table as text cells, whatever it was stored in. What the cells mean is
 * the caller's business.
 *
 * Owned: rows and cells live in the arena that was handed in.
 * Threads: any; each call opens and closes its own file.
 */

#include <stddef.h>

#include "base/arena.h"
#include "outlay/status.h"

struct table_row {
    int number;   /**< as a text editor or spreadsheet counts them, from 1 */
    char **cells; /**< columns of them; white space around trimmed; never NULL */
};

struct table {
    const char *name; /**< file name without folders, for messages */
    size_t columns;
    struct table_row *rows; /**< the header row first */
    size_t row_count;
};

/**
 * Reads the first sheet of a file. Its kind goes by the name: .csv (commas, semicolons
 * or tabs) or .xlsx.
 * @param[out] out  complete only on success; out->name is set in any case.
 * @return OUTLAY_E_USAGE for a file that can't be read, has no rows or another name;
 *         OUTLAY_E_MEMORY
 */
enum outlay_status table_read(struct arena *arena, const char *path, struct table *out,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/** As table_read(), of CSV text, borrowed during the call. */
enum outlay_status table_parse(struct arena *arena, const char *name, const char *csv,
                               struct table *out,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Finds columns by the names of the header row, in any order and case.
 * @param names       count of them; each stands in the table once, and no other
 * @param needed      so many of them must be there, the rest may be left away
 * @param[out] place  count of them: where each column is, table->columns for one that was
 *                    left away; complete only on success
 * @return OUTLAY_E_USAGE, with the column, for another header
 */
enum outlay_status table_header(const struct table *table, const char *const *names,
                                size_t count, size_t needed, size_t *place,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
