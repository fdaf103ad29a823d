/* What is left of a roof inside the walls on its edge; all areas by hand. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "edges_around.h"
#include "takeoff/field.h"

struct bench {
    struct building building;
    struct roof roof;
    struct ring ring;
    struct polygon polygon;
    struct seam_work w;
};

/* A roof of one zone, edge metal around it. */
static void bench_init(struct bench *b, const struct point *points, size_t count)
{
    memset(b, 0, sizeof *b);
    b->building.arena = arena_new();
    b->w.arena = b->building.arena;
    assert_int_equal(geo_ctx_new(&b->w.ctx, NULL), OUTLAY_OK);
    b->ring = (struct ring){arena_array(b->building.arena, count, sizeof *points), count};
    assert_non_null(b->ring.points);
    memcpy(b->ring.points, points, count * sizeof *points);
    b->polygon = (struct polygon){&b->ring, 1};
    b->roof.outline = (struct region){&b->polygon, 1};
    b->roof.zones[0] = (struct zone){.role = ZONE_FIELD, .region = b->roof.outline};
    b->roof.zone_count = 1;
    edges_around(b->building.arena, &b->roof, EDGE_METAL);
}

static void wall(struct bench *b, size_t edge, double thickness)
{
    b->roof.edges[edge].kind = EDGE_PARAPET;
    b->roof.edges[edge].thickness = thickness;
}

static const struct field *find(struct bench *b)
{
    assert_int_equal(edges_sum(b->building.arena, &b->roof), OUTLAY_OK);
    assert_int_equal(fields_find(&b->w, &b->roof, NULL), OUTLAY_OK);
    return b->roof.field;
}

static void bench_release(struct bench *b)
{
    geo_ctx_free(b->w.ctx);
    arena_free(b->building.arena);
}

/* Length of the field's edges of a kind. */
static double along(const struct field *field, enum edge_kind kind)
{
    double length = 0;

    for (size_t k = 0; k < field->edge_count; k++)
        if (field->edges[k].kind == kind)
            length += point_distance(field->edges[k].from, field->edges[k].to);
    return length;
}

static bool near(double a, double b)
{
    return fabs(a - b) < 1e-5;
}

static const struct point hall[] = {{0, 0}, {20, 0}, {20, 10}, {0, 10}};
static const struct point bent[] = {{0, 0},   {20, 0},  {20, 10},
                                    {10, 10}, {10, 20}, {0, 20}};

static void no_wall_no_field(void **state)
{
    struct bench b;

    (void)state;
    bench_init(&b, hall, 4);
    assert_null(find(&b));
    assert_true(near(roof_field(&b.roof).edges[0].to.x, 20));
    wall(&b, 0, 0);
    assert_null(find(&b));
    bench_release(&b);
}

static void walls_all_around(void **state)
{
    struct bench b;
    const struct field *field;

    (void)state;
    bench_init(&b, hall, 4);
    for (size_t k = 0; k < 4; k++)
        wall(&b, k, 0.3);
    field = find(&b);
    assert_true(near(field->area, 19.4 * 9.4));
    assert_true(near(region_area(&field->zones[ZONE_FIELD]), 19.4 * 9.4));
    assert_int_equal(field->edge_count, 4);
    assert_true(near(along(field, EDGE_PARAPET), 2 * (19.4 + 9.4)));
    assert_true(near(field_length(&b.roof, &b.roof.edge_sums[0]), 2 * (19.4 + 9.4)));
    assert_true(near(b.roof.edge_sums[0].length, 60));
    bench_release(&b);
}

/* 8 in where nobody gave a thickness. */
static void usual_thickness(void **state)
{
    struct bench b;

    (void)state;
    bench_init(&b, hall, 4);
    wall(&b, 0, NAN);
    assert_true(near(find(&b)->area, 20 * (10 - 0.2032)));
    bench_release(&b);
}

/* Where the roof turns around a corner of the walls, these fill it. */
static void corners_into_the_roof(void **state)
{
    struct bench b;

    (void)state;
    bench_init(&b, bent, 6);
    for (size_t k = 0; k < 6; k++)
        wall(&b, k, 0.3);
    assert_true(near(find(&b)->area, 19.4 * 19.4 - 10 * 10));
    bench_release(&b);

    bench_init(&b, bent, 6);
    wall(&b, 2, 0.2); /* along y = 10 */
    wall(&b, 3, 0.4); /* along x = 10 */
    assert_true(near(find(&b)->area, 300 - 10 * 0.2 - 10 * 0.4 - 0.2 * 0.4));
    bench_release(&b);
}

/* Edges keep their kinds, whatever stands beside them. */
static void a_wall_beside_metal(void **state)
{
    struct bench b;
    const struct field *field;

    (void)state;
    bench_init(&b, hall, 4);
    wall(&b, 0, 0.5);
    field = find(&b);
    assert_true(near(field->area, 20 * 9.5));
    assert_true(near(along(field, EDGE_PARAPET), 20));
    assert_true(near(along(field, EDGE_METAL), 20 + 9.5 + 9.5));
    bench_release(&b);
}

/* A wall goes on to the side that it meets, however that lies, and leaves no needle along
 * it: what is left of 20 x 10 m, its far side moved by `lean`, has four corners. */
