#ifndef OUTLAY_OPTIONS_OPTIONS_H
#define OUTLAY_OPTIONS_OPTIONS_H

/**
 * @file options/options.h
 * One table of options. Command line, job file, starter job file, --help, run.json and
 * the README's table are all made from it, so that none can drift from the others.
 *
 * Constant data in static storage; safe from any thread.
 */

#include <stdbool.h>
#include <stddef.h>

#include "base/arena.h"
#include "base/text.h"
#include "base/units.h"
#include "options/settings.h"
#include "outlay/status.h"

enum option_kind {
    OPTION_FLAG,   /**< bool: bare, `--no-NAME`, or yes and no */
    OPTION_TEXT,   /**< const char *, not empty */
    OPTION_CHOICE, /**< an enum or int, by name */
    OPTION_LIST,   /**< unsigned bits, names joined by commas, or "all" */
    OPTION_NUMBER, /**< double, SI inside; a unit may follow the number */
    OPTION_WHOLE,  /**< int */
    OPTION_BOX,    /**< west,south,east,north in degrees; read.bbox */
    OPTION_FIELD,  /**< role=column[:unit], once a role; read.fields and read.marks */
    OPTION_SOURCE  /**< role=source, once a role; sample.sources; printed without
                        passwords */
};

/* Groups in the order of help and starter file: code, title. */
#define OPTION_GROUP_MAP(X)     \
    X(INPUT, "Input")           \
    X(OUTPUT, "Output")         \
    X(ZONES, "Wind zones")      \
    X(WIND, "Wind and uplift")  \
    X(ATTACHMENT, "Attachment") \
    X(TAKEOFF, "Takeoff")       \
    X(COST, "Cost")             \
    X(RANKING, "Ranking")       \
    X(PLAN, "Plan")             \
    X(SPREAD, "How sure")       \
    X(RUN, "The run")

enum option_group {
#define X(code, title) GROUP_##code,
    OPTION_GROUP_MAP(X)
#undef X
        OPTION_GROUPS
};

/* Commands that take an option, as bits. */
enum command_bit {
    FOR_RUN = 1u << 0,
    FOR_ZONES = 1u << 1,
    FOR_INSPECT = 1u << 2,
    FOR_EXPLAIN = 1u << 3,
    FOR_CATALOG = 1u << 4,
    FOR_JOB = 1u << 5,
    FOR_TAKEOFF = 1u << 6,
    FOR_DRAW = 1u << 7,
    FOR_RANK = 1u << 8,
    FOR_BUDGET = 1u << 9,
    FOR_COMPARE = 1u << 10,
    FOR_SURVEY = 1u << 11
};

struct option {
    const char *name; /**< "wind-speed"; the job file takes wind_speed too */
    char letter;      /**< 'o' of -o; 0 for none */
    enum option_group group;
    enum option_kind kind;
    unsigned commands;           /**< bits of enum command_bit */
    bool in_job;                 /**< may stand in a job file and in outlay_job_set() */
    size_t offset;               /**< of the value in struct settings */
    const char *value;           /**< what help calls the value; NULL for flags */
    const char *initial;         /**< default as a user would write it; "" for none */
    const char *help;            /**< one line, no full stop */
    const char *(*name_of)(int); /**< choices and lists */
    enum quantity quantity;      /**< numbers */
    const char *unit_us;         /**< of a bare number with `units: us`; NULL for none */
    const char *unit_si;
    double least, most; /**< numbers: SI, both allowed */
};

/** The options, from 0; NULL past the end. */
const struct option *option_at(size_t index);

size_t option_count(void);

/** Finds an option by name, underscores and hyphens alike. NULL for none. */
const struct option *option_find(const char *name, size_t length);

/** Finds an option by its letter. NULL for none. */
const struct option *option_by_letter(char letter);

/** The nearest option name among those for some command, or NULL when nothing is near.
 *  @param commands  bits of enum command_bit */
const char *option_nearest(const char *name, unsigned commands);

/**
 * Reads all of text as the option's value into settings.
 * @param units   what a bare number is in
 * @param arena   holds texts that settings point to
 * @return OUTLAY_E_USAGE with what and todo; the caller adds where. OUTLAY_E_MEMORY
 */
enum outlay_status option_parse(const struct option *option, const char *text,
                                const struct unit_system *units, struct arena *arena,
                                struct settings *settings,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Appends the value as option_parse() reads it; nothing when it isn't given. Numbers
 *  name their unit: the settings' one, or the other where that is much shorter. */
void option_print(const struct option *option, const struct settings *settings,
                  struct text *out);

/** Appends what the option accepts, for help and messages: "B, C, D",
 *  "20 to 300 mph". */
void option_accepts(const struct option *option, const struct unit_system *units,
                    struct text *out);

/** Appends the help of a command's options, group by group. */
void options_help(unsigned command, struct text *out);

/** Appends a commented job file in which each key stands with its default. */
void options_starter(struct text *out);

/** Group titles. */
const char *option_group_title(enum option_group group);

#endif
