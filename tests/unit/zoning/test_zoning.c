/* Zones of one roof against closed forms. With h = 10 m the strips of the height rule are
 * 6 m and 12 m deep, the legs of a corner 6 m by 2 m. */

#include "site.h"

static const double h = 10;

static struct roof *zoned(struct site *site, struct ring ring)
{
    struct zoning_settings settings = settings_of("asce7-22");
    struct roof *roof = site_ring(site, ring, h);

    site_zone(site, &settings);
    return roof;
}

/* ---- Right angles ------------------------------------- */

/* What the strips leave of an outline of right angles: four more corners stick out than
 * in. */
static double left_inside(double area, double length, double depth)
{
    return area - length * depth + 4 * depth * depth;
}

/* A right corner's two legs: 2 x 6 x 2 less the square that they share. */
static const double right_corner = 20;

static void right_angled(struct fixture *f, const double (*xy)[2], size_t count)
{
    struct site site = site_empty(f);
    struct ring ring = ring_of_points(f->arena, xy, count);
    struct roof *roof = zoned(&site, ring_moved(f->arena, ring, 0.37, -40, 12));
    double area = ring_area(ring);
    double length = ring_length(ring);
    int corners = (int)count / 2 + 2;

    assert_areas(roof,
                 areas_from(area, corners * right_corner, left_inside(area, length, 6),
                            left_inside(area, length, 12)),
                 1e-3);
    assert_int_equal(roof->corners, corners);
    near(roof->edge_length, length, 1e-6);
    near(roof->inner_length, 0, 1e-6);
    assert_int_equal(roof_assumes(roof, ASSUME_REENTRANT), count > 4);
}

static void outlines_of_right_angles(void **state)
{
    const double box[][2] = {{0, 0}, {60, 0}, {60, 30}, {0, 30}};
    const double ell[][2] = {{0, 0}, {100, 0}, {100, 40}, {40, 40}, {40, 100}, {0, 100}};
    const double u[][2] = {{0, 0},   {100, 0}, {100, 80}, {70, 80},
                           {70, 30}, {30, 30}, {30, 80},  {0, 80}};
    const double tee[][2] = {{30, 0},   {60, 0},   {60, 50},  {100, 50},
                             {100, 80}, {-10, 80}, {-10, 50}, {30, 50}};
    const double plus[][2] = {{30, 0},  {60, 0},  {60, 30}, {90, 30}, {90, 60}, {60, 60},
                              {60, 90}, {30, 90}, {30, 60}, {0, 60},  {0, 30},  {30, 30}};

    right_angled(*state, box, LENGTH(box));
    right_angled(*state, ell, LENGTH(ell));
    right_angled(*state, u, LENGTH(u));
    right_angled(*state, tee, LENGTH(tee));
    right_angled(*state, plus, LENGTH(plus));
}

/* A re-entrant corner zone has two legs and the square between them. */
static void reentrant_vertices_may_be_corners(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{0, 0}, {100, 0}, {100, 40}, {40, 40}, {40, 100}, {0, 100}};
    struct site site = site_empty(f);
    struct roof *roof = site_ring(&site, ring_made(f->arena, xy), h);
    struct zoning_settings settings = settings_of("asce7-22");

    settings.reentrant_corners = true;
    site_zone(&site, &settings);
    assert_int_equal(roof->corners, 6);
    near(zone_area(roof, ZONE_CORNER), 5 * right_corner + 2 * 12 + 4, 1e-3);
    assert_false(roof_assumes(roof, ASSUME_REENTRANT));
}

static void labels_are_the_standards_own(void **state)
{
    struct fixture *f = *state;
    struct site site = site_empty(f);
    struct roof *roof = zoned(&site, box_ring(f->arena, 0, 0, 60, 30));
    const char *labels[] = {"3", "2", "1", "1'"};

    assert_int_equal(roof->zone_count, 4);
    for (size_t i = 0; i < 4; i++) {
        assert_int_equal(roof->zones[i].role, i);
        assert_string_equal(roof->zones[i].label, labels[i]);
    }
    near(roof->level.least_dimension, 30, 1e-9);
    near(roof->level.long_side, 60, 1e-9);
    near(roof->level.perimeter_depth, 6, 1e-12);
    near(roof->level.field_depth, 12, 1e-12);
    near(roof->level.leg_length, 6, 1e-12);
    near(roof->level.leg_depth, 2, 1e-12);
    assert_false(roof->level.tall);
}

