/* Slopes of made surfaces: what a roof is, and how steep. */

#include "help.h"

#include "sample/plane.h"

enum { SIDE = 40 };

#define LIMIT 0.12278

static double flat(double x, double y)
{
    (void)x;
    return 12 + 0.02 * y;
}

static double tilted(double x, double y)
{
    return 12 + 0.3 * x + 0.4 * y;
}

static double gable(double x, double y)
{
    (void)y;
    return 12 - 0.5 * fabs(x - 10);
}

static double stepped(double x, double y)
{
    (void)y;
    return x < 12 ? 12 : 15;
}

/* A field with a narrow row of units, each 2 m high. */
static double with_units(double x, double y)
{
    return 12 + (fabs(y - 10) < 1.5 && fmod(x, 6) < 3 ? 2 : 0);
}

/* Fits a surface on pixels of half a metre, north up, with noise of a uniform draw. */
static struct plane_fit fit(struct arena *arena, double (*surface)(double, double),
                            double noise)
{
    struct mask mask = {.width = SIDE,
                        .height = SIDE,
                        .bits = arena_array(arena, SIDE * SIDE, 1),
                        .metres = {0.5, 0, 0, -0.5}};
    double *values = arena_array(arena, SIDE * SIDE, sizeof *values);
    struct plane_fit out;
    uint32_t draw = 7;

    for (int row = 0; row < SIDE; row++)
        for (int col = 0; col < SIDE; col++) {
            draw = draw * 1664525u + 1013904223u;
            mask.bits[row * SIDE + col] = MASK_INSIDE;
            values[row * SIDE + col] = surface((col + 0.5) / 2, (row + 0.5) / 2) +
                                       noise * ((double)(draw >> 8) / (1 << 23) - 1);
        }
    assert_true(plane_fit(&mask, values, MASK_INSIDE, MASK_INSIDE, LIMIT, arena, &out));
    return out;
}

static void test_kinds_of_roofs(void **state)
{
    static const struct {
        double (*surface)(double, double);
        enum flatness flatness;
        double slope;
    } rows[] = {
        {flat, FLATNESS_LOW, 0.02},     {tilted, FLATNESS_PITCHED, 0.5},
        {gable, FLATNESS_PITCHED, 0.5}, {stepped, FLATNESS_STEPPED, 0},
        {with_units, FLATNESS_LOW, 0},
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        for (double noise = 0; noise < 0.5; noise += 0.34) { /* 0.2 m of deviation */
            struct plane_fit found = fit(*state, rows[i].surface, noise);

            if (found.flatness != rows[i].flatness)
                fail_msg("surface %zu, noise %g: %s, %g +- %g", i, noise,
                         flatness_name((int)found.flatness), found.slope, found.doubt);
            if (!(fabs(found.slope - rows[i].slope) < 0.03))
                fail_msg("surface %zu, noise %g: slope %g", i, noise, found.slope);
        }
}

static void test_nothing_to_fit(void **state)
{
    struct mask mask = {.width = SIDE,
                        .height = SIDE,
                        .bits = arena_array(*state, SIDE * SIDE, 1),
                        .metres = {0.5, 0, 0, -0.5}};
    double *values = arena_array(*state, SIDE * SIDE, sizeof *values);
    struct plane_fit found;

    assert_true(
        plane_fit(&mask, values, MASK_INSIDE, MASK_INSIDE, LIMIT, *state, &found));
    assert_true(isnan(found.slope));
    assert_int_equal(found.flatness, FLATNESS_UNCERTAIN);
    memset(mask.bits, MASK_INSIDE, SIDE * SIDE);
    for (int i = 0; i < SIDE * SIDE; i++)
        values[i] = NAN;
    assert_true(
        plane_fit(&mask, values, MASK_INSIDE, MASK_INSIDE, LIMIT, *state, &found));
    assert_true(isnan(found.slope));
}

static void test_a_roof_that_is_half_pitched_is_uncertain(void **state)
{
    struct mask mask = {.width = SIDE,
                        .height = SIDE,
                        .bits = arena_array(*state, SIDE * SIDE, 1),
                        .metres = {0.5, 0, 0, -0.5}};
    double *values = arena_array(*state, SIDE * SIDE, sizeof *values);
    struct plane_fit found;

    for (int i = 0; i < SIDE * SIDE; i++) {
        mask.bits[i] = MASK_INSIDE;
        values[i] = 12 + 0.25 * fmax(i % SIDE - 22, 0);
    }
    assert_true(
        plane_fit(&mask, values, MASK_INSIDE, MASK_INSIDE, LIMIT, *state, &found));
    assert_int_equal(found.flatness, FLATNESS_UNCERTAIN);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_kinds_of_roofs),
        cmocka_unit_test(test_nothing_to_fit),
        cmocka_unit_test(test_a_roof_that_is_half_pitched_is_uncertain),
    };

    return cmocka_run_group_tests(tests, arena_open, arena_close);
}
