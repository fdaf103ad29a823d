/* Spreads as people write them, and what is refused. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <string.h>

#include "spread/inputs.h"

static void test_reads(void **state)
{
    static const struct {
        const char *text;
        enum spread_input input;
        double value;
    } cases[] = {
        {"height=1.5ft", SPREAD_HEIGHT, 0.4572},
        {"Height=18 in", SPREAD_HEIGHT, 0.4572},
        {"trace=0.3m", SPREAD_TRACE, 0.3},
        {"wind_speed=5mph", SPREAD_WIND_SPEED, 2.2352},
        {"exposure=0.2", SPREAD_EXPOSURE, 0.2},
        {"exposure=20%", SPREAD_EXPOSURE, 0.2},
        {"storey_height=0", SPREAD_STOREY_HEIGHT, 0},
        {"height = 2m", SPREAD_HEIGHT, 2},
        {"storey_height=0 ft", SPREAD_STOREY_HEIGHT, 0},
        {"price=10%", SPREAD_PRICE, 0.1},
        {"condition=8", SPREAD_CONDITION, 8},
        {"service_life=3", SPREAD_SERVICE_LIFE, 3},
    };

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct spread_values values = {{0}};
        struct outlay_error error = {0};
        enum outlay_status status = spread_parse(cases[i].text, &values, &error);

        assert_int_equal(status, OUTLAY_OK);
        for (int k = 0; k < SPREAD_INPUTS; k++)
            assert_true(fabs(values.of[k] -
                             (k == (int)cases[i].input ? cases[i].value : 0)) < 1e-12);
    }
}

static void test_refuses(void **state)
{
    static const struct {
        const char *text, *what, *todo;
    } cases[] = {
        {"heigth=1ft", "no such input", "height trace wind_speed"},
        {"height", "no such input", "NAME=VALUE"},
        {"=1ft", "no such input", "NAME=VALUE"},
        {"height=", "isn't a number", "height=1.5ft"},
        {"height=tall", "isn't a number", "height=1.5ft"},
        {"height=1.5", "lacks its unit", "height=1.5ft"},
        {"height=1.5mph", "can't have this unit", "height=1.5ft"},
        {"height=-1ft", "is negative", "height=1.5ft"},
        {"wind_speed=5", "lacks its unit", "wind_speed=5mph"},
        {"price=0.1", "lacks its unit", "price=10%"},
        {"price=-10%", "is negative", "price=10%"},
        {"exposure=0.6", "0.5 at most", "exposure=0.2"},
        {"condition=8%", "can't have this unit", "condition=3"},
        {"service_life=3 ft", "can't have this unit", "service_life=3"},
    };

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct spread_values values = {{0}}, before = values;
        struct outlay_error error = {0};

        assert_int_equal(spread_parse(cases[i].text, &values, &error), OUTLAY_E_USAGE);
        assert_non_null(strstr(error.what, cases[i].what));
        assert_non_null(strstr(error.todo, cases[i].todo));
        assert_memory_equal(&values, &before, sizeof values);
    }
}

static void test_a_list_is_read(void **state)
{
    struct spread_settings settings = spread_defaults();
    struct outlay_error error = {0};

    (void)state;
    assert_true(settings.draws < 0 && settings.seed == 1 && settings.first == 10);
    assert_true(fabs(settings.values.of[SPREAD_STOREY_HEIGHT] - 0.4572) < 1e-12);
    settings.list = "height=1m, price=10% ,storey_height=0ft,";
    assert_int_equal(spread_list_read(&settings, &error), OUTLAY_OK);
    assert_true(settings.values.of[SPREAD_HEIGHT] == 1);
    assert_true(fabs(settings.values.of[SPREAD_PRICE] - 0.1) < 1e-12);
    assert_true(settings.values.of[SPREAD_STOREY_HEIGHT] == 0);
    settings.list = "height=1m,,height=2m";
    assert_int_equal(spread_list_read(&settings, &error), OUTLAY_E_USAGE);
    assert_non_null(strstr(error.what, "given twice"));
    settings.list = "height=1m,hieght=2m";
    assert_int_equal(spread_list_read(&settings, &error), OUTLAY_E_USAGE);
    assert_non_null(strstr(error.what, "hieght=2m"));
    assert_string_equal(error.where, "--spread");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_reads),
        cmocka_unit_test(test_refuses),
        cmocka_unit_test(test_a_list_is_read),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
