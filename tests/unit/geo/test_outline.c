/* Thinning, and which vertices are corners. */

#include "geometry.h"

#include "geo/outline.h"

static struct thin_ring thinned(struct fixture *f, struct ring ring, double tolerance)
{
    struct thin_ring thin;

    assert_int_equal(ring_thin(f->arena, ring, tolerance, &thin), OUTLAY_OK);
    for (size_t k = 0; k < thin.ring.count; k++) {
        assert_memory_equal(&thin.ring.points[k], &ring.points[thin.source[k]],
                            sizeof(struct point));
        assert_true(thin.deviation[k] >= 0);
    }
    return thin;
}

/* How many vertices are of each kind, with the usual tolerance for a least width. */
struct counts {
    size_t of[VERTEX_REENTRANT + 1];
};

static struct counts counted(struct fixture *f, struct ring ring, double width)
{
    double tolerance = fmin(1.0, 0.1 * width);
    struct thin_ring thin = thinned(f, ring, tolerance);
    enum vertex_kind *kinds = ring_classify(f->arena, ring, &thin, tolerance, width);
    struct counts counts = {{0}};

    assert_non_null(kinds);
    for (size_t k = 0; k < thin.ring.count; k++)
        counts.of[kinds[k]]++;
    return counts;
}

static size_t corners(struct fixture *f, struct ring ring, double width)
{
    return counted(f, ring, width).of[VERTEX_CORNER];
}

/* ---- Thinning ------------------------------------- */

static void no_tolerance_removes_nothing(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{0, 0}, {5, 0}, {10, 0}, {10, 10}, {0, 10}};
    struct thin_ring thin = thinned(f, ring_made(f->arena, xy), 0);

    assert_int_equal(thin.ring.count, 5);
}

static void three_vertices_stay(void **state)
{
    struct fixture *f = *state;
    struct thin_ring thin = thinned(f, ring_regular(f->arena, 40, 1, 0), 100);

    assert_int_equal(thin.ring.count, 3);
}

static void points_on_a_wall_go(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{0, 0},   {3, 0},  {7, 0.0004}, {10, 0},
                            {10, 10}, {4, 10}, {0, 10},     {0, 5}};
    struct thin_ring thin = thinned(f, ring_made(f->arena, xy), 1e-3);

    assert_int_equal(thin.ring.count, 4);
    near(ring_area(thin.ring), 100, 0);
}

/* A jog of 0.4 m in a wall of 30 m goes; one of 1.5 m stays. */
static void jogs_within_tolerance_go(void **state)
{
    struct fixture *f = *state;

    for (int large = 0; large < 2; large++) {
        double jog = large ? 1.5 : 0.4;
        const double xy[][2] = {{0, 0}, {14, 0}, {14, jog}, {30, jog}, {30, 20}, {0, 20}};
        struct counts counts = counted(f, ring_made(f->arena, xy), 20);

        assert_int_equal(counts.of[VERTEX_CORNER], large ? 5 : 4);
        assert_int_equal(counts.of[VERTEX_REENTRANT], large ? 1 : 0);
    }
}

/* The deviation says how far legs must reach outside to cover what was left out. */
static void deviation_is_what_sticks_out(void **state)
{
    struct fixture *f = *state;
    /* a bay 0.5 m out in the lower wall, a niche 0.5 m deep in the upper */
    const double xy[][2] = {{0, 0},   {10, 0},  {11, -0.5}, {12, 0},  {30, 0},
                            {30, 20}, {16, 20}, {15, 19.5}, {14, 20}, {0, 20}};
    struct thin_ring thin = thinned(f, ring_made(f->arena, xy), 1.0);

    assert_int_equal(thin.ring.count, 4);
    assert_int_equal(thin.source[0], 0);
    near(thin.deviation[0], 0.5, 1e-12);
    near(thin.deviation[1], 0, 0);
    near(thin.deviation[2], 0, 0);
    near(thin.deviation[3], 0, 0);
}

static struct ring noisy_box(struct fixture *f, struct chance *chance, double width,
                             double height, double step, double noise)
{
    size_t across = (size_t)(width / step);
    size_t up = (size_t)(height / step);
    struct ring ring = ring_new(f->arena, 2 * (across + up));
    size_t k = 0;

    for (size_t i = 0; i < across; i++, k++)
        ring.points[k] = (struct point){(double)i * step, 0};
    for (size_t i = 0; i < up; i++, k++)
        ring.points[k] = (struct point){width, (double)i * step};
    for (size_t i = 0; i < across; i++, k++)
        ring.points[k] = (struct point){width - (double)i * step, height};
    for (size_t i = 0; i < up; i++, k++)
        ring.points[k] = (struct point){0, height - (double)i * step};
    for (k = 0; k < ring.count; k++) {
        ring.points[k].x += chance_between(chance, -noise, noise);
        ring.points[k].y += chance_between(chance, -noise, noise);
    }
    return ring;
}

