#ifndef OUTLAY_RESULTS_RECORD_H
#define OUTLAY_RESULTS_RECORD_H

/**
 * @file results/record.h
 * What a run was made from, enough to repeat it: for run.json and the workbook.
 */

#include "base/text.h"
#include "flow/pipeline.h"
#include "options/settings.h"
#include "read/read.h"
#include "results/sinks.h"
#include "write/run_json.h"

enum { RECORD_SETTINGS = 128 /* at most */, RECORD_TIMINGS = 3 };

/** What run.json and the workbook tell of a run. The settings, the reader and the counts
 *  are borrowed until the end. */
struct record {
    struct run_record run; /**< points into the rest */
    struct run_setting settings[RECORD_SETTINGS];
    struct run_field fields[FIELD_ROLES];
    const char *files[FOLDER_FILES];
    struct run_timing timings[RECORD_TIMINGS];
    struct text values; /**< owned; of the settings */
    struct text source; /**< owned; the input without its secrets */
};

/** Fills a record where it is: it mustn't be moved. @param sink  tells the files
 *  @param seconds  the run took so far
 *  @return OUTLAY_E_MEMORY; the record is to be released all the same */
enum outlay_status record_fill(struct record *record, const struct settings *settings,
                               const struct reader *reader,
                               const struct folder_sink *sink,
                               const struct run_counts *counts, double seconds,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Twice is fine. */
void record_release(struct record *record);

#endif
