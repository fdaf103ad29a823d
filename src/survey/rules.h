#ifndef OUTLAY_SURVEY_RULES_H
#define OUTLAY_SURVEY_RULES_H

/**
 * @file survey/rules.h
 * How many tests of each kind: the table survey-rules.csv, built in, written by
 * `outlay catalog`, replaceable by the user's CSV or XLSX. A source stands beside each
 * row.
 */

#include "base/arena.h"
#include "catalog/table.h"
#include "outlay/status.h"

/* Code, name in the table, letter of its places. */
#define SURVEY_TASK_MAP(X)                    \
    X(PULLOUT, "pull-out test", 'P')          \
    X(CORE, "core cut", 'C')                  \
    X(DECK, "deck", 'D')                      \
    X(SCAN, "moisture scan", 'M')             \
    X(HEIGHT, "height", 'H')                  \
    X(EDGE, "edge", 'E')                      \
    X(SURROUNDINGS, "surroundings", 'G')      \
    X(OPENINGS, "openings", 'O')              \
    X(DRAINS, "drains and penetrations", 'R') \
    X(TRIAL_WELD, "trial weld", 'W')          \
    X(PHOTO, "photo", 'F')

enum survey_task {
#define X(code, name, letter) TASK_##code,
    SURVEY_TASK_MAP(X)
#undef X
        SURVEY_TASKS
};

/** "pull-out test"; NULL past the end. */
const char *survey_task_name(int task);
char survey_task_letter(enum survey_task task);

/** What a count goes by. */
enum rule_by {
    BY_ROOF,      /**< least, once a roof */
    BY_AREA,      /**< of the roof */
    BY_DECK_AREA, /**< of all roofs of a building that have the same deck */
    BY_EDGE,      /**< length of the roof's free edge */
    BY_DAY        /**< no place: while the work goes on; what `note` says */
};

struct survey_rule {
    enum survey_task task;
    enum rule_by by;
    int least;          /**< up to `first` of what it goes by */
    double first;       /**< m2 or m */
    int further;        /**< so many for each further `step`, or part of it */
    double step;        /**< m2 or m; 0: none */
    const char *note;   /**< for the sheet: "at the start of each half day"; "" */
    const char *source; /**< "ANSI/SPRI FX-1, from memory"; never empty */
};

/** One rule a task at most; a task without one isn't surveyed. */
struct survey_rules {
    struct survey_rule *rows; /**< in the arena that was handed in */
    size_t count;
};

/** The built-in table as CSV text, static storage. */
extern const char survey_rules_csv[];

/** Reads the user's table, CSV or XLSX, or the built-in one for NULL.
 *  @return OUTLAY_E_USAGE with table, row and column; OUTLAY_E_MEMORY */
enum outlay_status survey_rules_load(struct arena *arena, const char *path,
                                     struct survey_rules *out,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

/** As survey_rules_load(), from a table that was read. */
enum outlay_status survey_rules_read(struct arena *arena, const struct table *table,
                                     struct survey_rules *out,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

/** The rule of a task; NULL where the table has none. */
const struct survey_rule *survey_rule_of(const struct survey_rules *rules,
                                         enum survey_task task);

/** How many tests it asks for. @param size  m2 or m of what it goes by */
int survey_rule_count(const struct survey_rule *rule, double size);

#endif
