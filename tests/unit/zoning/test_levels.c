/* Sections of one roof are one surface for the wind: the same zones as if they had been
 * traced as one. h = 10 m: strips 6 m and 12 m, legs 6 m by 2 m. */

#include "site.h"

#include "zoning/levels.h"

static const double h = 10;

static void zone(struct site *site)
{
    struct zoning_settings settings = settings_of("asce7-22");

    site_zone(site, &settings);
}

static size_t level_count(struct site *site)
{
    struct level_outline *levels = NULL;
    size_t count = 0;

    site->building.roofs = site->roofs;
    assert_int_equal(levels_find(&site->building, site->f->ctx, &levels, &count, NULL),
                     OUTLAY_OK);
    return count;
}

static void box(struct site *site, double x, double y, double width, double height,
                double above_grade)
{
    site_ring(site, box_ring(site->f->arena, x, y, width, height), above_grade);
}

/* All zones of all sections add up to those of the whole. */
static void assert_zones_add_up(const struct site *sections, const struct site *whole,
                                double tolerance)
{
    for (int role = 0; role < ZONE_ROLES; role++)
        near(site_area(sections, (enum zone_role)role),
             site_area(whole, (enum zone_role)role), tolerance);
    assert_int_equal(site_corners(sections), site_corners(whole));
}

static void sections_side_by_side_are_one(void **state)
{
    struct fixture *f = *state;
    struct site sections = site_empty(f);
    struct site whole = site_empty(f);

    box(&sections, 0, 0, 30, 50, h);
    box(&sections, 30, 0, 50, 50, h);
    zone(&sections);
    box(&whole, 0, 0, 80, 50, h);
    zone(&whole);
    assert_zones_add_up(&sections, &whole, 1e-3);
    /* a little of the wall between is within reach of the free edge at both ends */
    near(site_edge(&sections), site_edge(&whole), 0.25);
    assert_int_equal(sections.roofs[0].level.index, sections.roofs[1].level.index);
    assert_false(roof_assumes(&sections.roofs[0], ASSUME_STEP));
}

/* Each section has its own share: the left one the left ends of all strips. */
static void sections_get_their_own_share(void **state)
{
    struct fixture *f = *state;
    struct site site = site_empty(f);

    box(&site, 0, 0, 30, 50, h);
    box(&site, 30, 0, 50, 50, h);
    zone(&site);
    assert_areas(&site.roofs[0], areas_from(1500, 40, 24 * 38, 18 * 26), 1e-3);
    assert_areas(&site.roofs[1], areas_from(2500, 40, 44 * 38, 38 * 26), 1e-3);
    assert_int_equal(site.roofs[0].corners, 2);
    assert_int_equal(site.roofs[1].corners, 2);
    near(site.roofs[0].edge_length, 30 + 50 + 30, 0.15);
    near(site.roofs[1].edge_length, 50 + 50 + 50, 0.15);
}

/* Sections of different depth: the whole is an ell, and a corner of the smaller one lies
 * on the wall of the larger. */
static void sections_of_an_ell(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{0, 0}, {100, 0}, {100, 40}, {40, 40}, {40, 100}, {0, 100}};
    struct site sections = site_empty(f);
    struct site whole = site_empty(f);

    box(&sections, 0, 0, 100, 40, h);
    box(&sections, 0, 40, 40, 60, h);
    zone(&sections);
    site_ring(&whole, ring_made(f->arena, xy), h);
    zone(&whole);
    assert_zones_add_up(&sections, &whole, 1e-3);
    near(site_edge(&sections), 400, 0.25);
}

/* Sharp corners stay where they are when outlines are joined. */
static void sections_of_a_sharp_triangle(void **state)
{
    struct fixture *f = *state;
    const double left[][2] = {{0, 0}, {60, 0}, {60, 15}};
    const double right[][2] = {{60, 0}, {120, 0}, {60, 15}};
    const double both[][2] = {{0, 0}, {120, 0}, {60, 15}};
    struct site sections = site_empty(f);
    struct site whole = site_empty(f);

    site_ring(&sections, ring_made(f->arena, left), h);
    site_ring(&sections, ring_made(f->arena, right), h);
    zone(&sections);
    site_ring(&whole, ring_made(f->arena, both), h);
    zone(&whole);
    assert_zones_add_up(&sections, &whole, 1e-3);
}

/* Four sections around a yard: the yard is a court of the level. */
static void sections_around_a_court(void **state)
{
    struct fixture *f = *state;
    struct site sections = site_empty(f);
    struct site whole = site_empty(f);
    struct ring rings[] = {
        box_ring(f->arena, 0, 0, 100, 80),
        ring_turned_round(f->arena, box_ring(f->arena, 40, 30, 20, 20)),
    };

    box(&sections, 0, 0, 100, 30, h);
    box(&sections, 60, 30, 40, 50, h);
    box(&sections, 0, 50, 60, 30, h);
    box(&sections, 0, 30, 40, 20, h);
    zone(&sections);
    site_add(&whole, region_made(f->arena, rings, 2), h);
    zone(&whole);
    assert_zones_add_up(&sections, &whole, 1e-3);
    near(site_edge(&sections), 360 + 80, 0.9);
    for (size_t r = 0; r < 4; r++)
        near(sections.roofs[r].inner_length, 0, 1e-6);
}

