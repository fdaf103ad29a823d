#ifndef OUTLAY_OPTIONS_OPTION_ROWS_H
#define OUTLAY_OPTIONS_OPTION_ROWS_H

/**
 * @file options/option_rows.h
 * The rows of options that options/options.h walks through, a file for each subject.
 */

#include <stddef.h>

#include "options/options.h"

/* Where a value stands in struct settings, and names of choices that are enums. */
#define AT(field) offsetof(struct settings, field)
#define NAMES(function) ((const char *(*)(int))(function))

/* Commands that take an option. */
#define READS (FOLDERS | FOR_ZONES | FOR_INSPECT | FOR_EXPLAIN | FOR_DRAW)
#define FOLDERS (FOR_RUN | FOR_TAKEOFF | FOR_COMPARE | FOR_RANK | FOR_BUDGET | FOR_SURVEY)
#define RANKS (FOR_RUN | FOR_RANK)
#define PLANS (FOR_RUN | FOR_BUDGET)
#define DECIDES (FOR_RUN | FOR_RANK | FOR_BUDGET)
#define LAYS                                                                     \
    (FOR_RUN | FOR_TAKEOFF | FOR_COMPARE | FOR_BUDGET | FOR_DRAW | FOR_EXPLAIN | \
     FOR_SURVEY)
#define EVERY (READS | FOR_CATALOG | FOR_JOB)

struct option_rows {
    const struct option *rows;
    size_t count;
};

#define OPTION_ROWS(rows)                      \
    {                                          \
        rows, sizeof(rows) / sizeof((rows)[0]) \
    }

extern const struct option_rows option_rows_run;   /**< what is read and written, how */
extern const struct option_rows option_rows_roofs; /**< from zones to the takeoff */
extern const struct option_rows option_rows_cost;
extern const struct option_rows option_rows_plan; /**< over all roofs at once */

#endif
