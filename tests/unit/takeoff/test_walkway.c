/* Ways from hatches to units. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "base/units.h"
#include "edges_around.h"
#include "roof/fixtures.h"
#include "takeoff/walkway.h"

enum { FIXTURES = 6 };

struct site {
    struct building building;
    struct roof roof;
    struct ring ring;
    struct polygon polygon;
    struct fixture fixtures[FIXTURES];
    struct point feet[FIXTURES][4];
};

static void site_make(struct site *s, struct point *points, size_t count)
{
    memset(s, 0, sizeof *s);
    s->building.arena = arena_new();
    assert_non_null(s->building.arena);
    s->building.roofs = &s->roof;
    s->building.roof_count = 1;
    s->ring = (struct ring){points, count};
    s->polygon = (struct polygon){&s->ring, 1};
    s->roof.outline = (struct region){&s->polygon, 1};
    s->roof.zoned = true;
    s->roof.fixtures = s->fixtures;
    edges_around(s->building.arena, &s->roof, EDGE_METAL);
}

/* Adds a square of a side, m; 0: a point. */
static void put(struct site *s, enum fixture_kind kind, double x, double y, double side)
{
    size_t k = s->roof.fixture_count++;
    double a = side / 2;

    s->fixtures[k] = (struct fixture){.kind = kind, .id = "x", .at = {x, y}};
    if (side <= 0)
        return;
    s->feet[k][0] = (struct point){x - a, y - a};
    s->feet[k][1] = (struct point){x + a, y - a};
    s->feet[k][2] = (struct point){x + a, y + a};
    s->feet[k][3] = (struct point){x - a, y + a};
    s->fixtures[k].footprint = (struct ring){s->feet[k], 4};
}

static double run(struct site *s)
{
    double length = 0;

    assert_int_equal(walkways_run(&s->building, NULL), OUTLAY_OK);
    for (size_t k = 0; k < s->roof.walkway_count; k++)
        length += point_distance(s->roof.walkways[k].from, s->roof.walkways[k].to);
    return length;
}

static void near(double value, double expected, double tolerance)
{
    if (!(fabs(value - expected) <= tolerance))
        fail_msg("%.6f, expected %.6f", value, expected);
}

/* Nearest that any walkway comes to a segment, by many points of it. */
static double least_distance(const struct site *s, struct point a, struct point b)
{
    double least = INFINITY;

    for (size_t k = 0; k < s->roof.walkway_count; k++)
        for (int t = 0; t <= 200; t++) {
            const struct walkway *w = &s->roof.walkways[k];
            struct point p = {w->from.x + t * (w->to.x - w->from.x) / 200,
                              w->from.y + t * (w->to.y - w->from.y) / 200};

            for (int u = 0; u <= 200; u++)
                least =
                    fmin(least,
                         point_distance(p, (struct point){a.x + u * (b.x - a.x) / 200,
                                                          a.y + u * (b.y - a.y) / 200}));
        }
    return least;
}

/* From side to side of what stands there, and straight. */
static void a_straight_way(void **state)
{
    struct point points[] = {{0, 0}, {40, 0}, {40, 20}, {0, 20}};
    struct site s;

    (void)state;
    site_make(&s, points, 4);
    put(&s, FIXTURE_HATCH, 5, 10, 1);
    put(&s, FIXTURE_UNIT, 30, 10, 4);
    near(run(&s), 25 - 0.5 - 2, 1e-9);
    assert_int_equal(s.roof.walkway_count, 1);
    assert_null(s.roof.problems);
    arena_free(s.building.arena);
}

/* Around the corner of an L: two tangents of a circle of 6 ft and the arc between them,
 * at most 2 % longer. */
static void around_a_corner(void **state)
{
    struct point points[] = {{0, 0}, {40, 0}, {40, 15}, {15, 15}, {15, 40}, {0, 40}};
    double r = 6 * M_PER_FT, far = hypot(15, 5);
    double turn = 3 * acos(-1) / 2 - 2 * atan2(5, 15) - 2 * acos(r / far);
    double shortest = 2 * sqrt(far * far - r * r) + r * turn;
    struct site s;
    double length;

    (void)state;
    site_make(&s, points, 6);
    put(&s, FIXTURE_HATCH, 30, 10, 0);
    put(&s, FIXTURE_UNIT, 10, 30, 0);
    length = run(&s);
    assert_true(length >= shortest - 1e-6);
    assert_true(length <= 1.02 * shortest);
    for (size_t k = 0; k < s.roof.edge_count; k++)
        assert_true(least_distance(&s, s.roof.edges[k].from, s.roof.edges[k].to) >
                    r - 1e-3);
    assert_null(s.roof.problems);
    arena_free(s.building.arena);
}

