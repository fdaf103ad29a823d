#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>

#include "base/measure.h"

struct measure_case {
    const char *text;
    double number;
    const char *unit;
};

static void expect(const struct measure_case *cases, size_t count, enum measure result)
{
    for (size_t i = 0; i < count; i++) {
        char unit[MEASURE_UNIT_MAX] = "?";
        double number = NAN;

        if (measure_parse(cases[i].text, &number, unit) != result)
            fail_msg("%s isn't read as it should be", cases[i].text);
        if (result == MEASURE_WRONG)
            continue;
        if (fabs(number - cases[i].number) > 1e-12 * fabs(cases[i].number))
            fail_msg("%s is read as %.15g", cases[i].text, number);
        assert_string_equal(unit, cases[i].unit);
    }
}

#define EXPECT(cases, result) expect(cases, sizeof(cases) / sizeof((cases)[0]), result)

static void numbers_and_units_are_read(void **state)
{
    static const struct measure_case cases[] = {
        {"12", 12, ""},        {" 12.5 m ", 12.5, "m"},
        {"-3 m", -3, "m"},     {"+3m/s", 3, "m/s"},
        {"1e3", 1000, ""},     {"0.25 in/ft", 0.25, "in/ft"},
        {"1/4", 0.25, ""},     {"1/4 in/ft", 0.25, "in/ft"},
        {"40 ft", 40, "ft"},   {"40 feet", 40, "ft"},
        {"4 inches", 4, "in"}, {"12 mph", 12, "mph"},
        {"1.500", 1.5, ""},    {"1 1/2", 1, "1/2"}, /* no unit that anybody knows */
    };

    (void)state;
    EXPECT(cases, MEASURE_READ);
}

static void feet_and_inches_are_read(void **state)
{
    static const struct measure_case cases[] = {
        {"30'-0\"", 30, "ft"},
        {"39'4\"", 39 + 4 / 12.0, "ft"},
        {"39' 4 1/2\"", 39 + 4.5 / 12, "ft"},
        {"39'-4-1/2\"", 39 + 4.5 / 12, "ft"},
        {"39' 4.5\"", 39 + 4.5 / 12, "ft"},
        {"39'", 39, "ft"},
        {"39' 1/2\"", 39 + 0.5 / 12, "ft"},
        {"39 ft 4 in", 39 + 4 / 12.0, "ft"},
        {"39ft4in", 39 + 4 / 12.0, "ft"},
        {"39 feet 4 inches", 39 + 4 / 12.0, "ft"},
        {"39'4''", 39 + 4 / 12.0, "ft"},
        {"39\xE2\x80\xB2 4\xE2\x80\xB3", 39 + 4 / 12.0, "ft"},
        {"39\xE2\x80\x99 4\xE2\x80\x9D", 39 + 4 / 12.0, "ft"},
        {"4 1/2\"", 4.5, "in"},
        {"1/2 in", 0.5, "in"},
        {"8\"", 8, "in"},
    };
    static const struct measure_case left_to_the_unit[] = {
        {"39'12\"", 39, "'12\""},   /* 12 inches are a foot: which is wrong? */
        {"39.5'4\"", 39.5, "'4\""}, /* halves of feet and inches too */
        {"-39'4\"", -39, "'4\""},   {"39'4", 39, "'4"}, {"39' 4 1/0\"", 39, "' 4 1/0\""},
    };

    (void)state;
    EXPECT(cases, MEASURE_READ);
    EXPECT(left_to_the_unit, MEASURE_READ);
}

static void decimal_commas_are_read(void **state)
{
    static const struct measure_case cases[] = {
        {"12,5", 12.5, ""},         {"12,50 m", 12.5, "m"},
        {"0,500", 0.5, ""},         {"-12,5", -12.5, ""},
        {"1500,5", 1500.5, ""},     {"1234,567", 1234.567, ""},
        {"1.234,5", 1234.5, ""},    {"1,234.5 ft", 1234.5, "ft"},
        {"1,234,567", 1234567, ""}, {"1.234.567,8", 1234567.8, ""},
        {"4,5\"", 4.5, "in"},
    };

    (void)state;
    EXPECT(cases, MEASURE_READ);
}

static void a_comma_before_three_digits_is_ambiguous(void **state)
{
    static const struct measure_case cases[] = {
        {"1,500", 1500, ""},
        {"12,500 ft", 12500, "ft"},
        {"-1,500", -1500, ""},
        {"250,000", 250000, ""},
    };

    (void)state;
    EXPECT(cases, MEASURE_AMBIGUOUS);
}

static void what_is_no_measure_is_refused(void **state)
{
    static const struct measure_case cases[] = {
        {"", 0, ""},      {"m", 0, ""},        {"'", 0, ""},         {"\"", 0, ""},
        {"1,2,3", 0, ""}, {"1,23,456", 0, ""}, {"1,234.5.6", 0, ""}, {"12.345.6", 0, ""},
        {",", 0, ""},     {"1.5,5", 0, ""},    {"--3", 0, ""},
    };

    (void)state;
    EXPECT(cases, MEASURE_WRONG);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_and_units_are_read),
        cmocka_unit_test(feet_and_inches_are_read),
        cmocka_unit_test(decimal_commas_are_read),
        cmocka_unit_test(a_comma_before_three_digits_is_ambiguous),
        cmocka_unit_test(what_is_no_measure_is_refused),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
