/* Numbers with thousands set apart. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "draw/plan_page.h"

static void expect(double value, int decimals, const char *expected)
{
    struct text out = TEXT_INIT;
    figure_grouped(&out, value, decimals);
    assert_string_equal(out.data ? out.data : "", expected);
    text_release(&out);
}

static void test_groups(void **state)
{
    (void)state;
    expect(0, 0, "0");
    expect(999, 0, "999");
    expect(1000, 0, "1,000");
    expect(100803.44, 1, "100,803.4");
    expect(-1234567, 2, "-1,234,567.00");
    expect(999.96, 1, "1,000.0");
}

static void test_units(void **state)
{
    (void)state;
    assert_string_equal(figure_unit("ft2"), "ft\xC2\xB2");
    assert_string_equal(figure_unit("psf"), "psf");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_groups),
        cmocka_unit_test(test_units),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