static void noise_makes_no_corners(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {41};

    for (int i = 0; i < 200; i++) {
        struct ring ring = noisy_box(f, &chance, 40, 24, 1, 0.1);
        struct counts counts = counted(f, ring, 24);

        assert_int_equal(counts.of[VERTEX_CORNER], 4);
        assert_int_equal(counts.of[VERTEX_REENTRANT], 0);
        assert_int_equal(counts.of[VERTEX_BEND], 0);
        arena_reset(f->arena);
    }
}

static bool has_point(struct ring ring, struct point p)
{
    for (size_t k = 0; k < ring.count; k++)
        if (memcmp(&ring.points[k], &p, sizeof p) == 0)
            return true;
    return false;
}

/* Many candidates tie here: a lattice ring has equal distances everywhere. */
static struct ring stairs(struct fixture *f, size_t steps)
{
    struct ring ring = ring_new(f->arena, 2 * steps + 2);

    for (size_t k = 0; k < steps; k++) {
        ring.points[2 * k] = (struct point){(double)k, (double)k};
        ring.points[2 * k + 1] = (struct point){(double)k + 1, (double)k};
    }
    ring.points[2 * steps] = (struct point){(double)steps, (double)steps};
    ring.points[2 * steps + 1] = (struct point){0, (double)steps};
    return ring;
}

static void start_keeps_the_same_vertices(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {42};
    const double tolerances[] = {0.05, 0.3, 0.8, 2, 20};

    for (size_t i = 0; i < 3 * LENGTH(tolerances); i++) {
        struct ring ring = i % 3 == 0   ? noisy_box(f, &chance, 20, 10, 1, 0.5)
                           : i % 3 == 1 ? stairs(f, 12)
                                        : ring_regular(f->arena, 36, 10, 0);
        double tolerance = tolerances[i / 3];
        struct thin_ring first = thinned(f, ring, tolerance);

        for (size_t by = 1; by < ring.count; by++) {
            struct ring other = ring_started(f->arena, ring, by);
            struct thin_ring thin;

            thin = thinned(f, other, tolerance);
            assert_int_equal(thin.ring.count, first.ring.count);
            for (size_t k = 0; k < thin.ring.count; k++)
                assert_true(has_point(first.ring, thin.ring.points[k]));
        }
        arena_reset(f->arena);
    }
}

static void start_keeps_the_kinds(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {43};

    for (int i = 0; i < 30; i++) {
        struct ring ring = noisy_box(f, &chance, 20, 10, 0.8, 0.6);
        struct counts first = counted(f, ring, 10);

        for (size_t by = 1; by < ring.count; by += 3) {
            struct counts other = counted(f, ring_started(f->arena, ring, by), 10);

            assert_memory_equal(&other, &first, sizeof first);
        }
        arena_reset(f->arena);
    }
}

/* ---- Corners ------------------------------------- */

static void rectangles_have_four_corners_at_any_angle(void **state)
{
    struct fixture *f = *state;
    const double sizes[] = {1, 4, 20, 300};

    for (int degrees = 0; degrees < 180; degrees += 5)
        for (size_t i = 0; i < LENGTH(sizes); i++) {
            struct ring box = box_ring(f->arena, 0, 0, 3 * sizes[i], sizes[i]);
            struct ring turned = ring_moved(f->arena, box, degrees * PI / 180, 7, -9);

            assert_int_equal(corners(f, turned, sizes[i]), 4);
        }
}

static void plus_has_eight_corners_and_four_reentrant_vertices(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{10, 0},  {20, 0},  {20, 10}, {30, 10}, {30, 20}, {20, 20},
                            {20, 30}, {10, 30}, {10, 20}, {0, 20},  {0, 10},  {10, 10}};
    struct counts counts = counted(f, ring_made(f->arena, xy), 10);

    assert_int_equal(counts.of[VERTEX_CORNER], 8);
    assert_int_equal(counts.of[VERTEX_REENTRANT], 4);
}

/* Interior angle of at most 137.5 degrees: a quadrilateral with one angle given. */
static void the_limit_is_137_5_degrees(void **state)
{
    struct fixture *f = *state;

    for (int i = 0; i < 2; i++) {
        double turn = (180 - (i ? 137.6 : 137.4)) * PI / 180;
        const double xy[][2] = {
            {0, 0}, {30, 0}, {30 + 30 * cos(turn), 30 * sin(turn)}, {15, 60}};

        assert_int_equal(corners(f, ring_made(f->arena, xy), 30), i ? 3 : 4);
        assert_int_equal(counted(f, ring_made(f->arena, xy), 30).of[VERTEX_BEND], i);
    }
}

