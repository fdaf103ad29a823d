#ifndef OUTLAY_OUTLAY_H
#define OUTLAY_OUTLAY_H

/**
 * @file outlay/outlay.h
 * Runs a job: outlines of low-slope roofs in; wind zones, fastening, takeoff, cost,
 * budget and plan sheets out.
 *
 *     struct outlay_error err = {0};
 *     struct outlay_result result;
 *     struct outlay_job *job = outlay_job_new();
 *     if (job
 *         && outlay_job_set(job, "input", "roofs.geojson", &err) == OUTLAY_OK
 *         && outlay_job_set(job, "field", "height=HGT:ft", &err) == OUTLAY_OK
 *         && outlay_job_set(job, "wind-speed", "115 mph", &err) == OUTLAY_OK
 *         && outlay_job_set(job, "output", "out", &err) == OUTLAY_OK
 *         && outlay_job_run(job, &result, &err) == OUTLAY_OK)
 *         printf("%zu of %zu roofs zoned\n", result.zoned, result.roofs);
 *     else
 *         fprintf(stderr, "%s: %s: %s\n", err.what, err.where, err.todo);
 *     outlay_job_free(job);
 *
 * Results are planning figures, not a design: the local code, the assembly's approval
 * and a licensed engineer decide.
 *
 *  - Nothing is printed but output that goes to "-"; what the user should hear comes
 *    through outlay_job_on_message().
 *  - Texts passed in are copied. Texts passed out live during the call only.
 *  - Threads: a job is used by one thread at a time; several jobs may run at once.
 *    Callbacks come from the thread that called outlay_job_run().
 *  - Results are the same whatever locale the program has chosen: a run has "C" in its
 *    own threads, callbacks included, and changes no other thread's.
 *  - The vector drivers are registered process-wide at the first run.
 */

#include <stddef.h>

#include "outlay/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/** Settings, callbacks and nothing else: a job can run any number of times. */
struct outlay_job;

enum outlay_message_kind {
    OUTLAY_MESSAGE_NOTE,
    OUTLAY_MESSAGE_WARNING,
    OUTLAY_MESSAGE_ERROR /**< roofs were left out; what stops a run is an error */
};

/**
 * What, where, what to do. Parts may be "", never NULL. The problems of roofs come at the
 * end of a run, each kind once: what the first roof's is, and where how many have it,
 * "roofs.gpkg, roof 0417 and 11 more".
 */
struct outlay_message {
    enum outlay_message_kind kind;
    const char *what;
    const char *where;
    const char *todo;
};

/** Counts of one run. */
struct outlay_result {
    size_t roofs; /**< read */
    size_t zoned;
    size_t left_out; /**< roofs without zones; problems.csv says why */
    size_t buildings;
    size_t notes, warnings, errors; /**< problems of roofs by severity */
};

/** A job with the documented defaults. @return owned, NULL when out of memory */
OUTLAY_API struct outlay_job *outlay_job_new(void);

/** Frees a job. NULL is ignored. */
OUTLAY_API void outlay_job_free(struct outlay_job *job);

/**
 * Sets an option by the name that `outlay run --help` lists, without hyphens in front:
 * "input", "output", "standard", "wind-speed". Overrides job files, whatever the order.
 * The value is read when the job runs, since the unit of a bare number depends on the
 * setting "units"; so does "velocity-constant" where it isn't set. Setting an option
 * again replaces it ("field": for the same role).
 * @return OUTLAY_E_USAGE for an unknown name, OUTLAY_E_MEMORY
 */
OUTLAY_API enum outlay_status outlay_job_set(struct outlay_job *job, const char *name,
                                             const char *value,
                                             struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Reads settings from a YAML job file, as `outlay job` writes it. Paths in it are
 * relative to the working directory; bare numbers are in the file's own "units".
 * @return OUTLAY_E_USAGE with file, line and key in err->where; OUTLAY_E_MEMORY
 */
OUTLAY_API enum outlay_status outlay_job_read_file(
    struct outlay_job *job, const char *path, struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Calls show for each message of a run; NULL: messages are dropped. */
OUTLAY_API void outlay_job_on_message(struct outlay_job *job,
                                      void (*show)(void *user,
                                                   const struct outlay_message *message),
                                      void *user);

/**
 * Calls show every few hundred roofs at most.
 * @param show  gets the share done (0 to 1, or below 0 where the source doesn't tell
 *              its size) and the roofs done; a result other than 0 interrupts the run
 */
OUTLAY_API void outlay_job_on_progress(struct outlay_job *job,
                                       int (*show)(void *user, double share,
                                                   size_t roofs),
                                       void *user);

/**
 * Runs the job: "output" ending in .geojson, .geojsonl, .gpkg or .fgb gets the zones as
 * one layer, any other a folder of files. What was there stays as it was unless the run
 * succeeds and "overwrite" is set.
 * @param[out] result  counts; may be NULL; filled as far as the run came
 * @return OUTLAY_OK also when roofs were left out; OUTLAY_E_USAGE, OUTLAY_E_INPUT,
 *         OUTLAY_E_OUTPUT, OUTLAY_E_LIMIT, OUTLAY_E_INTERRUPTED, OUTLAY_E_MEMORY,
 *         OUTLAY_E_GEOMETRY (a geometry library could not start)
 */
OUTLAY_API enum outlay_status outlay_job_run(struct outlay_job *job,
                                             struct outlay_result *result,
                                             struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Version of the library, "0.1.0". Static storage. */
OUTLAY_API const char *outlay_version(void);

#ifdef __cplusplus
}
#endif

#endif
