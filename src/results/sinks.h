#ifndef OUTLAY_RESULTS_SINKS_H
#define OUTLAY_RESULTS_SINKS_H

/**
 * @file results/sinks.h
 * Where a run's results go: a folder of files, or the zones alone as one file, layer or
 * text sequence. Whole or not at all, but for standard output.
 */

#include "flow/pipeline.h"
#include "options/settings.h"
#include "outlay/status.h"
#include "results/outcome.h"

/* ---- The folder that `run` writes ----------------------------------------------- */

struct folder_sink;

/**
 * Opens settings->output as a folder under construction: before the input is read, so
 * that what can't be written is known first.
 * @param settings  borrowed until the end; its parts may change until folder_sink_start()
 * @param[out] out  owned; ends with folder_sink_commit() or folder_sink_abort()
 */
enum outlay_status folder_sink_open(const struct settings *settings,
                                    struct folder_sink **out,
                                    struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Opens the files of settings->parts; run.json is always among them.
 *  @param extent  of the source, as far as known; borrowed until the end */
enum outlay_status folder_sink_start(struct folder_sink *sink,
                                     const struct extent *extent,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

/* Files that there are at most: parts, and a layout for every UTM zone, north and
 * south. */
enum { FOLDER_FILES = PARTS + 120 };

/** Names of the files made so far, those with names of their own last. @return their
 *  number */
size_t folder_sink_files(const struct folder_sink *sink, const char *out[FOLDER_FILES]);

/** What the pipeline calls. Borrows the sink. */
struct sink folder_sink_calls(struct folder_sink *sink);

/** Ranks, plans and prices the portfolio's packs, once the pipeline is through.
 *  @return as outcome_decide() */
enum outlay_status folder_sink_decide(struct folder_sink *sink,
                                      const struct messages *messages,
                                      struct outlay_error *err) OUTLAY_MUST_CHECK;

/** What is known of the portfolio; after folder_sink_decide(). Borrowed from the sink. */
const struct outcome *folder_sink_outcome(const struct folder_sink *sink);

/** Writes decisions, totals, workbook and run.json, puts the folder in its place and
 *  frees the sink. */
enum outlay_status folder_sink_commit(struct folder_sink *sink,
                                      const struct run_record *record,
                                      struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Removes what was written and frees the sink. NULL is ignored. */
void folder_sink_abort(struct folder_sink *sink);

/* ---- One output that `zones` writes --------------------------------------------- */

struct zones_sink;

enum zones_format {
    ZONES_NOT_GIVEN, /**< the path doesn't tell */
    ZONES_GEOJSON,
    ZONES_LINES, /**< a text sequence: .geojsonl, .geojsons, .ndjson, or - */
    ZONES_GPKG,
    ZONES_FGB
};

/** The format that an output's name asks for. */
enum zones_format zones_format_of(const char *path);

/**
 * Opens settings->output. Problems, if any, go beside it: zones.gpkg gets
 * zones.problems.csv; standard output gets none.
 * @param[out] out  owned; ends with zones_sink_commit() or zones_sink_abort()
 * Both places are tried, so that what can't be written is known before the input is read.
 * @return OUTLAY_E_USAGE for a name without a known format, OUTLAY_E_OUTPUT, also
 *         when it exists and may not be replaced; OUTLAY_E_MEMORY
 */
enum outlay_status zones_sink_open(const struct settings *settings,
                                   struct zones_sink **out,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

struct sink zones_sink_calls(struct zones_sink *sink);

/** Puts the output and its problems in their places and frees the sink.
 *  @param[out] not_drawn  zones that rounded away and that the format can't hold without
 *                         a polygon: FlatGeobuf */
enum outlay_status zones_sink_commit(struct zones_sink *sink, size_t *not_drawn,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Removes what was written and frees the sink. NULL is ignored. */
void zones_sink_abort(struct zones_sink *sink);

/** Where the problems went, or NULL when there were none or no place for them.
 *  Borrowed. */
const char *zones_sink_problems(const struct zones_sink *sink);

#endif
