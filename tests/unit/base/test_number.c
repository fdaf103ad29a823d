#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <float.h>
#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/number.h"

#include "comma_locale.h"

struct number_case {
    const char *text;
    double value;
};

static void numbers_are_read_whole(void **state)
{
    static const struct number_case cases[] = {
        {"0", 0},
        {"-0", 0},
        {"1", 1},
        {"+1", 1},
        {"-12.5", -12.5},
        {".5", 0.5},
        {"5.", 5},
        {"  7 \t\r\n", 7},
        {"007.50", 7.5},
        {"1e3", 1000},
        {"1E+3", 1000},
        {"25e-2", 0.25},
        {"0e999999999999", 0},
        {"0.1", 0.1},
        {"-117.123456789012", -117.123456789012},
        {"9007199254740993", 9007199254740992.0},
        {"1.7976931348623157e308", DBL_MAX},
        {"4.9406564584124654e-324", 0x1p-1074},
        {"1e-99999", 0},
        {"123456789012345678901234567890", 123456789012345678901234567890.0},
        {"0.000000000000000000000000000000000000000000000000001", 1e-51},
        {"10000000000000000000000000000000000000000000000000000", 1e52},
    };

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        double value = -1;

        if (!number_parse(cases[i].text, &value) || value != cases[i].value)
            fail_msg("%s read as %.17g", cases[i].text, value);
    }
}

static const char *const refused[] = {
    "",
    " ",
    ".",
    "-",
    "+",
    "--1",
    "+-1",
    "1 2",
    "1,5",
    "1.2.3",
    "1e",
    "1e+",
    "e5",
    "1e5.5",
    "1x",
    "x1",
    "0x10",
    "0x1p3",
    "inf",
    "-inf",
    "nan",
    "NaN",
    "INFINITY",
    "1e309",
    "-1e309",
    "1_000",
    "1'000",
    ("\xC2\xA0"
     "1"),
    "1d3",
    "1f",
    "1e99999999999999999999",
};

static void what_is_no_number_is_refused(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof refused / sizeof refused[0]; i++) {
        double value = 77;

        if (number_parse(refused[i], &value) || value != 77)
            fail_msg("'%s' read as %g", refused[i], value);
    }
}

/* Round trip by the C library's own output: every bit must come back. */
static void printed_doubles_come_back(void **state)
{
    unsigned random = 1;
    char text[40];

    (void)state;
    for (int i = 0; i < 100000; i++) {
        double before = 0;
        double after = 0;

        random = random * 1664525u + 1013904223u;
        before = ldexp((double)random * 4294967291.0 + i, (int)(random >> 24) - 160);
        snprintf(text, sizeof text, i % 2 ? "%.17g" : "%.17e", before);
        assert_true(number_parse(text, &after));
        if (before != after)
            fail_msg("%s read as %.17g", text, after);
    }
}

static void whole_numbers_are_read(void **state)
{
    int value = 0;

    (void)state;
    assert_true(number_parse_int(" -3 ", &value));
    assert_int_equal(value, -3);
    assert_true(number_parse_int("2.0", &value));
    assert_int_equal(value, 2);
    assert_true(number_parse_int("2147483647", &value));
    assert_int_equal(value, INT_MAX);
    assert_true(number_parse_int("-2147483648", &value));
    assert_int_equal(value, INT_MIN);
}

static void what_is_no_int_is_refused(void **state)
{
    static const char *const texts[] = {"2.5", "2147483648", "-2147483649", "1e10",
                                        "x",   "",           "nan",         "1e-5"};

    (void)state;
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        int value = 77;

        if (number_parse_int(texts[i], &value) || value != 77)
            fail_msg("'%s' read as %d", texts[i], value);
    }
}

static void numbers_are_sorted(void **state)
{
    (void)state;
    for (size_t count = 0; count < 80; count++) {
        double numbers[80], sum = 0;

        for (size_t k = 0; k < count; k++)
            sum += numbers[k] = (double)((k * 37 + 11) % 41) - 20;
        numbers_sort(numbers, count);
        for (size_t k = 0; k < count; k++) {
            sum -= numbers[k];
            if (k > 0 && numbers[k - 1] > numbers[k])
                fail_msg("%zu numbers: no order at %zu", count, k);
        }
        assert_true(sum == 0);
    }
}

static void missing_numbers_are_the_same(void **state)
{
    (void)state;
    assert_true(same_number(NAN, NAN));
    assert_true(same_number(-0.0, 0.0));
    assert_false(same_number(NAN, 0));
    assert_false(same_number(1, 1 + 1e-15));
}

#define IN_COMMA_LOCALE(test) \
    cmocka_unit_test_setup_teardown(test, comma_locale_setup, comma_locale_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_are_read_whole),
        cmocka_unit_test(what_is_no_number_is_refused),
        cmocka_unit_test(printed_doubles_come_back),
        cmocka_unit_test(whole_numbers_are_read),
        cmocka_unit_test(what_is_no_int_is_refused),
        cmocka_unit_test(numbers_are_sorted),
        cmocka_unit_test(missing_numbers_are_the_same),
        IN_COMMA_LOCALE(numbers_are_read_whole),
        IN_COMMA_LOCALE(what_is_no_number_is_refused),
    };

    return cmocka_run_group_tests_name("base/number", tests, NULL, NULL);
}
