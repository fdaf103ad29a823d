/* The smallest rectangle around a ring. */

#include "geometry.h"

#include "geo/hull.h"

static struct rectangle around(struct fixture *f, struct ring ring)
{
    struct rectangle out;

    assert_int_equal(smallest_rectangle(f->arena, ring, &out), OUTLAY_OK);
    return out;
}

/* Difference of two bearings of a line, 0 to pi / 2. */
static double bearing_apart(double a, double b)
{
    return fabs(remainder(a - b, PI));
}

static void turned_rectangles_keep_their_sides(void **state)
{
    struct fixture *f = *state;

    for (int degrees = 0; degrees < 360; degrees += 7) {
        double angle = degrees * PI / 180;
        struct ring box = box_ring(f->arena, -20, -5, 40, 10);
        struct rectangle r = around(f, ring_moved(f->arena, box, angle, 310, -77));

        near(r.shorter, 10, 1e-9);
        near(r.longer, 40, 1e-9);
        near(bearing_apart(r.bearing, angle), 0, 1e-9);
        assert_true(r.bearing >= 0 && r.bearing < PI);
    }
}

/* Of 3, 4, 5 the rectangles on all sides hold 12 m2: the one 3 m wide is given, not the
 * one 2.4 m wide on the longest side. */
static void equal_rectangles_go_to_the_wider(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{0, 0}, {4, 0}, {0, 3}};

    for (int degrees = 0; degrees < 180; degrees++) {
        struct ring triangle = ring_made(f->arena, xy);
        double angle = degrees * PI / 180;
        struct rectangle r = around(f, ring_moved(f->arena, triangle, angle, 50, 60));

        near(r.shorter, 3, 1e-9);
        near(r.longer, 4, 1e-9);
    }
}

/* An obtuse triangle's least rectangle lies on its longest side alone. */
static void obtuse_triangle_lies_on_its_long_side(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{0, 0}, {10, 0}, {3, 1}};
    struct rectangle r = around(f, ring_made(f->arena, xy));

    near(r.shorter, 1, 1e-12);
    near(r.longer, 10, 1e-12);
    near(bearing_apart(r.bearing, 0), 0, 1e-12);
}

static void notches_do_not_count(void **state)
{
    struct fixture *f = *state;
    const double plus[][2] = {{1, 0}, {2, 0}, {2, 1}, {3, 1}, {3, 2}, {2, 2},
                              {2, 3}, {1, 3}, {1, 2}, {0, 2}, {0, 1}, {1, 1}};
    struct rectangle r = around(f, ring_made(f->arena, plus));

    /* upright 3 x 3; on the slanted hull edges 2 root 2 square: 8 m2 */
    near(r.shorter, 2 * sqrt(2), 1e-12);
    near(r.longer, 2 * sqrt(2), 1e-12);
}

/* No rectangle at any angle is smaller. */
static void no_angle_is_better(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {2};

    for (int i = 0; i < 200; i++) {
        struct ring ring = ring_new(f->arena, 3 + chance_below(&chance, 20));
        struct rectangle r;

        for (size_t k = 0; k < ring.count; k++)
            ring.points[k] = chance_point(&chance, (struct box){0, 0, 30, 10});
        r = around(f, ring);
        assert_true(r.shorter <= r.longer);
        for (int step = 0; step < 360; step++) {
            struct region turned = {NULL, 0};
            struct ring moved = ring_moved(f->arena, ring, step * PI / 720, 0, 0);
            struct box box;

            turned = region_made(f->arena, &moved, 1);
            box = region_box(&turned);
            assert_true((box.max_x - box.min_x) * (box.max_y - box.min_y) >=
                        r.shorter * r.longer * (1 - 1e-9));
        }
        arena_reset(f->arena);
    }
}

static void points_in_a_row_have_no_width(void **state)
{
    struct fixture *f = *state;
    const double row[][2] = {{0, 0}, {3, 4}, {6, 8}, {1.5, 2}};
    const double flat[][2] = {{1, 5}, {7, 5}, {3, 5}};
    struct rectangle r = around(f, ring_made(f->arena, row));

    near(r.shorter, 0, 1e-12);
    near(r.longer, 10, 1e-12);
    r = around(f, ring_made(f->arena, flat));
    near(r.shorter, 0, 0);
    near(r.longer, 6, 0);
}

static void repeated_points_change_nothing(void **state)
{
    struct fixture *f = *state;
    const double twice[][2] = {{0, 0}, {0, 0}, {8, 0}, {8, 3}, {8, 3}, {8, 3}, {0, 3}};
    struct rectangle r = around(f, ring_made(f->arena, twice));

    near(r.shorter, 3, 0);
    near(r.longer, 8, 0);
}

static void start_and_direction_do_not_matter(void **state)
{
    struct fixture *f = *state;
    struct ring ring = ring_regular(f->arena, 7, 11, 0.3);
    struct rectangle first = around(f, ring);

    for (size_t k = 0; k < 7; k++) {
        struct ring other = ring_started(f->arena, ring, k);
        struct rectangle r;

        if (k % 2)
            ring_reverse(other);
        r = around(f, other);
        near(r.shorter, first.shorter, 0);
        near(r.longer, first.longer, 0);
        near(r.bearing, first.bearing, 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(turned_rectangles_keep_their_sides),
        geometry_test(equal_rectangles_go_to_the_wider),
        geometry_test(obtuse_triangle_lies_on_its_long_side),
        geometry_test(notches_do_not_count),
        geometry_test(no_angle_is_better),
        geometry_test(points_in_a_row_have_no_width),
        geometry_test(repeated_points_change_nothing),
        geometry_test(start_and_direction_do_not_matter),
    };

    return cmocka_run_group_tests_name("geo/hull", tests, NULL, NULL);
}
