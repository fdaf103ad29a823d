#ifndef OUTLAY_CLI_ARGUMENTS_H
#define OUTLAY_CLI_ARGUMENTS_H

/** @file cli/arguments.h  From the command line to a job, by the option table. */

#include <stdbool.h>

#include "cli/command.h"

struct arguments {
    bool help;    /**< asked for; what comes after wasn't read */
    bool version; /**< likewise */
};

/**
 * Reads the arguments behind the command's name: `--name value`, `--name=value`, `-o
 * value`, flags bare or as `--no-name`, plain arguments by position, `--` before plain
 * ones that begin with a hyphen. A job file is read where it stands.
 * @return OUTLAY_E_USAGE, OUTLAY_E_MEMORY
 */
enum outlay_status arguments_read(const struct command *command, int argc, char **argv,
                                  struct outlay_job *job, struct arguments *out,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
