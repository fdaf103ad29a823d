#ifndef OUTLAY_OPTIONS_MESSAGES_H
#define OUTLAY_OPTIONS_MESSAGES_H

/**
 * @file options/messages.h
 * What a run tells its caller while it goes on: messages for people and progress. Only
 * the calling thread sends them.
 */

#include <stdbool.h>
#include <stddef.h>

#include "outlay/outlay.h"

/** Callbacks as outlay_job_on_message() and outlay_job_on_progress() set them; NULL
 *  for none. */
struct messages {
    void (*show)(void *user, const struct outlay_message *message);
    void *show_user;
    int (*progress)(void *user, double share, size_t roofs);
    void *progress_user;
};

void message_send(const struct messages *messages, enum outlay_message_kind kind,
                  const char *what, const char *where, const char *todo);

/** Reports progress. @return OUTLAY_E_INTERRUPTED when the callback asks to stop */
enum outlay_status message_progress(const struct messages *messages, double share,
                                    size_t roofs,
                                    struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
