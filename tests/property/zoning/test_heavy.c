/* Outlines of tens of thousands of points: zoned in seconds, and as sound as any other.
 * The time limit is the test run's; what grows with the square of the points shows. */

#include "outlines.h"

enum { POINTS = 20000 };

static struct roof *heavy(struct site *site, struct ring ring)
{
    struct zoning_settings settings = zoning_defaults();
    struct region shape = region_made(site->f->arena, &ring, 1);
    struct pose pose = {{10, 45}, 0.3, 1};

    return shape_zoned(site, &shape, &pose, 10, &settings);
}

static void smooth(void **state)
{
    struct fixture *f = *state;
    struct site site = site_empty(f);
    struct roof *roof = heavy(&site, ring_regular(f->arena, POINTS, 150, 0.1));

    assert_int_equal(roof->corners, 0);
    near_share(zone_area(roof, ZONE_INTERIOR), PI * 138 * 138, 1e-4);
}

/* Every point off by some centimetres. */
static void noisy(void **state)
{
    struct fixture *f = *state;
    struct site site = site_empty(f);
    struct chance chance = {71};
    struct ring ring = ring_regular(f->arena, POINTS, 150, 0.1);
    struct roof *roof = NULL;

    for (size_t k = 0; k < ring.count; k++) {
        double stretch = 1 + chance_between(&chance, -3e-4, 3e-4);

        ring.points[k].x *= stretch;
        ring.points[k].y *= stretch;
    }
    roof = heavy(&site, ring);
    assert_int_equal(roof->corners, 0);
    near_share(zone_area(roof, ZONE_INTERIOR), PI * 138 * 138, 1e-2);
}

/* A slab with thousands of teeth on one side, 2 m long and some centimetres wide. */
static void comb(void **state)
{
    struct fixture *f = *state;
    struct site site = site_empty(f);
    struct ring ring = ring_new(f->arena, POINTS + 2);
    double step = 300.0 / POINTS;

    for (size_t k = 0; k < POINTS; k++) {
        double high = k % 4 == 1 || k % 4 == 2 ? 22 : 20;

        ring.points[k] = (struct point){150 - (double)k * step, high};
    }
    ring.points[POINTS] = (struct point){-150, -20};
    ring.points[POINTS + 1] = (struct point){150, -20};
    heavy(&site, ring);
}

/* A band 3 m wide in twenty turns, all of it edge. */
static void spiral(void **state)
{
    struct fixture *f = *state;
    struct site site = site_empty(f);
    struct ring ring = ring_new(f->arena, POINTS);
    size_t half = POINTS / 2;
    struct roof *roof = NULL;

    for (size_t k = 0; k < half; k++) {
        double t = (double)k / (double)(half - 1);
        double angle = t * 40 * PI;
        double reach = 5 + 120 * t;

        ring.points[k] = (struct point){reach * cos(angle), reach * sin(angle)};
        ring.points[POINTS - 1 - k] =
            (struct point){(reach - 3) * cos(angle), (reach - 3) * sin(angle)};
    }
    roof = heavy(&site, ring);
    near(zone_area(roof, ZONE_FIELD), 0, 0);
    near(zone_area(roof, ZONE_INTERIOR), 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(smooth),
        geometry_test(noisy),
        geometry_test(comb),
        geometry_test(spiral),
    };

    return cmocka_run_group_tests_name("zoning heavy", tests, NULL, NULL);
}
