#ifndef OUTLAY_SURROUNDINGS_ROUGHNESS_H
#define OUTLAY_SURROUNDINGS_ROUGHNESS_H

/**
 * @file surroundings/roughness.h
 * Which surface roughness (ASCE 7 sec. 26.7.2) the classes of a land cover raster have:
 * a table of the user's with the columns
 *
 *   class      of the raster, a whole number from 0 to 65,535; each once
 *   roughness  B, C or D
 *
 * in any order; other columns are for people and are not read. A class that isn't there
 * is unknown ground, never C.
 *
 * Threads: any; read-only after loading.
 */

#include "base/arena.h"
#include "outlay/status.h"

struct table; /* catalog/table.h */

/** Surface roughness: sec. 26.7.2. */
enum roughness {
    ROUGHNESS_MISSING,
    ROUGHNESS_B, /**< built-up, wooded */
    ROUGHNESS_C, /**< open, scattered obstructions */
    ROUGHNESS_D, /**< flat, unobstructed, water */
    ROUGHNESSES
};

enum { ROUGHNESS_CLASSES = 65536 };

struct roughness_table {
    unsigned char of[ROUGHNESS_CLASSES]; /**< enum roughness, by class */
};

/**
 * Reads all rows, strictly.
 * @return OUTLAY_E_USAGE with table, row and column in err->where; OUTLAY_E_MEMORY
 */
enum outlay_status roughness_read(const struct table *table, struct roughness_table *out,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Reads a file. @param[out] out  in the arena */
enum outlay_status roughness_load(struct arena *arena, const char *path,
                                  const struct roughness_table **out,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

/** The roughness of a pixel's value; MISSING for NAN and what isn't a class. */
static inline enum roughness roughness_of(const struct roughness_table *table,
                                          double value)
{
    if (!(value >= 0 && value < ROUGHNESS_CLASSES) || value > (double)(int)value)
        return ROUGHNESS_MISSING;
    return (enum roughness)table->of[(int)value];
}

#endif
