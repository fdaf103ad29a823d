/* Insets against closed forms, and against the definition point by point. */

#include "geometry.h"

#include "geo/offset.h"

/* What is left of rings (shell, then holes) inside the strip of a depth. */
static struct region inset_of(struct fixture *f, const struct ring *rings, size_t count,
                              double depth)
{
    struct layer_rings insets = {NULL, 0, 0};
    struct region out = {NULL, 0};

    for (size_t j = 0; j < count; j++) {
        struct ring inset = {NULL, 0};

        assert_int_equal(ring_inset(f->arena, rings[j], depth, &inset), OUTLAY_OK);
        assert_true(inset.count <= 4 * rings[j].count);
        assert_true(layer_rings_add(f->arena, &insets, inset, 0));
    }
    arranged(f, &insets, label_positive, NULL, 1, &out);
    assert_valid(f->geos, &out);
    return out;
}

static double inset_area(struct fixture *f, struct ring ring, double depth)
{
    struct region region = inset_of(f, &ring, 1, depth);

    return region_area(&region);
}

/* ---- Closed forms ------------------------------------- */

static void rectangles(void **state)
{
    struct fixture *f = *state;
    const double depths[] = {0, 1e-6, 1, 4.5, 4.999999, 5, 5.000001, 7, 9.9, 10, 1000};

    for (int degrees = 0; degrees < 180; degrees += 11)
        for (size_t k = 0; k < LENGTH(depths); k++) {
            double d = depths[k];
            struct ring box = ring_moved(f->arena, box_ring(f->arena, 0, 0, 30, 10),
                                         degrees * PI / 180, 100, -20);

            near(inset_area(f, box, d), fmax(0, 30 - 2 * d) * fmax(0, 10 - 2 * d), 2e-5);
            arena_reset(f->arena);
        }
}

/* 5 corners overlap, 1 re-entrant vertex is filled: area - perimeter d + 4 d2. */
static void ell(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{0, 0}, {30, 0}, {30, 10}, {12, 10}, {12, 26}, {0, 26}};
    struct ring ring = ring_made(f->arena, xy);
    double area = 30 * 10 + 12 * 16;

    for (double d = 0; d < 5; d += 0.25)
        near(inset_area(f, ring, d), area - 112 * d + 4 * d * d, 2e-6);
    /* the arm of 10 m is gone, of the arm of 12 m is left (12 - 2 d) (26 - 2 d) */
    for (double d = 5; d < 6; d += 0.25)
        near(inset_area(f, ring, d), (12 - 2 * d) * (26 - 2 * d), 2e-6);
    near(inset_area(f, ring, 6), 0, 2e-6);
    near(inset_area(f, ring, 50), 0, 0);
}

/* n-gons shrink to a point at their inradius and leave nothing beyond it. */
static void regular_polygons_about_the_inradius(void **state)
{
    struct fixture *f = *state;
    const double shares[] = {0.1, 0.5, 0.9, 0.999,    0.999999, 1,
                             1.1, 1.9, 2,   1.000001, 3,        100};

    for (size_t n = 3; n <= 60; n += n < 12 ? 1 : 12)
        for (size_t k = 0; k < LENGTH(shares); k++) {
            struct ring ring = ring_regular(f->arena, n, 25, 0.2);
            double inradius = 25 * cos(PI / (double)n);
            double left = fmax(0, 1 - shares[k]);
            double area = ring_area(ring) * left * left;

            near(inset_area(f, ring, shares[k] * inradius), area, 2e-5);
            arena_reset(f->arena);
        }
}

static void courts_shrink_the_roof_from_inside(void **state)
{
    struct fixture *f = *state;
    struct ring rings[] = {
        box_ring(f->arena, 0, 0, 40, 40),
        ring_turned_round(f->arena, box_ring(f->arena, 15, 15, 10, 10)),
    };

    for (double d = 0; d < 7.5; d += 0.5) {
        struct region left = inset_of(f, rings, 2, d);
        double outer = 40 - 2 * d;
        double inner = 10 + 2 * d;

        near(region_area(&left), outer * outer - inner * inner, 1e-5);
        assert_int_equal(left.polygon_count, 1);
        assert_int_equal(left.polygons[0].ring_count, 2);
    }
    for (double d = 7.5; d < 60; d += 2.5) {
        struct region left = inset_of(f, rings, 2, d);

        near(region_area(&left), 0, 1e-5);
    }
}