/* A section may be a ring around another one: no line between them is an edge. */
static void a_section_in_a_court_of_another(void **state)
{
    struct fixture *f = *state;
    struct site sections = site_empty(f);
    struct site whole = site_empty(f);
    struct ring rings[] = {
        box_ring(f->arena, 0, 0, 100, 80),
        ring_turned_round(f->arena, box_ring(f->arena, 40, 30, 20, 20)),
    };

    site_add(&sections, region_made(f->arena, rings, 2), h);
    box(&sections, 40, 30, 20, 20, h);
    zone(&sections);
    box(&whole, 0, 0, 100, 80, h);
    zone(&whole);
    assert_zones_add_up(&sections, &whole, 1e-3);
    near(sections.roofs[1].edge_length, 0, 0);
    near(sections.roofs[0].edge_length, 360, 1e-3);
}

/* A hole of 20 x 20 m in one of two sections is a penthouse only where both say so, a
 * court where one does; where one is silent it is judged by its size. */
static void one_section_speaks_for_its_own_holes_only(void **state)
{
    struct fixture *f = *state;
    static const struct {
        enum hole_kind first, second;
        bool court, assumed;
    } cases[] = {{HOLES_PENTHOUSE, HOLES_PENTHOUSE, false, false},
                 {HOLES_PENTHOUSE, HOLES_NOT_GIVEN, true, true},
                 {HOLES_NOT_GIVEN, HOLES_PENTHOUSE, true, true},
                 {HOLES_PENTHOUSE, HOLES_COURT, true, false},
                 {HOLES_COURT, HOLES_NOT_GIVEN, true, false}};
    struct ring rings[] = {
        box_ring(f->arena, 0, 0, 100, 80),
        ring_turned_round(f->arena, box_ring(f->arena, 40, 30, 20, 20)),
    };

    for (size_t i = 0; i < LENGTH(cases); i++) {
        struct site site = site_empty(f);

        site_add(&site, region_made(f->arena, rings, 2), h)->given.holes = cases[i].first;
        box(&site, 100, 0, 30, 80, h);
        site.roofs[1].given.holes = cases[i].second;
        zone(&site);
        near(site_edge(&site), 2 * (130 + 80) + (cases[i].court ? 80 : 0), 0.5);
        assert_int_equal(roof_assumes(&site.roofs[0], ASSUME_HOLES), cases[i].assumed);
    }
}

/* The level's height is that of its highest section, whichever is estimated. */
static void an_estimated_section_weakens_its_level(void **state)
{
    struct fixture *f = *state;
    struct site site = site_empty(f);

    box(&site, 0, 0, 40, 50, h);
    box(&site, 40, 0, 40, 50, h);
    box(&site, 90, 0, 40, 50, h);
    site.roofs[1].estimated = site.roofs[2].estimated = 1u << ESTIMATE_HEIGHT;
    zone(&site);
    assert_true(roof_assumes(&site.roofs[0], ASSUME_LEVEL_HEIGHT));
    assert_true(roof_assumes(&site.roofs[1], ASSUME_LEVEL_HEIGHT));
    assert_false(roof_assumes(&site.roofs[2], ASSUME_LEVEL_HEIGHT)); /* alone */
}

/* ---- What makes a level ------------------------------------- */

static void gaps_up_to_30_cm_are_closed(void **state)
{
    struct fixture *f = *state;
    const double gaps[] = {0, 0.1, 0.25, 0.29, 0.31, 0.35, 2};

    for (size_t i = 0; i < LENGTH(gaps); i++) {
        struct site site = site_empty(f);

        box(&site, 0, 0, 30, 50, h);
        box(&site, 30 + gaps[i], 0, 50, 50, h);
        assert_int_equal(level_count(&site), gaps[i] < 0.3 ? 1 : 2);
        zone(&site);
        assert_int_equal(site_corners(&site), gaps[i] < 0.3 ? 4 : 8);
        near(zone_area(&site.roofs[0], ZONE_INTERIOR), gaps[i] < 0.3 ? 18 * 26 : 6 * 26,
             gaps[i] < 0.3 ? 0.01 : 1e-3);
        assert_false(roof_assumes(&site.roofs[0], ASSUME_STEP));
    }
}

