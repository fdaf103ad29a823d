#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "base/text.h"

struct quote_case {
    const char *in;
    const char *out;
};

static void pieces_are_joined(void **state)
{
    struct text text = TEXT_INIT;

    (void)state;
    assert_null(text.data);
    text_puts(&text, "ab");
    text_putc(&text, 'c');
    text_append(&text, "de\0f", 4);
    text_printf(&text, "%d", 7);
    assert_int_equal(text.length, 8);
    assert_memory_equal(text.data, "abcde\0f7", 9);
    assert_false(text.failed);
    text_release(&text);
    assert_null(text.data);
    assert_int_equal(text.length, 0);
    text_release(&text);
}

/* Every length up to well beyond several growths, with the NUL in its place. */
static void it_grows_byte_by_byte(void **state)
{
    struct text text = TEXT_INIT;

    (void)state;
    for (size_t i = 0; i < 5000; i++) {
        text_putc(&text, (char)('a' + i % 26));
        assert_int_equal(text.length, i + 1);
        assert_true(text.capacity > text.length);
        assert_int_equal(text.data[text.length], '\0');
    }
    for (size_t i = 0; i < 5000; i++)
        assert_int_equal(text.data[i], 'a' + i % 26);
    text_release(&text);
}

static void printf_takes_what_is_longer_than_the_buffer(void **state)
{
    struct text text = TEXT_INIT;
    char long_string[1000];

    (void)state;
    memset(long_string, 'y', sizeof long_string);
    long_string[999] = '\0';
    text_puts(&text, "x");
    text_printf(&text, "%s!", long_string);
    assert_int_equal(text.length, 1001);
    assert_int_equal(text.data[1], 'y');
    assert_string_equal(text.data + 999, "y!");
    text_release(&text);
}

static void clear_keeps_the_memory(void **state)
{
    struct text text = TEXT_INIT;
    char *data = NULL;

    (void)state;
    text_clear(&text);
    text_puts(&text, "abc");
    data = text.data;
    text_clear(&text);
    assert_string_equal(text.data, "");
    text_puts(&text, "d");
    assert_ptr_equal(text.data, data);
    assert_string_equal(text.data, "d");
    text_release(&text);
}

static void out_of_memory_sticks_until_release(void **state)
{
    struct text text = TEXT_INIT;

    (void)state;
    text_puts(&text, "abc");
    text_append(&text, "d", SIZE_MAX - 2);
    assert_true(text.failed);
    text_puts(&text, "e");
    text_printf(&text, "%d", 1);
    text_fixed(&text, 1, 1);
    text_json(&text, "f");
    text_csv(&text, "g");
    assert_string_equal(text.data, "abc");
    text_clear(&text);
    assert_true(text.failed);
    text_puts(&text, "h");
    assert_string_equal(text.data, "");
    text_release(&text);
    assert_false(text.failed);
}

#define BAD "\xEF\xBF\xBD"

static void json_strings_are_escaped(void **state)
{
    static const struct quote_case cases[] = {
        {NULL, "null"},
        {"", "\"\""},
        {"plain", "\"plain\""},
        {"a\"b\\c/", "\"a\\\"b\\\\c/\""},
        {"\b\f\n\r\t", "\"\\b\\f\\n\\r\\t\""},
        {"\x01\x1f\x7f", "\"\\u0001\\u001f\x7f\""},
        {"\xC3\xA9 \xE2\x82\xAC \xF0\x9F\x8F\xA0",
         "\"\xC3\xA9 \xE2\x82\xAC \xF0\x9F\x8F\xA0\""},
        {"\xF4\x8F\xBF\xBF", "\"\xF4\x8F\xBF\xBF\""},                 /* U+10FFFF */
        {"\xED\x9F\xBF\xEE\x80\x80", "\"\xED\x9F\xBF\xEE\x80\x80\""}, /* U+D7FF, U+E000 */
        {"caf\xE9", "\"caf" BAD "\""},                                /* Latin-1 */
        {"\xE9t\xE9", "\"" BAD "t" BAD "\""},
        {"\xC3", "\"" BAD "\""}, /* cut short */
        {"\xF0\x9F\x8F", "\"" BAD BAD BAD "\""},
        {"\xC0\x80", "\"" BAD BAD "\""}, /* overlong */
        {"\xE0\x9F\xBF", "\"" BAD BAD BAD "\""},
        {"\xF0\x8F\xBF\xBF", "\"" BAD BAD BAD BAD "\""},
        {"\xED\xA0\x80", "\"" BAD BAD BAD "\""},         /* surrogate */
        {"\xF4\x90\x80\x80", "\"" BAD BAD BAD BAD "\""}, /* above U+10FFFF */
        {"\xFF\xFE", "\"" BAD BAD "\""},
        {"\xC3\"", "\"" BAD "\\\"\""},
    };
    struct text text = TEXT_INIT;

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        text_clear(&text);
        text_json(&text, cases[i].in);
        assert_string_equal(text.data, cases[i].out);
    }
    text_release(&text);
}

