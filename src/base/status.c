#include "outlay/status.h"

#include <stdarg.h>
#include <stddef.h>

#include "base/print.h"

static const char *const texts[] = {
#define X(name, text) [OUTLAY_##name] = text,
    OUTLAY_STATUS_MAP(X)
#undef X
};

const char *outlay_status_text(enum outlay_status status)
{
    size_t index = (size_t)status;

    return index < sizeof texts / sizeof texts[0] ? texts[index] : "unknown status";
}

/* A message that is too long is cut where a character begins, so that it stays UTF-8. */
static void cut_whole(char *buffer, size_t size, int length)
{
    size_t end = size - 1;

    if (length < 0) {
        buffer[0] = '\0';
        return;
    }
    if ((size_t)length < size)
        return;
    while (end > 0 && ((unsigned char)buffer[end - 1] & 0xC0) == 0x80)
        end--;
    if (end > 0 && (unsigned char)buffer[end - 1] >= 0xC0)
        end--;
    else
        end = size - 1;
    buffer[end] = '\0';
}

static void fill(char *buffer, size_t size, const char *format, va_list args)
{
    cut_whole(buffer, size, print_plain(buffer, size, format, args));
}

enum outlay_status outlay_fail(struct outlay_error *err, enum outlay_status status,
                               const char *format, ...)
{
    va_list args;

    if (!err)
        return status;
    err->status = status;
    err->where[0] = '\0';
    err->todo[0] = '\0';
    va_start(args, format);
    fill(err->what, sizeof err->what, format, args);
    va_end(args);
    return status;
}

void outlay_fail_where(struct outlay_error *err, const char *format, ...)
{
    va_list args;

    if (!err || err->where[0] != '\0')
        return;
    va_start(args, format);
    fill(err->where, sizeof err->where, format, args);
    va_end(args);
}

void outlay_fail_todo(struct outlay_error *err, const char *format, ...)
{
    va_list args;

    if (!err || err->todo[0] != '\0')
        return;
    va_start(args, format);
    fill(err->todo, sizeof err->todo, format, args);
    va_end(args);
}