/* ---- Other angles ------------------------------------- */

/* Two legs at an angle share a kite, which reaches depth / tan(angle / 2) far. */
static double corner_at(double angle, double length, double depth)
{
    return 2 * length * depth - depth * depth / tan(angle / 2);
}

/* What strips leave of a convex outline: every corner counts a kite twice. */
static double convex_inside(struct ring ring, const double *angles, double depth)
{
    double kites = 0;

    for (size_t k = 0; k < ring.count; k++)
        kites += depth * depth / tan(angles[k] / 2);
    return ring_area(ring) - ring_length(ring) * depth + kites;
}

static void convex(struct fixture *f, struct ring ring, const double *angles)
{
    struct site site = site_empty(f);
    struct roof *roof = zoned(&site, ring);
    double corner = 0;

    for (size_t k = 0; k < ring.count; k++)
        corner += corner_at(angles[k], 6, 2);
    assert_areas(roof,
                 areas_from(ring_area(ring), corner, convex_inside(ring, angles, 6),
                            convex_inside(ring, angles, 12)),
                 1e-3);
    assert_int_equal(roof->corners, ring.count);
}

static void acute_and_obtuse_corners(void **state)
{
    struct fixture *f = *state;
    const double third = PI / 3;
    const double sixty[] = {third, third, third};
    const double trapezoid[][2] = {
        {0, 0}, {120, 0}, {90, 30 * sqrt(3)}, {30, 30 * sqrt(3)}};
    const double trapezoid_angles[] = {third, third, 2 * third, 2 * third};
    const double skew[][2] = {{0, 0}, {90, 0}, {130, 40}, {40, 40}};
    const double skew_angles[] = {PI / 4, 3 * PI / 4, PI / 4, 3 * PI / 4};

    convex(f, ring_regular(f->arena, 3, 50, 0.2), sixty);
    convex(f, ring_made(f->arena, trapezoid), trapezoid_angles);
    convex(f, ring_made(f->arena, skew), skew_angles);
}

static void polygons_up_to_the_octagon_have_corners(void **state)
{
    struct fixture *f = *state;

    for (size_t n = 4; n <= 8; n++) {
        double angles[8];

        for (size_t k = 0; k < n; k++)
            angles[k] = PI * (1 - 2 / (double)n);
        convex(f, ring_regular(f->arena, n, 40, 0.1), angles);
    }
}

static void round_roofs_have_rings_alone(void **state)
{
    struct fixture *f = *state;

    for (size_t n = 9; n < 200; n += 19) {
        struct site site = site_empty(f);
        struct ring ring = ring_regular(f->arena, n, 40, 0.1);
        struct roof *roof = zoned(&site, ring);
        double inradius = 40 * cos(PI / (double)n);
        double inside = ring_area(ring) * pow(1 - 6 / inradius, 2);
        double core = ring_area(ring) * pow(1 - 12 / inradius, 2);

        /* strips of many-sided roofs follow the outline to a millimetre */
        assert_areas(roof, areas_from(ring_area(ring), 0, inside, core), 0.3);
        assert_int_equal(roof->corners, 0);
        near(roof->edge_length, ring_length(ring), 1e-2);
    }
}

/* ---- Narrow roofs ------------------------------------- */

static void narrow_roofs_have_no_field(void **state)
{
    struct fixture *f = *state;
    struct site ten = site_empty(f);
    struct site three = site_empty(f);
    struct roof *roof = zoned(&ten, box_ring(f->arena, 0, 0, 100, 10));

    /* the legs of 6 m meet on the ends of 10 m: 10 x 2, and 4 x 2 on each side */
    assert_areas(roof, ((struct zone_areas){{72, 1000 - 72, 0, 0}}), 1e-3);
    assert_int_equal(roof->zone_count, 2);
    /* and where the roof is 3 m wide the legs of both sides cover it */
    roof = zoned(&three, box_ring(f->arena, 0, 0, 100, 3));
    assert_areas(roof, ((struct zone_areas){{36, 300 - 36, 0, 0}}), 1e-2);
}