static void csv_fields_are_quoted_and_guarded(void **state)
{
    static const struct quote_case cases[] = {
        {"", ""},
        {"plain text", "plain text"},
        {"a,b", "\"a,b\""},
        {"say \"x\"", "\"say \"\"x\"\"\""},
        {"\"", "\"\"\"\""},
        {"two\nlines", "\"two\nlines\""},
        {"cr\r", "\"cr\r\""},
        {"=1+2", "'=1+2"},
        {"@sum", "'@sum"},
        {"-cmd", "'-cmd"},
        {"+x,y", "\"'+x,y\""},
        {"-1.5", "-1.5"},
        {"+3", "+3"},
        {"-", "'-"},
        {"-1e5 ", "-1e5 "},
        {"a=b", "a=b"},
        {"caf\xE9", "caf\xE9"},
    };
    struct text text = TEXT_INIT;

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        text_clear(&text);
        text_csv(&text, cases[i].in);
        assert_int_equal(text.length, strlen(cases[i].out));
        if (text.length > 0)
            assert_string_equal(text.data, cases[i].out);
    }
    text_clear(&text);
    text_csv(&text, NULL);
    assert_int_equal(text.length, 0);
    text_release(&text);
}

static void expect_line(const char *string, size_t most, const char *wanted)
{
    struct text text = TEXT_INIT;

    text_puts(&text, ">");
    text_line(&text, string, most);
    assert_false(text.failed);
    assert_string_equal(text.data + 1, wanted);
    text_release(&text);
}

static void test_a_line_is_clean_and_short(void **state)
{
    (void)state;
    expect_line(NULL, 9, "");
    expect_line("=1+1", 9, "=1+1");
    expect_line("a\tb\r\nc\x01\x7f", 9, "a b  c  ");
    expect_line("a\xC2\x85"
                "b",
                9, "a b");
    expect_line("\xFF\xC3 \xEF\xBF\xBF", 9, "\xEF\xBF\xBD\xEF\xBF\xBD \xEF\xBF\xBD");
    expect_line("12345", 5, "12345");
    expect_line("123456", 5, "1234\xE2\x80\xA6");
    /* A rocket takes two units. */
    expect_line("12\xF0\x9F\x9A\x80", 4, "12\xF0\x9F\x9A\x80");
    expect_line("12\xF0\x9F\x9A\x80"
                "3",
                4, "12\xE2\x80\xA6");
}

static void labelled_words_stay_in_their_column(void **state)
{
    struct text out = TEXT_INIT, words = TEXT_INIT;

    (void)state;
    text_labelled(&out, "nothing", &words);
    assert_int_equal(out.length, 0);
    for (int i = 0; i < 20; i++)
        text_puts(&words, i ? " word" : "word");
    text_labelled(&out, "label", &words);
    assert_int_equal(words.length, 0);
    assert_string_equal(out.data,
                        "label        word word word word word word word word word word "
                        "word word word word word\n"
                        "             word word word word word\n");
    text_release(&out);
    text_release(&words);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pieces_are_joined),
        cmocka_unit_test(it_grows_byte_by_byte),
        cmocka_unit_test(printf_takes_what_is_longer_than_the_buffer),
        cmocka_unit_test(clear_keeps_the_memory),
        cmocka_unit_test(out_of_memory_sticks_until_release),
        cmocka_unit_test(json_strings_are_escaped),
        cmocka_unit_test(csv_fields_are_quoted_and_guarded),
        cmocka_unit_test(test_a_line_is_clean_and_short),
        cmocka_unit_test(labelled_words_stay_in_their_column),
    };

    return cmocka_run_group_tests_name("base/text", tests, NULL, NULL);
}