/* Bends: inward by 30 degrees and more; straight: less. */
static void bends_begin_at_thirty_degrees(void **state)
{
    struct fixture *f = *state;
    const double turns[] = {29, 31, -29, -31};
    const enum vertex_kind kinds[] = {VERTEX_STRAIGHT, VERTEX_BEND, VERTEX_STRAIGHT,
                                      VERTEX_REENTRANT};

    for (size_t i = 0; i < LENGTH(turns); i++) {
        double turn = turns[i] * PI / 180;
        const double xy[][2] = {
            {0, 0}, {40, 0}, {40 + 40 * cos(turn), 40 * sin(turn)}, {70, 80}, {0, 80}};
        struct counts counts = counted(f, ring_made(f->arena, xy), 60);

        assert_int_equal(counts.of[kinds[i]], 1);
    }
}

/* Small: one corner each, the chamfer is within tolerance; large: two of 135 degrees. */
static void chamfers(void **state)
{
    struct fixture *f = *state;
    const double cuts[] = {0.1, 0.5, 0.9, 1.1, 5.0, 8.0};

    for (size_t i = 0; i < LENGTH(cuts); i++) {
        double c = cuts[i];
        const double xy[][2] = {{c, 0},       {40 - c, 0}, {40, c},     {40, 30 - c},
                                {40 - c, 30}, {c, 30},     {0, 30 - c}, {0, c}};

        assert_int_equal(corners(f, ring_made(f->arena, xy), 30), c < 1 ? 4 : 8);
    }
}

/* A box of 40 m by 30 m whose corners are arcs of n points. */
static struct ring rounded_box(struct fixture *f, double radius, size_t n)
{
    const double middles[][2] = {{40 - radius, 30 - radius},
                                 {radius, 30 - radius},
                                 {radius, radius},
                                 {40 - radius, radius}};
    struct ring ring = ring_new(f->arena, 4 * n);

    for (size_t c = 0; c < 4; c++)
        for (size_t k = 0; k < n; k++) {
            double angle = ((double)c + (double)k / (double)(n - 1)) * PI / 2;

            ring.points[c * n + k] = (struct point){middles[c][0] + radius * cos(angle),
                                                    middles[c][1] + radius * sin(angle)};
        }
    return ring;
}

/* Roundings within the tolerance of 1 m are a corner; those of 11 m and more are part of
 * a curve, unless it is traced so coarsely that three vertices, 4.3 m apart, turn by 67.5
 * degrees within 0.15 times the width of 30 m. */
static void rounded_corners(void **state)
{
    struct fixture *f = *state;

    for (size_t n = 5; n < 40; n += 3) {
        for (double radius = 0.1; radius <= 1; radius += 0.1)
            assert_int_equal(corners(f, rounded_box(f, radius, n), 30), 4);
        for (double radius = 11; radius <= 14; radius += 1)
            assert_int_equal(corners(f, rounded_box(f, radius, n), 30),
                             n == 5 && radius == 11 ? 4 : 0);
        arena_reset(f->arena);
    }
}

/* Between the two, equal steps of an arc tie when vertices go; rounding must not choose,
 * or the corners of a building would depend on how it is turned. */
static void rounded_corners_turn_with_the_roof(void **state)
{
    struct fixture *f = *state;

    for (size_t n = 4; n < 40; n += 3)
        for (double radius = 1.2; radius < 9; radius += 0.6) {
            size_t expected = corners(f, rounded_box(f, radius, n), 30);

            for (double turn = 0.2; turn < 1.5; turn += 0.2) {
                struct ring ring = rounded_box(f, radius, n);

                assert_int_equal(corners(f, ring_moved(f->arena, ring, turn, 3, 4), 30),
                                 expected);
            }
            arena_reset(f->arena);
        }
}

/* An ellipse of 14.4 m by 5.4 m turns by 79 degrees within 0.8 m of each end, whatever
 * vertices thinning leaves there. One that is sharp by itself, but far from the middle of
 * the turn, may have a second one beside it. */
