#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"

#include "comma_locale.h"

struct fixed_case {
    double value;
    int decimals;
    const char *fixed;
    const char *number;
};

/* Ties are written as fractions that a double holds exactly. */
static const struct fixed_case cases[] = {
    {0, 0, "0", "0"},
    {0, 3, "0.000", "0"},
    {-0.0, 2, "0.00", "0"},
    {-0.004, 2, "0.00", "0"},
    {-0.4, 0, "0", "0"},
    {-0.5, 0, "-1", "-1"},
    {0.5, 0, "1", "1"},
    {2.5, 0, "3", "3"},
    {-2.5, 0, "-3", "-3"},
    {0.125, 2, "0.13", "0.13"},
    {-0.125, 2, "-0.13", "-0.13"},
    {0.375, 2, "0.38", "0.38"},
    {1.005, 2, "1.00", "1"},    /* stored as 1.00499999999999989 */
    {2.675, 2, "2.67", "2.67"}, /* stored as 2.67499999999999982 */
    {5.015, 2, "5.01", "5.01"}, /* stored as 5.01499999999999968 */
    {0.285, 2, "0.28", "0.28"}, /* stored as 0.28499999999999998 */
    {1.115, 2, "1.11", "1.11"}, /* stored as 1.11499999999999999 */
    {8.345, 2, "8.35", "8.35"}, /* stored as 8.34500000000000064 */
    {0.995, 2, "0.99", "0.99"}, /* stored as 0.99499999999999999 */
    {9.999, 2, "10.00", "10"},
    {-9.999, 2, "-10.00", "-10"},
    {99.5, 0, "100", "100"},
    {0.999999999999, 9, "1.000000000", "1"},
    {1e-300, 9, "0.000000000", "0"},
    {0.000000001, 9, "0.000000001", "0.000000001"},
    {0x1p-31, 9, "0.000000000", "0"},
    {100, 0, "100", "100"},
    {120.50, 3, "120.500", "120.5"},
    {-117.12345678, 8, "-117.12345678", "-117.12345678"},
    {179.99999999, 8, "179.99999999", "179.99999999"},
    {123456789.123456789, 7, "123456789.1234568", "123456789.1234568"},
    {999999999.9999999, 7, "999999999.9999999", "999999999.9999999"},
    {4503599627370495.5, 0, "4503599627370496", "4503599627370496"},
    {4503599627370496.0, 2, "4503599627370496.00", "4503599627370496"},
    {10000000000.5, 0, "10000000001", "10000000001"},
    {0x1p63, 1, "9223372036854775808.0", "9223372036854775808"},
    {-0x1p63, 0, "-9223372036854775808", "-9223372036854775808"},
    {1e22, 2, "10000000000000000000000.00", "10000000000000000000000"},
};

static void numbers_are_rounded_and_written(void **state)
{
    struct text fixed = TEXT_INIT;
    struct text number = TEXT_INIT;

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        text_clear(&fixed);
        text_clear(&number);
        text_fixed(&fixed, cases[i].value, cases[i].decimals);
        text_number(&number, cases[i].value, cases[i].decimals);
        assert_string_equal(fixed.data, cases[i].fixed);
        assert_string_equal(number.data, cases[i].number);
    }
    text_release(&fixed);
    text_release(&number);
}

static void what_is_not_finite_appends_nothing(void **state)
{
    struct text text = TEXT_INIT;

    (void)state;
    text_puts(&text, "x");
    text_fixed(&text, NAN, 2);
    text_fixed(&text, INFINITY, 2);
    text_number(&text, -INFINITY, 2);
    text_number(&text, NAN, 0);
    assert_string_equal(text.data, "x");
    text_release(&text);
}

static void the_largest_double_is_written(void **state)
{
    struct text text = TEXT_INIT;

    (void)state;
    text_fixed(&text, -1.7976931348623157e308, 9);
    assert_int_equal(text.length, 1 + 309 + 1 + 9);
    assert_memory_equal(text.data, "-17976931348623157", 18);
    assert_string_equal(text.data + 310, ".000000000");
    text_release(&text);
}

/* A tie is an odd multiple of half a unit of the last decimal; as a double it is then
 * a multiple of 2^-(decimals + 1). */
