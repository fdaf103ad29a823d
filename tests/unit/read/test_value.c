#include "help.h"

#include "base/units.h"
#include "read/roles.h"
#include "read/value.h"

static struct arena *arena;

static int arena_open(void **state)
{
    (void)state;
    arena = arena_new();
    return arena ? 0 : -1;
}

static int arena_close(void **state)
{
    (void)state;
    arena_free(arena);
    return 0;
}

static struct value whole(long long number)
{
    return (struct value){.kind = VALUE_WHOLE, .whole = number};
}

static struct value real(double number)
{
    return (struct value){.kind = VALUE_REAL, .real = number};
}

static struct value text(const char *string)
{
    return (struct value){.kind = VALUE_TEXT, .text = string};
}

/* Stores into an empty roof. unit: NULL for none. */
static bool store(struct roof *roof, enum field_role role, const char *unit,
                  struct value value)
{
    struct field field = {.unit = "", .factor = 1};

    *roof = (struct roof){.given = attributes_missing()};
    if (unit)
        assert_true(role_unit(role, unit, &field));
    return value_store(arena, roof, role, &field, field_role_name(role), &value);
}

static void expect_problem(enum field_role role, const char *unit, struct value value,
                           enum problem_code code, const char *word)
{
    const struct attributes missing = attributes_missing();
    struct roof roof;

    assert_false(store(&roof, role, unit, value));
    if (!roof.problems)
        fail_msg("no problem for %s, \"%s\" expected", field_role_name(role), word);
    assert_int_equal(roof.problems->code, code);
    assert_contains(roof.problems->what, field_role_name(role));
    assert_contains(roof.problems->what, word);
    assert_true(roof.problems->done[0]);
    assert_null(roof.problems->next);
    expect_same_attributes(&roof.given, &missing);
}

static void expect_nothing(enum field_role role, const char *unit, struct value value)
{
    struct roof roof;

    assert_false(store(&roof, role, unit, value));
    assert_null(roof.problems);
}

static void expect_height(const char *unit, struct value value, double expected)
{
    struct roof roof;

    assert_true(store(&roof, ROLE_HEIGHT, unit, value));
    assert_null(roof.problems);
    assert_true(fabs(roof.given.height - expected) < 1e-12 * expected);
}

static void units_are_taken_off(void **state)
{
    struct roof roof;

    (void)state;
    expect_height("m", whole(7), 7);
    expect_height("ft", whole(30), 9.144);
    expect_height("in", real(360.0), 9.144);
    expect_height("cm", text(" 914.4 "), 9.144);
    assert_true(store(&roof, ROLE_WIND_SPEED, "mph", whole(115)));
    assert_true(fabs(roof.given.wind_speed - 51.4096) < 1e-9);
    assert_true(store(&roof, ROLE_RATING, "psf", whole(90)));
    assert_true(fabs(roof.given.rating - 90 * 47.88025898) < 1e-5);
    assert_true(store(&roof, ROLE_PULLOUT, "lbf", whole(300)));
    assert_true(fabs(roof.given.pullout - 300 * 4.4482216152605) < 1e-9);
    assert_true(store(&roof, ROLE_SLOPE, "in/ft", real(0.25)));
    assert_true(fabs(roof.given.slope - 0.25 / 12) < 1e-15);
    assert_true(store(&roof, ROLE_SLOPE, "percent", whole(2)));
    assert_true(fabs(roof.given.slope - 0.02) < 1e-15);
    assert_true(store(&roof, ROLE_SLOPE, "deg", whole(45)));
    assert_true(fabs(roof.given.slope - 1) < 1e-12);
    assert_true(store(&roof, ROLE_WET_SHARE, "percent", whole(15)));
    assert_true(fabs(roof.given.wet_share - 0.15) < 1e-15);
}

/* A pitched roof in a unit that is named is steep; a bare 12 is no ratio, and never
 * becomes a flat roof. */
