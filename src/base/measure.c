#include "base/measure.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include "base/number.h"

enum { NUMERAL_MAX = 64 };

static const char digits[] = "0123456789";

/* Primes and quotes as UTF-8; the longer of two that begin alike comes last. */
static const char *const foot_marks[] = {"'",    "\xE2\x80\xB2", "\xE2\x80\x99",
                                         "feet", "ft",           NULL};
static const char *const inch_marks[] = {
    "\"", "''", "\xE2\x80\xB3", "\xE2\x80\x9D", "in", "inches", NULL};

static const char *skip_blanks(const char *text)
{
    return text + strspn(text, " \t\r\n");
}

/* What follows the mark at the start of text; NULL when none is there. */
static const char *skip_mark(const char *text, const char *const *marks)
{
    const char *end = NULL;

    for (; *marks; marks++)
        if (strncmp(text, *marks, strlen(*marks)) == 0)
            end = text + strlen(*marks);
    return end;
}

/* ---- Numerals ---------------------------------------------------- */

/* Digits that `mark` sets apart in threes, up to `end`: "1,234,567". */
static bool is_grouped(const char *text, const char *end, char mark)
{
    size_t first = strspn(text, digits);

    if (first < 1 || first > 3)
        return false;
    for (text += first; text < end; text += 4)
        if (*text != mark || strspn(text + 1, digits) != 3)
            return false;
    return text == end;
}

/* Where the decimal mark of a numeral with commas stands; NULL: the commas set thousands
 * apart. */
static enum measure find_decimal(const char *text, const char *end, const char **out)
{
    const char *comma = strchr(text, ','), *dot = strchr(text, '.');
    const char *last_comma = strrchr(text, ','), *last_dot = strrchr(text, '.');
    bool short_head = comma - text >= 1 && comma - text <= 3 && *text != '0';

    bool behind_dots =
        dot && last_dot < comma && comma == last_comma && is_grouped(text, comma, '.');

    *out = NULL;
    if (dot && last_comma < dot && dot == last_dot && is_grouped(text, dot, ','))
        *out = dot;
    else if (!behind_dots &&
             (dot || (comma != last_comma && !is_grouped(text, end, ','))))
        return MEASURE_WRONG;
    else if (!behind_dots && comma == last_comma && short_head && end - comma == 4)
        return MEASURE_AMBIGUOUS;
    else if (comma == last_comma)
        *out = comma;
    return MEASURE_READ;
}

/* Rewrites a numeral that has commas as number_parse() reads it. */
static enum measure settle_commas(char *text)
{
    const char *decimal = NULL;
    char *to = text;
    enum measure result = find_decimal(text, text + strlen(text), &decimal);

    for (const char *from = text; *from; from++) {
        if (from == decimal)
            *to++ = '.';
        else if (strchr(digits, *from))
            *to++ = *from;
    }
    *to = '\0';
    return result;
}

static size_t exponent_length(const char *text)
{
    size_t sign, count;

    if (*text != 'e' && *text != 'E')
        return 0;
    sign = text[1] == '+' || text[1] == '-';
    count = strspn(text + 1 + sign, digits);
    return count ? 1 + sign + count : 0;
}

/* Reads the numeral at *text and moves behind it. */
static enum measure take_numeral(const char **text, bool sign_allowed, double *out)
{
    size_t sign = sign_allowed && (**text == '-' || **text == '+');
    size_t body = strspn(*text + sign, "0123456789.,");
    size_t tail = exponent_length(*text + sign + body), length;
    enum measure result = MEASURE_READ;
    char numeral[NUMERAL_MAX];

    if (sign + body + tail >= sizeof numeral)
        return MEASURE_WRONG;
    snprintf(numeral, sizeof numeral, "%.*s", (int)body, *text + sign);
    if (strchr(numeral, ','))
        result = settle_commas(numeral);
    length = strlen(numeral);
    snprintf(numeral + length, sizeof numeral - length, "%.*s", (int)tail,
             *text + sign + body);
    if (!number_parse(numeral, out))
        return MEASURE_WRONG;
    if (**text == '-')
        *out = -*out;
    *text += sign + body + tail;
    return result;
}

/* ---- Feet and inches ---------------------------------------------------- */

/* "1/2" at *text, the numerator read already. */
static bool take_denominator(const char **text, double *value)
{
    double denominator;

    ++*text;
    if (take_numeral(text, false, &denominator) != MEASURE_READ || denominator < 1)
        return false;
    *value /= denominator;
    return true;
}

/* All of text as inches: 4", 4 1/2", 1/2", 4-1/2 in. */
static bool read_inches(const char *text, double *inches)
{
    double part;

    if (take_numeral(&text, false, inches) != MEASURE_READ)
        return false;
    if (*text == '/') {
        if (!take_denominator(&text, inches))
            return false;
    } else if ((*text == ' ' || *text == '-') && strchr(digits, text[1]) && text[1]) {
        text++;
        if (take_numeral(&text, false, &part) != MEASURE_READ || *text != '/' ||
            !take_denominator(&text, &part))
            return false;
        *inches += part;
    }
    text = skip_mark(skip_blanks(text), inch_marks);
    return text && *skip_blanks(text) == '\0';
}

/* What stands behind whole feet: nothing, or inches. */
static bool add_inches(const char *text, double *feet)
{
    double inches = 0;

    text = skip_blanks(text);
    if (*text == '\0')
        return true;
    if (*text == '-')
        text = skip_blanks(text + 1);
    if (*feet < 0 || *feet != floor(*feet) || !read_inches(text, &inches) || inches >= 12)
        return false;
    *feet += inches / 12;
    return true;
}

/* ---- All of it ---------------------------------------------------- */

enum measure measure_parse(const char *text, double *number, char unit[MEASURE_UNIT_MAX])
{
    const char *rest = skip_blanks(text), *feet;
    enum measure result;
    size_t length;

    if (read_inches(rest, number)) {
        snprintf(unit, MEASURE_UNIT_MAX, "in");
        return MEASURE_READ;
    }
    result = take_numeral(&rest, true, number);
    if (result == MEASURE_WRONG)
        return MEASURE_WRONG;
    if (*rest == '/' && rest[1] && strchr(digits, rest[1]) &&
        !take_denominator(&rest, number))
        return MEASURE_WRONG;
    rest = skip_blanks(rest);
    feet = skip_mark(rest, foot_marks);
    if (feet && add_inches(feet, number)) {
        snprintf(unit, MEASURE_UNIT_MAX, "ft");
        return result;
    }
    length = strlen(rest);
    while (length && strchr(" \t\r\n", rest[length - 1]))
        length--;
    snprintf(unit, MEASURE_UNIT_MAX, "%.*s", (int)length, rest);
    return result;
}
