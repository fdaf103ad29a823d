#ifndef OUTLAY_OPTIONS_JOB_H
#define OUTLAY_OPTIONS_JOB_H

/**
 * @file options/job.h
 * A job inside: the values that its options were given, as text, in order, each with
 * its origin. They are read into settings together, because the unit of a bare number
 * depends on the option `units`.
 */

#include <stdbool.h>

#include "base/arena.h"
#include "options/messages.h"
#include "options/options.h"
#include "options/settings.h"
#include "outlay/outlay.h"

struct assignment {
    const struct option *option;
    const char *value;
    const char *where; /**< "--wind-speed", "job.yaml:3: wind_speed" */
    bool from_file;    /**< overridden by all that aren't */
    struct assignment *next;
};

struct outlay_job {
    struct arena *arena; /**< owned; holds all texts */
    struct assignment *first;
    struct assignment **end;
    struct messages messages;
};

/** Appends an assignment; texts are copied. @return OUTLAY_E_MEMORY */
enum outlay_status job_assign(struct outlay_job *job, const struct option *option,
                              const char *value, const char *where, bool from_file,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Reads all assignments into settings, defaults first, then files, then the others.
 * Texts are borrowed from the job.
 * @return OUTLAY_E_USAGE with the assignment in err->where; OUTLAY_E_MEMORY
 */
enum outlay_status job_settings(const struct outlay_job *job, struct settings *settings,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
