#ifndef OUTLAY_CLI_TERMINAL_H
#define OUTLAY_CLI_TERMINAL_H

/**
 * @file cli/terminal.h
 * What the program says on standard error: a line for each message, and a progress bar
 * where a person is watching.
 */

#include <stdbool.h>
#include <stddef.h>
#include <time.h>

#include "cli/interrupt.h"
#include "outlay/outlay.h"

struct terminal {
    bool quiet;     /**< no notes, no progress */
    bool watched;   /**< standard error is a terminal that can go back on a line */
    bool bar_shown; /**< a bar stands on the present line */
    struct timespec start;
    double next_bar;             /**< seconds since start */
    struct interrupt *interrupt; /**< borrowed; NULL */
};

/** Starts the clock. */
void terminal_init(struct terminal *terminal, struct interrupt *interrupt);

/** Prints a message; the callback of outlay_job_on_message(). */
void terminal_message(void *terminal, const struct outlay_message *message);

/** Draws the bar now and then; the callback of outlay_job_on_progress().
 *  @return 1 once the user has asked to stop */
int terminal_progress(void *terminal, double share, size_t roofs);

/** Prints an error. */
void terminal_error(struct terminal *terminal, const struct outlay_error *err);

/** Removes the bar. */
void terminal_clear(struct terminal *terminal);

#endif