/* At a wall half a pad is enough. */
static void along_a_wall(void **state)
{
    struct point points[] = {{0, 0}, {40, 0}, {40, 15}, {15, 15}, {15, 40}, {0, 40}};
    struct site s;

    (void)state;
    site_make(&s, points, 6);
    s.roof.edges[2].kind = s.roof.edges[3].kind = EDGE_WALL;
    put(&s, FIXTURE_HATCH, 30, 10, 0);
    put(&s, FIXTURE_UNIT, 10, 30, 0);
    assert_true(run(&s) < 2 * hypot(15, 5) + 0.4);
    near(least_distance(&s, (struct point){15, 15}, (struct point){15, 15}),
         15 * M_PER_IN, 0.01);
    arena_free(s.building.arena);
}

/* A skylight in between: round it by half a pad; what two ways have in common is there
 * once. */
static void around_a_skylight(void **state)
{
    struct point points[] = {{0, 0}, {40, 0}, {40, 20}, {0, 20}};
    struct site s;
    double length;

    (void)state;
    site_make(&s, points, 4);
    put(&s, FIXTURE_HATCH, 5, 10, 0);
    put(&s, FIXTURE_UNIT, 30, 10, 0);
    put(&s, FIXTURE_SKYLIGHT, 15, 10, 4);
    length = run(&s);
    assert_true(length > 2 * hypot(8, 2) + 4 && length < 2 * hypot(8, 2.5) + 9.6);
    for (int k = 0; k < 4; k++)
        assert_true(least_distance(&s, s.feet[2][k], s.feet[2][(k + 1) % 4]) >
                    15 * M_PER_IN - 1e-3);
    s.roof.walkway_count = 0;
    put(&s, FIXTURE_UNIT, 35, 10, 0);
    s.fixtures[3].at = (struct point){32, 10};
    assert_true(run(&s) < length + 16);
    arena_free(s.building.arena);
}

/* A neck of 8 ft: a way, with a warning. Parts that don't hang together: none. */
static void where_6_ft_cannot_be_kept(void **state)
{
    struct point neck[] = {{0, 0},   {10, 0},  {10, 3.8}, {20, 3.8}, {20, 0},  {30, 0},
                           {30, 10}, {20, 10}, {20, 6.2}, {10, 6.2}, {10, 10}, {0, 10}};
    struct site s;

    (void)state;
    site_make(&s, neck, 12);
    put(&s, FIXTURE_HATCH, 5, 5, 0);
    put(&s, FIXTURE_UNIT, 25, 5, 0);
    near(run(&s), 20, 1e-6);
    assert_non_null(s.roof.problems);
    assert_int_equal(s.roof.problems->code, PROBLEM_WALKWAY);
    assert_non_null(strstr(s.roof.problems->what, "nearer to a free edge"));
    arena_free(s.building.arena);

    for (size_t k = 0; k < 12; k++) /* 1 ft wide */
        neck[k].y = 5 + (neck[k].y - 5) * (k % 6 == 2 || k % 6 == 3 ? 0.125 : 1);
    site_make(&s, neck, 12);
    put(&s, FIXTURE_HATCH, 5, 5, 0);
    put(&s, FIXTURE_UNIT, 25, 5, 0);
    near(run(&s), 0, 0);
    assert_non_null(strstr(s.roof.problems->what, "no way"));
    arena_free(s.building.arena);
}

/* A hatch 3 ft from the edge begins there, and it is said. */
static void a_hatch_at_the_edge(void **state)
{
    struct point points[] = {{0, 0}, {40, 0}, {40, 20}, {0, 20}};
    struct site s;

    (void)state;
    site_make(&s, points, 4);
    put(&s, FIXTURE_HATCH, 5, 0.9, 0);
    put(&s, FIXTURE_UNIT, 30, 10, 0);
    near(run(&s), hypot(25, 9.1), 1e-6);
    assert_non_null(s.roof.problems);
    arena_free(s.building.arena);
}

static void nothing_to_lead_to(void **state)
{
    struct point points[] = {{0, 0}, {40, 0}, {40, 20}, {0, 20}};
    struct site s;

    (void)state;
    site_make(&s, points, 4);
    put(&s, FIXTURE_UNIT, 30, 10, 0);
    near(run(&s), 0, 0);
    assert_non_null(s.roof.problems);
    assert_string_equal(s.roof.problems->what,
                        "there is no hatch on the roof: no walkway leads to unit x");
    arena_free(s.building.arena);

    site_make(&s, points, 4);
    put(&s, FIXTURE_HATCH, 30, 10, 0);
    near(run(&s), 0, 0);
    assert_null(s.roof.problems);
    arena_free(s.building.arena);
}

