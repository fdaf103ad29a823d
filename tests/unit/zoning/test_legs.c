/* How far the legs of corners reach along a boundary that bends. With h = 15 m they are
 * 9 m long and 3 m deep. */

#include "site.h"

static const double leg_length = 9;
static const double leg_depth = 3;

static double corner_area(struct fixture *f, const double (*xy)[2], size_t count,
                          double turn)
{
    struct site site = site_empty(f);
    struct zoning_settings settings = settings_of("asce7-22");
    struct ring ring = ring_of_points(f->arena, xy, count);
    struct roof *roof = site_ring(&site, ring_moved(f->arena, ring, turn, 10, 20), 15);

    site_zone(&site, &settings);
    return zone_area(roof, ZONE_CORNER);
}

/* Two whole legs at an angle, less what they share. */
static double corner_at(double angle)
{
    return 2 * leg_length * leg_depth - leg_depth * leg_depth / tan(angle / 2);
}

/* The lower wall turns by `turn` 5 m right of the corner at (0, 0); the other corners are
 * far away. Their angles follow from it. */
static double bent(struct fixture *f, double turn, double *others)
{
    const double end = 95;
    const double xy[][2] = {{0, 0},
                            {5, 0},
                            {5 + end * cos(turn), end * sin(turn)},
                            {5 + end * cos(turn), 120},
                            {0, 120}};

    *others = corner_at(PI / 2 + turn) + 2 * corner_at(PI / 2);
    return corner_area(f, xy, LENGTH(xy), 0.4);
}

/* Through bends under 30 degrees a leg runs on: what is left of its length lies beyond.
 * Bent inward both stretches share a kite, bent outward there is a mitre between. */
static void legs_run_through_slight_bends(void **state)
{
    struct fixture *f = *state;
    const double degrees[] = {-28, -20, -15, 15, 20, 28};

    for (size_t k = 0; k < LENGTH(degrees); k++) {
        double turn = degrees[k] * PI / 180;
        double others = 0;
        double area = bent(f, turn, &others);

        near(area - others, corner_at(PI / 2) - leg_depth * leg_depth * tan(turn / 2),
             0.05);
    }
}

/* At a bend of 30 degrees and more a leg ends: 4 m of it are missing. */
static void legs_end_at_bends(void **state)
{
    struct fixture *f = *state;
    const double degrees[] = {32, 40, -32, -45};

    for (size_t k = 0; k < LENGTH(degrees); k++) {
        double others = 0;
        double area = bent(f, degrees[k] * PI / 180, &others);

        near(area - others, corner_at(PI / 2) - 4 * leg_depth, 0.05);
    }
}

/* A step of 7 m, 5 m beside a corner: legs end at its re-entrant vertex. */
static void legs_end_at_reentrant_vertices(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{0, 0}, {5, 0}, {5, -7}, {100, -7}, {100, 90}, {0, 90}};
    /* whole corners: upper two, lower right; at (5, -7) one leg whole, one of 7 m; at
     * (0, 0) one whole, one of 5 m */
    double expected = 3 * corner_at(PI / 2) + (9 + 7 - 3) * 3 + (9 + 5 - 3) * 3;

    near(corner_area(f, xy, LENGTH(xy), 1.1), expected, 0.05);
}

/* Legs from both ends of a short wall meet, and no more than the wall is covered. */
static void legs_end_at_the_next_corner(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{0, 0}, {7, 0}, {7, 100}, {0, 100}};

    /* at each end the wall of 7 m by 3 m, and 6 m more along the sides, which are 3 m
     * deep each and so leave 1 m free */
    near(corner_area(f, xy, LENGTH(xy), 0.2), 2 * (7 * 3 + 2 * 6 * 3), 0.05);
}

/* A bay within the tolerance is no bend, and the leg covers it, outside of the thinned
 * boundary too. */
static void legs_cover_what_sticks_out(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{0, 0}, {4, 0},   {4, -0.5}, {7, -0.5},
                            {7, 0}, {100, 0}, {100, 90}, {0, 90}};

    near(corner_area(f, xy, LENGTH(xy), 0.3), 4 * corner_at(PI / 2) + 3 * 0.5, 0.05);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(legs_run_through_slight_bends),
        geometry_test(legs_end_at_bends),
        geometry_test(legs_end_at_reentrant_vertices),
        geometry_test(legs_end_at_the_next_corner),
        geometry_test(legs_cover_what_sticks_out),
    };

    return cmocka_run_group_tests_name("zoning/legs", tests, NULL, NULL);
}
