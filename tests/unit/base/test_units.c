#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <string.h>

#include "base/units.h"

struct unit_case {
    const char *name;
    enum quantity quantity;
    double factor; /* worked out by hand from the definitions */
};

static const struct unit_case known[] = {
    {"ft", QUANTITY_LENGTH, 0.3048},
    {"FT", QUANTITY_LENGTH, 0.3048},
    {"in", QUANTITY_LENGTH, 0.0254},
    {"m", QUANTITY_LENGTH, 1},
    {"mm", QUANTITY_LENGTH, 0.001},
    {"cm", QUANTITY_LENGTH, 0.01},
    {"ft2", QUANTITY_AREA, 0.09290304},
    {"m2", QUANTITY_AREA, 1},
    {"mph", QUANTITY_SPEED, 0.44704},
    {"MPH", QUANTITY_SPEED, 0.44704},
    {"m/s", QUANTITY_SPEED, 1},
    {"km/h", QUANTITY_SPEED, 0.27777777777777778},
    {"kt", QUANTITY_SPEED, 0.51444444444444444},
    {"psf", QUANTITY_PRESSURE, 47.880258980335840},
    {"Pa", QUANTITY_PRESSURE, 1},
    {"kPa", QUANTITY_PRESSURE, 1000},
    {"lbf", QUANTITY_FORCE, 4.4482216152605},
    {"N", QUANTITY_FORCE, 1},
    {"kN", QUANTITY_FORCE, 1000},
};

static void units_are_found(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++) {
        double factor = 0;

        if (!unit_find(known[i].name, known[i].quantity, &factor))
            fail_msg("%s isn't found", known[i].name);
        assert_true(fabs(factor / known[i].factor - 1) <= 1e-15);
    }
}

static void a_unit_of_another_kind_is_refused(void **state)
{
    static const struct unit_case cases[] = {
        {"ft", QUANTITY_AREA, 0},      {"ft2", QUANTITY_LENGTH, 0},
        {"mph", QUANTITY_LENGTH, 0},   {"m", QUANTITY_COUNT, 0},
        {"pa", QUANTITY_PRESSURE, 0},  {"PA", QUANTITY_PRESSURE, 0},
        {"KPa", QUANTITY_PRESSURE, 0}, {"n", QUANTITY_FORCE, 0},
        {"kn", QUANTITY_FORCE, 0},     {"", QUANTITY_LENGTH, 0},
        {"f", QUANTITY_LENGTH, 0},     {"fte", QUANTITY_LENGTH, 0},
        {" ft", QUANTITY_LENGTH, 0},   {"knots", QUANTITY_SPEED, 0},
    };

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        double factor = 77;

        if (unit_find(cases[i].name, cases[i].quantity, &factor) || factor != 77)
            fail_msg("'%s' is found", cases[i].name);
    }
}

/* A quantity's suffix and factor must belong together; the suffix is in lower case,
 * since it ends a column name. */
static void systems_agree_with_the_names(void **state)
{
    const struct {
        const struct unit *unit;
        enum quantity quantity;
        const char *name;
        const char *suffix;
    } cases[] = {
        {&unit_system_us.length, QUANTITY_LENGTH, "ft", "ft"},
        {&unit_system_us.small, QUANTITY_LENGTH, "in", "in"},
        {&unit_system_us.area, QUANTITY_AREA, "ft2", "ft2"},
        {&unit_system_us.pressure, QUANTITY_PRESSURE, "psf", "psf"},
        {&unit_system_us.force, QUANTITY_FORCE, "lbf", "lbf"},
        {&unit_system_us.speed, QUANTITY_SPEED, "mph", "mph"},
        {&unit_system_si.length, QUANTITY_LENGTH, "m", "m"},
        {&unit_system_si.small, QUANTITY_LENGTH, "mm", "mm"},
        {&unit_system_si.area, QUANTITY_AREA, "m2", "m2"},
        {&unit_system_si.pressure, QUANTITY_PRESSURE, "Pa", "pa"},
        {&unit_system_si.force, QUANTITY_FORCE, "N", "n"},
        {&unit_system_si.speed, QUANTITY_SPEED, "m/s", "mps"},
    };

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        double factor = 0;

        assert_true(unit_find(cases[i].name, cases[i].quantity, &factor));
        assert_true(cases[i].unit->factor == factor);
        assert_string_equal(cases[i].unit->suffix, cases[i].suffix);
    }
    assert_string_equal(unit_system_us.name, "us");
    assert_string_equal(unit_system_si.name, "si");
}

static void expect_chosen(const char *text, const char *us, const char *si)
{
    struct text out = TEXT_INIT;

    units_choose(&out, text, &unit_system_us);
    text_putc(&out, '|');
    units_choose(&out, text, &unit_system_si);
    assert_memory_equal(out.data, us, strlen(us));
    assert_int_equal(out.data[strlen(us)], '|');
    assert_string_equal(out.data + strlen(us) + 1, si);
    text_release(&out);
}

static void one_of_both_units_is_chosen(void **state)
{
    static const char *const others[] = {"", "zone 1 (field), 2 (m), x (2 of 3)",
                                         "y (zone 1 m", "z ()", "a (3 m b)"};

    (void)state;
    expect_chosen("h above 60 ft (18.3 m): a", "h above 60 ft: a", "h above 18.3 m: a");
    expect_chosen("h up to 60 ft (18.3 m)", "h up to 60 ft", "h up to 18.3 m");
    expect_chosen("9 psf (0.4 kPa), at most 12 psf (0.6 kPa)", "9 psf, at most 12 psf",
                  "0.4 kPa, at most 0.6 kPa");
    expect_chosen("3/8 to 1 in (10 to 25 mm) wide", "3/8 to 1 in wide",
                  "10 to 25 mm wide");
    expect_chosen("60 ft (18.3 m)", "60 ft", "18.3 m");
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++)
        expect_chosen(others[i], others[i], others[i]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_of_both_units_is_chosen),
        cmocka_unit_test(units_are_found),
        cmocka_unit_test(a_unit_of_another_kind_is_refused),
        cmocka_unit_test(systems_agree_with_the_names),
    };

    return cmocka_run_group_tests_name("base/units", tests, NULL, NULL);
}
