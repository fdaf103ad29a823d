#include "help.h"

#include <errno.h>

#include "read/lines.h"

/* The texts of a stream, each followed by |, a last one that isn't whole by !. */
static void expect_texts(const char *input, size_t length, const char *expected)
{
    FILE *stream = fmemopen((void *)(uintptr_t)input, length, "r");
    struct text joined = TEXT_INIT;
    struct lines lines;
    char *text;

    assert_non_null(stream);
    lines_init(&lines, stream);
    for (;;) {
        size_t text_length;
        bool whole;

        assert_int_equal(lines_next(&lines, &text, &text_length, &whole, NULL),
                         OUTLAY_OK);
        if (!text)
            break;
        assert_int_equal(strlen(text), text_length);
        text_append(&joined, text, text_length);
        text_putc(&joined, whole ? '|' : '!');
    }
    assert_int_equal(lines_next(&lines, &text, &length, &(bool){false}, NULL), OUTLAY_OK);
    assert_null(text);
    assert_string_equal(joined.data ? joined.data : "", expected);
    text_release(&joined);
    lines_release(&lines);
    fclose(stream);
}

#define EXPECT(input, expected) expect_texts(input, sizeof(input) - 1, expected)

static void lines_end_in_many_ways(void **state)
{
    (void)state;
    EXPECT("a\nb\n", "a|b|");
    EXPECT("a\r\nb\r\n", "a|b|");
    EXPECT("a\nb", "a|b!");
    EXPECT("\n\n  a  \n\t\r\n\nb\n\n", "a|b|");
    EXPECT("\xEF\xBB\xBF"
           "a\nb\n",
           "a|b|");
    EXPECT("\n", "");
    EXPECT("a", "a!");
    EXPECT("ab\n", "ab|");
}

static void record_separators_hold_line_ends(void **state)
{
    (void)state;
    EXPECT("\x1E"
           "{\n1\n}\n\x1E"
           "b\n",
           "{\n1\n}|b|");
    EXPECT("\x1E"
           "a\n\x1E\x1E\n\x1E"
           "b",
           "a|b!");
    /* a stray separator before a line, where the stream goes by lines */
    EXPECT("a\n\x1E"
           "b\n",
           "a|b|");
}

static void long_lines_grow_the_buffer(void **state)
{
    const size_t length = 3000000;
    char *input = malloc(length + 3);
    char *expected = malloc(length + 4);

    (void)state;
    assert_non_null(input);
    assert_non_null(expected);
    memset(input, 'x', length);
    memcpy(input + length, "\ny", 3);
    memset(expected, 'x', length);
    memcpy(expected + length, "|y!", 4);
    expect_texts(input, length + 2, expected);
    free(input);
    free(expected);
}

/* What a slow producer has sent comes out before it sends more. */
static void nothing_waits_for_a_full_buffer(void **state)
{
    struct lines lines;
    size_t length;
    int ends[2];
    FILE *stream;
    char *text;
    bool whole;

    (void)state;
    assert_int_equal(pipe(ends), 0);
    stream = fdopen(ends[0], "r");
    assert_non_null(stream);
    lines_init(&lines, stream);
    assert_int_equal(write(ends[1], "first\nsec", 9), 9);
    assert_int_equal(lines_next(&lines, &text, &length, &whole, NULL), OUTLAY_OK);
    assert_string_equal(text, "first");
    assert_int_equal(write(ends[1], "ond\n", 4), 4);
    assert_int_equal(lines_next(&lines, &text, &length, &whole, NULL), OUTLAY_OK);
    assert_string_equal(text, "second");
    assert_int_equal(lines.number, 2);
    close(ends[1]);
    assert_int_equal(lines_next(&lines, &text, &length, &whole, NULL), OUTLAY_OK);
    assert_null(text);
    lines_release(&lines);
    fclose(stream);
}

static void a_read_error_is_told(void **state)
{
    FILE *stream = fopen("/tmp", "r"); /* reading a folder fails */
    struct outlay_error err = {0};
    struct lines lines;
    size_t length;
    char *text;
    bool whole;

    (void)state;
    assert_non_null(stream);
    lines_init(&lines, stream);
    assert_int_equal(lines_next(&lines, &text, &length, &whole, &err), OUTLAY_E_INPUT);
    assert_contains(err.what, strerror(EISDIR));
    assert_null(text);
    lines_release(&lines);
    fclose(stream);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_end_in_many_ways),
        cmocka_unit_test(record_separators_hold_line_ends),
        cmocka_unit_test(long_lines_grow_the_buffer),
        cmocka_unit_test(nothing_waits_for_a_full_buffer),
        cmocka_unit_test(a_read_error_is_told),
    };

    return cmocka_run_group_tests_name("read/lines", tests, NULL, NULL);
}