static void a_slope_out_of_range_is_never_flat(void **state)
{
    struct roof roof;

    (void)state;
    assert_true(store(&roof, ROLE_SLOPE, "deg", whole(60)));
    assert_true(fabs(roof.given.slope - sqrt(3)) < 1e-12);
    assert_true(store(&roof, ROLE_SLOPE, "percent", whole(150)));
    assert_true(fabs(roof.given.slope - 1.5) < 1e-12);
    assert_false(store(&roof, ROLE_SLOPE, "ratio", whole(12)));
    assert_true(isinf(roof.given.slope));
    assert_int_equal(roof.problems->code, PROBLEM_SLOPE_RANGE);
    assert_contains(roof.problems->what, "percent");
    assert_false(store(&roof, ROLE_SLOPE, "deg", whole(90)));
    assert_contains(roof.problems->what, "90 deg");
    assert_false(store(&roof, ROLE_SLOPE, "deg", whole(-3)));
    assert_true(isinf(roof.given.slope));
}

static void a_value_may_say_its_own_unit(void **state)
{
    (void)state;
    expect_height("m", text("12 m"), 12);
    expect_height("m", text("40 ft"), 12.192);
    expect_height("m", text("40'"), 12.192);
    expect_height("ft", text("12.5m"), 12.5);
    expect_problem(ROLE_HEIGHT, "m", text("12 mph"), PROBLEM_NOT_A_NUMBER, "12 mph");
    expect_problem(ROLE_HEIGHT, "m", text("m"), PROBLEM_NOT_A_NUMBER, "\"m\"");
    expect_problem(ROLE_HEIGHT, "m", text("12 13 m"), PROBLEM_NOT_A_NUMBER, "12 13");
}

static void numbers_are_read_as_people_write_them(void **state)
{
    struct roof roof;

    (void)state;
    expect_height("m", text("12,5"), 12.5);
    expect_height("ft", text("12,5 m"), 12.5);
    expect_height("ft", text("30'-0\""), 30 * M_PER_FT);
    expect_height("m", text("39'4\""), (39 + 4 / 12.0) * M_PER_FT);
    expect_height("m", text("39' 4 1/2\""), (39 + 4.5 / 12) * M_PER_FT);
    expect_height("ft", text("1,234.5"), 1234.5 * M_PER_FT);
    assert_true(store(&roof, ROLE_STACK, "ft", text("4 1/2\"")));
    assert_true(fabs(roof.given.stack - 4.5 * M_PER_IN) < 1e-12);
    assert_true(store(&roof, ROLE_STOREYS, NULL, text("2,5")));
    assert_true(roof.given.storeys == 2.5);
    expect_problem(ROLE_STOREYS, NULL, text("39'4\""), PROBLEM_NOT_A_NUMBER, "39'4");
}

static void a_comma_that_may_be_either_is_no_number(void **state)
{
    struct roof roof;

    (void)state;
    expect_problem(ROLE_HEIGHT, "ft", text("1,500"), PROBLEM_NOT_A_NUMBER,
                   "may mean 1500 or 1.5");
    expect_problem(ROLE_CONDITION, NULL, text("62,500"), PROBLEM_NOT_A_NUMBER,
                   "without that comma");
    assert_true(store(&roof, ROLE_PENETRATIONS, NULL, text("1,500")));
    assert_int_equal(roof.given.penetrations, 1500);
    assert_true(store(&roof, ROLE_COST, NULL, text("250,000")));
    assert_true(roof.given.cost == 250000);
    assert_true(store(&roof, ROLE_COST_PER_AREA, "ft2", whole(12)));
    assert_true(fabs(roof.given.cost_per_area - 12 / 0.09290304) < 1e-9);
    assert_true(store(&roof, ROLE_COST_PER_AREA, "m2", whole(130)));
    assert_true(roof.given.cost_per_area == 130);
    assert_true(store(&roof, ROLE_REPLACEMENT_VALUE, NULL, text("250,000")));
    assert_true(roof.given.replacement_value == 250000);
}

