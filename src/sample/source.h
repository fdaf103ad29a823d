#ifndef OUTLAY_SAMPLE_SOURCE_H
#define OUTLAY_SAMPLE_SOURCE_H

/**
 * @file sample/source.h
 * What stands behind the = of `--sample ROLE=SOURCE`, taken apart. No file is looked at.
 *
 *     RASTER[@STATISTIC][:UNIT]                     terrain.tif@median:m
 *     RASTER-RASTER[@ring][@STATISTIC][:UNIT]       surface.tif-terrain.tif@p50:m
 *     LAYERS[/LAYER]:COLUMN[:UNIT]                  speeds.gpkg/speeds:V:mph
 *     RASTER:TABLE          exposure only           landcover.tif:roughness.csv
 *
 * A minus stands between two rasters where it follows an extension or a word behind @:
 * "my-surface.tif" is one file. What follows a colon is a unit where the role has one of
 * that name, else a column.
 */

#include <stdbool.h>

#include "base/arena.h"
#include "outlay/status.h"
#include "read/fields.h"

enum statistic { STATISTIC_PERCENTILE, STATISTIC_MEAN, STATISTIC_LEAST, STATISTIC_MOST };

/** Texts live in the arena of sample_source_parse(). */
struct sample_source {
    enum field_role role;
    const char *text;   /**< as given, but for a password */
    const char *path;   /**< of the raster, or of the dataset and its layer */
    const char *minus;  /**< raster whose values are taken off; NULL */
    bool ring;          /**< that one around the outline, not under it */
    const char *column; /**< of a layer; NULL: a raster */
    const char *table;  /**< of the roughness of a raster's classes; NULL */
    enum statistic statistic;
    double percent;     /**< of STATISTIC_PERCENTILE, 0 to 100 */
    const char *word;   /**< "p50"; "plane" for a slope from a raster, "worst sector" for
                             an exposure, "worst direction" for a topographic factor; ""
                             for a layer */
    struct field field; /**< its unit, as far as one is named; else unit "" */
};

/**
 * @param text  borrowed
 * @return OUTLAY_E_USAGE for a role that isn't sampled so, an unknown statistic, and what
 *         contradicts itself; OUTLAY_E_MEMORY
 */
enum outlay_status sample_source_parse(enum field_role role, const char *text,
                                       struct arena *arena, struct sample_source *out,
                                       struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Whether the role's value is worked out from the heights of a raster: a slope, a
 *  topographic factor. */
bool sample_of_heights(enum field_role role);

/** Finds a unit that the source's values may have: the role's own, but of a length where
 *  the value is worked out from heights. */
bool sample_unit(enum field_role role, const char *name, struct field *field);

#endif
