/* Recover or tear off: each rule alone, and what comes first. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <string.h>

#include "price/scope.h"

/* One dry gravel-surfaced cover in fair condition. */
static struct roof sound(void)
{
    struct roof roof = {.given = attributes_missing()};

    roof.given.covers = 1;
    roof.given.wet_share = 0;
    roof.given.condition = 55;
    roof.given.existing = EXISTING_GRAVEL_SURFACED;
    return roof;
}

static void expect(struct roof roof, double wet_limit, enum scope scope, const char *why)
{
    struct scope_settings settings = {wet_limit};
    struct building building = {.roofs = &roof, .roof_count = 1};

    scope_run(&building, &settings);
    assert_int_equal(roof.scope, scope);
    assert_non_null(roof.scope_reason);
    assert_non_null(strstr(roof.scope_reason, why));
}

static void test_recover(void **state)
{
    struct roof roof = sound();

    (void)state;
    expect(roof, 0, SCOPE_RECOVER, "one dry cover");
    roof.given.existing = EXISTING_SMOOTH;
    expect(roof, 0, SCOPE_RECOVER, "one dry cover");
    roof.given.existing = EXISTING_NOT_GIVEN;
    expect(roof, 0, SCOPE_RECOVER, "assumed");
    roof.given.condition = NAN;
    expect(roof, 0, SCOPE_RECOVER, "assumed");
}

static void test_tear_off(void **state)
{
    struct roof roof = sound();

    (void)state;
    roof.given.covers = 2;
    expect(roof, 0, SCOPE_TEAR_OFF, "two or more covers");
    roof = sound();
    roof.given.wet_share = 0.01;
    expect(roof, 0, SCOPE_TEAR_OFF, "wet insulation");
    roof = sound();
    roof.given.condition = 30;
    expect(roof, 0, SCOPE_TEAR_OFF, "deteriorated");
    roof = sound();
    roof.given.existing = EXISTING_SINGLE_PLY;
    expect(roof, 0, SCOPE_TEAR_OFF, "single-ply");
    roof.given.existing = EXISTING_BALLASTED;
    expect(roof, 0, SCOPE_TEAR_OFF, "ballast");
}

static void test_untold(void **state)
{
    struct roof roof = sound();

    (void)state;
    roof.given.covers = MISSING;
    expect(roof, 0, SCOPE_TEAR_OFF, "assumed: number of covers");
    roof = sound();
    roof.given.wet_share = NAN;
    expect(roof, 0, SCOPE_TEAR_OFF, "assumed: moisture");
    /* what is known comes first */
    roof.given.covers = 3;
    expect(roof, 0, SCOPE_TEAR_OFF, "two or more");
    roof.given.covers = 0;
    expect(roof, 0, SCOPE_NOT_GIVEN, "no old cover");
}

static void test_local_limit(void **state)
{
    struct roof roof = sound();

    (void)state;
    roof.given.wet_share = 0.25;
    expect(roof, 0.25, SCOPE_RECOVER, "the wet part is torn off");
    roof.given.wet_share = 0.26;
    expect(roof, 0.25, SCOPE_TEAR_OFF, "above the local limit");
    roof.given.covers = 2;
    expect(roof, 1, SCOPE_TEAR_OFF, "two or more");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_recover),
        cmocka_unit_test(test_tear_off),
        cmocka_unit_test(test_untold),
        cmocka_unit_test(test_local_limit),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
