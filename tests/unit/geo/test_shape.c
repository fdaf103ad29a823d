/* Plain shapes: areas, lengths, boxes, copies. */

#include "geometry.h"

static void area_has_the_sign_of_the_direction(void **state)
{
    struct fixture *f = *state;
    struct ring box = box_ring(f->arena, -3, 7, 4, 2.5);

    near(ring_area(box), 10, 0);
    ring_reverse(box);
    near(ring_area(box), -10, 0);
    near(box.points[0].x, -3, 0);
    near(box.points[0].y, 9.5, 0);
}

/* A small ring far from the origin keeps its area: coordinates of 1e6 m and an area of
 * 1 m2 leave no digits to a sum of products of the coordinates themselves. */
static void area_far_from_the_origin_is_exact(void **state)
{
    struct fixture *f = *state;

    near(ring_area(box_ring(f->arena, 1e9, -1e9, 1, 1)), 1, 0);
}

static void length_counts_the_closing_edge(void **state)
{
    struct fixture *f = *state;
    const double triangle[][2] = {{0, 0}, {3, 0}, {0, 4}};

    near(ring_length(ring_made(f->arena, triangle)), 12, 1e-14);
}

static void reversing_twice_changes_nothing(void **state)
{
    struct fixture *f = *state;

    for (size_t n = 3; n < 8; n++) {
        struct ring ring = ring_regular(f->arena, n, 5, 0.1);
        struct ring twice = ring_copied(f->arena, ring);

        ring_reverse(twice);
        assert_memory_not_equal(twice.points, ring.points, n * sizeof *ring.points);
        ring_reverse(twice);
        assert_memory_equal(twice.points, ring.points, n * sizeof *ring.points);
    }
}

static void region_area_takes_holes_out(void **state)
{
    struct fixture *f = *state;
    struct ring rings[] = {
        box_ring(f->arena, 0, 0, 10, 10),
        ring_turned_round(f->arena, box_ring(f->arena, 1, 1, 2, 2)),
        ring_turned_round(f->arena, box_ring(f->arena, 5, 5, 3, 1)),
    };
    struct region region = region_made(f->arena, rings, LENGTH(rings));

    near(region_area(&region), 100 - 4 - 3, 1e-12);
    assert_int_equal(region_points(&region), 12);
}

static void parts_add_up(void **state)
{
    struct fixture *f = *state;
    struct ring shells[] = {box_ring(f->arena, 0, 0, 1, 2),
                            box_ring(f->arena, -5, 10, 3, 3)};
    struct region region = region_parts(f->arena, shells, 2);
    struct box box = region_box(&region);

    near(region_area(&region), 11, 1e-12);
    near(box.min_x, -5, 0);
    near(box.min_y, 0, 0);
    near(box.max_x, 1, 0);
    near(box.max_y, 13, 0);
}

static void nothing_has_no_area_and_an_inverted_box(void **state)
{
    struct region nothing = {NULL, 0};
    struct region copy = {NULL, 1};
    struct box box = region_box(&nothing);
    struct fixture *f = *state;

    near(region_area(&nothing), 0, 0);
    assert_int_equal(region_points(&nothing), 0);
    assert_true(box.min_x > box.max_x && box.min_y > box.max_y);
    assert_int_equal(region_copy(f->arena, &nothing, &copy), OUTLAY_OK);
    assert_int_equal(copy.polygon_count, 0);
}

static void a_copy_is_deep(void **state)
{
    struct fixture *f = *state;
    struct ring rings[] = {
        box_ring(f->arena, 0, 0, 10, 10),
        ring_turned_round(f->arena, box_ring(f->arena, 1, 1, 2, 2)),
    };
    struct region region = region_made(f->arena, rings, LENGTH(rings));
    struct region copy;

    assert_int_equal(region_copy(f->arena, &region, &copy), OUTLAY_OK);
    assert_true(region_same(&region, &copy));
    region.polygons[0].rings[1].points[2].x = 99;
    assert_false(region_same(&region, &copy));
    near(region_area(&copy), 96, 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(area_has_the_sign_of_the_direction),
        geometry_test(area_far_from_the_origin_is_exact),
        geometry_test(length_counts_the_closing_edge),
        geometry_test(reversing_twice_changes_nothing),
        geometry_test(region_area_takes_holes_out),
        geometry_test(parts_add_up),
        geometry_test(nothing_has_no_area_and_an_inverted_box),
        geometry_test(a_copy_is_deep),
    };

    return cmocka_run_group_tests_name("geo/shape", tests, NULL, NULL);
}