static void storeys_may_be_a_range(void **state)
{
    static const char *const ranges[] = {"3-5", " 3 - 5 ", "3\342\200\2235"};
    struct roof roof;

    (void)state;
    for (size_t i = 0; i < 3; i++) {
        assert_true(store(&roof, ROLE_STOREYS, NULL, text(ranges[i])));
        assert_true(roof.given.storeys == 4);
        assert_int_equal(roof.problems->code, PROBLEM_VALUE_RANGE_MEAN);
        assert_contains(roof.problems->what, "is a range: 4, give or take 1");
        assert_contains(roof.problems->done, "mean");
    }
    expect_problem(ROLE_STOREYS, NULL, text("5-3"), PROBLEM_NOT_A_NUMBER, "5-3");
    expect_problem(ROLE_STOREYS, NULL, text("3-500"), PROBLEM_NOT_A_NUMBER, "3-500");
    expect_problem(ROLE_STOREYS, NULL, text("3--5"), PROBLEM_NOT_A_NUMBER, "3--5");
}

static void what_is_missing_stays_missing(void **state)
{
    struct field field = {.unit = "m", .factor = 1, .zero_unknown = true};
    struct roof roof = {.given = attributes_missing()};
    struct value zero = whole(0);

    (void)state;
    expect_nothing(ROLE_HEIGHT, "m", (struct value){.kind = VALUE_NULL});
    expect_nothing(ROLE_HEIGHT, "m", text(""));
    expect_nothing(ROLE_HEIGHT, "m", text(" \t\r\n"));
    expect_nothing(ROLE_HEIGHT, "m", real((double)NAN));
    expect_nothing(ROLE_NAME, NULL, text("  "));
    expect_nothing(ROLE_EXPOSURE, NULL, text(""));
    assert_false(value_store(arena, &roof, ROLE_HEIGHT, &field, "HAUTEUR", &zero));
    assert_null(roof.problems);
    assert_true(isnan(roof.given.height));
}

static void bad_heights_are_problems(void **state)
{
    (void)state;
    expect_problem(ROLE_HEIGHT, "m", text("tall"), PROBLEM_NOT_A_NUMBER, "\"tall\"");
    expect_problem(ROLE_HEIGHT, "m", text("7,5,5"), PROBLEM_NOT_A_NUMBER, "\"7,5,5\"");
    expect_problem(ROLE_HEIGHT, "m", text("inf"), PROBLEM_NOT_A_NUMBER, "\"inf\"");
    expect_problem(ROLE_HEIGHT, "m", whole(0), PROBLEM_HEIGHT_ABSURD, "1 m to 1,000 m");
    expect_problem(ROLE_HEIGHT, "m", whole(-5), PROBLEM_HEIGHT_ABSURD, "-5 m");
    expect_problem(ROLE_HEIGHT, "ft", whole(3), PROBLEM_HEIGHT_ABSURD, "3 ft");
    expect_problem(ROLE_HEIGHT, "m", real(0.99), PROBLEM_HEIGHT_ABSURD, "0.99 m");
    expect_problem(ROLE_HEIGHT, "m", real(1000.5), PROBLEM_HEIGHT_ABSURD, "1000.5 m");
    expect_problem(ROLE_HEIGHT, "m", real((double)INFINITY), PROBLEM_HEIGHT_ABSURD,
                   "infinity");
    expect_height("m", whole(1), 1);
    expect_height("m", whole(1000), 1000);
    assert_int_equal(problem_severity(PROBLEM_HEIGHT_ABSURD), SEVERITY_ERROR);
}

static void a_speed_over_300_mph_is_in_the_wrong_unit(void **state)
{
    struct roof roof;

    (void)state;
    expect_problem(ROLE_WIND_SPEED, "mph", whole(301), PROBLEM_VALUE_RANGE, "km/h");
    expect_problem(ROLE_WIND_SPEED, "m/s", whole(150), PROBLEM_VALUE_RANGE, "in mph");
    expect_problem(ROLE_WIND_SPEED, "m/s", whole(0), PROBLEM_VALUE_RANGE, "1 m/s");
    assert_true(store(&roof, ROLE_WIND_SPEED, "mph", whole(300)));
}

