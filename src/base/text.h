#ifndef OUTLAY_BASE_TEXT_H
#define OUTLAY_BASE_TEXT_H

/**
 * @file base/text.h
 * A growing buffer of bytes, for everything that is written.
 *
 *     struct text out = TEXT_INIT;
 *     text_puts(&out, "area ");
 *     text_fixed(&out, area, 1);
 *     if (out.failed) ...            one check at the end
 *     text_release(&out);
 *
 * Running out of memory sets `failed` and makes every later call a no-op, so callers
 * check once, before the text is released; clearing it doesn't forget. The bytes are
 * ended by NUL whenever data isn't NULL. Numbers print the same in every locale.
 */

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

#include "outlay/status.h"

struct text {
    char *data;      /**< owned; NULL while nothing was appended */
    size_t length;   /**< bytes, without the NUL */
    size_t capacity; /**< bytes allocated */
    bool failed;     /**< memory ran out: this content or one before is incomplete */
};

#define TEXT_INIT ((struct text){NULL, 0, 0, false})

/** Frees the bytes and leaves an empty buffer. */
void text_release(struct text *text);

/** Empties the buffer; keeps its memory and `failed`. */
void text_clear(struct text *text);

void text_append(struct text *text, const char *bytes, size_t length);
void text_puts(struct text *text, const char *string);
void text_putc(struct text *text, char byte);
void text_printf(struct text *text, const char *format, ...) OUTLAY_PRINTF(2, 3);
void text_vprintf(struct text *text, const char *format, va_list args);

/**
 * Appends value rounded half away from zero to `decimals` (0 to 9) digits; trailing
 * zeros stay. A value that isn't finite appends nothing. Never "-0".
 */
void text_fixed(struct text *text, double value, int decimals);

/** As text_fixed(), with a comma at each thousand: "-1,234.5". */
void text_grouped(struct text *text, double value, int decimals);

/** As text_fixed(), without trailing zeros or a trailing point. */
void text_number(struct text *text, double value, int decimals);

/** Appends a JSON string, quoted and escaped (RFC 8259). Bytes that aren't UTF-8
 *  become U+FFFD, since a JSON text must be UTF-8. NULL appends null. */
void text_json(struct text *text, const char *string);

/** Appends a CSV field (RFC 4180), quoted where it must be. A leading =, +, - or @
 *  of a field that isn't a number is prefixed by an apostrophe, since a spreadsheet
 *  would run it. NULL appends nothing. */
void text_csv(struct text *text, const char *string);

/**
 * Appends a string as one line that any program can show: control characters (line ends
 * and tabs too) become blanks, bytes that aren't UTF-8 and the two noncharacters of XML
 * U+FFFD. What is longer than `most` UTF-16 units is cut before "…". NULL appends
 * nothing.
 */
void text_line(struct text *text, const char *string, size_t most);

/**
 * Appends words, broken before column 88.
 * @param column  where the line stands now
 * @param indent  of the lines that follow
 * @param prefix  what these begin with, no longer than indent: "# "
 */
void text_wrap(struct text *text, const char *words, size_t column, size_t indent,
               const char *prefix);

/** Appends a label of at most 12 characters and words behind it, wrapped in a column of
 *  their own, and ends the line; nothing where there are no words. Empties the words. */
void text_labelled(struct text *text, const char *label, struct text *words);

#endif
