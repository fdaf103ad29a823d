#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "base/print.h"
#include "base/text.h"

/* Millions of coordinates go through here, so digits are made by hand; that also keeps
 * them free of the locale. */

/* Largest finite double has 309 digits; then sign, point, 9 digits, NUL. */
enum { NUMBER_SIZE = 328, MOST_DECIMALS = 9 };

static const uint32_t powers[MOST_DECIMALS + 1] = {
    1, 10, 100, 1000, 10000, 100000, 1000000, 10000000, 100000000, 1000000000};

static const char pairs[] = "00010203040506070809"
                            "10111213141516171819"
                            "20212223242526272829"
                            "30313233343536373839"
                            "40414243444546474849"
                            "50515253545556575859"
                            "60616263646566676869"
                            "70717273747576777879"
                            "80818283848586878889"
                            "90919293949596979899";

/* Writes value's digits so that they end before `end`, at least `width` of them, two at
 * a time: half the divisions. */
static char *digits_before(char *end, uint64_t value, int width)
{
    char *start = end;

    for (; value >= 10 || width >= 2; width -= 2) {
        start -= 2;
        memcpy(start, pairs + value % 100 * 2, 2);
        value /= 100;
    }
    if (value > 0 || width > 0)
        *--start = (char)('0' + value);
    return start;
}

/*
 * fraction (0 <= fraction < 1) x scale, rounded half up, exactly: 2.675 is stored as
 * 2.67499... and goes to 2.67. The product's own rounding matters only when it lies
 * within an ulp of a half; then fma() gives the part that was rounded away.
 */
static uint32_t scale_fraction(double fraction, uint32_t scale)
{
    double product = fraction * scale;
    uint32_t whole = (uint32_t)product;
    double above_half = product - whole - 0.5;

    if (fabs(above_half) <= product * 0x1p-52)
        above_half += fma(fraction, scale, -product);
    return above_half >= 0 ? whole + 1 : whole;
}

/* From 2^63 on a double is whole and has too many digits for the fast way. */
static size_t format_huge(char *buffer, const char *format, ...)
{
    va_list args;
    int length = 0;

    va_start(args, format);
    length = print_plain(buffer, NUMBER_SIZE, format, args);
    va_end(args);
    return length > 0 ? (size_t)length : 0;
}

/* Returns the length; 0 for a value that isn't finite. */
static size_t format_fixed(char *buffer, double value, int decimals)
{
    double size = fabs(value);
    uint32_t scale = powers[decimals];
    uint64_t whole = 0;
    uint32_t part = 0;
    char digits[48];
    char *end = digits + sizeof digits;
    char *start = end;

    if (!isfinite(value))
        return 0;
    if (size >= 0x1p63)
        return format_huge(buffer, "%.*f", decimals, value);
    whole = (uint64_t)size;
    part = scale_fraction(size - (double)whole, scale);
    if (part == scale) {
        part = 0;
        whole++;
    }
    if (decimals > 0) {
        start = digits_before(end, part, decimals);
        *--start = '.';
    }
    start = digits_before(start, whole, 1);
    if (value < 0 && (whole > 0 || part > 0))
        *--start = '-';
    memcpy(buffer, start, (size_t)(end - start));
    return (size_t)(end - start);
}

void text_fixed(struct text *text, double value, int decimals)
{
    char buffer[NUMBER_SIZE];

    assert(decimals >= 0 && decimals <= MOST_DECIMALS);
    text_append(text, buffer, format_fixed(buffer, value, decimals));
}

void text_number(struct text *text, double value, int decimals)
{
    char buffer[NUMBER_SIZE];
    size_t length = 0;

    assert(decimals >= 0 && decimals <= MOST_DECIMALS);
    length = format_fixed(buffer, value, decimals);
    if (decimals > 0 && length > 0) {
        while (buffer[length - 1] == '0')
            length--;
        if (buffer[length - 1] == '.')
            length--;
    }
    text_append(text, buffer, length);
}

void text_grouped(struct text *out, double value, int decimals)
{
    struct text plain = TEXT_INIT;
    text_fixed(&plain, value, decimals);
    const char *digits = plain.data ? plain.data : "";
    size_t sign = *digits == '-';
    size_t whole = strcspn(digits + sign, ".");
    text_append(out, digits, sign);
    for (size_t i = 0; i < whole; i++) {
        if (i > 0 && (whole - i) % 3 == 0)
            text_putc(out, ',');
        text_putc(out, digits[sign + i]);
    }
    text_puts(out, digits + sign + whole);
    out->failed |= plain.failed;
    text_release(&plain);
}