static void both_ends_of_an_ellipse_are_corners(void **state)
{
    struct fixture *f = *state;

    for (double scale = 0.5; scale < 4; scale *= 2)
        for (int phase = 0; phase < 50; phase++) {
            double reach = 7.19 * scale;
            struct ring ring =
                ring_regular(f->arena, 73, reach, 2 * PI / 73 * phase / 50.0);
            size_t found[2] = {0, 0};
            struct thin_ring thin;
            enum vertex_kind *kinds = NULL;

            for (size_t k = 0; k < ring.count; k++)
                ring.points[k].y *= 0.374;
            thin = thinned(f, ring, 0.537 * scale);
            kinds = ring_classify(f->arena, ring, &thin, 0.537 * scale, 5.37 * scale);
            assert_non_null(kinds);
            for (size_t k = 0; k < thin.ring.count; k++)
                if (kinds[k] == VERTEX_CORNER) {
                    assert_true(fabs(thin.ring.points[k].x) > 0.95 * reach);
                    found[thin.ring.points[k].x > 0]++;
                }
            assert_in_range(found[0], 1, 2);
            assert_in_range(found[1], 1, 2);
            arena_reset(f->arena);
        }
}

/* Jogs within the tolerance are no corners, wherever a window cuts them. */
static void jogs_make_no_rounded_corners(void **state)
{
    struct fixture *f = *state;

    for (double x = 1.5; x < 36; x += 0.25)
        for (double bay = -0.75; bay <= 0.75; bay += 1.5) {
            const double xy[][2] = {{0, 0},         {x, 0},    {x, bay}, {x + 2.5, bay},
                                    {x + 2.5, 0},   {40, 0},   {40, 30}, {x + 1, 30},
                                    {x + 1, 29.25}, {0, 29.25}};

            assert_int_equal(corners(f, ring_made(f->arena, xy), 30), 4);
        }
}

/* A small step just before a corner is no reason to miss it. */
static void steps_hide_no_corner(void **state)
{
    struct fixture *f = *state;

    for (int degrees = 0; degrees < 180; degrees += 5) {
        const double xy[][2] = {{0, 0},      {30, 0},   {30, 10}, {10, 10}, {10, 13.5},
                                {9.5, 13.5}, {9.5, 14}, {6, 14},  {6, 30},  {0, 30}};
        struct ring ring = ring_made(f->arena, xy);

        ring = ring_moved(f->arena, ring, degrees * PI / 180, 7, -9);
        assert_int_equal(corners(f, ring, 30), 6);
    }
}

/* Only up to the octagon have regular polygons corners, however they are traced. */
static void round_roofs_have_no_corners(void **state)
{
    struct fixture *f = *state;
    const double diameters[] = {2, 3.3, 5, 7, 10, 14, 20, 33, 50, 80, 120, 200};

    for (size_t n = 3; n <= 200; n++)
        for (size_t i = 0; i < LENGTH(diameters); i++) {
            struct ring ring =
                ring_regular(f->arena, n, diameters[i] / 2, 0.01 * (double)n);
            double width = diameters[i] * (n == 3 ? 0.75 : cos(PI / (double)n));
            size_t found = corners(f, ring, width);

            if (found != (n <= 8 ? n : 0)) {
                print_error("%zu corners of %zu, diameter %g\n", found, n, diameters[i]);
                fail();
            }
            arena_reset(f->arena);
        }
}

/* The corners of courts are seen from inside the roof: all re-entrant for an upright
 * rectangle, whose ring runs clockwise. */
static void courts_turn_the_other_way(void **state)
{
    struct fixture *f = *state;
    struct ring court = ring_turned_round(f->arena, box_ring(f->arena, 0, 0, 12, 9));
    struct counts counts = counted(f, court, 40);

    assert_int_equal(counts.of[VERTEX_CORNER], 0);
    assert_int_equal(counts.of[VERTEX_REENTRANT], 4);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(no_tolerance_removes_nothing),
        geometry_test(three_vertices_stay),
        geometry_test(points_on_a_wall_go),
        geometry_test(jogs_within_tolerance_go),
        geometry_test(deviation_is_what_sticks_out),
        geometry_test(noise_makes_no_corners),
        geometry_test(start_keeps_the_same_vertices),
        geometry_test(start_keeps_the_kinds),
        geometry_test(rectangles_have_four_corners_at_any_angle),
        geometry_test(plus_has_eight_corners_and_four_reentrant_vertices),
        geometry_test(the_limit_is_137_5_degrees),
        geometry_test(bends_begin_at_thirty_degrees),
        geometry_test(chamfers),
        geometry_test(rounded_corners),
        geometry_test(rounded_corners_turn_with_the_roof),
        geometry_test(both_ends_of_an_ellipse_are_corners),
        geometry_test(jogs_make_no_rounded_corners),
        geometry_test(steps_hide_no_corner),
        geometry_test(round_roofs_have_no_corners),
        geometry_test(courts_turn_the_other_way),
    };

    return cmocka_run_group_tests_name("geo/outline", tests, NULL, NULL);
}
