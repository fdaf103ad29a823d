/* Where the plates of boards and pieces go. */

#include "board_bench.h"

static void counts_of_pieces(void **state)
{
    (void)state;
    assert_int_equal(plate_need_of(8, 32 * FT2, 0, 32 * FT2).wanted, 8);
    assert_int_equal(plate_need_of(8, 16.1 * FT2, 0, 32 * FT2).wanted, 5);
    assert_int_equal(plate_need_of(8, 8 * FT2, 0, 32 * FT2).wanted, 4);
    assert_int_equal(plate_need_of(8, 8 * FT2, 0, 32 * FT2).share, 2);
    assert_int_equal(plate_need_of(8, 7.9 * FT2, 0, 32 * FT2).wanted, 2);
    assert_int_equal(plate_need_of(32, 7.9 * FT2, 0, 32 * FT2).wanted, 8);
    /* half a board but for tracing, and a quarter of one */
    assert_int_equal(plate_need_of(8, 16.04 * FT2, 0.1 * FT2, 32 * FT2).wanted, 4);
    assert_int_equal(plate_need_of(8, 7.99 * FT2, 0.1 * FT2, 32 * FT2).wanted, 4);
    assert_int_equal(plate_need_of(0, 7.9 * FT2, 0, 32 * FT2).wanted, 0);
}

static double least_distance(const struct layout *layout)
{
    double least = INFINITY;

    for (size_t i = 0; i < layout->plate_count; i++)
        for (size_t k = i + 1; k < layout->plate_count; k++)
            least =
                fmin(least, point_distance(layout->plates[i].at, layout->plates[k].at));
    return least;
}

/* Plates of 3 in never overlap: a shred of 0.1 x 0.1 m has room for one; a strip of
 * 0.03 x 2 m, too narrow to keep 6 in, for two far apart; a piece of 12.1 x 12.1 in for
 * one that keeps the distance, since two that do would touch; a triangle that just holds
 * a circle of 6 in takes one in its middle. */
static void plates_on_slivers(void **state)
{
    const struct point triangle[] = {{0, 0}, {0.54, 0}, {0, 0.54}};
    struct bench b;

    (void)state;
    bench_rectangle(&b, 0.1, 0.1);
    lay(&b);
    assert_int_equal(b.layout.plate_count, 1);
    bench_release(&b);
    bench_rectangle(&b, 2, 0.03);
    lay(&b);
    assert_int_equal(b.layout.plate_count, 2);
    assert_true(least_distance(&b.layout) > 0.9);
    check_plates(&b);
    bench_release(&b);
    bench_rectangle(&b, 12.1 / 12 * FT, 12.1 / 12 * FT);
    lay(&b);
    assert_int_equal(b.layout.plate_count, 1);
    assert_true(boundary_distance(&b.roof.outline, b.layout.plates[0].at) > 0.5 * FT);
    bench_release(&b);
    bench_init(&b, triangle, 3);
    lay(&b);
    assert_int_equal(b.layout.plate_count, 1);
    assert_true(boundary_distance(&b.roof.outline, b.layout.plates[0].at) > 0.152);
    bench_release(&b);
}

/* A piece of 9 x 10 in takes one, as far from its edges as there is room; and so it does
 * when rounding has moved a corner of it. */
static void plates_on_a_rounded_rectangle(void **state)
{
    (void)state;
    for (int k = -1; k <= 1; k++) {
        const struct point points[] = {{0, 0},
                                       {0.75 * FT, 0},
                                       {0.75 * FT, 0.83 * FT},
                                       {k * 1e-7, 0.83 * FT + k * 1e-7}};
        struct bench b;

        bench_init(&b, points, 4);
        lay(&b);
        assert_int_equal(b.layout.plate_count, 1);
        bench_release(&b);
    }
}

/* Patterns are the same from both ends and keep the edge distance; 32 on a board of
 * 8 x 4 ft is 8 by 4, a foot apart and half a foot from the edges. */
static void patterns_by_rule(void **state)
{
    const struct box box = {0, 0, 8 * FT, 4 * FT};
    struct point points[40];

    (void)state;
    for (int n = 1; n <= 40; n++) {
        plates_on_rectangle(box, n, 0.5 * FT, points);
        for (int i = 0; i < n; i++) {
            bool mirrored = false;

            assert_true(points[i].x > 0.5 * FT - 1e-9 && points[i].x < 7.5 * FT + 1e-9);
            assert_true(points[i].y > 0.5 * FT - 1e-9 && points[i].y < 3.5 * FT + 1e-9);
            for (int k = 0; k < n; k++) {
                struct point turned = {8 * FT - points[k].x, 4 * FT - points[k].y};

                mirrored |= point_distance(turned, points[i]) < 1e-9;
                assert_true(k == i || point_distance(points[k], points[i]) > 0.3 * FT);
            }
            assert_true(mirrored);
        }
    }
    plates_on_rectangle(box, 32, 0.5 * FT, points);
    near(points[0].x, 0.5 * FT);
    near(points[1].x, 1.5 * FT);
    near(points[8].y, 1.5 * FT);
    /* 6: two rows of three, 32 in apart in rows of 24 in */
    plates_on_rectangle(box, 6, 0.5 * FT, points);
    near(points[1].x - points[0].x, 8.0 / 3 * FT);
    near(points[3].y - points[0].y, 2 * FT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(counts_of_pieces),
        cmocka_unit_test(plates_on_slivers),
        cmocka_unit_test(plates_on_a_rounded_rectangle),
        cmocka_unit_test(patterns_by_rule),
    };

    return cmocka_run_group_tests_name("takeoff/board_plates", tests, NULL, NULL);
}
