#ifndef OUTLAY_SAMPLE_FEATURES_H
#define OUTLAY_SAMPLE_FEATURES_H

/**
 * @file sample/features.h
 * One column of a layer of polygons, points or lines, held in memory, and what it says at
 * an outline:
 *  - polygons: the value that covers most of the outline,
 *  - points: the value of the points in the outline, that of most of them,
 *  - lines with numbers (contours): between the two nearest lines of different values by
 *    distance, where they lie on different sides (ASCE 7 permits it between contours of
 *    wind speed, from memory); beyond the last line, its own value.
 *
 * Overlaps are compared in degrees, whose scale hardly changes within a roof. Not
 * thread-safe.
 */

#include "geo/shape.h"
#include "read/value.h"

struct features;

struct finding {
    bool found;
    struct value value; /**< its text is borrowed until features_close() */
    size_t count;       /**< features that say it; of lines, 2 or 1 */
    double spread;      /**< between the numbers found; NAN: no numbers */
    const char *how;    /**< "largest overlap"; static */
    const char *weak;   /**< why it is doubtful; static; NULL: it isn't */
};

/**
 * Reads the column.
 * @param path  of the dataset, or dataset/layer; borrowed
 * @return OUTLAY_E_INPUT: no such file, damaged, no CRS, too large; OUTLAY_E_USAGE: no
 *         such layer or column, a layer has to be named; OUTLAY_E_MEMORY
 */
enum outlay_status features_open(const char *path, const char *column,
                                 struct features **out,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

/** What the layer says at an outline, degrees. @return OUTLAY_E_MEMORY */
enum outlay_status features_at(struct features *features, const struct region *outline,
                               struct finding *out,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** NULL is ignored. */
void features_close(struct features *features);

#endif
