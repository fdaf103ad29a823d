#ifndef OUTLAY_WRITE_TABLE_H
#define OUTLAY_WRITE_TABLE_H

/**
 * @file write/table.h
 * The result as people see it on a terminal, in at most 100 columns: the first roofs one
 * by one, then the totals and the caution.
 *
 *     struct roof_table table = roof_table_start(20);
 *     for each building, in output order
 *         roof_table_add(&table, building, &set);
 *     roof_table_print(&out, &table, &set);
 *     table_print(&out, &totals, &set);
 *     roof_table_release(&table);
 *
 * States are words. An estimated height bears a "~", which is explained below. Names
 * from the input can't control the terminal: what isn't printable becomes "?".
 */

#include <stddef.h>

#include "base/text.h"
#include "write/write.h"

struct roof_table {
    struct text rows; /**< owned */
    size_t most;      /**< roofs that are shown */
    size_t roofs;     /**< roofs that were added */
    bool estimated;   /**< a "~" is among the rows */
};

/** An empty table that shows the first `most` roofs. */
struct roof_table roof_table_start(size_t most);

/** Adds the building's roofs: rows while there is room, a count beyond. */
void roof_table_add(struct roof_table *table, const struct building *building,
                    const struct write_settings *set);

/** Appends header, rows and how many roofs aren't shown. */
void roof_table_print(struct text *out, const struct roof_table *table,
                      const struct write_settings *set);

/** Frees the rows. Twice is fine. */
void roof_table_release(struct roof_table *table);

/** Appends the totals, in words what is weak about them, and the caution. */
void table_print(struct text *out, const struct totals *totals,
                 const struct write_settings *set);

#endif
