#include "help.h"

#include <cpl_conv.h>

#include "read/members.h"

static void expect_real(double value, const char *expected)
{
    struct text out = TEXT_INIT;

    members_real(&out, value);
    assert_string_equal(out.data, expected);
    text_release(&out);
}

static void reals_are_short(void **state)
{
    (void)state;
    expect_real(0, "0");
    expect_real(-0.0, "0");
    expect_real(24, "24");
    expect_real(24.5, "24.5");
    expect_real(-0.1, "-0.1");
    expect_real(0.000001, "0.000001");
    expect_real(9.7536, "9.7536");
    expect_real(1e15, "1000000000000000");
    expect_real(0.1 + 0.2, "0.30000000000000004");
    expect_real(1e300, "1e+300");
    expect_real(5e-324, "4.94065645841247e-324");
    expect_real((double)INFINITY, "null");
    expect_real((double)NAN, "null");
}

static void reals_read_back(void **state)
{
    uint64_t seed = 88172645463325252u;

    (void)state;
    for (int i = 0; i < 200000; i++) {
        struct text out = TEXT_INIT;
        double value;

        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        if (i % 2)
            value = (double)(int64_t)(seed >> 20) / 1e4; /* a few decimals */
        else
            memcpy(&value, &seed, sizeof value);
        if (!isfinite(value))
            continue;
        members_real(&out, value);
        if (strtod(out.data, NULL) != value)
            fail_msg("%.17g was written as %s", value, out.data);
        text_release(&out);
    }
}

static void floats_lose_no_digit_and_gain_none(void **state)
{
    struct text out = TEXT_INIT;

    (void)state;
    members_float(&out, 0.1f);
    assert_string_equal(out.data, "0.1");
    text_clear(&out);
    members_float(&out, 16777217.0f);
    assert_string_equal(out.data, "16777216");
    text_clear(&out);
    members_float(&out, 1.17549435e-38f);
    assert_true(strtof(out.data, NULL) == 1.17549435e-38f);
    text_release(&out);
}

static void whole_numbers_keep_all_digits(void **state)
{
    struct text out = TEXT_INIT;

    (void)state;
    members_whole(&out, INT64_MIN);
    text_putc(&out, ' ');
    members_whole(&out, INT64_MAX);
    text_putc(&out, ' ');
    members_whole(&out, 0);
    assert_string_equal(out.data, "-9223372036854775808 9223372036854775807 0");
    text_release(&out);
}

static void json_values_come_out_as_json(void **state)
{
    static const char text[] = "{\"a\":[1,2.50,null,true,\"x\\u0001\\\"\"],\"b\":{},"
                               "\"c\":{\"d\":1e999,\"e\":18446744073709551615}}";
    struct json_object *tree = json_tokener_parse(text);
    struct text out = TEXT_INIT;

    (void)state;
    members_json(&out, tree);
    assert_string_equal(out.data, "{\"a\":[1,2.5,null,true,\"x\\u0001\\\"\"],\"b\":{},"
                                  "\"c\":{\"d\":null,\"e\":18446744073709551615}}");
    text_release(&out);
    json_object_put(tree);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reals_are_short),
        cmocka_unit_test(reals_read_back),
        cmocka_unit_test(floats_lose_no_digit_and_gain_none),
        cmocka_unit_test(whole_numbers_keep_all_digits),
        cmocka_unit_test(json_values_come_out_as_json),
    };

    return cmocka_run_group_tests_name("read/members", tests, NULL, NULL);
}
