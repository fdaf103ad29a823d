#ifndef OUTLAY_WRITE_RUN_JSON_H
#define OUTLAY_WRITE_RUN_JSON_H

/**
 * @file write/run_json.h
 * run.json: what a run was made with and what came of it, enough to repeat it.
 *
 * All texts are borrowed. Doesn't fail but for memory (out->failed).
 */

#include <stdbool.h>
#include <stddef.h>

#include "base/text.h"
#include "write/write.h"

/** A setting as the user would write it. */
struct run_setting {
    const char *name;
    const char *value;
};

/** Where a role's values came from. */
struct run_field {
    const char *role;
    const char *column;
    const char *unit; /**< "" for none */
    bool given;       /**< by the user; else recognised by its name */
    size_t filled;    /**< features with a usable value */
};

struct run_timing {
    const char *stage;
    double seconds;
};

struct run_input {
    const char *path;      /**< as the user named it, without secrets */
    const char *layer;     /**< NULL for none */
    const char *crs;       /**< NULL when unknown */
    const char *digest;    /**< NULL for none */
    const char *digest_of; /**< in words: which hash of what; NULL for none */
    bool streamed;         /**< checks over the whole layer were off */
};

struct run_record {
    const char *command; /**< "run" */
    const struct write_settings *set;
    const char *catalog; /**< its path; NULL for the built-in one */
    struct run_input input;
    const struct run_setting *settings;
    size_t setting_count;
    const struct run_field *fields;
    size_t field_count;
    const char *const *files; /**< names of what was written */
    size_t file_count;
    const struct run_timing *timings;
    size_t timing_count;
    size_t threads;
    size_t rated; /**< roofs with a wind speed */
    const struct totals *totals;
};

/** Appends the whole file. */
void run_json(struct text *out, const struct run_record *record);

#endif
