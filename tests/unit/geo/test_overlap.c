/* Area that outlines share, and length along which they adjoin. */

#include "geometry.h"

#include "geo/overlap.h"

/* A box in metres from a place, as longitudes and latitudes. */
static struct region box_at(struct fixture *f, struct point place, double x, double y,
                            double width, double height)
{
    struct ring ring = box_ring(f->arena, x, y, width, height);
    struct frame frame;

    frame_init(&frame, f->ctx, place);
    frame_to_lonlat(&frame, ring.points, ring.count);
    return region_made(f->arena, &ring, 1);
}

static double overlap(struct fixture *f, const struct region *a, const struct region *b)
{
    struct point origin = {-87, 41};
    struct overlap_shape *first = NULL, *second = NULL;
    struct frame frame;
    double area = NAN;

    if (a->polygon_count)
        origin = a->polygons[0].rings[0].points[0];
    frame_init(&frame, f->ctx, origin);
    assert_int_equal(overlap_shape_new(f->ctx, f->arena, &frame, a, &first, NULL),
                     OUTLAY_OK);
    assert_int_equal(overlap_shape_new(f->ctx, f->arena, &frame, b, &second, NULL),
                     OUTLAY_OK);
    assert_int_equal(overlap_shared(f->ctx, first, second, &area, NULL), OUTLAY_OK);
    overlap_shape_free(f->ctx, first);
    overlap_shape_free(f->ctx, second);
    return area;
}

/* A jagged ring of 8,192 points around a district, and roofs all over it: all of what
 * they share with it is found, for a few hundred points' work each instead of all. */
static void one_outline_around_many_costs_little_more_than_they(void **state)
{
    enum { POINTS = 8192, SIDE = 25 };
    struct fixture *f = *state;
    const struct point place = {-87, 41};
    struct ring jagged = {arena_array(f->arena, POINTS, sizeof *jagged.points), POINTS};
    struct overlap_shape *ground = NULL;
    struct region region;
    struct frame frame;
    double sum = 0;
    size_t made = 0;

    frame_init(&frame, f->ctx, place);
    for (size_t i = 0; i < POINTS; i++) {
        double angle = 2 * 3.14159265358979323846 * (double)i / POINTS;
        double radius = i % 2 ? 400 : 396;

        jagged.points[i] = (struct point){radius * cos(angle), radius * sin(angle)};
    }
    frame_to_lonlat(&frame, jagged.points, POINTS);
    region = region_made(f->arena, &jagged, 1);
    assert_int_equal(overlap_shape_new(f->ctx, f->arena, &frame, &region, &ground, NULL),
                     OUTLAY_OK);
    made = overlap_shape_work(ground);
    assert_true(made > POINTS && made < 14 * 2 * POINTS); /* n log n */
    for (int i = 0; i < SIDE * SIDE; i++) {
        struct region roof =
            box_at(f, place, 36 * (i % SIDE) - 450, 36 * (i / SIDE) - 450, 36, 36);
        struct overlap_shape *shape = NULL;
        double area = 0;

        assert_int_equal(overlap_shape_new(f->ctx, f->arena, &frame, &roof, &shape, NULL),
                         OUTLAY_OK);
        assert_int_equal(overlap_shared(f->ctx, ground, shape, &area, NULL), OUTLAY_OK);
        sum += area;
        overlap_shape_free(f->ctx, shape);
    }
    near(sum, overlap_shape_area(ground), 1);
    assert_true(overlap_shape_work(ground) - made < (size_t)SIDE * SIDE * 500);
    overlap_shape_free(f->ctx, ground);
}

