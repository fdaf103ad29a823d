#ifndef OUTLAY_CLI_COMMAND_H
#define OUTLAY_CLI_COMMAND_H

/**
 * @file cli/command.h
 * The table of commands. Adding one is a row in command.c and a file cmd_NAME.c.
 */

#include <stddef.h>

#include "base/text.h"
#include "cli/terminal.h"
#include "commands/commands.h"
#include "options/job.h"
#include "options/options.h"

enum exit_status {
    EXIT_DONE = 0,
    EXIT_LEFT_OUT = 1, /**< done, but at least one roof was left out */
    EXIT_INPUT = 2,    /**< bad usage or unreadable input */
    EXIT_OUTPUT = 3,
    EXIT_LIMIT = 4, /**< --strict, a limit, out of memory */
    EXIT_INTERRUPTED = 130
};

/** One call of a command, its arguments read. */
struct call {
    const char *topic; /**< what help is asked about; NULL */
    struct outlay_result result;
    struct text report; /**< goes to standard output */
};

struct command {
    const char *name;
    unsigned bit;             /**< enum command_bit; 0: takes no options */
    const char *arguments;    /**< "INPUT -o FOLDER" */
    const char *help;         /**< one line */
    const char *more;         /**< paragraphs below the usage */
    const char *examples;     /**< command lines that work beside testdata/demo */
    const char *positions[3]; /**< options that plain arguments stand for; NULL ends */
    command_work *work;       /**< NULL for help and version */
    bool writes;              /**< files: --quiet leaves the report out */
    enum outlay_status (*run)(struct call *call, struct outlay_error *err); /**< these */
};

/** All commands, in the order of help; NULL at the end. */
extern const struct command *const command_table[];

/** Finds a command. NULL for none. */
const struct command *command_find(const char *name);

/** Fills err with the command that was meant. @return OUTLAY_E_USAGE */
enum outlay_status command_unknown(const char *name, struct outlay_error *err);

/** Runs the program: argv[1] is the command. @return an enum exit_status */
int command_main(int argc, char **argv);

/** Appends the list of commands. */
void commands_help(struct text *out);

/** Appends the help of one command. */
void command_help(const struct command *command, struct text *out);

/* The rows' functions, one per file. */
extern const struct command command_run_row;
extern const struct command command_takeoff_row;
extern const struct command command_survey_row;
extern const struct command command_compare_row;
extern const struct command command_draw_row;
extern const struct command command_rank_row;
extern const struct command command_budget_row;
extern const struct command command_zones_row;
extern const struct command command_inspect_row;
extern const struct command command_explain_row;
extern const struct command command_catalog_row;
extern const struct command command_job_row;
extern const struct command command_help_row;
extern const struct command command_version_row;

#endif
