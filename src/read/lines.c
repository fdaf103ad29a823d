#include "read/lines.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { RECORD_SEPARATOR = 0x1E };

static const size_t first_capacity = 256 * 1024;
static const size_t mention_reach = 8192;

void lines_init(struct lines *lines, FILE *stream)
{
    *lines = (struct lines){.stream = stream};
}

void lines_release(struct lines *lines)
{
    free(lines->data);
    *lines = (struct lines){0};
}

/* Makes room for more behind `end`: moves what is left to the front, or grows. One byte
 * stays free for the NUL behind the last text. */
static enum outlay_status make_room(struct lines *lines, struct outlay_error *err)
{
    size_t kept = lines->end - lines->start;
    size_t capacity = lines->capacity ? lines->capacity : first_capacity;
    char *data;

    if (lines->data && lines->start > 0) {
        memmove(lines->data, lines->data + lines->start, kept);
        lines->start = 0;
        lines->end = kept;
    }
    if (kept > LINES_TEXT_MAX)
        return outlay_fail(err, OUTLAY_E_INPUT, "a line of more than %zu MB",
                           LINES_TEXT_MAX >> 20);
    if (lines->data && kept + 1 < capacity / 2)
        return OUTLAY_OK;
    capacity = lines->data ? 2 * capacity : capacity;
    data = realloc(lines->data, capacity);
    if (!data)
        return outlay_fail(err, OUTLAY_E_MEMORY, "a line of %zu bytes", kept);
    lines->data = data;
    lines->capacity = capacity;
    return OUTLAY_OK;
}

/* Reads once. A descriptor is read straight, since fread() waits for a full buffer. */
static enum outlay_status fill(struct lines *lines, struct outlay_error *err)
{
    enum outlay_status status = make_room(lines, err);
    int descriptor = fileno(lines->stream);
    size_t room;

    if (status != OUTLAY_OK)
        return status;
    room = lines->capacity - lines->end - 1;
    errno = 0;
    if (descriptor >= 0) {
        ssize_t count = read(descriptor, lines->data + lines->end, room);

        if (count < 0 && errno == EINTR)
            return outlay_fail(err, OUTLAY_E_INTERRUPTED, "interrupted while reading");
        if (count < 0)
            return outlay_fail(err, OUTLAY_E_INPUT, "reading failed: %s",
                               strerror(errno));
        lines->end += (size_t)count;
        lines->ended = count == 0;
    } else {
        size_t count = fread(lines->data + lines->end, 1, room, lines->stream);

        if (count == 0 && ferror(lines->stream))
            return outlay_fail(err, OUTLAY_E_INPUT, "reading failed");
        lines->end += count;
        lines->ended = count == 0;
    }
    return OUTLAY_OK;
}

static bool is_blank(char c)
{
    return c == ' ' || c == '\t' || c == '\r' || c == '\n' || c == RECORD_SEPARATOR;
}

/* A byte order mark goes, and the first byte tells how texts are separated. */
static void begin(struct lines *lines)
{
    static const char mark[] = "\xEF\xBB\xBF";
    size_t at = lines->start;

    if (lines->end - at >= 3 && memcmp(lines->data + at, mark, 3) == 0)
        lines->start = at += 3;
    while (at < lines->end && is_blank(lines->data[at]) &&
           lines->data[at] != RECORD_SEPARATOR)
        at++;
    lines->separated = at < lines->end && lines->data[at] == RECORD_SEPARATOR;
    lines->begun = true;
}

/* Finds the end of the text that begins at start; reads on as needed. *stop is NULL when
 * the stream ends first. */
static enum outlay_status find_stop(struct lines *lines, char **stop,
                                    struct outlay_error *err)
{
    size_t seen = 0;

    for (;;) {
        char *from = lines->data ? lines->data + lines->start : NULL;
        size_t length = lines->end - lines->start;
        enum outlay_status status;

        if (from && !lines->begun && (length >= 3 || lines->ended)) {
            begin(lines);
            continue;
        }
        if (from && lines->begun && length > seen) {
            *stop = memchr(from + seen, lines->separated ? RECORD_SEPARATOR : '\n',
                           length - seen);
            if (*stop)
                return OUTLAY_OK;
            seen = length;
        }
        *stop = NULL;
        if (lines->ended)
            return OUTLAY_OK;
        status = fill(lines, err);
        if (status != OUTLAY_OK)
            return status;
    }
}

enum outlay_status lines_next(struct lines *lines, char **text, size_t *length,
                              bool *whole, struct outlay_error *err)
{
    *text = NULL;
    *length = 0;
    *whole = true;
    for (;;) {
        char *stop = NULL, *from, *to;
        enum outlay_status status = find_stop(lines, &stop, err);

        if (status != OUTLAY_OK)
            return status;
        if (lines->start == lines->end)
            return OUTLAY_OK;
        from = lines->data + lines->start;
        to = stop ? stop : lines->data + lines->end;
        lines->start += (size_t)(to - from) + (stop != NULL);
        *whole = stop != NULL || to[-1] == '\n';
        while (from < to && is_blank(*from))
            from++;
        while (from < to && is_blank(to[-1]))
            to--;
        if (from < to || !lines->separated)
            lines->number++;
        if (from == to)
            continue;
        *to = '\0';
        *text = from;
        *length = (size_t)(to - from);
        return OUTLAY_OK;
    }
}

bool lines_mention(const struct lines *lines, const char *text, const char *word)
{
    size_t reach = (size_t)(lines->data + lines->end - text);
    size_t length = strlen(word);

    if (reach > mention_reach)
        reach = mention_reach;
    for (size_t i = 0; i + length <= reach; i++)
        if (memcmp(text + i, word, length) == 0)
            return true;
    return false;
}
