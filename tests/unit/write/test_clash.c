#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <string.h>

#include "write/clash.h"

/* Prefixes that a column needs beside these input fields; -1: no such column. */
static int prefixes_of(const char *name, const char *properties)
{
    struct clash_index index;
    unsigned char prefixes[COLUMNS_MAX];

    clash_index_init(&index, UNITS_US);
    clash_find(&index, properties, prefixes);
    for (size_t i = 0; i < roof_column_count; i++)
        if (strlen(name) + 4 == roof_columns[i].keys[UNITS_US].length &&
            strncmp(roof_columns[i].keys[UNITS_US].json + 2, name, strlen(name)) == 0)
            return prefixes[i];
    return -1;
}

static void no_fields_no_prefix(void **state)
{
    struct clash_index index;
    unsigned char prefixes[COLUMNS_MAX];

    (void)state;
    clash_index_init(&index, UNITS_SI);
    memset(prefixes, 7, sizeof prefixes);
    clash_find(&index, "", prefixes);
    for (size_t i = 0; i < roof_column_count; i++)
        assert_int_equal(prefixes[i], 0);
}

static void every_column_is_found(void **state)
{
    (void)state;
    for (size_t i = 0; i < roof_column_count; i++) {
        struct text field = TEXT_INIT;
        struct text name = TEXT_INIT;

        column_name(&name, &roof_columns[i], UNITS_US);
        text_printf(&field, "\"x\":1,\"%s\":null", name.data);
        assert_int_equal(prefixes_of(name.data, field.data), 1);
        text_release(&field);
        text_release(&name);
    }
}

static void names_clash_in_any_case(void **state)
{
    (void)state;
    assert_int_equal(prefixes_of("height_ft", "\"HEIGHT_Ft\":3"), 1);
    assert_int_equal(prefixes_of("height_ft", "\"height_f\":3,\"height_fts\":1"), 0);
}

static void results_of_an_earlier_run_stay(void **state)
{
    (void)state;
    assert_int_equal(prefixes_of("name", "\"name\":1,\"outlay_name\":2"), 2);
    assert_int_equal(prefixes_of("name", "\"outlay_name\":2"), 0);
    assert_int_equal(prefixes_of("name", "\"outlay_outlay_name\":2,\"Name\":1"), 1);
}

static void values_are_no_names(void **state)
{
    const char *fields = "\"a\":\"name\",\"b\":{\"name\":[1,\"state\",{}],\"state\":2},"
                         "\"c\":\"}\\\",\\\"name\\\":\",\"state\":[\",\"]";

    (void)state;
    assert_int_equal(prefixes_of("name", fields), 0);
    assert_int_equal(prefixes_of("state", fields), 1);
}

static void broken_text_ends_the_search(void **state)
{
    (void)state;
    assert_int_equal(prefixes_of("name", "\"name"), 1);
    assert_int_equal(prefixes_of("name", "\"a\":\"\\"), 0);
    assert_int_equal(prefixes_of("name", "\"a\\"), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_fields_no_prefix),
        cmocka_unit_test(every_column_is_found),
        cmocka_unit_test(names_clash_in_any_case),
        cmocka_unit_test(results_of_an_earlier_run_stay),
        cmocka_unit_test(values_are_no_names),
        cmocka_unit_test(broken_text_ends_the_search),
    };

    return cmocka_run_group_tests_name("write/clash", tests, NULL, NULL);
}
