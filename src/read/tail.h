#ifndef OUTLAY_READ_TAIL_H
#define OUTLAY_READ_TAIL_H

/**
 * @file read/tail.h
 * Looks at the end of a text file after GDAL came to it: its drivers for lines drop a
 * last line that was cut off without a word.
 */

#include <stdbool.h>

/** True when the file's last byte isn't a line end. False when it can't be read. */
bool tail_is_open(const char *path);

/** True when the last text of a GeoJSON text sequence isn't whole JSON. False when the
 *  file can't be read. */
bool tail_is_cut_json(const char *path);

#endif
