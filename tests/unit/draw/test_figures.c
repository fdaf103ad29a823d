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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_units),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