static void boxes_share_what_they_share(void **state)
{
    struct fixture *f = *state;
    const struct point places[] = {{-87, 41}, {179.9999, -17}, {24, 70}, {0, 0}};

    for (size_t i = 0; i < LENGTH(places); i++) {
        struct region a = box_at(f, places[i], 0, 0, 30, 20);
        struct region apart = box_at(f, places[i], 31, 0, 30, 20);
        struct region across = box_at(f, places[i], 20, -5, 30, 20);
        struct region within = box_at(f, places[i], 5, 5, 10, 10);

        near(overlap(f, &a, &a), 600, 1e-3);
        near(overlap(f, &a, &apart), 0, 0);
        near(overlap(f, &a, &across), 150, 1e-3);
        near(overlap(f, &across, &a), 150, 1e-3);
        near(overlap(f, &a, &within), 100, 1e-3);
    }
}

static void touching_outlines_share_no_area(void **state)
{
    struct fixture *f = *state;
    const struct point place = {-87, 41};
    struct region a = box_at(f, place, 0, 0, 30, 20);
    struct region beside = box_at(f, place, 30, 0, 30, 20);

    near(overlap(f, &a, &beside), 0, 1e-5);
}

static void nothing_shares_nothing(void **state)
{
    struct fixture *f = *state;
    struct region a = box_at(f, (struct point){5, 50}, 0, 0, 30, 20);
    struct region nothing = {NULL, 0};

    near(overlap(f, &a, &nothing), 0, 0);
    near(overlap(f, &nothing, &a), 0, 0);
}

static void invalid_outlines_are_compared_too(void **state)
{
    struct fixture *f = *state;
    const struct point place = {-87, 41};
    struct region bow = box_at(f, place, 0, 0, 20, 20);
    struct region box = box_at(f, place, 0, 0, 20, 20);
    struct point *points = bow.polygons[0].rings[0].points;
    struct point second = points[1];

    points[1] = points[2];
    points[2] = second;
    near(overlap(f, &bow, &box), 200, 1e-2);
}

static double shared(struct fixture *f, struct ring a, struct ring b, double reach)
{
    struct region first = region_made(f->arena, &a, 1);
    struct region second = region_made(f->arena, &b, 1);
    double length = NAN;

    assert_int_equal(shared_length(f->ctx, &first, &second, reach, &length, NULL),
                     OUTLAY_OK);
    return length;
}

static void shared_length_is_the_common_wall(void **state)
{
    struct fixture *f = *state;
    struct ring a = box_ring(f->arena, 0, 0, 30, 20);

    /* the wall, and as much of the walls beside it as lies within reach */
    near(shared(f, a, box_ring(f->arena, 30, 0, 10, 20), 0.05), 20 + 0.1, 1e-6);
    near(shared(f, a, box_ring(f->arena, 30, 5, 10, 10), 0.05), 10 + 0.1, 1e-6);
    /* two walls 0.2 m apart: within 0.3 m, not within 0.1 m */
    near(shared(f, a, box_ring(f->arena, 30.2, 0, 10, 20), 0.3), 20.2, 0.05);
    near(shared(f, a, box_ring(f->arena, 30.2, 0, 10, 20), 0.1), 0, 0);
    near(shared(f, a, box_ring(f->arena, 50, 0, 10, 20), 0.3), 0, 0);
    /* corners that touch */
    near(shared(f, a, box_ring(f->arena, 30, 20, 10, 20), 0.05), 0.1, 1e-3);
}

static void the_whole_boundary_lies_within_itself(void **state)
{
    struct fixture *f = *state;
    struct ring a = box_ring(f->arena, 0, 0, 30, 20);

    near(shared(f, a, a, 0.05), 100, 1e-6);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(boxes_share_what_they_share),
        geometry_test(one_outline_around_many_costs_little_more_than_they),
        geometry_test(touching_outlines_share_no_area),
        geometry_test(nothing_shares_nothing),
        geometry_test(invalid_outlines_are_compared_too),
        geometry_test(shared_length_is_the_common_wall),
        geometry_test(the_whole_boundary_lies_within_itself),
    };

    return cmocka_run_group_tests_name("geo/overlap", tests, NULL, NULL);
}
