#ifndef OUTLAY_WRITE_CSV_H
#define OUTLAY_WRITE_CSV_H

/**
 * @file write/csv.h
 * What the CSV tables share: their last column, whose name is the caution and whose
 * cells are empty. A row therefore ends with ",\n".
 */

#include <stdbool.h>

#include "base/text.h"

/** Appends the last column's name and the end of the header's line. */
void csv_end_header(struct text *out, bool ratings_invented);

#endif