static bool may_be_tie(double value, int decimals)
{
    return fmod(ldexp(value, decimals + 1), 1) == 0;
}

/* The C library rounds exactly too, but ties to even, so those are passed over. It
 * shares no code with text_fixed(). */
static void random_values_agree_with_the_c_library(void **state)
{
    static const double sizes[] = {1e-9, 1e-4, 1, 180, 1e4, 1e9, 1e12};
    struct text text = TEXT_INIT;
    unsigned long long random = 88172645463325252ull;
    char expected[64];

    (void)state;
    for (int i = 0; i < 400000; i++) {
        double value = 0;
        int decimals = i % 10;

        random ^= random << 13;
        random ^= random >> 7;
        random ^= random << 17;
        value = ((double)(random >> 11) * 0x1p-52 - 1) * sizes[i % 7];
        snprintf(expected, sizeof expected, "%.*f", decimals, value);
        text_clear(&text);
        text_fixed(&text, value, decimals);
        if (strtod(expected, NULL) == 0)
            memmove(expected, expected + (expected[0] == '-'), sizeof expected - 1);
        if (!may_be_tie(value, decimals) && strcmp(text.data, expected) != 0)
            fail_msg("%.17g at %d: %s, not %s", value, decimals, text.data, expected);
    }
    text_release(&text);
}

/* Values a step beside a tie of 4 decimals: their product with 10^4 rounds to it. */
static void neighbours_of_ties_agree_with_the_c_library(void **state)
{
    struct text text = TEXT_INIT;
    char expected[64];

    (void)state;
    for (int i = 1; i < 200000; i++) {
        double tie = i / 2e4 + 5e-5;

        for (int step = -1; step <= 1; step++) {
            double value = step == 0 ? tie : nextafter(tie, step < 0 ? 0 : 100);

            snprintf(expected, sizeof expected, "%.4f", value);
            text_clear(&text);
            text_fixed(&text, value, 4);
            if (!may_be_tie(value, 4))
                assert_string_equal(text.data, expected);
        }
    }
    text_release(&text);
}

static void printf_keeps_the_point(void **state)
{
    struct text text = TEXT_INIT;

    (void)state;
    text_printf(&text, "%.1f %g %s", 1234.5, 0.25, "x");
    assert_string_equal(text.data, "1234.5 0.25 x");
    text_release(&text);
}

static void printf_leaves_the_locale_alone(void **state)
{
    struct text text = TEXT_INIT;
    char shown[8];

    (void)state;
    text_printf(&text, "%.1f", 1.5);
    snprintf(shown, sizeof shown, "%.1f", 1.5);
    assert_string_equal(shown, "1,5");
    text_release(&text);
}

static void thousands_are_set_apart(void **state)
{
    static const struct {
        double value;
        int decimals;
        const char *expected;
    } numbers[] = {{0, 0, "0"},           {999, 0, "999"},
                   {1000, 0, "1,000"},    {100803.44, 1, "100,803.4"},
                   {-123, 0, "-123"},     {-1234567, 2, "-1,234,567.00"},
                   {999.96, 1, "1,000.0"}};

    (void)state;
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++) {
        struct text out = TEXT_INIT;

        text_grouped(&out, numbers[i].value, numbers[i].decimals);
        assert_string_equal(out.data, numbers[i].expected);
        text_release(&out);
    }
}

#define IN_COMMA_LOCALE(test) \
    cmocka_unit_test_setup_teardown(test, comma_locale_setup, comma_locale_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_are_rounded_and_written),
        cmocka_unit_test(what_is_not_finite_appends_nothing),
        cmocka_unit_test(the_largest_double_is_written),
        cmocka_unit_test(random_values_agree_with_the_c_library),
        cmocka_unit_test(neighbours_of_ties_agree_with_the_c_library),
        cmocka_unit_test(thousands_are_set_apart),
        IN_COMMA_LOCALE(thousands_are_set_apart),
        IN_COMMA_LOCALE(numbers_are_rounded_and_written),
        IN_COMMA_LOCALE(the_largest_double_is_written),
        IN_COMMA_LOCALE(printf_keeps_the_point),
        IN_COMMA_LOCALE(printf_leaves_the_locale_alone),
    };

    return cmocka_run_group_tests_name("base/text_number", tests, NULL, NULL);
}
