#ifndef OUTLAY_FLOW_PIPELINE_H
#define OUTLAY_FLOW_PIPELINE_H

/**
 * @file flow/pipeline.h
 * From a layer to results, building by building, in memory that doesn't grow with the
 * layer but for an index of 64 bytes per roof.
 *
 * The calling thread reads, workers run the stages, and the calling thread puts the
 * results down in the order of the buildings' first roofs, so that the output is the
 * same for any number of workers. Where the layer has buildings of several roofs, all
 * of it is read before the first is worked on; elsewhere both go on at once. A stream
 * is never held: there a building is a run of consecutive roofs.
 */

#include <stdbool.h>
#include <stddef.h>

#include "flow/batch.h"
#include "options/messages.h"
#include "options/settings.h"
#include "outlay/status.h"
#include "read/read.h"
#include "write/grid.h"
#include "write/table.h"
#include "write/write.h"

/** Roofs that one building may have; a column that groups more isn't one of
 *  buildings (ours). */
#define BUILDING_ROOFS_MAX 2000

/** Where results go. */
struct sink {
    batch_rows *rows[PARTS];  /**< of the texts wanted of each batch; NULL for others */
    bool layouts;             /**< roofs are laid out and counted */
    struct roof_table *table; /**< gets the first roofs; NULL: not wanted */
    void *self;
    /** Takes a batch; it is gone afterwards. */
    enum outlay_status (*commit)(void *self, const struct batch *batch,
                                 struct outlay_error *err);
    /** Takes problems that only the whole layer shows; NULL: not wanted. */
    enum outlay_status (*problems)(void *self, const struct grid *rows,
                                   struct outlay_error *err);
    /** Takes back all rows of problems that are this one but for the roof, before
     *  problems() gets one for all roofs; not NULL where that isn't. */
    enum outlay_status (*withdraw)(void *self, const struct grid *row,
                                   struct outlay_error *err);
    /** Takes the roofs that are another one mapped again, of a layer that is no stream;
     *  NULL: not wanted. */
    enum outlay_status (*duplicates)(void *self, const struct duplicate_list *list,
                                     struct outlay_error *err);
};

struct run_counts {
    struct totals totals;
    size_t rated;         /**< zoned roofs with a wind speed */
    size_t threads;       /**< workers */
    double stage_seconds; /**< that reading, stages and writing took */
    double check_seconds; /**< that checks over the whole layer took */
    char digest[33];      /**< of the input, flow/digest.h; "" when it wasn't read */
    bool streamed;        /**< the checks over the whole layer were off */
    enum outlay_status input_status; /**< a stream that broke off: what was read is
                                          written, then this is the run's status */
    struct outlay_error input_error;
};

/**
 * Runs the layer through the stages into the sink.
 * @param counts  zeroed by the caller; filled as far as the run came
 * @return what stops the run: OUTLAY_E_INPUT, OUTLAY_E_INTERRUPTED, OUTLAY_E_MEMORY,
 *         OUTLAY_E_LIMIT, OUTLAY_E_GEOMETRY (no workspace), or what the sink returns
 */
enum outlay_status pipeline_run(const struct settings *settings, struct reader *reader,
                                const struct messages *messages, const struct sink *sink,
                                struct run_counts *counts,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