static void a_height_may_be_a_range(void **state)
{
    struct roof roof;

    (void)state;
    assert_true(store(&roof, ROLE_HEIGHT, "ft", text("30-40")));
    assert_true(fabs(roof.given.height - 10.668) < 1e-9);
    assert_int_equal(roof.problems->code, PROBLEM_VALUE_RANGE_MEAN);
    assert_contains(roof.problems->what, "give or take 5");
    expect_problem(ROLE_HEIGHT, "m", text("5-3"), PROBLEM_NOT_A_NUMBER, "5-3");
}

static void ranges_are_told(void **state)
{
    (void)state;
    expect_problem(ROLE_STOREYS, NULL, whole(0), PROBLEM_VALUE_RANGE, "0.5 to 200");
    expect_problem(ROLE_STOREYS, NULL, whole(201), PROBLEM_VALUE_RANGE, "201");
    expect_problem(ROLE_STOREYS, NULL, text("1;6"), PROBLEM_NOT_A_NUMBER, "\"1;6\"");
    expect_problem(ROLE_PARAPET, "m", whole(-1), PROBLEM_VALUE_RANGE, "0 to 10 m");
    expect_problem(ROLE_OVERHANG, "ft", whole(66), PROBLEM_VALUE_RANGE, "0 to 20 m");
    expect_problem(ROLE_PARAPET, "ft", whole(36), PROBLEM_VALUE_RANGE, "36 ft");
    expect_problem(ROLE_RISK, NULL, whole(5), PROBLEM_VALUE_RANGE, "I to IV");
    expect_problem(ROLE_RISK, NULL, text("V"), PROBLEM_NOT_A_NUMBER, "\"V\"");
    expect_problem(ROLE_RISK, NULL, real(2.5), PROBLEM_VALUE_RANGE, "whole number");
    expect_problem(ROLE_COVERS, NULL, whole(-1), PROBLEM_VALUE_RANGE, "-1");
    expect_problem(ROLE_WET_SHARE, NULL, whole(15), PROBLEM_VALUE_RANGE, "percent");
    expect_problem(ROLE_COST, NULL, whole(0), PROBLEM_VALUE_RANGE, "1 to 1e13");
    expect_problem(ROLE_COST_PER_AREA, "ft2", whole(0), PROBLEM_VALUE_RANGE, "m2");
    expect_problem(ROLE_CONDITION, NULL, whole(101), PROBLEM_VALUE_RANGE, "0 to 100");
    expect_problem(ROLE_INSTALLED, NULL, whole(98), PROBLEM_VALUE_RANGE, "1800");
    expect_problem(ROLE_TOPOGRAPHIC, NULL, real(0.5), PROBLEM_VALUE_RANGE, "0.5");
    expect_problem(ROLE_PENETRATIONS, NULL, real(1e18), PROBLEM_VALUE_RANGE, "1e+18");
}

static void names_are_found_and_listed(void **state)
{
    struct roof roof;

    (void)state;
    assert_true(store(&roof, ROLE_EXPOSURE, NULL, text(" c ")));
    assert_int_equal(roof.given.exposure, EXPOSURE_C);
    assert_true(store(&roof, ROLE_ENCLOSURE, NULL, text("Partially Enclosed")));
    assert_int_equal(roof.given.enclosure, ENCLOSURE_PARTIALLY_ENCLOSED);
    assert_true(store(&roof, ROLE_METHOD, NULL, text("induction_welded")));
    assert_int_equal(roof.given.method, METHOD_INDUCTION_WELDED);
    assert_true(store(&roof, ROLE_RATING_BASIS, NULL, text("allowable")));
    assert_int_equal(roof.given.rating_basis, RATING_ALLOWABLE);
    assert_true(store(&roof, ROLE_EXISTING, NULL, text("ballasted")));
    assert_int_equal(roof.given.existing, EXISTING_BALLASTED);
    assert_true(store(&roof, ROLE_USE, NULL, text("Data center")));
    assert_int_equal(roof.given.use, BUILDING_DATA_CENTRE);
    expect_problem(ROLE_USE, NULL, text("R-2"), PROBLEM_VALUE_UNKNOWN, "warehouse, ");
    expect_problem(ROLE_EXPOSURE, NULL, text("E"), PROBLEM_VALUE_UNKNOWN, "B, C, D");
    expect_problem(ROLE_EXPOSURE, NULL, whole(3), PROBLEM_VALUE_UNKNOWN, "B, C, D");
    expect_problem(ROLE_DECK, NULL, text("straw"), PROBLEM_VALUE_UNKNOWN, "steel, wood");
    expect_problem(ROLE_HOLES, NULL, text("pit"), PROBLEM_VALUE_UNKNOWN, "penthouse");
}