static void tiny_roofs_are_corner_alone(void **state)
{
    struct fixture *f = *state;
    struct site site = site_empty(f);
    struct roof *roof = zoned(&site, box_ring(f->arena, 0, 0, 4, 3));

    assert_areas(roof, ((struct zone_areas){{12, 0, 0, 0}}), 1e-9);
    assert_int_equal(roof->zone_count, 1);
}

/* An interior that vanishes at a width of 2.4 h leaves no sliver. */
static void slivers_join_their_neighbours(void **state)
{
    struct fixture *f = *state;
    const double off[] = {-1e-3, -1e-7, -1e-12, 0, 1e-12, 1e-9, 1e-7, 1e-5, 1e-4};

    for (size_t i = 0; i < LENGTH(off); i++)
        for (int turn = 0; turn < 5; turn++) {
            struct site wide = site_empty(f);
            struct site narrow = site_empty(f);
            struct ring box = box_ring(f->arena, 0, 0, 100, 24 + off[i]);
            struct roof *roof = zoned(&wide, ring_moved(f->arena, box, 0.3 * turn, 5, 6));

            assert_areas(roof, areas_from(2400, 80, 88 * 12, 0), 0.11);
            assert_int_equal(roof->zone_count, 3);
            box = box_ring(f->arena, 0, 0, 100, 12 + off[i]);
            roof = zoned(&narrow, ring_moved(f->arena, box, 0.3 * turn, 5, 6));
            assert_areas(roof, areas_from(1200, 80, 0, 0), 0.11);
            assert_int_equal(roof->zone_count, 2);
        }
}

static void narrow_interiors_are_kept(void **state)
{
    struct fixture *f = *state;
    struct site site = site_empty(f);
    struct roof *roof = zoned(&site, box_ring(f->arena, 0, 0, 100, 24.002));

    near(zone_area(roof, ZONE_INTERIOR), 76 * 0.002, 1e-4);
}

/* ---- Holes ------------------------------------- */

/* A roof of 100 m by 80 m with a hole in its middle. */
static struct roof *holed(struct site *site, double width, double height,
                          enum hole_kind given)
{
    struct fixture *f = site->f;
    struct zoning_settings settings = settings_of("asce7-22");
    struct ring rings[] = {
        box_ring(f->arena, -50, -40, 100, 80),
        ring_turned_round(f->arena,
                          box_ring(f->arena, -width / 2, -height / 2, width, height)),
    };
    struct roof *roof = site_add(site, region_made(f->arena, rings, 2), h);

    roof->given.holes = given;
    site_zone(site, &settings);
    return roof;
}

static void as_court(struct fixture *f, double width, double height, enum hole_kind given)
{
    struct site site = site_empty(f);
    struct roof *roof = holed(&site, width, height, given);
    double whole = 8000 - width * height;
    double inside = 88 * 68 - (width + 12) * (height + 12);
    double core = 76 * 56 - (width + 24) * (height + 24);

    assert_areas(roof, areas_from(whole, 80, inside, core), 1e-3);
    near(roof->edge_length, 360 + 2 * (width + height), 1e-6);
    near(roof->inner_length, 0, 1e-6);
    assert_int_equal(roof->corners, 4);
    assert_int_equal(roof_assumes(roof, ASSUME_HOLES), given == HOLES_NOT_GIVEN);
}

static void as_opening(struct fixture *f, double width, double height,
                       enum hole_kind given)
{
    struct site site = site_empty(f);
    struct roof *roof = holed(&site, width, height, given);
    double hole = width * height;

    assert_areas(roof, areas_from(8000 - hole, 80, 88 * 68 - hole, 76 * 56 - hole), 1e-3);
    near(roof->edge_length, 360, 1e-6);
    near(roof->inner_length, 2 * (width + height), 1e-6);
    assert_int_equal(roof->corners, 4);
    assert_int_equal(roof_assumes(roof, ASSUME_HOLES), given == HOLES_NOT_GIVEN);
}

static void courts_are_free_edges_and_openings_are_not(void **state)
{
    struct fixture *f = *state;

    as_court(f, 20, 16, HOLES_NOT_GIVEN);
    as_court(f, 20, 16, HOLES_COURT);
    as_opening(f, 20, 16, HOLES_PENTHOUSE);
    as_opening(f, 5, 5, HOLES_NOT_GIVEN);
    as_court(f, 5, 5, HOLES_COURT);
    as_opening(f, 1, 1, HOLES_PENTHOUSE);
}

