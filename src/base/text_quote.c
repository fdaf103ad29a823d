#include <string.h>

#include "base/number.h"
#include "base/text.h"

/* Length of the UTF-8 character at s (RFC 3629: no overlong form, no surrogate, nothing
 * above U+10FFFF); 0 when the bytes aren't one. Reads no further than the NUL. */
static size_t utf8_length(const unsigned char *s)
{
    unsigned char low = 0x80;
    unsigned char high = 0xBF;
    size_t length = 0;

    if (s[0] < 0x80)
        return 1;
    if (s[0] < 0xC2 || s[0] > 0xF4)
        return 0;
    length = s[0] < 0xE0 ? 2 : s[0] < 0xF0 ? 3 : 4;
    if (s[0] == 0xE0)
        low = 0xA0;
    if (s[0] == 0xED)
        high = 0x9F;
    if (s[0] == 0xF0)
        low = 0x90;
    if (s[0] == 0xF4)
        high = 0x8F;
    if (s[1] < low || s[1] > high)
        return 0;
    for (size_t i = 2; i < length; i++)
        if ((s[i] & 0xC0) != 0x80)
            return 0;
    return length;
}

static void json_escape(struct text *text, unsigned char byte)
{
    static const char hexadecimal[] = "0123456789abcdef";
    static const char named[] = "\"\\\b\f\n\r\t";
    static const char names[] = "\"\\bfnrt";
    const char *at = strchr(named, byte);

    text_putc(text, '\\');
    if (at) {
        text_putc(text, names[at - named]);
        return;
    }
    text_puts(text, "u00");
    text_putc(text, hexadecimal[byte >> 4]);
    text_putc(text, hexadecimal[byte & 15]);
}

void text_json(struct text *text, const char *string)
{
    const unsigned char *s = (const unsigned char *)string;
    const unsigned char *plain = s; /* start of what goes out as it is */

    if (!string) {
        text_puts(text, "null");
        return;
    }
    text_putc(text, '"');
    while (*s) {
        size_t length = utf8_length(s);

        if (length > 0 && *s >= 0x20 && *s != '"' && *s != '\\') {
            s += length;
            continue;
        }
        text_append(text, (const char *)plain, (size_t)(s - plain));
        if (length == 0)
            text_puts(text, "\xEF\xBF\xBD");
        else
            json_escape(text, *s);
        plain = ++s;
    }
    text_append(text, (const char *)plain, (size_t)(s - plain));
    text_putc(text, '"');
}

/* Control characters: those of ASCII and, in two bytes, of Latin-1. */
static bool is_control(const unsigned char *s, size_t length)
{
    return (length == 1 && (s[0] < 0x20 || s[0] == 0x7F)) ||
           (length == 2 && s[0] == 0xC2 && s[1] < 0xA0);
}

static bool is_noncharacter(const unsigned char *s, size_t length)
{
    return length == 3 && s[0] == 0xEF && s[1] == 0xBF && s[2] >= 0xBE;
}

void text_line(struct text *text, const char *string, size_t most)
{
    const unsigned char *s = (const unsigned char *)string;
    size_t start = text->length;
    size_t used = 0; /* UTF-16 units */
    size_t cut = 0;  /* length up to which there is room for the mark */

    while (s && *s) {
        size_t length = utf8_length(s);

        if (used < most)
            cut = text->length - start;
        used += length == 4 ? 2 : 1;
        if (used > most)
            break;
        if (is_control(s, length))
            text_putc(text, ' ');
        else if (length == 0 || is_noncharacter(s, length))
            text_puts(text, "\xEF\xBF\xBD");
        else
            text_append(text, (const char *)s, length);
        s += length > 0 ? length : 1;
    }
    if (s && *s && !text->failed) {
        text->length = start + cut;
        text_puts(text, "\xE2\x80\xA6");
    }
}

/* Appends guard and string between quotes, each quote inside doubled. */
static void csv_quoted(struct text *text, const char *guard, const char *string)
{
    text_putc(text, '"');
    text_puts(text, guard);
    for (;;) {
        size_t plain = strcspn(string, "\"");

        text_append(text, string, plain);
        if (string[plain] == '\0')
            break;
        text_puts(text, "\"\"");
        string += plain + 1;
    }
    text_putc(text, '"');
}

void text_csv(struct text *text, const char *string)
{
    double number = 0;
    const char *guard = "";

    if (!string)
        return;
    if (*string && strchr("=+-@", *string) && !number_parse(string, &number))
        guard = "'";
    if (string[strcspn(string, ",\"\r\n")] == '\0') {
        text_puts(text, guard);
        text_puts(text, string);
        return;
    }
    csv_quoted(text, guard, string);
}