static void risk_may_be_roman(void **state)
{
    static const char *const numerals[] = {"I", "ii", " III", "IV"};
    struct roof roof;

    (void)state;
    for (int i = 0; i < 4; i++) {
        assert_true(store(&roof, ROLE_RISK, NULL, text(numerals[i])));
        assert_int_equal(roof.given.risk, i + 1);
    }
}

static void years_may_be_dates(void **state)
{
    struct roof roof;

    (void)state;
    assert_true(store(&roof, ROLE_INSTALLED, NULL, text("2004-05-17")));
    assert_int_equal(roof.given.installed, 2004);
    assert_true(store(&roof, ROLE_INSTALLED, NULL, text("1998/12/01")));
    assert_int_equal(roof.given.installed, 1998);
    assert_true(store(&roof, ROLE_FIXED_YEAR, NULL, text("2031-01-01T00:00:00Z")));
    assert_int_equal(roof.given.fixed_year, 2031);
    expect_problem(ROLE_COVERS, NULL, text("2004-05-17"), PROBLEM_NOT_A_NUMBER, "2004-");
    expect_problem(ROLE_INSTALLED, NULL, text("2004-"), PROBLEM_NOT_A_NUMBER, "2004-");
}

static void texts_come_from_any_kind(void **state)
{
    struct roof roof;

    (void)state;
    assert_true(store(&roof, ROLE_ID, NULL, whole(9007199254740993)));
    assert_string_equal(roof.id, "9007199254740993");
    assert_true(store(&roof, ROLE_ID, NULL, real(12.0)));
    assert_string_equal(roof.id, "12");
    assert_true(store(&roof, ROLE_BUILDING, NULL, text(" Hall A \n")));
    assert_string_equal(roof.building, "Hall A");
}

static void the_column_is_named(void **state)
{
    struct field field = {.unit = "ft", .factor = M_PER_FT};
    struct roof roof = {.given = attributes_missing()};
    struct value value = text("x");

    (void)state;
    assert_false(value_store(arena, &roof, ROLE_HEIGHT, &field, "HGT_A", &value));
    assert_contains(roof.problems->what, "(column HGT_A)");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(units_are_taken_off),
        cmocka_unit_test(a_slope_out_of_range_is_never_flat),
        cmocka_unit_test(a_value_may_say_its_own_unit),
        cmocka_unit_test(numbers_are_read_as_people_write_them),
        cmocka_unit_test(a_comma_that_may_be_either_is_no_number),
        cmocka_unit_test(storeys_may_be_a_range),
        cmocka_unit_test(what_is_missing_stays_missing),
        cmocka_unit_test(bad_heights_are_problems),
        cmocka_unit_test(a_speed_over_300_mph_is_in_the_wrong_unit),
        cmocka_unit_test(a_height_may_be_a_range),
        cmocka_unit_test(ranges_are_told),
        cmocka_unit_test(names_are_found_and_listed),
        cmocka_unit_test(risk_may_be_roman),
        cmocka_unit_test(years_may_be_dates),
        cmocka_unit_test(texts_come_from_any_kind),
        cmocka_unit_test(the_column_is_named),
    };

    return cmocka_run_group_tests_name("read/value", tests, arena_open, arena_close);
}
