#include "base/number.h"

#include <limits.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

/* More digits than these move a double by less than its own last place. */
enum { DIGITS_KEPT = 40 };

/* A decimal number taken apart: 0.d1d2d3... is never made, so the locale's decimal
 * point never matters. value = digits x 10^exponent. */
struct decimal {
    char digits[DIGITS_KEPT + 1]; /* without leading zeros */
    int count;
    bool negative;
    long exponent;
};

static bool is_space(char c)
{
    return c == ' ' || (c >= '\t' && c <= '\r');
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static const char *skip_space(const char *text)
{
    while (is_space(*text))
        text++;
    return text;
}

/* Reads digits, counting those behind the point and those dropped into exponent.
 * Returns the end; text itself when there is no digit. */
static const char *read_digits(const char *text, bool fraction, struct decimal *out)
{
    for (; is_digit(*text); text++) {
        bool kept = out->count < DIGITS_KEPT;

        if (kept && (out->count > 0 || *text != '0'))
            out->digits[out->count++] = *text;
        if (fraction && kept)
            out->exponent--;
        else if (!fraction && !kept)
            out->exponent++;
    }
    return text;
}

/* Reads e+12 if it is there. Returns NULL for an e without digits. */
static const char *read_exponent(const char *text, struct decimal *out)
{
    const long most = 100000;
    bool negative = false;
    long exponent = 0;

    if (*text != 'e' && *text != 'E')
        return text;
    text++;
    if (*text == '+' || *text == '-')
        negative = *text++ == '-';
    if (!is_digit(*text))
        return NULL;
    for (; is_digit(*text); text++)
        if (exponent < most)
            exponent = exponent * 10 + (*text - '0');
    out->exponent += negative ? -exponent : exponent;
    return text;
}

static bool take_apart(const char *text, struct decimal *out)
{
    const char *start = NULL;
    const char *end = NULL;
    bool any = false;

    text = skip_space(text);
    if (*text == '+' || *text == '-')
        out->negative = *text++ == '-';
    start = text;
    end = read_digits(text, false, out);
    any = end > start;
    if (*end == '.') {
        start = end + 1;
        end = read_digits(start, true, out);
        any = any || end > start;
    }
    if (!any)
        return false;
    end = read_exponent(end, out);
    if (!end || *skip_space(end) != '\0')
        return false;
    out->digits[out->count] = '\0';
    return true;
}

/* Exact where digits and power of ten both are: one rounding remains (Clinger 1990). */
static bool put_together_exactly(const struct decimal *number, double *out)
{
    static const double powers[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                    1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                    1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
    uint64_t digits = 0;

    if (number->count > 15 || number->exponent < -22 || number->exponent > 22)
        return false;
    for (int i = 0; i < number->count; i++)
        digits = digits * 10 + (uint64_t)(number->digits[i] - '0');
    *out = number->exponent < 0 ? (double)digits / powers[-number->exponent]
                                : (double)digits * powers[number->exponent];
    return true;
}

bool number_parse(const char *text, double *out)
{
    struct decimal number = {.count = 0};
    char whole[DIGITS_KEPT + 32];
    double value = 0;

    if (!take_apart(text, &number))
        return false;
    if (number.count > 0 && !put_together_exactly(&number, &value)) {
        snprintf(whole, sizeof whole, "%se%ld", number.digits, number.exponent);
        value = strtod(whole, NULL);
    }
    if (!isfinite(value))
        return false;
    *out = number.negative ? -value : value;
    return true;
}

bool number_parse_int(const char *text, int *out)
{
    double value = 0;

    if (!number_parse(text, &value) || value < INT_MIN || value > INT_MAX)
        return false;
    if (value != floor(value))
        return false;
    *out = (int)value;
    return true;
}

bool same_number(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

static int by_value(const void *a, const void *b)
{
    double x = *(const double *)a;
    double y = *(const double *)b;

    return (x > y) - (x < y);
}

/* The library's sort takes longer for as few. */
static void sort_few(double *numbers, size_t count)
{
    for (size_t k = 1; k < count; k++) {
        double number = numbers[k];
        size_t at = k;

        for (; at > 0 && numbers[at - 1] > number; at--)
            numbers[at] = numbers[at - 1];
        numbers[at] = number;
    }
}

void numbers_sort(double *numbers, size_t count)
{
    const size_t few = 32;

    if (count <= few)
        sort_few(numbers, count);
    else
        qsort(numbers, count, sizeof *numbers, by_value);
}
