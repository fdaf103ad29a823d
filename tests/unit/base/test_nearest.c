/* Which words are near enough to be proposed. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/nearest.h"

static const char *propose(const char *word)
{
    static const char *const words[] = {"run", "zones", "wind-speed", "wind-area"};
    struct nearest nearest = nearest_start(word);
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        nearest_try(&nearest, words[i]);
    return nearest.best;
}

static void test_slips_are_mended(void **state)
{
    (void)state;
    assert_string_equal(propose("zonse"), "zones");  /* neighbours swapped */
    assert_string_equal(propose("zone"), "zones");   /* one missing */
    assert_string_equal(propose("zoness"), "zones"); /* one too many */
    assert_string_equal(propose("Zones"), "zones");
    assert_string_equal(propose("wind_spead"), "wind-speed");
    assert_string_equal(propose("wind-area"), "wind-area");
    assert_string_equal(propose("rum"), "run");
}

static void test_other_words_are_left_alone(void **state)
{
    (void)state;
    assert_null(propose("budget"));
    assert_null(propose("x"));
    assert_null(propose("zzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzz"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_slips_are_mended),
        cmocka_unit_test(test_other_words_are_left_alone),
    };
    return cmocka_run_group_tests_name("base/nearest", tests, NULL, NULL);
}
