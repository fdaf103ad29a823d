#ifndef OUTLAY_CLI_INTERRUPT_H
#define OUTLAY_CLI_INTERRUPT_H

/**
 * @file cli/interrupt.h
 * Lets a run end in order when the user presses Ctrl-C or the system asks it to stop:
 * a thread of its own waits for SIGINT and SIGTERM, so that no state is shared by way of
 * a signal handler. A second signal ends the program at once.
 */

#include <stdbool.h>

struct interrupt;

/** Starts to wait; call it before any other thread is started, and from the thread that
 *  reads, since a read that is waiting for input is woken up.
 *  @return owned; NULL when there is no thread to be had: signals then end the program */
struct interrupt *interrupt_start(void);

/** True once a signal came. NULL was never interrupted. */
bool interrupt_asked(struct interrupt *interrupt);

/** Stops waiting and frees. NULL is ignored. */
void interrupt_free(struct interrupt *interrupt);

#endif
