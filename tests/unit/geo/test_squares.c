/* Squares hold their places, are true to 1 % on the ellipsoid and stand in straight
 * columns. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "geo/squares.h"

static const double degree = 0.017453292519943295;

/* Length of a degree on WGS 84, m, by the radii of curvature in the meridian and the
 * prime vertical (any textbook of geodesy). */
static double meridian_degree(double latitude)
{
    double s = sin(latitude * degree), e2 = 6.69437999014e-3;

    return degree * 6378137.0 * (1 - e2) / pow(1 - e2 * s * s, 1.5);
}

static double parallel_degree(double latitude)
{
    double s = sin(latitude * degree), e2 = 6.69437999014e-3;

    return degree * 6378137.0 * cos(latitude * degree) / sqrt(1 - e2 * s * s);
}

static void check_place(double side, struct point place)
{
    struct box box = square_box(side, square_at(side, place));
    double middle = (box.min_y + box.max_y) / 2;
    double high = (box.max_y - box.min_y) * meridian_degree(middle);
    double wide = (box.max_x - box.min_x) * parallel_degree(middle);

    assert_true(box.min_x <= place.x + 1e-9 && place.x <= box.max_x + 1e-9);
    assert_true(box.min_y <= place.y + 1e-9 && place.y <= box.max_y + 1e-9);
    assert_true(fabs(high / side - 1) < 0.01);
    assert_true(fabs(wide / side - 1) < 0.01);
}

static void test_squares_are_true_to_one_percent(void **state)
{
    static const double sides[] = {10, 500, 804.672, 10000};

    (void)state;
    for (size_t i = 0; i < sizeof sides / sizeof sides[0]; i++)
        for (double latitude = -84.9; latitude < 85; latitude += 0.37)
            for (double longitude = -180; longitude < 180; longitude += 17.3)
                check_place(sides[i], (struct point){longitude, latitude});
    check_place(50000, (struct point){-79.4, 43.7});
}

static void test_no_square_goes_round_the_globe(void **state)
{
    struct square west = square_at(500, (struct point){-180, 60});
    struct square turned = square_at(500, (struct point){180, 60});
    struct square east = square_at(500, (struct point){179.999999, 60});

    (void)state;
    assert_int_equal(west.column, 0);
    assert_int_equal(turned.column, 0);
    assert_true(fabs(square_box(500, east).max_x - 180) < 1e-9);
}

/* Over a city of 30 km a column keeps its edges, but for one shift at most. */
static void test_columns_run_straight(void **state)
{
    int shifts = 0;

    (void)state;
    for (double latitude = 43.6; latitude < 43.87; latitude += 0.004) {
        struct box here =
            square_box(500, square_at(500, (struct point){-79.4, latitude}));
        struct box next =
            square_box(500, square_at(500, (struct point){-79.4, latitude + 0.004}));

        shifts += fabs(here.min_x - next.min_x) > 1e-12;
    }
    assert_true(shifts <= 1);
}

/* What a file of squares says today it says for good. The numbers are from the same
 * formulas in Python. */
static void test_squares_stay_where_they_are(void **state)
{
    struct square square = square_at(500, (struct point){-79.3832, 43.6532});
    struct box box = square_box(500, square);

    (void)state;
    assert_int_equal(square.row, 29723);
    assert_int_equal(square.column, 16266);
    assert_true(fabs(box.min_y - 43.65249585) < 1e-8);
    assert_true(fabs(box.min_x + 79.38729575) < 1e-8);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_squares_are_true_to_one_percent),
        cmocka_unit_test(test_no_square_goes_round_the_globe),
        cmocka_unit_test(test_columns_run_straight),
        cmocka_unit_test(test_squares_stay_where_they_are),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