static void a_wall_up_to_a_side(void **state)
{
    static const double leans[] = {0,    1e-9,  -1e-9, 1e-6, -1e-6, 1e-4, -1e-4,
                                   1e-2, -1e-2, 0.3,   -0.3, 4,     -4};

    (void)state;
    for (size_t k = 0; k < sizeof leans / sizeof leans[0]; k++) {
        double lean = leans[k];
        const struct point points[] = {{0, 0}, {20, 0}, {20 + lean, 10}, {-lean, 10}};
        struct bench b;

        bench_init(&b, points, 4);
        wall(&b, 0, 0.5);
        assert_int_equal(find(&b)->outline.polygons[0].rings[0].count, 4);
        assert_true(near(b.roof.field->area, 200 + 10 * lean - 0.5 * (20 + 0.05 * lean)));
        bench_release(&b);
    }
}

/* A wall along half of a side ends in its own width. */
static void half_a_side(void **state)
{
    static const struct point points[] = {{0, 0}, {12, 0}, {20, 0}, {20, 10}, {0, 10}};
    struct bench b;
    const struct field *field;

    (void)state;
    bench_init(&b, points, 5);
    wall(&b, 0, 0.5);
    field = find(&b);
    assert_true(near(field->area, 200 - 12 * 0.5));
    assert_true(near(along(field, EDGE_PARAPET), 12.5)); /* its end is flashed, too */
    assert_true(near(along(field, EDGE_METAL), 60 - 12 - 0.5));
    bench_release(&b);
}

/* Ends of walls that are no vertices of the outline, which lies askew: nothing is left
 * outside of them. */
static void parts_of_sides(void **state)
{
    (void)state;
    for (int k = 1; k < 90; k++) {
        double c = cos(k * acos(-1) / 180), s = sin(k * acos(-1) / 180);
        struct point points[4];
        struct bench b;
        struct edge *edges = NULL;

        for (size_t i = 0; i < 4; i++)
            points[i] = (struct point){c * hall[i].x - s * hall[i].y,
                                       s * hall[i].x + c * hall[i].y};
        bench_init(&b, points, 4);
        edges = arena_array(b.building.arena, 6, sizeof *edges);
        assert_non_null(edges);
        for (size_t i = 0; i < 4; i++)
            edges[i == 0 ? 0 : i + 2] = b.roof.edges[i];
        edges[1] = edges[2] = edges[0];
        edges[0].to = edges[1].from = point_between(points[0], points[1], 0.31);
        edges[1].to = edges[2].from = point_between(points[0], points[1], 0.77);
        b.roof.edges = edges;
        b.roof.edge_count = 6;
        wall(&b, 1, 0.3);
        assert_int_equal(find(&b)->outline.polygon_count, 1);
        assert_true(near(b.roof.field->area, 200 - 20 * 0.46 * 0.3));
        assert_true(near(along(b.roof.field, EDGE_PARAPET), 20 * 0.46 + 0.6));
        bench_release(&b);
    }
}

/* Around a sharp corner that runs into the roof the wall keeps its thickness. */
static void a_sharp_corner(void **state)
{
    (void)state;
    for (int degrees = 8; degrees < 60; degrees += 4) {
        double half = degrees * acos(-1) / 360;
        const struct point points[] = {{-10, -10}, {-4, -10}, {0, -10 + 4 / tan(half)},
                                       {4, -10},   {10, -10}, {10, 80},
                                       {-10, 80}};
        struct bench b;

        bench_init(&b, points, 7);
        wall(&b, 1, 0.5);
        wall(&b, 2, 0.5);
        assert_int_equal(find(&b)->outline.polygon_count, 1);
        assert_true(region_distance(&b.roof.field->outline, points[2]) > 0.5 - 1e-5);
        bench_release(&b);
    }
}

/* Walls that meet leave nothing to cover. */
static void nothing_left(void **state)
{
    static const struct point points[] = {{0, 0}, {20, 0}, {20, 0.5}, {0, 0.5}};
    struct bench b;
    const struct field *field;

    (void)state;
    bench_init(&b, points, 4);
    for (size_t k = 0; k < 4; k++)
        wall(&b, k, 0.3);
    field = find(&b);
    assert_int_equal(field->outline.polygon_count, 0);
    assert_int_equal(field->edge_count, 0);
    assert_true(near(field->area, 0));
    bench_release(&b);
}

/* Around a round outline the field is the inset. */
static void round_outline(void **state)
{
    struct point points[180];
    struct bench b;
    double radius = 15, inner = radius * cos(acos(-1) / 180) - 0.4;

    (void)state;
    for (size_t k = 0; k < 180; k++)
        points[k] = (struct point){radius * cos((double)k * acos(-1) / 90),
                                   radius * sin((double)k * acos(-1) / 90)};
    bench_init(&b, points, 180);
    for (size_t k = 0; k < 180; k++)
        wall(&b, k, 0.4);
    assert_true(near(find(&b)->area, 180 * inner * inner * tan(acos(-1) / 180)));
    bench_release(&b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_wall_no_field),    cmocka_unit_test(walls_all_around),
        cmocka_unit_test(usual_thickness),     cmocka_unit_test(corners_into_the_roof),
        cmocka_unit_test(a_wall_beside_metal), cmocka_unit_test(a_wall_up_to_a_side),
        cmocka_unit_test(half_a_side),         cmocka_unit_test(nothing_left),
        cmocka_unit_test(round_outline),       cmocka_unit_test(parts_of_sides),
        cmocka_unit_test(a_sharp_corner),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