/* Under 30 m2 or under 3 m wide: an opening; neither: a court. */
static void the_limits_of_openings(void **state)
{
    struct fixture *f = *state;

    as_opening(f, 5, 5.99, HOLES_NOT_GIVEN);
    as_court(f, 5, 6.01, HOLES_NOT_GIVEN);
    as_opening(f, 20, 2.99, HOLES_NOT_GIVEN);
    as_court(f, 20, 3.01, HOLES_NOT_GIVEN);
}

/* ---- Many parts, missing facets ------------------------------------- */

static void parts_are_zoned_each(void **state)
{
    struct fixture *f = *state;
    struct site site = site_empty(f);
    struct zoning_settings settings = settings_of("asce7-22");
    struct ring shells[] = {box_ring(f->arena, 0, 0, 60, 30),
                            box_ring(f->arena, 100, 50, 40, 40)};
    struct roof *roof = site_add(&site, region_parts(f->arena, shells, 2), h);

    site_zone(&site, &settings);
    assert_areas(roof, areas_from(3400, 160, 48 * 18 + 28 * 28, 36 * 6 + 16 * 16), 1e-3);
    near(roof->level.least_dimension, 40, 1e-9);
    near(roof->edge_length, 340, 1e-6);
    assert_int_equal(roof->corners, 8);
}

static void roofs_without_height_or_outline_are_passed_over(void **state)
{
    struct fixture *f = *state;
    struct site site = site_empty(f);
    struct zoning_settings settings = zoning_defaults();

    site_ring(&site, box_ring(f->arena, 0, 0, 60, 30), NAN);
    site_ring(&site, box_ring(f->arena, 60, 0, 60, 30), 10)->whole = false;
    site_ring(&site, box_ring(f->arena, 120, 0, 60, 30), 10);
    site_zone(&site, &settings);
    assert_false(site.roofs[0].zoned);
    assert_false(site.roofs[1].zoned);
    assert_int_equal(site.roofs[0].zone_count, 0);
    assert_true(site.roofs[2].zoned);
    assert_null(site.roofs[0].problems);
}

/* ---- Jogs ------------------------------------- */

/* A jog of 0.4 m is no corner, unless the tolerance says so; the strips follow it. */
static void jogs_are_no_corners(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{0, 0}, {40, 0}, {40, 0.4}, {80, 0.4}, {80, 40}, {0, 40}};

    for (int strict = 0; strict < 2; strict++) {
        struct site site = site_empty(f);
        struct zoning_settings settings = settings_of("asce7-22");
        struct roof *roof = site_ring(&site, ring_made(f->arena, xy), h);
        double area = 3200 - 16;

        settings.jog_tolerance = strict ? 0.1 : 1.0;
        site_zone(&site, &settings);
        assert_int_equal(roof->corners, strict ? 5 : 4);
        assert_int_equal(roof_assumes(roof, ASSUME_REENTRANT), strict);
        near(area - zone_area(roof, ZONE_CORNER) - zone_area(roof, ZONE_PERIMETER),
             left_inside(area, 240, 6), 1e-3);
        near(zone_area(roof, ZONE_INTERIOR), left_inside(area, 240, 12), 1e-3);
        if (!strict)
            near(zone_area(roof, ZONE_CORNER), 80, 0.5);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(outlines_of_right_angles),
        geometry_test(reentrant_vertices_may_be_corners),
        geometry_test(labels_are_the_standards_own),
        geometry_test(acute_and_obtuse_corners),
        geometry_test(polygons_up_to_the_octagon_have_corners),
        geometry_test(round_roofs_have_rings_alone),
        geometry_test(narrow_roofs_have_no_field),
        geometry_test(tiny_roofs_are_corner_alone),
        geometry_test(slivers_join_their_neighbours),
        geometry_test(narrow_interiors_are_kept),
        geometry_test(courts_are_free_edges_and_openings_are_not),
        geometry_test(the_limits_of_openings),
        geometry_test(parts_are_zoned_each),
        geometry_test(roofs_without_height_or_outline_are_passed_over),
        geometry_test(jogs_are_no_corners),
    };

    return cmocka_run_group_tests_name("zoning/zoning", tests, NULL, NULL);
}
