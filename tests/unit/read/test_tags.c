/* Tags as PostgreSQL prints an hstore. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "read/tags.h"

static void expect(const char *tags, const char *key, const char *value)
{
    struct text out = TEXT_INIT;
    bool found = tags_find(tags, key, &out);

    assert_int_equal(found, value != NULL);
    if (value)
        assert_string_equal(out.data, value);
    text_release(&out);
}

static void test_tags_are_found(void **state)
{
    static const char tags[] = "\"addr:city\"=>\"A \\\"B\\\", \\\\C\",\"height\"=>"
                               "\"39'4\\\"\", \"building:levels\"=>\"3-5\"";

    (void)state;
    expect(tags, "height", "39'4\"");
    expect(tags, "building:levels", "3-5");
    expect(tags, "addr:city", "A \"B\", \\C");
    expect(tags, "building", NULL);
    expect(tags, "3-5", NULL);
}

static void test_other_texts_hold_none(void **state)
{
    static const char *const texts[] = {"",
                                        "height=12",
                                        "\"height\"",
                                        "\"height\"=>",
                                        "\"height\"=>NULL",
                                        "\"height\"=>\"12",
                                        "{\"height\": \"12\"}"};

    (void)state;
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++)
        expect(texts[i], "height", NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_tags_are_found),
        cmocka_unit_test(test_other_texts_hold_none),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
