#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <string.h>
#include <sys/resource.h>
#include <wchar.h>

#include "roof/caution.h"
#include "roof/roof.h"

static int open_arena(void **state)
{
    *state = arena_new();
    return *state != NULL ? 0 : -1;
}

static int close_arena(void **state)
{
    arena_free(*state);
    return 0;
}

static void a_zeroed_roof_has_no_problems(void **state)
{
    struct roof roof = {0};

    (void)state;
    assert_null(roof.problems);
}

static void problems_are_kept_in_order(void **state)
{
    struct roof roof = {0};
    const struct problem *problem;

    roof_problem(*state, &roof, PROBLEM_STEEP, "rated as flat", "slope %.2f", 0.25);
    roof_problem(*state, &roof, PROBLEM_HEIGHT_MISSING, "left out", "field %s", "HGT");
    roof_problem(*state, &roof, PROBLEM_ROUNDED_AWAY, "kept", "interior");

    problem = roof.problems;
    assert_int_equal(problem->code, PROBLEM_STEEP);
    assert_string_equal(problem->what, "slope 0.25");
    assert_string_equal(problem->done, "rated as flat");
    problem = problem->next;
    assert_int_equal(problem->code, PROBLEM_HEIGHT_MISSING);
    assert_string_equal(problem->what, "field HGT");
    problem = problem->next;
    assert_int_equal(problem->code, PROBLEM_ROUNDED_AWAY);
    assert_null(problem->next);
}

static void a_moved_roof_keeps_collecting(void **state)
{
    struct roof roof = {0};
    struct roof moved;

    roof_problem(*state, &roof, PROBLEM_STEEP, "a", "first");
    moved = roof;
    memset(&roof, 0xff, sizeof roof);
    roof_problem(*state, &moved, PROBLEM_OVERLAP, "b", "second");
    assert_string_equal(moved.problems->next->what, "second");
    assert_null(moved.problems->next->next);
}

static void long_texts_are_not_cut(void **state)
{
    struct roof roof = {0};
    char field[3001];

    memset(field, 'x', sizeof field - 1);
    field[sizeof field - 1] = '\0';
    roof_problem(*state, &roof, PROBLEM_VALUE_UNKNOWN, "ignored", "<%s>", field);
    assert_int_equal(strlen(roof.problems->what), 3002);
    assert_int_equal(roof.problems->what[3001], '>');
}

static void a_text_that_cant_be_formatted_keeps_its_code(void **state)
{
    static const wchar_t no_character[] = {0x20ac, 0}; /* none in the C locale */
    struct roof roof = {0};

    roof_problem(*state, &roof, PROBLEM_VALUE_RANGE, "ignored", "%ls", no_character);
    assert_int_equal(roof.problems->code, PROBLEM_VALUE_RANGE);
    assert_string_equal(roof.problems->done, "ignored");
    assert_true(strlen(roof.problems->what) > 0);
}

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
static void without_memory_the_arena_tells(void **state)
{
    (void)state;
    print_message("sanitizers reserve more memory than a limit can leave\n");
    skip();
}
#else
static void without_memory_the_arena_tells(void **state)
{
    struct roof roof = {0};
    struct rlimit before, none = {1 << 20, 0};

    assert_int_equal(getrlimit(RLIMIT_AS, &before), 0);
    none.rlim_max = before.rlim_max;
    assert_int_equal(setrlimit(RLIMIT_AS, &none), 0);
    while (arena_alloc(*state, 1) != NULL) {
        continue;
    }
    roof_problem(*state, &roof, PROBLEM_STEEP, "kept", "slope");
    assert_int_equal(setrlimit(RLIMIT_AS, &before), 0);
    assert_null(roof.problems);
    assert_true(arena_failed(*state));
}
#endif

static void codes_have_a_name_and_a_severity(void **state)
{
    (void)state;
    for (int i = 0; i < PROBLEM_CODES; i++) {
        assert_true(strlen(problem_code_name((enum problem_code)i)) > 0);
        assert_non_null(severity_name(problem_severity((enum problem_code)i)));
        for (int j = 0; j < i; j++) {
            assert_string_not_equal(problem_code_name((enum problem_code)i),
                                    problem_code_name((enum problem_code)j));
        }
    }
    assert_null(problem_code_name(PROBLEM_CODES));
    assert_null(severity_name((enum severity)(SEVERITY_ERROR + 1)));
    assert_string_equal(problem_code_name(PROBLEM_LOW_SPEED), "wind-speed-low");
    assert_string_equal(severity_name(problem_severity(PROBLEM_ZERO_AREA)), "error");
    assert_string_equal(severity_name(problem_severity(PROBLEM_NOT_MET)), "warning");
    assert_string_equal(severity_name(problem_severity(PROBLEM_ROUNDED_AWAY)), "note");
}

static void missing_attributes_are_no_values(void **state)
{
    struct attributes none = attributes_missing();

    (void)state;
    assert_true(isnan(none.height) && isnan(none.storeys) && isnan(none.parapet));
    assert_true(isnan(none.slope) && isnan(none.deck_bearing) && isnan(none.wind_speed));
    assert_true(isnan(none.elevation) && isnan(none.topographic));
    assert_true(isnan(none.wet_share) && isnan(none.condition) && isnan(none.rating));
    assert_true(isnan(none.pullout) && isnan(none.edge_condition));
    assert_true(isnan(none.wall_length) && isnan(none.stack));
    assert_true(isnan(none.replacement_value));
    assert_int_equal(none.risk, MISSING);
    assert_int_equal(none.covers, MISSING);
    assert_int_equal(none.installed, MISSING);
    assert_int_equal(none.penetrations, MISSING);
    assert_int_equal(none.drains, MISSING);
    assert_int_equal(none.earliest, MISSING);
    assert_int_equal(none.latest, MISSING);
    assert_int_equal(none.fixed_year, MISSING);
    assert_int_equal(none.exposure, EXPOSURE_NOT_GIVEN);
    assert_int_equal(none.deck, DECK_NOT_GIVEN);
    assert_int_equal(none.method, METHOD_NOT_GIVEN);
}

static void the_caution_covers_every_point(void **state)
{
    static const char *const points[] = {
        "Planning figures",  "not a design", "code",     "approval",
        "engineer",          "pull-out",     "moisture", "order",
        "suspect materials", "tear-off",     "edges",    "openings",
        "fall protection",
    };

    (void)state;
    for (size_t i = 0; i < sizeof points / sizeof points[0]; i++) {
        assert_non_null(strstr(caution_text(), points[i]));
    }
    assert_null(strchr(caution_text(), '\n'));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_zeroed_roof_has_no_problems),
        cmocka_unit_test_setup_teardown(problems_are_kept_in_order, open_arena,
                                        close_arena),
        cmocka_unit_test_setup_teardown(a_moved_roof_keeps_collecting, open_arena,
                                        close_arena),
        cmocka_unit_test_setup_teardown(long_texts_are_not_cut, open_arena, close_arena),
        cmocka_unit_test_setup_teardown(a_text_that_cant_be_formatted_keeps_its_code,
                                        open_arena, close_arena),
        cmocka_unit_test_setup_teardown(without_memory_the_arena_tells, open_arena,
                                        close_arena),
        cmocka_unit_test(codes_have_a_name_and_a_severity),
        cmocka_unit_test(missing_attributes_are_no_values),
        cmocka_unit_test(the_caution_covers_every_point),
    };

    return cmocka_run_group_tests_name("roof problem", tests, NULL, NULL);
}
