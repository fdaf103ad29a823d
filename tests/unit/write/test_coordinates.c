#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "write/coordinates.h"

static struct region one_ring(struct ring *ring, struct polygon *polygon,
                              struct point *points, size_t count)
{
    *ring = (struct ring){points, count};
    *polygon = (struct polygon){ring, 1};
    return (struct region){polygon, 1};
}

static void expect_ring(struct point *points, size_t count, const char *expected)
{
    struct text out = TEXT_INIT;
    struct ring ring;
    struct polygon polygon;
    struct region region = one_ring(&ring, &polygon, points, count);

    coordinates_print(&out, &region);
    assert_false(out.failed);
    assert_string_equal(out.data, expected);
    text_release(&out);
}

static void decimals_are_eight_without_zeros_at_the_end(void **state)
{
    struct point points[] = {{-77.5, 38}, {0.00000001, -0.5}, {-1.123456789, 89.1}};

    (void)state;
    expect_ring(points, 3,
                "{\"type\":\"Polygon\",\"coordinates\":[[[-77.5,38],[0.00000001,-0.5],"
                "[-1.12345679,89.1],[-77.5,38]]]}");
}

static void no_minus_before_zero(void **state)
{
    struct point points[] = {{-0.000000001, -0.0}, {1, 0}, {10, 100}};

    (void)state;
    expect_ring(points, 3,
                "{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[1,0],[10,100],[0,0]]]}");
}

static void a_clockwise_shell_is_turned(void **state)
{
    struct point points[] = {{0, 0}, {0, 1}, {1, 1}, {1, 0}};

    (void)state;
    expect_ring(
        points, 4,
        "{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[1,0],[1,1],[0,1],[0,0]]]}");
}

static void direction_holds_across_the_antimeridian(void **state)
{
    struct point ccw[] = {{179.9, 0}, {-179.9, 0}, {-179.9, 1}, {179.9, 1}};
    struct point cw[] = {{179.9, 0}, {179.9, 1}, {-179.9, 1}, {-179.9, 0}};
    const char *expected = "{\"type\":\"Polygon\",\"coordinates\":[[[179.9,0],[-179.9,0],"
                           "[-179.9,1],[179.9,1],[179.9,0]]]}";

    (void)state;
    expect_ring(ccw, 4, expected);
    expect_ring(cw, 4, expected);
}

static void points_joined_by_rounding_are_one(void **state)
{
    const char *expected =
        "{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[1,0],[1,1],[0,0]]]}";
    struct point ccw[] = {{0, 0}, {1e-9, 0}, {1, 0}, {1, 1e-9},
                          {1, 1}, {0, 2e-9}, {0, 0}};
    struct point cw[] = {{0, 0}, {0, 2e-9}, {1, 1}, {1, 1e-9}, {1, 0}, {1e-9, 0}, {0, 0}};

    (void)state;
    expect_ring(ccw, 7, expected);
    expect_ring(cw, 7, expected);
}

static void nothing_left_is_null(void **state)
{
    struct point thin[] = {{0, 0}, {1, 0}, {1, 1e-9}, {1e-9, 1e-9}};
    struct point two[] = {{0, 0}, {1, 0}};

    (void)state;
    expect_ring(thin, 4, "null");
    expect_ring(two, 2, "null");
}

static void what_is_no_place_is_null(void **state)
{
    struct point nan[] = {{0, 0}, {1, 0}, {1, NAN}};
    struct point far[] = {{0, 0}, {1e300, 0}, {1, 1}};
    struct region empty = {NULL, 0};
    struct text out = TEXT_INIT;

    (void)state;
    expect_ring(nan, 3, "null");
    expect_ring(far, 3, "null");
    coordinates_print(&out, &empty);
    assert_string_equal(out.data, "null");
    text_release(&out);
}

static void holes_run_clockwise_and_small_ones_go(void **state)
{
    struct point shell[] = {{0, 0}, {9, 0}, {9, 9}, {0, 9}};
    struct point hole[] = {{1, 1}, {2, 1}, {2, 2}};
    struct point dust[] = {{3, 3}, {3 + 1e-10, 3}, {3, 3 + 1e-10}};
    struct ring rings[] = {{shell, 4}, {dust, 3}, {hole, 3}};
    struct polygon polygon = {rings, 3};
    struct region region = {&polygon, 1};
    struct text out = TEXT_INIT;

    (void)state;
    coordinates_print(&out, &region);
    assert_string_equal(out.data,
                        "{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[9,0],[9,9],[0,9],"
                        "[0,0]],[[1,1],[2,2],[2,1],[1,1]]]}");
    text_release(&out);
}

static void a_polygon_goes_with_its_shell(void **state)
{
    struct point dust[] = {{3, 3}, {3 + 1e-10, 3}, {3, 3 + 1e-10}};
    struct point a[] = {{0, 0}, {1, 0}, {1, 1}};
    struct point b[] = {{5, 5}, {6, 5}, {6, 6}};
    struct ring first[] = {{dust, 3}, {a, 3}};
    struct ring second = {a, 3};
    struct ring third = {b, 3};
    struct polygon polygons[] = {{first, 2}, {&second, 1}, {&third, 1}};
    struct region region = {polygons, 3};
    struct text out = TEXT_INIT;

    (void)state;
    coordinates_print(&out, &region);
    assert_string_equal(out.data,
                        "{\"type\":\"MultiPolygon\",\"coordinates\":[[[[0,0],[1,0],[1,1],"
                        "[0,0]]],[[[5,5],[6,5],[6,6],[5,5]]]]}");
    text_release(&out);
}

/* A long ring fills the local buffer many times; each coordinate read back is the
 * nearest multiple of 1e-8. */
static void many_points_come_back(void **state)
{
    enum { COUNT = 5000 };
    struct point *points = malloc(COUNT * sizeof *points);
    struct text out = TEXT_INIT;
    struct ring ring;
    struct polygon polygon;
    struct region region;
    const char *at = NULL;

    (void)state;
    assert_non_null(points);
    for (size_t i = 0; i < COUNT; i++) {
        double angle = 6.283185307179586 * (double)i / COUNT;

        points[i] = (struct point){-120 + 59.9 * cos(angle), 29.3 * sin(angle)};
    }
    region = one_ring(&ring, &polygon, points, COUNT);
    coordinates_print(&out, &region);
    at = strchr(out.data, '[') + 1;
    for (size_t i = 0; i <= COUNT; i++) {
        char *end = NULL;
        double x = strtod(strchr(at, '-'), &end);
        double y = strtod(end + 1, &end);

        assert_true(fabs(x - points[i % COUNT].x) <= 0.5000001e-8);
        assert_true(fabs(y - points[i % COUNT].y) <= 0.5000001e-8);
        at = strchr(end, ']');
    }
    assert_string_equal(at, "]]]}");
    text_release(&out);
    free(points);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(decimals_are_eight_without_zeros_at_the_end),
        cmocka_unit_test(no_minus_before_zero),
        cmocka_unit_test(a_clockwise_shell_is_turned),
        cmocka_unit_test(direction_holds_across_the_antimeridian),
        cmocka_unit_test(points_joined_by_rounding_are_one),
        cmocka_unit_test(nothing_left_is_null),
        cmocka_unit_test(what_is_no_place_is_null),
        cmocka_unit_test(holes_run_clockwise_and_small_ones_go),
        cmocka_unit_test(a_polygon_goes_with_its_shell),
        cmocka_unit_test(many_points_come_back),
    };

    return cmocka_run_group_tests_name("write/coordinates", tests, NULL, NULL);
}
