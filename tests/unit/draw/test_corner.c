/* The corner that is enlarged, where what runs on from it is an arc. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "draw/plan_page.h"

#define PI 3.14159265358979323846
#define DEGREES_MOST 360

/* An arc of 20 m around the origin to the left, a vertex a degree. @return how many */
static size_t trace_arc(int from, int to, struct point *out)
{
    size_t count = 0;

    for (int degree = from; degree <= to; degree++, count++)
        out[count] =
            (struct point){20 * cos(degree * PI / 180), 20 * sin(degree * PI / 180)};
    return count;
}

static struct corner find_on(struct point *points, size_t count)
{
    struct ring ring = {.points = points, .count = count};
    struct polygon polygon = {&ring, 1};
    struct roof roof = {.outline = {&polygon, 1}};
    struct corner corner = {0};

    assert_true(corner_find(&roof, &corner));
    return corner;
}

/* Two straight edges that touch the arc meet at its only corner. */
static void test_drop(void **state)
{
    struct point points[DEGREES_MOST + 1];
    size_t count = trace_arc(45, 315, points);

    (void)state;
    points[count++] = (struct point){20 * sqrt(2), 0};
    struct corner corner = find_on(points, count);
    assert_true(corner.square);
    /* The edges and the first two degrees of the arc, which bends away from them. */
    assert_float_equal(corner.length, 20, 1);
    assert_float_equal(corner.back_length, 20, 1);
    assert_float_equal(corner.on.x, -sqrt(0.5), 0.02);
    assert_float_equal(corner.on.y, sqrt(0.5), 0.02);
    assert_float_equal(corner.back.x, -sqrt(0.5), 0.02);
    assert_float_equal(corner.back.y, -sqrt(0.5), 0.02);
}

/* Both corners are where the arc meets the diameter; the first one is where it begins. */
static void test_half_disc(void **state)
{
    struct point points[DEGREES_MOST + 1];
    struct corner corner = find_on(points, trace_arc(0, 180, points));

    (void)state;
    assert_true(corner.square);
    assert_float_equal(corner.at.x, 20, 1e-9);
    assert_float_equal(corner.back.x, -1, 1e-9);
    assert_float_equal(corner.back_length, 40, 1e-9);
    assert_float_equal(corner.on.y, 1, 0.01);
    assert_true(fabs(corner.length - 20 * 3 * PI / 180) < 0.01);
}

/* A straight edge that was traced with a waver is one edge. */
static void test_wavering_edge(void **state)
{
    struct point points[] = {{0, 0},  {10, 0.05}, {20, -0.05}, {30, 0.05},
                             {40, 0}, {40, 25},   {0, 25}};
    struct corner corner = find_on(points, sizeof points / sizeof points[0]);

    (void)state;
    assert_float_equal(fmax(corner.length, corner.back_length), 40, 0.1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_drop),
        cmocka_unit_test(test_half_disc),
        cmocka_unit_test(test_wavering_edge),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
