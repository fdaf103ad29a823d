/* Slopes of made surfaces: what a roof is, and how steep. */

#include "help.h"

#include "sample/plane.h"

enum { SIDE = 40, SMALL = 10 };

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

static double half_pitched(double x, double y)
{
    (void)y;
    return 12 + 0.5 * fmax(x - 11, 0);
}

static double missing(double x, double y)
{
    (void)x;
    (void)y;
    return NAN;
}

/* Of the small roof, 10 m by 10 m. */
static double small_gable(double x, double y)
{
    (void)x;
    return 6 - 0.3 * fabs(y - 5);
}

static double hip(double x, double y)
{
    return 6 + 0.3 * fmin(fmin(x, 10 - x), fmin(y, 10 - y));
}

static double two_levels(double x, double y)
{
    (void)y;
    return x < 4 ? 6 : 8;
}

static double one_unit(double x, double y)
{
    return fabs(x - 5) < 1.5 && fabs(y - 5) < 1.5 ? 8 : 6;
}

/* At the corner, a quarter of the roof. */
static double under_trees(double x, double y)
{
    return x < 5 && y < 5 ? 10 + x - 2 * y : 6;
}

/* Steep about the middle third, flat beside it: neither. */
static double humped(double x, double y)
{
    (void)y;
    return 6 - 0.25 * fmin(fabs(x - 5), 2.5);
}

/* Fits a surface on a square of pixels, north up, with noise of a uniform draw. */
static struct plane_fit fit(struct arena *arena, int side, double pixel,
                            double (*surface)(double, double), double noise)
{
    struct point corners[] = {{0, 0}, {side, 0}, {side, side}, {0, side}};
    struct ring ring = {corners, 4};
    struct polygon polygon = {&ring, 1};
    struct region outline = {&polygon, 1};
    struct mask mask = {.width = side, .height = side, .metres = {pixel, 0, 0, -pixel}};
    double values[SIDE * SIDE];
    struct plane_fit out;
    uint32_t draw = 7;

    for (int row = 0; row < side; row++)
        for (int col = 0; col < side; col++) {
            draw = draw * 1664525u + 1013904223u;
            values[row * side + col] = surface((col + 0.5) * pixel, (row + 0.5) * pixel) +
                                       noise * ((double)(draw >> 8) / (1 << 23) - 1);
        }
    assert_true(plane_fit(&mask, &outline, values, LIMIT, arena, &out));
    return out;
}

struct kind {
    double (*surface)(double, double);
    enum flatness flatness;
    double slope;
};

static void check_kinds(struct arena *arena, int side, double pixel, size_t count,
                        const struct kind *kinds)
{
    for (size_t i = 0; i < count; i++)
        for (double noise = 0; noise < 0.5; noise += 0.34) { /* 0.2 m of deviation */
            struct plane_fit found = fit(arena, side, pixel, kinds[i].surface, noise);

            if (found.flatness != kinds[i].flatness)
                fail_msg("surface %zu, noise %g: %s, %g +- %g", i, noise,
                         flatness_name((int)found.flatness), found.slope, found.doubt);
            if (!(fabs(found.slope - kinds[i].slope) < fmax(0.03, found.doubt)))
                fail_msg("surface %zu, noise %g: slope %g", i, noise, found.slope);
        }
}

static void test_kinds_of_roofs(void **state)
{
    static const struct kind kinds[] = {
        {flat, FLATNESS_LOW, 0.02},     {tilted, FLATNESS_PITCHED, 0.5},
        {gable, FLATNESS_PITCHED, 0.5}, {stepped, FLATNESS_STEPPED, 0},
        {with_units, FLATNESS_LOW, 0},
    };

    check_kinds(*state, SIDE, 0.5, sizeof kinds / sizeof kinds[0], kinds);
}

static void test_kinds_of_small_roofs(void **state)
{
    static const struct kind kinds[] = {
        {flat, FLATNESS_LOW, 0.02},           {tilted, FLATNESS_PITCHED, 0.5},
        {small_gable, FLATNESS_PITCHED, 0.3}, {hip, FLATNESS_PITCHED, 0.3},
        {two_levels, FLATNESS_STEPPED, 0},    {one_unit, FLATNESS_LOW, 0},
        {under_trees, FLATNESS_LOW, 0},
    };

    check_kinds(*state, SMALL, 1, sizeof kinds / sizeof kinds[0], kinds);
}

static void test_nothing_to_fit(void **state)
{
    static const int sides[] = {SIDE, SMALL, 3};

    for (size_t i = 0; i < 3; i++) {
        struct plane_fit found =
            fit(*state, sides[i], 1, sides[i] == 3 ? flat : missing, 0);

        assert_true(isnan(found.slope));
        assert_int_equal(found.flatness, FLATNESS_UNCERTAIN);
    }
}

static void test_what_is_half_pitched_is_uncertain(void **state)
{
    struct plane_fit large = fit(*state, SIDE, 0.5, half_pitched, 0);
    struct plane_fit small = fit(*state, SMALL, 1, humped, 0.34);

    assert_int_equal(large.flatness, FLATNESS_UNCERTAIN);
    assert_int_equal(small.flatness, FLATNESS_UNCERTAIN);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_kinds_of_roofs),
        cmocka_unit_test(test_kinds_of_small_roofs),
        cmocka_unit_test(test_nothing_to_fit),
        cmocka_unit_test(test_what_is_half_pitched_is_uncertain),
    };

    return cmocka_run_group_tests(tests, arena_open, arena_close);
}
