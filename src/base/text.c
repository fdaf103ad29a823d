#include "base/text.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/print.h"

void text_release(struct text *text)
{
    free(text->data);
    *text = TEXT_INIT;
}

void text_clear(struct text *text)
{
    text->length = 0;
    if (text->data)
        text->data[0] = '\0';
}

/* Makes room for more bytes and the NUL. */
static bool make_room(struct text *text, size_t more)
{
    size_t capacity = text->capacity;
    char *data = NULL;

    if (text->failed)
        return false;
    if (more < text->capacity - text->length)
        return true;
    if (more >= SIZE_MAX / 2 - text->length) {
        text->failed = true;
        return false;
    }
    if (capacity == 0)
        capacity = 64;
    while (capacity - text->length <= more)
        capacity *= 2;
    data = realloc(text->data, capacity);
    if (!data) {
        text->failed = true;
        return false;
    }
    text->data = data;
    text->capacity = capacity;
    return true;
}

void text_append(struct text *text, const char *bytes, size_t length)
{
    if (!make_room(text, length))
        return;
    if (length > 0)
        memcpy(text->data + text->length, bytes, length);
    text->length += length;
    text->data[text->length] = '\0';
}

void text_puts(struct text *text, const char *string)
{
    text_append(text, string, strlen(string));
}

void text_putc(struct text *text, char byte)
{
    text_append(text, &byte, 1);
}

void text_printf(struct text *text, const char *format, ...)
{
    va_list args;

    va_start(args, format);
    text_vprintf(text, format, args);
    va_end(args);
}

void text_vprintf(struct text *text, const char *format, va_list args)
{
    va_list again;
    int length = 0;

    va_copy(again, args);
    length = print_plain(NULL, 0, format, args);
    if (length < 0)
        text->failed = true;
    if (length >= 0 && make_room(text, (size_t)length)) {
        print_plain(text->data + text->length, (size_t)length + 1, format, again);
        text->length += (size_t)length;
    }
    va_end(again);
}

void text_wrap(struct text *text, const char *words, size_t column, size_t indent,
               const char *prefix)
{
    const size_t width = 88;

    while (*words) {
        size_t length = strcspn(words, " ");

        if (column > indent && column + 1 + length > width) {
            text_printf(text, "\n%s%*s", prefix, (int)(indent - strlen(prefix)), "");
            column = indent;
        } else if (column > indent) {
            text_putc(text, ' ');
            column++;
        }
        text_append(text, words, length);
        column += length;
        words += length;
        words += strspn(words, " ");
    }
}

void text_labelled(struct text *text, const char *label, struct text *words)
{
    enum { COLUMN = 13 };

    text->failed = text->failed || words->failed;
    if (words->length) {
        text_printf(text, "%-*s", COLUMN, label);
        text_wrap(text, words->data, COLUMN, COLUMN, "");
        text_putc(text, '\n');
    }
    text_clear(words);
}
