/* Each standard's plan on real outlines: strips, corner shapes, the limit of 60 ft. */

#include "site.h"

static const char *const by_height[] = {"asce7-16", "asce7-22"};
static const char *const by_width[] = {"asce7-05", "asce7-10"};
static const char *const all[] = {"asce7-05", "asce7-10", "asce7-16", "asce7-22"};

static struct roof *zoned(struct site *site, struct ring ring, double height,
                          const char *standard)
{
    struct zoning_settings settings = settings_of(standard);
    struct roof *roof = site_ring(site, ring, height);

    site_zone(site, &settings);
    return roof;
}

static void low_by_height(void **state)
{
    struct fixture *f = *state;

    for (size_t i = 0; i < LENGTH(by_height); i++) {
        struct site site = site_empty(f);
        struct roof *roof =
            zoned(&site, box_ring(f->arena, 0, 0, 50, 40), 5, by_height[i]);

        /* strips 3 m and 6 m, legs 3 m by 1 m */
        assert_areas(roof, areas_from(2000, 4 * 5, 44 * 34, 38 * 28), 1e-3);
        assert_false(roof_assumes(roof, ASSUME_LEAST_DIMENSION));
    }
}

/* a = min(10 % LHD, 0.4 h), at least 4 % LHD and 3 ft: corners are squares of a. */
static void low_by_width(void **state)
{
    struct fixture *f = *state;
    const struct {
        double length, width, height, a;
    } cases[] = {
        {60, 40, 15, 4},           /* 10 % of the width */
        {60, 40, 5, 2},            /* 0.4 h */
        {200, 150, 5, 6},          /* 4 % of the width */
        {10, 8, 15, 3 * M_PER_FT}, /* 3 ft */
    };

    for (size_t i = 0; i < LENGTH(by_width); i++)
        for (size_t k = 0; k < LENGTH(cases); k++) {
            struct site site = site_empty(f);
            double length = cases[k].length;
            double width = cases[k].width;
            double a = cases[k].a;
            struct roof *roof = zoned(&site, box_ring(f->arena, 0, 0, length, width),
                                      cases[k].height, by_width[i]);
            double inside = (length - 2 * a) * (width - 2 * a);

            near(roof->level.perimeter_depth, a, 1e-12);
            assert_areas(
                roof,
                ((struct zone_areas){
                    {4 * a * a, length * width - inside - 4 * a * a, inside, 0}}),
                1e-3);
        }
}

/* Where the strips of two edges cross: a rhombus at acute corners, a kite at obtuse. */
static void crossed_corners_at_other_angles(void **state)
{
    struct fixture *f = *state;
    const double side = 30 * sqrt(3);
    const double xy[][2] = {{0, 0}, {120, 0}, {90, side}, {30, side}};
    struct site site = site_empty(f);
    struct roof *roof = zoned(&site, ring_made(f->arena, xy), 18, "asce7-10");
    double a = 0.1 * side;

    near(roof->level.perimeter_depth, a, 1e-9);
    near(zone_area(roof, ZONE_CORNER), 2 * a * a / sin(PI / 3) + 2 * a * a / tan(PI / 3),
         1e-2);
    assert_int_equal(roof->corners, 4);
    assert_true(roof_assumes(roof, ASSUME_LEAST_DIMENSION));
}

static void crossed_corners_leave_reentrant_vertices_out(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{0, 0}, {100, 0}, {100, 40}, {40, 40}, {40, 100}, {0, 100}};
    struct site site = site_empty(f);
    struct roof *roof = zoned(&site, ring_made(f->arena, xy), 5, "asce7-10");
    double a = roof->level.perimeter_depth;

    near(zone_area(roof, ZONE_CORNER), 5 * a * a, 1e-3);
    near(zone_area(roof, ZONE_FIELD), 6400 - 400 * a + 4 * a * a, 1e-3);
    near(zone_area(roof, ZONE_INTERIOR), 0, 0);
}

