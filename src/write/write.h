#ifndef OUTLAY_WRITE_WRITE_H
#define OUTLAY_WRITE_WRITE_H

/**
 * @file write/write.h
 * What is written and how: one table of columns (write/columns.h) serves every format,
 * so that zones.geojson, zones.gpkg, summary.csv and the terminal never disagree.
 *
 * Text formats are formatted by the workers into struct text, one chunk per building, and
 * put down in order by the caller through write/output.h; layers (GeoPackage,
 * FlatGeobuf) go through GDAL in the caller's thread (write/layers.h). The record is
 * const here, and a chunk depends on its building alone, so the same bytes come out for
 * any number of threads.
 *
 * Every file states the caution of roof/caution.h: GeoJSON as a member on top, layers
 * in their metadata, and CSV tables in their header, as the name of a last column that
 * is empty in every row. There it reaches whoever opens the table, whatever is sorted
 * or filtered, for one byte per row.
 *
 * Out of memory sets out->failed, as in base/text.h. Threads: any, one text per thread.
 */

#include <stdbool.h>
#include <stddef.h>

#include "base/text.h"
#include "base/units.h"
#include "roof/bill.h"
#include "roof/roof.h"
#include "standard/standard.h"

struct write_settings {
    const struct unit_system *units;
    const struct standard *standard;
    bool catalog_built_in;  /**< ratings are invented: outputs say so */
    bool items_built_in;    /**< packs and crew rates are invented: outputs say so */
    bool prices_built_in;   /**< prices are invented: outputs with money say so */
    bool actions_built_in;  /**< what can be done is invented: plans say so */
    const char *currency;   /**< ISO 4217 code in small letters, ends names: "usd" */
    const char *price_date; /**< "2026-07"; NULL or "": not given */
    const char *title;      /**< of the portfolio, as people call it; "" for none */
};

/** Appends the caution as plain text and, where they are, that ratings are invented. */
void caution_print(struct text *out, bool ratings_invented);

/*
 * zones.geojson and roofs.geojson: RFC 7946, a feature a line. Each feature of a chunk
 * is preceded by ",\n", so chunks join in any number; before the first feature of all,
 * GEOJSON_JOINT bytes of its chunk are left off.
 */

/** Appends everything up to the features. @param layer  "zones", "roofs" */
void geojson_open(struct text *out, const char *layer, const struct write_settings *set);

/** Appends a feature for each zone of each zoned roof. A zone without a polygon that
 *  is left after rounding has a null geometry and keeps its numbers. */
void geojson_zones(struct text *out, const struct building *building,
                   const struct write_settings *set);

/**
 * Appends a feature for each roof: its outline, its input fields and the results. A
 * result whose name is an input field's, in any case, gets `outlay_` before it, as many
 * times as needed (the input may be an earlier roofs.geojson). The PLACE_COLUMNS of each
 * roof are blanks, to be filled in by output_fill().
 */
void geojson_roofs(struct text *out, const struct building *building,
                   const struct write_settings *set);

/** Bytes to leave off the first chunk that isn't empty: the comma. */
enum { GEOJSON_JOINT = 1 };

void geojson_close(struct text *out);

/** GeoJSON text sequence, one zone feature a line, each with a short caution; a roof
 *  that can't be zoned leaves one feature with its own outline and zone null. */
void geojson_zone_lines(struct text *out, const struct building *building,
                        const struct write_settings *set);

/* summary.csv: one row per roof. */
void summary_header(struct text *out, const struct write_settings *set);
void summary_rows(struct text *out, const struct building *building,
                  const struct write_settings *set);

/* materials.csv, as write/tables.h fills it. */
void materials_header(struct text *out, const struct write_settings *set);
void materials_rows(struct text *out, const struct building *building,
                    const struct write_settings *set);

/* orders.csv, as write/tables.h fills it. */
void orders_header(struct text *out, const struct write_settings *set);
void orders_rows(struct text *out, const struct building *building,
                 const struct write_settings *set);

/* rolls.csv, as write/tables.h fills it. */
void rolls_header(struct text *out, const struct write_settings *set);
void rolls_rows(struct text *out, const struct building *building,
                const struct write_settings *set);

/* problems.csv, as write/tables.h fills it. */
void problems_header(struct text *out, const struct write_settings *set);
void problems_rows(struct text *out, const struct building *building,
                   const struct write_settings *set);

/** Sums over the portfolio. Start from zero and add in output order, so that sums are
 *  the same for any number of threads. */
struct totals {
    size_t roofs, zoned, buildings;
    size_t states[4]; /**< roofs by enum zone_state */
    double area;      /**< m2 */
    double zone_area[ZONE_ROLES];
    double edge_length;             /**< m */
    double fasteners[METHOD_KINDS]; /**< by area */
    double board_fasteners[METHOD_KINDS];
    size_t laid_out;             /**< roofs whose counts are those of a layout */
    size_t uncounted;            /**< zoned roofs that are in neither of these counts */
    size_t estimated, assumed;   /**< roofs with at least one */
    size_t estimates[ESTIMATES]; /**< roofs, by what is estimated */
    size_t assumptions[ASSUMPTIONS]; /**< roofs, by what is assumed */
    size_t problems[3];              /**< by severity */
    size_t problem_codes[PROBLEM_CODES];
};

void totals_add(struct totals *totals, const struct building *building,
                const struct write_settings *set);

/** What a roof's area is rounded to where it is printed, m2. Sums are of rounded areas,
 *  so that a list adds up to them. */
double roof_area_step(const struct write_settings *set);

/** totals.csv, as write/tables.h fills it. */
void totals_csv(struct text *out, const struct totals *totals,
                const struct write_settings *set);

#endif
