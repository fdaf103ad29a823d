#include "options/messages.h"

void message_send(const struct messages *messages, enum outlay_message_kind kind,
                  const char *what, const char *where, const char *todo)
{
    struct outlay_message message = {kind, what, where, todo};
    if (messages->show)
        messages->show(messages->show_user, &message);
}

enum outlay_status message_progress(const struct messages *messages, double share,
                                    size_t roofs, struct outlay_error *err)
{
    if (messages->progress && messages->progress(messages->progress_user, share, roofs))
        return outlay_fail(err, OUTLAY_E_INTERRUPTED, "interrupted");
    return OUTLAY_OK;
}