/* Above 60 ft all: a = 10 % LHD, at least 3 ft; legs 2 a by a; no interior. */
static void tall(void **state)
{
    struct fixture *f = *state;

    for (size_t i = 0; i < LENGTH(all); i++)
        for (int small = 0; small < 2; small++) {
            struct site site = site_empty(f);
            double length = small ? 12 : 60;
            double width = small ? 8 : 40;
            double a = small ? 3 * M_PER_FT : 4;
            struct roof *roof =
                zoned(&site, box_ring(f->arena, 0, 0, length, width), 30, all[i]);
            double inside = (length - 2 * a) * (width - 2 * a);

            assert_true(roof->level.tall);
            assert_areas(
                roof,
                ((struct zone_areas){
                    {12 * a * a, length * width - inside - 12 * a * a, inside, 0}}),
                1e-3);
        }
}

/* The sides of the rectangle around it, at any angle, give the least dimension. */
static void least_dimension_is_taken_at_any_angle(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{0, 0}, {100, 0}, {100, 40}, {40, 40}, {40, 100}, {0, 100}};
    struct site site = site_empty(f);
    struct ring ring = ring_made(f->arena, xy);
    struct roof *roof = zoned(&site, ring_moved(f->arena, ring, 1, 0, 0), 30, "asce7-22");

    /* around an ell with the corner (100, 100) cut off, 100 x 100 is larger than the
     * rectangle on the slanted edge of its hull: 120 root 2 by 70 root 2 */
    near(roof->level.least_dimension, 100, 1e-9);
    near(roof->level.long_side, 100, 1e-9);
    assert_true(roof_assumes(roof, ASSUME_LEAST_DIMENSION));
}

static void sixty_feet_are_low(void **state)
{
    struct fixture *f = *state;
    const struct {
        double feet;
        bool tall;
    } cases[] = {{59.99, false}, {60, false}, {60.01, true}, {75, true}, {120, true}};

    for (size_t i = 0; i < LENGTH(all); i++)
        for (size_t k = 0; k < LENGTH(cases); k++) {
            struct site site = site_empty(f);
            struct roof *roof = zoned(&site, box_ring(f->arena, 0, 0, 200, 100),
                                      cases[k].feet * M_PER_FT, all[i]);

            assert_int_equal(roof->level.tall, cases[k].tall);
        }
}

/* 60 ft < h < 90 ft and h no more than the least dimension: both readings are in use. */
static void the_setting_decides_between_60_and_90_ft(void **state)
{
    struct fixture *f = *state;
    const struct {
        double feet, width;
        bool open;
    } cases[] = {{60, 100, false},
                 {75, 100, true},
                 {89, 100, true},
                 {90, 100, false},
                 {75, 20, false}};

    for (size_t k = 0; k < LENGTH(cases); k++)
        for (int low = 0; low < 2; low++) {
            struct site site = site_empty(f);
            struct zoning_settings settings = settings_of("asce7-22");
            double height = cases[k].feet * M_PER_FT;
            struct roof *roof =
                site_ring(&site, box_ring(f->arena, 0, 0, 200, cases[k].width), height);

            settings.mid_rise = low ? MID_RISE_LOW : MID_RISE_TALL;
            site_zone(&site, &settings);
            assert_int_equal(roof_assumes(roof, ASSUME_MID_RISE), cases[k].open);
            assert_int_equal(roof->level.tall,
                             cases[k].feet > 60 && !(low && cases[k].open));
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(low_by_height),
        geometry_test(low_by_width),
        geometry_test(crossed_corners_at_other_angles),
        geometry_test(crossed_corners_leave_reentrant_vertices_out),
        geometry_test(tall),
        geometry_test(least_dimension_is_taken_at_any_angle),
        geometry_test(sixty_feet_are_low),
        geometry_test(the_setting_decides_between_60_and_90_ft),
    };

    return cmocka_run_group_tests_name("zoning/standards", tests, NULL, NULL);
}
