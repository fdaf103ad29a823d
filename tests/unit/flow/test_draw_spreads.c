/* Which spread acts: what was found on the roof has none, a column beats an option, an
 * estimated height has that of the storeys. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>

#include "flow/draw_spreads.h"
#include "roof/finding.h"

static struct roof roof_known(void)
{
    struct roof roof = {.id = "1", .given = attributes_missing(), .velocity.known = true};

    roof.given.storeys = 3;
    roof.given.condition = 50;
    roof.given.installed = 2010;
    return roof;
}

static double spread_of(const struct roof *roof, enum spread_input input)
{
    const struct spread_values options = {{[SPREAD_HEIGHT] = 0.5,
                                           [SPREAD_STOREY_HEIGHT] = 0.4,
                                           [SPREAD_EXPOSURE] = 0.2,
                                           [SPREAD_WIND_SPEED] = 2,
                                           [SPREAD_PRICE] = 0.1,
                                           [SPREAD_CONDITION] = 8,
                                           [SPREAD_SERVICE_LIFE] = 3}};
    double of[SPREAD_INPUTS];

    draw_spreads_of(roof, &options, of);
    return of[input];
}

static void columns_beat_options(void **state)
{
    struct roof roof = roof_known();

    (void)state;
    assert_true(spread_of(&roof, SPREAD_HEIGHT) == 0.5);
    assert_true(spread_of(&roof, SPREAD_TRACE) == 0);
    roof.given.spreads[SPREAD_HEIGHT] = 1.25;
    roof.given.spreads[SPREAD_TRACE] = 0.1;
    roof.given.spreads[SPREAD_EXPOSURE] = 0;
    assert_true(spread_of(&roof, SPREAD_HEIGHT) == 1.25);
    assert_true(spread_of(&roof, SPREAD_TRACE) == 0.1);
    assert_true(spread_of(&roof, SPREAD_EXPOSURE) == 0);
}

static void what_was_found_has_none(void **state)
{
    struct roof roof = roof_known();

    (void)state;
    roof.given.spreads[SPREAD_HEIGHT] = 1.25;
    roof.verified = 1u << FINDING_HEIGHT | 1u << FINDING_EXPOSURE;
    assert_true(spread_of(&roof, SPREAD_HEIGHT) == 0);
    assert_true(spread_of(&roof, SPREAD_EXPOSURE) == 0);
    assert_true(spread_of(&roof, SPREAD_WIND_SPEED) == 2);
}

static void an_estimated_height_goes_by_storeys(void **state)
{
    struct roof roof = roof_known();
    double of[SPREAD_INPUTS] = {0};

    (void)state;
    assert_true(spread_of(&roof, SPREAD_STOREY_HEIGHT) == 0);
    roof.estimated = 1u << ESTIMATE_HEIGHT;
    assert_true(spread_of(&roof, SPREAD_HEIGHT) == 0);
    assert_true(spread_of(&roof, SPREAD_STOREY_HEIGHT) == 0.4);
    of[SPREAD_STOREY_HEIGHT] = 0.4;
    of[SPREAD_HEIGHT] = 0.3;
    assert_true(fabs(draw_reach(&roof, of) - 3 * (0.3 + 3 * 0.4)) < 1e-12);
    of[SPREAD_STOREY_HEIGHT] = 0;
    roof.given.storeys = NAN;
    assert_true(fabs(draw_reach(&roof, of) - 0.9) < 1e-12);
}

/* P90 - P10 of a normal distribution is 2.563 standard deviations. */
static void a_sampled_height_goes_by_its_pixels(void **state)
{
    struct sampled sample = {.role = "height", .spread = 2.5631031};
    struct roof roof = roof_known();

    (void)state;
    roof.samples = &sample;
    roof.sample_count = 1;
    assert_true(fabs(spread_of(&roof, SPREAD_HEIGHT) - 1) < 1e-6);
    sample.spread = NAN;
    assert_true(spread_of(&roof, SPREAD_HEIGHT) == 0.5);
    sample.spread = 2.5631031;
    roof.given.spreads[SPREAD_HEIGHT] = 0.2;
    assert_true(spread_of(&roof, SPREAD_HEIGHT) == 0.2);
}

/* Nothing to be off: no wind speed, no condition, no year, no price. */
static void what_is_not_known_has_none(void **state)
{
    struct roof roof = roof_known();

    (void)state;
    assert_true(spread_of(&roof, SPREAD_CONDITION) == 8);
    assert_true(spread_of(&roof, SPREAD_SERVICE_LIFE) == 3);
    assert_true(spread_of(&roof, SPREAD_PRICE) == 0);
    roof.given.condition = NAN;
    roof.given.installed = MISSING;
    roof.velocity.known = false;
    for (int i = 0; i < SPREAD_INPUTS; i++)
        assert_true(i == SPREAD_HEIGHT || spread_of(&roof, (enum spread_input)i) == 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(columns_beat_options),
        cmocka_unit_test(what_was_found_has_none),
        cmocka_unit_test(an_estimated_height_goes_by_storeys),
        cmocka_unit_test(a_sampled_height_goes_by_its_pixels),
        cmocka_unit_test(what_is_not_known_has_none),
    };

    return cmocka_run_group_tests_name("flow/draw_spreads", tests, NULL, NULL);
}