/* Two halls joined by a passage: past half the passage's width they come apart. */
static void narrow_places_split(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{0, 0},   {20, 0},  {20, 8},  {30, 8},  {30, 0},  {50, 0},
                            {50, 20}, {30, 20}, {30, 12}, {20, 12}, {20, 20}, {0, 20}};
    struct ring ring = ring_made(f->arena, xy);
    struct region whole = inset_of(f, &ring, 1, 1.5);
    struct region split = inset_of(f, &ring, 1, 2.5);

    assert_int_equal(whole.polygon_count, 1);
    assert_int_equal(split.polygon_count, 2);
    near(region_area(&whole), 2 * 17 * 17 + 1 * 13, 1e-5);
    near(region_area(&split), 2 * 15 * 15, 1e-5);
}

/* A slit into the roof: its end turns by two right angles. Beside it and beyond its end
 * d is kept clear. */
static void slits(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{0, 0},     {40, 0},    {40, 20},   {20.5, 20},
                            {20.5, 10}, {19.5, 10}, {19.5, 20}, {0, 20}};
    struct ring ring = ring_made(f->arena, xy);

    near(inset_area(f, ring, 2), 36 * 16 - 5 * 10, 1e-5);
}

/* The tip of a slot that narrows to a point is cut square at twice the depth. */
static void mitres_are_cut_at_twice_the_depth(void **state)
{
    struct fixture *f = *state;
    /* 2 m wide at the edge, 20 m deep: the tip at (20, 10) turns by nearly 180 degrees */
    const double xy[][2] = {{0, 0},   {40, 0},  {40, 30}, {21, 30},
                            {20, 10}, {19, 30}, {0, 30}};
    struct ring ring = ring_made(f->arena, xy);
    struct region left = inset_of(f, &ring, 1, 2);

    assert_false(region_winds(&left, (struct point){20, 10 - 4 + 1e-4}));
    assert_true(region_winds(&left, (struct point){20, 10 - 4 - 1e-4}));
    /* beside the slot */
    assert_true(region_winds(&left, (struct point){23.2, 20}));
    assert_false(region_winds(&left, (struct point){22.2, 20}));
}

static void outset_undoes_inset_of_a_convex_ring(void **state)
{
    struct fixture *f = *state;

    for (size_t n = 3; n < 40; n++) {
        struct ring ring = ring_regular(f->arena, n, 10, 0.1);
        struct ring outset = {NULL, 0};
        struct layer_rings rings = {NULL, 0, 0};
        struct region grown;
        double inradius = 10 * cos(PI / (double)n);
        double scale = (inradius + 2) / inradius;

        assert_int_equal(ring_outset(f->arena, ring, 2, &outset), OUTLAY_OK);
        assert_true(layer_rings_add(f->arena, &rings, outset, 0));
        arranged(f, &rings, label_positive, NULL, 1, &grown);
        assert_valid(f->geos, &grown);
        near(region_area(&grown), ring_area(ring) * scale * scale, n == 3 ? 1e-4 : 1e-5);
        arena_reset(f->arena);
    }
}

/* ---- The definition ------------------------------------- */

static double dot(struct point a, struct point b)
{
    return a.x * b.x + a.y * b.y;
}

static struct point unit(struct point a, struct point b)
{
    double length = point_distance(a, b);

    return (struct point){(b.x - a.x) / length, (b.y - a.y) / length};
}

/* How far p lies inside the convex shape that the strip of one edge is; negative
 * outside. */
static double inside_rectangle(struct point a, struct point b, double depth,
                               struct point p)
{
    struct point u = unit(a, b);
    struct point q = {p.x - a.x, p.y - a.y};
    double along = dot(q, u);
    double left = u.x * q.y - u.y * q.x;

    return fmin(fmin(along, point_distance(a, b) - along), fmin(left, depth - left));
}

/* The same for the mitre at b, between the edges ab and bc; -INFINITY where there is
 * none. */
static double inside_mitre(struct point a, struct point b, struct point c, double depth,
                           struct point p)
{
    struct point in = unit(a, b);
    struct point out = unit(b, c);
    struct point q = {p.x - b.x, p.y - b.y};
    struct point bisector = {in.x - out.x, in.y - out.y};
    double length = sqrt(dot(bisector, bisector));
    double left_in = in.x * q.y - in.y * q.x;
    double left_out = out.x * q.y - out.y * q.x;

    if (in.x * out.y - in.y * out.x >= 0)
        return -INFINITY;
    return fmin(
        fmin(fmin(dot(q, in), -dot(q, out)), fmin(depth - left_in, depth - left_out)),
        2 * depth - dot(q, bisector) / length);
}

/* How far p lies inside the strip; negative outside. */
static double inside_strip(struct ring ring, double depth, struct point p)
{
    double most = -INFINITY;

    for (size_t k = 0; k < ring.count; k++) {
        struct point a = ring.points[k];
        struct point b = ring.points[(k + 1) % ring.count];
        struct point c = ring.points[(k + 2) % ring.count];

        most = fmax(most, inside_rectangle(a, b, depth, p));
        most = fmax(most, inside_mitre(a, b, c, depth, p));
    }
    return most;
}

