#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "outlay/status.h"

#include "comma_locale.h"

static void every_status_has_its_text(void **state)
{
    (void)state;
    assert_string_equal(outlay_status_text(OUTLAY_OK), "done");
    assert_string_equal(outlay_status_text(OUTLAY_E_MEMORY), "out of memory");
    assert_string_equal(outlay_status_text(OUTLAY_E_INTERRUPTED), "interrupted");
    for (int i = OUTLAY_OK; i <= OUTLAY_E_INTERRUPTED; i++)
        assert_true(strlen(outlay_status_text((enum outlay_status)i)) > 3);
}

static void a_status_out_of_range_has_a_text(void **state)
{
    (void)state;
    assert_string_equal(outlay_status_text((enum outlay_status)99), "unknown status");
    assert_string_equal(outlay_status_text((enum outlay_status)(-1)), "unknown status");
}

static void fail_fills_what_and_clears_the_rest(void **state)
{
    struct outlay_error err = {OUTLAY_OK, "old", "old", "old"};

    (void)state;
    assert_int_equal(outlay_fail(&err, OUTLAY_E_INPUT, "%d of %s", 3, "x"),
                     OUTLAY_E_INPUT);
    assert_int_equal(err.status, OUTLAY_E_INPUT);
    assert_string_equal(err.what, "3 of x");
    assert_string_equal(err.where, "");
    assert_string_equal(err.todo, "");
}

static void fail_without_an_error_returns_the_status(void **state)
{
    (void)state;
    assert_int_equal(outlay_fail(NULL, OUTLAY_E_LIMIT, "x"), OUTLAY_E_LIMIT);
    outlay_fail_where(NULL, "x");
    outlay_fail_todo(NULL, "x");
}

static void the_first_where_and_todo_win(void **state)
{
    struct outlay_error err;

    (void)state;
    outlay_fail(&err, OUTLAY_E_USAGE, "w");
    outlay_fail_where(&err, "line %d", 4);
    outlay_fail_where(&err, "line %d", 5);
    outlay_fail_todo(&err, "do %s", "this");
    outlay_fail_todo(&err, "do %s", "that");
    assert_string_equal(err.where, "line 4");
    assert_string_equal(err.todo, "do this");
}

static void a_long_message_is_cut(void **state)
{
    struct outlay_error err;
    char text[400];

    (void)state;
    memset(text, 'x', sizeof text);
    text[sizeof text - 1] = '\0';
    outlay_fail(&err, OUTLAY_E_INPUT, "%s", text);
    assert_int_equal(strlen(err.what), sizeof err.what - 1);
    assert_memory_equal(err.what, text, sizeof err.what - 1);
}

/* 239 bytes have room for 119 two-byte characters and one byte of the next. */
static void a_cut_leaves_no_part_of_a_character(void **state)
{
    struct outlay_error err;
    char text[400];

    (void)state;
    for (size_t i = 0; i < sizeof text - 2; i += 2)
        memcpy(text + i, "\xC3\xA9", 2);
    text[sizeof text - 2] = '\0';
    outlay_fail(&err, OUTLAY_E_INPUT, "%s", text);
    assert_int_equal(strlen(err.what), 238);
    assert_memory_equal(err.what + 236, "\xC3\xA9", 3);
}

static void messages_keep_the_point(void **state)
{
    struct outlay_error err;

    (void)state;
    outlay_fail(&err, OUTLAY_E_INPUT, "%.2f m", 1234.5);
    outlay_fail_where(&err, "%g", 0.25);
    assert_string_equal(err.what, "1234.50 m");
    assert_string_equal(err.where, "0.25");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_status_has_its_text),
        cmocka_unit_test(a_status_out_of_range_has_a_text),
        cmocka_unit_test(fail_fills_what_and_clears_the_rest),
        cmocka_unit_test(fail_without_an_error_returns_the_status),
        cmocka_unit_test(the_first_where_and_todo_win),
        cmocka_unit_test(a_long_message_is_cut),
        cmocka_unit_test(a_cut_leaves_no_part_of_a_character),
        cmocka_unit_test_setup_teardown(messages_keep_the_point, comma_locale_setup,
                                        comma_locale_teardown),
    };

    return cmocka_run_group_tests_name("base/status", tests, NULL, NULL);
}