static void steps_up_to_3_ft_are_one_level(void **state)
{
    struct fixture *f = *state;
    const double steps[] = {0, 0.5, 0.9, 3 * M_PER_FT, 0.92, 1.0, 5};

    for (size_t i = 0; i < LENGTH(steps); i++) {
        struct site site = site_empty(f);
        bool one = steps[i] < 0.915;

        box(&site, 0, 0, 40, 50, h);
        box(&site, 40, 0, 40, 50, h + steps[i]);
        assert_int_equal(level_count(&site), one ? 1 : 2);
        zone(&site);
        assert_int_equal(site_corners(&site), one ? 4 : 8);
        near(site.roofs[0].level.height, one ? h + steps[i] : h, 1e-12);
        near(site.roofs[1].level.height, h + steps[i], 1e-12);
        assert_int_equal(roof_assumes(&site.roofs[0], ASSUME_STEP), !one);
        assert_int_equal(roof_assumes(&site.roofs[1], ASSUME_STEP), !one);
    }
}

/* The highest of its sections gives the height of a level, wherever it stands. */
static void the_highest_section_counts(void **state)
{
    struct fixture *f = *state;

    for (int highest = 0; highest < 3; highest++) {
        struct site site = site_empty(f);

        for (int r = 0; r < 3; r++)
            box(&site, 40 * r, 0, 40, 50, r == highest ? h + 0.6 : h);
        zone(&site);
        for (int r = 0; r < 3; r++)
            near(site.roofs[r].level.height, h + 0.6, 1e-12);
        near(site.roofs[0].level.perimeter_depth, 0.6 * (h + 0.6), 1e-12);
    }
}

/* At least 1 m in common; the reach of 0.3 m counts on either side. */
static void corners_that_touch_make_no_level(void **state)
{
    struct fixture *f = *state;
    const struct {
        double y;
        bool one;
    } cases[] = {{50, false}, {49.9, false}, {49.7, false}, {48.9, true}, {30, true}};

    for (size_t i = 0; i < LENGTH(cases); i++) {
        struct site site = site_empty(f);

        box(&site, 0, 0, 30, 50, h);
        box(&site, 30, cases[i].y, 50, 50, h);
        assert_int_equal(level_count(&site), cases[i].one ? 1 : 2);
        zone(&site);
        if (!cases[i].one)
            assert_int_equal(site_corners(&site), 8);
    }
}

/* A chain of sections, each near enough to the next: one level. */
static void levels_are_chains(void **state)
{
    struct fixture *f = *state;
    struct site site = site_empty(f);
    struct site whole = site_empty(f);

    box(&site, 60, 0, 30, 50, h);
    box(&site, 0, 0, 30, 50, h);
    box(&site, 30, 0, 30, 50, h);
    assert_int_equal(level_count(&site), 1);
    zone(&site);
    box(&whole, 0, 0, 90, 50, h);
    zone(&whole);
    assert_zones_add_up(&site, &whole, 1e-3);
}

static void roofs_without_height_join_nothing(void **state)
{
    struct fixture *f = *state;
    struct site site = site_empty(f);

    box(&site, 0, 0, 30, 50, h);
    box(&site, 30, 0, 30, 50, NAN);
    box(&site, 60, 0, 30, 50, h);
    assert_int_equal(level_count(&site), 2);
}

static void the_order_of_roofs_does_not_matter(void **state)
{
    struct fixture *f = *state;
    struct site one = site_empty(f);
    struct site other = site_empty(f);

    box(&one, 0, 0, 100, 40, h);
    box(&one, 0, 40, 40, 60, h + 0.5);
    box(&one, 40, 40.2, 30, 30, h);
    box(&one, 100, 0, 30, 30, h + 3);
    for (size_t r = 4; r-- > 0;)
        site_add(&other, one.roofs[r].outline, one.roofs[r].height);
    zone(&one);
    zone(&other);
    for (size_t r = 0; r < 4; r++) {
        for (int role = 0; role < ZONE_ROLES; role++)
            near(zone_area(&one.roofs[r], (enum zone_role)role),
                 zone_area(&other.roofs[3 - r], (enum zone_role)role), 1e-6);
        assert_int_equal(one.roofs[r].corners, other.roofs[3 - r].corners);
        near(one.roofs[r].edge_length, other.roofs[3 - r].edge_length, 1e-6);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(sections_side_by_side_are_one),
        geometry_test(sections_get_their_own_share),
        geometry_test(sections_of_an_ell),
        geometry_test(sections_of_a_sharp_triangle),
        geometry_test(sections_around_a_court),
        geometry_test(a_section_in_a_court_of_another),
        geometry_test(one_section_speaks_for_its_own_holes_only),
        geometry_test(an_estimated_section_weakens_its_level),
        geometry_test(gaps_up_to_30_cm_are_closed),
        geometry_test(steps_up_to_3_ft_are_one_level),
        geometry_test(the_highest_section_counts),
        geometry_test(corners_that_touch_make_no_level),
        geometry_test(levels_are_chains),
        geometry_test(roofs_without_height_join_nothing),
        geometry_test(the_order_of_roofs_does_not_matter),
    };

    return cmocka_run_group_tests_name("zoning/levels", tests, NULL, NULL);
}