static void assert_follows_definition(struct fixture *f, struct ring ring, double depth,
                                      struct chance *chance)
{
    struct region left = inset_of(f, &ring, 1, depth);
    struct region whole = region_made(f->arena, &ring, 1);
    struct box box = region_box(&whole);
    struct box around = {box.min_x - 1, box.min_y - 1, box.max_x + 1, box.max_y + 1};

    for (int i = 0; i < 300; i++) {
        struct point p = chance_point(chance, around);
        double inside = inside_strip(ring, depth, p);
        bool expected = ring_winding(ring, p) > 0 && inside < 0;

        /* nearer to the line than rounding and the distance to an edge can tell */
        if (fabs(inside) < 1e-6)
            continue;
        if (region_winds(&left, p) != expected) {
            print_error("(%.9g, %.9g) at depth %g of %zu points: %d expected\n", p.x, p.y,
                        depth, ring.count, expected);
            for (size_t k = 0; k < ring.count; k++)
                print_error("%.17g %.17g\n", ring.points[k].x, ring.points[k].y);
            fail();
        }
    }
    arena_reset(f->arena);
}

/* Angles in order, distances by chance: simple, with spikes and slots of all kinds. */
static struct ring star(struct fixture *f, struct chance *chance, size_t n, double least)
{
    struct ring ring = ring_new(f->arena, n);

    for (size_t k = 0; k < n; k++) {
        double angle = 2 * PI * ((double)k + chance_between(chance, 0, 0.9)) / (double)n;
        double reach = chance_between(chance, least, 1) * 30;

        ring.points[k] = (struct point){reach * cos(angle), reach * sin(angle)};
    }
    return ring;
}

static void stars_follow_the_definition(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {3};

    for (int i = 0; i < 600; i++) {
        size_t n = 4 + chance_below(&chance, 30);
        double least = i % 2 ? 0.1 : 0.8;
        double depth = exp(chance_between(&chance, log(0.05), log(60)));

        assert_follows_definition(f, star(f, &chance, n, least), depth, &chance);
    }
}

/* A staircase with steps of all sizes up one side. */
static void stairs_follow_the_definition(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {4};

    for (int i = 0; i < 200; i++) {
        size_t steps = 1 + chance_below(&chance, 12);
        struct ring ring = ring_new(f->arena, 2 * steps + 3);
        double x = 0;
        double y = 0;

        ring.points[0] = (struct point){0, 0};
        for (size_t k = 0; k < steps; k++) {
            x += chance_between(&chance, 0.1, 8);
            ring.points[2 * k + 1] = (struct point){x, y};
            y += chance_between(&chance, 0.1, 8);
            ring.points[2 * k + 2] = (struct point){x, y};
        }
        x += 10;
        ring.points[2 * steps] = (struct point){x, y};
        ring.points[2 * steps - 1].x = x;
        ring.points[2 * steps + 1] = (struct point){x, y + 10};
        ring.points[2 * steps + 2] = (struct point){0, y + 10};
        assert_follows_definition(f, ring, chance_between(&chance, 0.1, 12), &chance);
    }
}

static void starts_do_not_matter(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {5};

    for (int i = 0; i < 40; i++) {
        struct ring ring = star(f, &chance, 12, 0.3);
        double depth = chance_between(&chance, 0.5, 15);
        double area = inset_area(f, ring, depth);

        for (size_t by = 1; by < ring.count; by++)
            near(inset_area(f, ring_started(f->arena, ring, by), depth), area, 1e-5);
        arena_reset(f->arena);
    }
}

static void depth_zero_is_the_ring(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {6};

    for (int i = 0; i < 40; i++) {
        struct ring ring = star(f, &chance, 15, 0.2);

        near_share(inset_area(f, ring, 0), ring_area(ring), 1e-7);
        arena_reset(f->arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(rectangles),
        geometry_test(ell),
        geometry_test(regular_polygons_about_the_inradius),
        geometry_test(courts_shrink_the_roof_from_inside),
        geometry_test(narrow_places_split),
        geometry_test(slits),
        geometry_test(mitres_are_cut_at_twice_the_depth),
        geometry_test(outset_undoes_inset_of_a_convex_ring),
        geometry_test(stars_follow_the_definition),
        geometry_test(stairs_follow_the_definition),
        geometry_test(starts_do_not_matter),
        geometry_test(depth_zero_is_the_ring),
    };

    return cmocka_run_group_tests_name("geo/offset", tests, NULL, NULL);
}
