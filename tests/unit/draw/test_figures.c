/* Units as a plan sheet writes them. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "draw/plan_page.h"

static void test_units(void **state)
{
    (void)state;
    assert_string_equal(figure_unit("ft2"), "ft\xC2\xB2");
    assert_string_equal(figure_unit("psf"), "psf");
}

static void expect_length(double metres, const struct unit_system *units,
                          const char *written)
{
    struct write_settings set = {.units = units};
    struct text text = TEXT_INIT;

    figure_length(&text, metres, &set);
    assert_string_equal(text.data, written);
    text_release(&text);
}

/* To the nearest half inch; what rounds up to a foot is one. */
static void test_lengths(void **state)
{
    (void)state;
    expect_length(12 * M_PER_FT + 4.5 * M_PER_IN, &unit_system_us, "12'-4 1/2\"");
    expect_length(12 * M_PER_FT + 4.3 * M_PER_IN, &unit_system_us, "12'-4 1/2\"");
    expect_length(12 * M_PER_FT + 4.2 * M_PER_IN, &unit_system_us, "12'-4\"");
    expect_length(12 * M_PER_FT + 11.8 * M_PER_IN, &unit_system_us, "13'-0\"");
    expect_length(7 * M_PER_FT + 0.4 * M_PER_IN, &unit_system_us, "7'-0 1/2\"");
    expect_length(6 * M_PER_IN, &unit_system_us, "6\"");
    expect_length(0.5 * M_PER_IN, &unit_system_us, "1/2\"");
    expect_length(0, &unit_system_us, "0\"");
    expect_length(12.3456, &unit_system_si, "12346");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_units),
        cmocka_unit_test(test_lengths),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
