/* Local frames against geodesics on the ellipsoid, as PROJ's geodesic.h measures them
 * (Karney, "Algorithms for geodesics", J. Geodesy 87, 2013). */

#include "geometry.h"

#include <geodesic.h>

#define SEMI_MAJOR 6378137.0
#define FLATTENING (1 / 298.257223563)

enum { SIDES = 12 };

static const double latitudes[] = {0, 0.001, -15, 30, 45, -59.99, 60, 75, 80, -80};
static const double longitudes[] = {0, -90, 13.5, 179.9999, 180, -180};
static const double sizes[] = {5, 60, 300, 2000}; /* across, m */

/* A lopsided outline of about `size` across, so that no error cancels by symmetry. */
static void outline(const struct geod_geodesic *earth, struct point middle, double size,
                    double reaches[SIDES], struct point lonlat[SIDES])
{
    for (int k = 0; k < SIDES; k++) {
        reaches[k] = size / 2 * (k % 3 == 0 ? 1 : 0.55 + 0.03 * k);
        geod_direct(earth, middle.y, middle.x, -30.0 * k, reaches[k], &lonlat[k].y,
                    &lonlat[k].x, NULL);
    }
}

static void geodesic_measures(const struct geod_geodesic *earth,
                              const struct point lonlat[SIDES], double *area,
                              double *length)
{
    double lats[SIDES];
    double lons[SIDES];

    for (int k = 0; k < SIDES; k++) {
        lats[k] = lonlat[k].y;
        lons[k] = lonlat[k].x;
    }
    geod_polygonarea(earth, lats, lons, SIDES, area, length);
}

/* geod_polygonarea() sums areas as far as the equator: that leaves noise, m2. */
#define GEODESIC_NOISE 1e-4

/* Of a plane outline; a roof of 300 m is plane to 1e-9. */
static double plane_area(const double reaches[SIDES])
{
    double sum = 0;

    for (int k = 0; k < SIDES; k++)
        sum += reaches[k] * reaches[(k + 1) % SIDES] * sin(PI / 6) / 2;
    return sum;
}

/* One outline in the frame around its middle. */
static void measures_agree_at(struct fixture *f, const struct geod_geodesic *earth,
                              struct point middle, double size, double share_of_area,
                              double share_of_length)
{
    struct point points[SIDES];
    struct ring ring = {points, SIDES};
    double reaches[SIDES];
    struct frame frame;
    double area = 0;
    double length = 0;

    outline(earth, middle, size, reaches, points);
    geodesic_measures(earth, points, &area, &length);
    frame_init(&frame, f->ctx, middle);
    frame_to_local(&frame, f->ctx, points, SIDES);
    near(ring_area(ring), area, share_of_area * area + GEODESIC_NOISE);
    near_share(ring_length(ring), length, share_of_length);
    if (size <= 300)
        near_share(ring_area(ring), plane_area(reaches), 1e-8);
}

static void measures_agree_with_geodesics(void **state)
{
    struct geod_geodesic earth;

    geod_init(&earth, SEMI_MAJOR, FLATTENING);
    for (size_t i = 0; i < LENGTH(latitudes); i++)
        for (size_t j = 0; j < LENGTH(longitudes); j++)
            for (size_t k = 0; k < LENGTH(sizes); k++)
                measures_agree_at(*state, &earth,
                                  (struct point){longitudes[j], latitudes[i]}, sizes[k],
                                  1e-6, 1e-6);
}

/* The header promises 1e-7 of area and 5e-8 of length within 2 km of the origin. */
static void promises_hold_two_kilometres_out(void **state)
{
    struct geod_geodesic earth;

    geod_init(&earth, SEMI_MAJOR, FLATTENING);
    for (size_t i = 0; i < LENGTH(latitudes); i++)
        measures_agree_at(*state, &earth, (struct point){24.5, latitudes[i]}, 4000, 1e-7,
                          5e-8);
}

static void there_and_back_is_the_same_place(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {1};

    for (int i = 0; i < 2000; i++) {
        struct point middle = chance_point(&chance, (struct box){-180, -80, 180, 80});
        double angle = chance_between(&chance, 0, 2 * PI);
        double reach = i % 2 ? 2000 : chance_between(&chance, 0, 2000);
        struct point start = {reach * cos(angle), reach * sin(angle)};
        struct point p = start;
        struct frame frame;

        frame_init(&frame, f->ctx, middle);
        frame_to_lonlat(&frame, &p, 1);
        assert_true(p.x >= -180 && p.x <= 180);
        frame_to_local(&frame, f->ctx, &p, 1);
        assert_true(point_distance(p, start) <= 1e-5);
    }
}

static void axes_point_east_and_north(void **state)
{
    struct fixture *f = *state;

    for (size_t i = 0; i < LENGTH(latitudes); i++) {
        struct point middle = {179.9999, latitudes[i]};
        struct point points[] = {
            middle, {-179.9999, latitudes[i]}, {179.9999, latitudes[i] + 1e-3}};
        struct frame frame;

        frame_init(&frame, f->ctx, middle);
        frame_to_local(&frame, f->ctx, points, 3);
        near(points[0].x, 0, 1e-8);
        near(points[0].y, 0, 1e-8);
        assert_true(points[1].x > 3 && points[1].x < 23); /* across the antimeridian */
        near(points[1].y, 0, 1e-3);
        near(points[2].x, 0, 1e-8);
        assert_true(points[2].y > 110 && points[2].y < 112);
    }
}

static void no_points_are_no_trouble(void **state)
{
    struct fixture *f = *state;
    struct frame frame;

    frame_init(&frame, f->ctx, (struct point){0, 0});
    frame_to_local(&frame, f->ctx, NULL, 0);
    frame_to_lonlat(&frame, NULL, 0);
    geo_ctx_free(NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(measures_agree_with_geodesics),
        geometry_test(promises_hold_two_kilometres_out),
        geometry_test(there_and_back_is_the_same_place),
        geometry_test(axes_point_east_and_north),
        geometry_test(no_points_are_no_trouble),
    };

    return cmocka_run_group_tests_name("geo/frame", tests, NULL, NULL);
}
