#ifndef OUTLAY_WRITE_WRITE_H
#define OUTLAY_WRITE_WRITE_H

/**
 * @file write/write.h
 * What is written and how: one table of columns serves every format, so that
 * zones.geojson, zones.gpkg, summary.csv and the terminal never disagree.
 *
 * Text formats are formatted by the workers into struct text, a chunk a building, and
 * put down in order by the caller; layers (GeoPackage, FlatGeobuf) go through GDAL in
 * the caller's thread (write/layers.h). The record is const here.
 *
 * Chunks: each feature of a FeatureCollection chunk is preceded by ",\n"; the opening
 * text therefore ends with a foreign member, and chunks can be joined in any number.
 */

#include "base/text.h"
#include "base/units.h"
#include "roof/roof.h"
#include "standard/standard.h"

struct write_settings {
    const struct unit_system *units;
    const struct standard *standard;
    bool catalog_built_in;   /**< ratings are invented: outputs say so */
};

/** The caution that every output carries, one line, static storage. */
const char *caution_text(void);

/* zones.geojson and roofs.geojson: RFC 7946. */
void geojson_open(struct text *out, const char *layer, const struct write_settings *set);
void geojson_zones(struct text *out, const struct building *building,
                   const struct write_settings *set);
void geojson_roofs(struct text *out, const struct building *building,
                   const struct write_settings *set);
void geojson_close(struct text *out);

/** GeoJSON text sequence, one zone feature a line; a roof that can't be zoned leaves
 *  one feature with its own outline and zone null. */
void geojson_zone_lines(struct text *out, const struct building *building,
                        const struct write_settings *set);

/* summary.csv: one row a roof. */
void summary_header(struct text *out, const struct write_settings *set);
void summary_rows(struct text *out, const struct building *building,
                  const struct write_settings *set);

/* problems.csv: roof_id, severity, code, message, done. */
void problems_header(struct text *out);
void problems_rows(struct text *out, const struct building *building);

/* totals.csv: sums over the portfolio; add in output order so that sums are the same
 * for any number of threads. */
struct totals {
    size_t roofs, zoned, buildings;
    size_t states[4];         /**< roofs by enum zone_state */
    double area;              /**< m2 */
    double zone_area[ZONE_ROLES];
    double edge_length;       /**< m */
    double fasteners[METHOD_KINDS];       /**< by area */
    double board_fasteners[METHOD_KINDS];
    size_t estimated, assumed; /**< roofs with at least one */
    size_t problems[3];       /**< by severity */
};

void totals_add(struct totals *totals, const struct building *building);
void totals_csv(struct text *out, const struct totals *totals,
                const struct write_settings *set);

#endif
