/* Caps as users write them: what is read, and what could be read in two ways. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "portfolio/caps.h"

static void expect_caps(const char *text, money a, money b, money c)
{
    struct outlay_error err = {0};
    money caps[3] = {-1, -1, -1};

    assert_int_equal(caps_read(text, 3, caps, &err), OUTLAY_OK);
    assert_true(caps[0] == a && caps[1] == b && caps[2] == c);
}

static void expect_refused(const char *text, int years, const char *what)
{
    struct outlay_error err = {0};
    money caps[3];

    assert_int_equal(caps_read(text, years, caps, &err), OUTLAY_E_USAGE);
    assert_non_null(strstr(err.what, what));
    assert_string_equal(err.where, "--cap");
    assert_true(err.todo[0] != '\0');
}

static void test_read(void **state)
{
    (void)state;
    expect_caps("1500000", 150000000, 150000000, 150000000);
    expect_caps("1.5M", 150000000, 150000000, 150000000);
    expect_caps("0", 0, 0, 0);
    expect_caps("7", 700, 700, 700);
    expect_caps("500000, 400000.25,1e6", 50000000, 40000025, 100000000);
    expect_caps("500k,0,0.4M", 50000000, 0, 40000000);
    expect_caps("500000,0,400000", 50000000, 0, 40000000);
    expect_caps("0.5k,0k,1000", 50000, 0, 100000);
}

static void test_grouped(void **state)
{
    static const char *const texts[] = {
        "1,500,000",    "1.500.000", "1'500'000",   "1 500 000", "1_500_000",   "500,400",
        "1,500,000.50", "1.500",     "500,400,300", "0,500,000", "1.500.000,50"};

    (void)state;
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++)
        for (int years = 1; years <= 3; years++)
            expect_refused(texts[i], years, "one amount or several");
}

static void test_small(void **state)
{
    (void)state;
    expect_refused("1,500,400000", 3, "under 1000");
    expect_refused("500000,999,400000", 3, "under 1000");
    expect_refused("1,500k", 2, "under 1000");
}

static void test_others(void **state)
{
    static const char *const texts[] = {"",     "x",         "-1",         "12%",
                                        "1e14", "500m",      "2e7M",       "500k,",
                                        "k",    "5000,4000", "1k,2k,3k,4k"};

    (void)state;
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++)
        expect_refused(texts[i], 3, "can't be used");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_read),
        cmocka_unit_test(test_grouped),
        cmocka_unit_test(test_small),
        cmocka_unit_test(test_others),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