/* Ways end where sections meet, and that is said where a unit stands. */
static void a_hatch_on_the_section_beside(void **state)
{
    struct point points[] = {{0, 0}, {40, 0}, {40, 20}, {0, 20}};
    struct fixture hatch = {.kind = FIXTURE_HATCH, .id = "H"};
    struct roof roofs[2];
    struct site s;

    (void)state;
    site_make(&s, points, 4);
    put(&s, FIXTURE_UNIT, 30, 10, 0);
    put(&s, FIXTURE_UNIT, 20, 10, 0);
    roofs[0] = roofs[1] = s.roof;
    roofs[0].section_group = roofs[1].section_group = 1;
    roofs[1].id = "2";
    roofs[1].fixtures = &hatch;
    roofs[1].fixture_count = 1;
    s.building.roofs = roofs;
    s.building.roof_count = 2;
    assert_int_equal(walkways_run(&s.building, NULL), OUTLAY_OK);
    assert_non_null(roofs[0].problems);
    assert_string_equal(roofs[0].problems->what,
                        "walkways end where sections meet: none leads from hatch H of "
                        "section 2 to unit x, nor to the other units");
    assert_null(roofs[1].problems);
    arena_free(s.building.arena);

    site_make(&s, points, 4); /* where both have one, each leads to its own */
    put(&s, FIXTURE_HATCH, 10, 10, 0);
    put(&s, FIXTURE_UNIT, 30, 10, 0);
    roofs[0] = s.roof;
    roofs[0].section_group = 1;
    roofs[1].problems = NULL;
    s.building.roofs = roofs;
    s.building.roof_count = 2;
    assert_int_equal(walkways_run(&s.building, NULL), OUTLAY_OK);
    assert_null(roofs[0].problems);
    assert_int_equal(roofs[0].walkway_count, 1);
    arena_free(s.building.arena);
}

/* Pads are laid once where the way from one hatch leads on over another's, whichever is
 * found first, and from the other side apart. */
static void ways_that_lie_on_each_other(void **state)
{
    struct point points[] = {{0, 0}, {60, 0}, {60, 20}, {0, 20}};

    (void)state;
    for (int turn = 0; turn < 2; turn++) {
        struct site s;

        site_make(&s, points, 4);
        put(&s, FIXTURE_HATCH, turn ? 10 : 5, 10, 0);
        put(&s, FIXTURE_HATCH, turn ? 5 : 10, 10, 0);
        put(&s, FIXTURE_HATCH, 35, 10, 0);
        put(&s, FIXTURE_UNIT, 20, 10, 0);
        near(run(&s), 30, 1e-6);
        arena_free(s.building.arena);
    }
}

/* A comb of so many teeth that no way is looked for says so. */
static void too_many_corners(void **state)
{
    enum { TEETH = 340 };
    static struct point points[4 * TEETH + 2];
    struct site s;

    (void)state;
    for (size_t k = 0; k < TEETH; k++) {
        double x = 10.0 * (double)k;

        points[4 * k] = (struct point){x, 0};
        points[4 * k + 1] = (struct point){x + 5, 0};
        points[4 * k + 2] = (struct point){x + 5, 1};
        points[4 * k + 3] = (struct point){x + 10, 1};
    }
    points[4 * TEETH] = (struct point){10.0 * TEETH, 40};
    points[4 * TEETH + 1] = (struct point){0, 40};
    site_make(&s, points, 4 * TEETH + 2);
    put(&s, FIXTURE_HATCH, 30, 20, 0);
    put(&s, FIXTURE_UNIT, 50, 20, 0);
    near(run(&s), 0, 0);
    assert_non_null(strstr(s.roof.problems->what, "too many corners"));
    assert_null(s.roof.problems->next);
    arena_free(s.building.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_straight_way),
        cmocka_unit_test(around_a_corner),
        cmocka_unit_test(along_a_wall),
        cmocka_unit_test(around_a_skylight),
        cmocka_unit_test(where_6_ft_cannot_be_kept),
        cmocka_unit_test(a_hatch_at_the_edge),
        cmocka_unit_test(nothing_to_lead_to),
        cmocka_unit_test(a_hatch_on_the_section_beside),
        cmocka_unit_test(ways_that_lie_on_each_other),
        cmocka_unit_test(too_many_corners),
    };

    return cmocka_run_group_tests_name("takeoff/walkway", tests, NULL, NULL);
}
