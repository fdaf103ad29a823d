#ifndef OUTLAY_CATALOG_ASSEMBLIES_PRIVATE_H
#define OUTLAY_CATALOG_ASSEMBLIES_PRIVATE_H

/* Cells of the catalogue's tables, shared by their readers only. */

#include "catalog/catalog.h"
#include "catalog/table.h"

/* Where a value was found, for messages. All borrowed. */
struct cell {
    const char *table;
    int row;
    const char *column;
    const char *text;
};

/* The cells of a row in the order of `names`, whose places table_header() found;
 * empty where a column was left away. */
void cells_of(const struct table *table, size_t row, const char *const *names,
              const size_t *place, size_t count, struct cell *out);

/* Fills *err: what the cell holds, what is accepted, where it is. */
enum outlay_status cell_refuse(const struct cell *cell, const char *accepted,
                               struct outlay_error *err);

/* Reads a number from least to most; another text is refused. */
enum outlay_status cell_number(const struct cell *cell, double least, double most,
                               double *out, struct outlay_error *err);

/* What the cells of one row must agree on. */
enum outlay_status assembly_check(const char *table, int row,
                                  const struct assembly *assembly,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
