#ifndef OUTLAY_READ_LINES_H
#define OUTLAY_READ_LINES_H

/**
 * @file read/lines.h
 * Cuts a stream into the texts of a GeoJSON text sequence: one a line, or one behind
 * each record separator where the stream begins with one (RFC 8142). Blank lines are
 * skipped, CRLF and a last line without a line end are fine. Reads what is there without
 * waiting for more, so that a slow producer's features come out as they come in.
 */

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#include "outlay/status.h"

struct lines {
    FILE *stream; /**< borrowed */
    char *data;   /**< owned */
    size_t start; /**< first byte not handed out yet */
    size_t end;   /**< behind the last byte read */
    size_t capacity;
    size_t number; /**< of the line or record handed out last, from 1 */
    bool begun;
    bool ended;     /**< the stream has no more */
    bool separated; /**< by record separators */
};

/** Longest text, bytes: an outline of millions of vertices. */
#define LINES_TEXT_MAX ((size_t)256 << 20)

void lines_init(struct lines *lines, FILE *stream);
void lines_release(struct lines *lines);

/**
 * The next text that isn't blank.
 * @param[out] text   borrowed until the next call, ended by NUL; NULL at the end.
 * @param[out] whole  false: the last one, without the line end that should follow it.
 * @return OUTLAY_E_INPUT (reading failed, or longer than LINES_TEXT_MAX),
 *         OUTLAY_E_INTERRUPTED, OUTLAY_E_MEMORY
 */
enum outlay_status lines_next(struct lines *lines, char **text, size_t *length,
                              bool *whole, struct outlay_error *err) OUTLAY_MUST_CHECK;

/** True when `word` occurs in the first kilobytes from `text` on, later lines included:
 *  tells why a first line can't be parsed. */
bool lines_mention(const struct lines *lines, const char *text, const char *word);

#endif
