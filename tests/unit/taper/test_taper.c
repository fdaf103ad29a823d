/* Distances around what isn't roof, models, panels and contours. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "place.h"

static int set_up(void **state)
{
    static struct place place;

    *state = &place;
    return place_open(&place, 0.6) ? 0 : -1;
}

static int tear_down(void **state)
{
    arena_free(((struct place *)*state)->arena);
    return 0;
}

/* Thickness in inches at a place in feet. */
static void expect_at(const struct place *place, double x, double y, double inches)
{
    double found = place_at(place, x, y) / IN;

    if (fabs(found - inches) > 1e-4)
        fail_msg("at %g, %g: %.6f in, expected %.6f", x, y, found, inches);
}

static void expect_near(double value, double expected)
{
    if (fabs(value - expected) > 1e-6 * fmax(1, fabs(expected)))
        fail_msg("%.9g, expected %.9g", value, expected);
}

/* ---- Distances ---- */

/* From the drain to the far end of the other wing it is 40 ft to the corner's level and
 * on from there; where nothing is in the way it is the larger side. */
static void test_around_a_corner(void **state)
{
    struct place *place = *state;
    const double ell[] = {0, 0, 100, 0, 100, 40, 40, 40, 40, 120, 0, 120};

    place_ring(place, ell, 6);
    place_drain(place, 80, 20);
    assert_true(place_find(place));
    expect_at(place, 60, 30, 0.5 + 20 * 0.25);
    /* Seen from the drain over the corner at (40, 40): 40 ft west of it, 20 ft up. */
    expect_at(place, 30, 45, 0.5 + 50 * 0.25);
    /* Behind the corner: 40 ft to it, 80 ft up from there. */
    expect_at(place, 40, 120, 0.5 + (40 + 80) * 0.25);
    expect_at(place, 0, 120, 0.5 + (40 + 80) * 0.25);
}

/* A wall between drain and place: to one of its ends and back. */
static void test_around_a_wall(void **state)
{
    struct place *place = *state;
    const double wall[] = {50, 10, 50, 90, 52, 90, 52, 10}; /* clockwise: a hole */

    place_rectangle(place, 100, 100);
    place_ring(place, wall, 4);
    place_drain(place, 40, 50);
    assert_true(place_find(place));
    expect_at(place, 45, 50, 0.5 + 5 * 0.25);
    /* 40 ft down to the end of the wall, 2 ft past it, 40 ft up again. */
    expect_at(place, 52.5, 50, 0.5 + (40 + 2 + 40) * 0.25);
    expect_near(place->taper.area, (10000 - 160) * FT * FT);
    assert_true(place->taper.unreached == 0);
}

/* A court that a drain's roof goes around: from both sides alike behind it. */
static void test_around_a_court(void **state)
{
    struct place *place = *state;
    const double court[] = {40, 40, 40, 60, 60, 60, 60, 40};

    place_rectangle(place, 100, 100);
    place_ring(place, court, 4);
    place_drain(place, 20, 50);
    assert_true(place_find(place));
    expect_at(place, 80, 50, 0.5 + 60 * 0.25); /* 45 degrees up, level, down again */
    expect_at(place, 60, 50, 0.5 + (20 + 20 + 10) * 0.25);
    expect_at(place, 60, 55, 0.5 + (20 + 20 + 5) * 0.25);
}

static void test_unreached(void **state)
{
    struct place *place = *state;
    const double right[] = {200, 0, 250, 0, 250, 50, 200, 50};
    struct polygon both[2];

    place_rectangle(place, 100, 100);
    place_ring(place, right, 4);
    both[0] = (struct polygon){&place->rings[0], 1};
    both[1] = (struct polygon){&place->rings[1], 1};
    place->outline = (struct region){both, 2};
    place_drain(place, 50, 50);
    assert_true(place_find(place));
    expect_near(place->taper.area, 10000 * FT * FT);
    expect_near(place->taper.unreached, 2500 * FT * FT);
    expect_near(taper_mean(&place->taper) / IN, 0.5 + 12.5 * 2 / 3);
}

/* What drains a place is the nearer drain, as far as it is from there; a drain that was
 * set beside the roof counts at its edge. */
static void test_several_drains(void **state)
{
    struct place *place = *state;

    place_rectangle(place, 100, 100);
    place_drain(place, 25, 30);
    place_drain(place, 75, 60);
    place_drain(place, 50, 101);
    assert_true(place_find(place));
    assert_int_equal(place->taper.model, TAPER_FOUR_WAY);
    expect_at(place, 25, 30, 0.5);
    expect_at(place, 50, 100, 0.5);
    expect_at(place, 60, 95, 0.5 + 10 * 0.25);
    expect_at(place, 100, 0, 0.5 + 60 * 0.25);
    expect_at(place, 45, 40, 0.5 + 20 * 0.25);
}

/* A scupper on the outline drains the roof, also where a side runs askew by a hair. */
static void test_on_the_outline(void **state)
{
    static const double at[][2] = {{30, 0}, {100, 47}, {61, 80.00018}, {0, 13}, {0, 0}};
    const double askew[] = {0, 0, 100, 0, 100, 80.0003, 0, 80};
    struct place *place = *state;

    for (size_t i = 0; i < sizeof at / sizeof at[0]; i++) {
        arena_free(place->arena);
        assert_true(place_open(place, 0.6));
        place_ring(place, askew, 4);
        place_drain(place, at[i][0], at[i][1]);
        assert_true(place_find(place));
        assert_true(place->taper.unreached == 0);
        expect_at(place, 50, 40,
                  0.5 + fmax(fabs(50 - at[i][0]), fabs(40 - at[i][1])) * 0.25);
    }
}

/* A drain level with a jog whose side is askew by a hair lights no more than its end:
 * nothing there is as far as from the other drain. Metres. */
static void test_level_with_a_jog(void **state)
{
    struct place *place = *state;
    struct point points[] = {{-33.2233, -22.555},
                             {15.24, -22.555},
                             {15.24, -1.8288},
                             {-12.4968, -1.8286},
                             {-12.4967, 22.5553},
                             {-33.223092096130166, 22.5554},
                             {-33.2231453826826, 10.668224286349329},
                             {-33.527945416251931, 10.668225716860803},
                             {-33.528040902892862, -10.667774248806921},
                             {-33.223240988532815, -10.667775679318396}};
    struct ring ring = {points, 10};
    struct polygon polygon = {&ring, 1};

    place->outline = (struct region){&polygon, 1};
    place->bearing = 1.5707963267948966;
    place->drains[0] = (struct point){-4.7776999855253521e-05, -12.191924510502865};
    place->drains[1] = (struct point){-22.859945392822627, 10.668177872034374};
    place->drain_count = 2;
    assert_true(place_find(place));
    for (size_t i = 0; i < place->taper.cell_count; i++)
        for (size_t k = 0; k < place->taper.cells[i].ring.count; k++)
            if (place->taper.cells[i].ring.points[k].y > 10.668)
                assert_true(taper_thickness_in(&place->taper.cells[i],
                                               place->taper.cells[i].ring.points[k]) <
                            11 * IN);
}

/* The directions are those of the boards, whatever the outline's are. */
static void test_bearing(void **state)
{
    struct place *place = *state;

    place->bearing += 0.785398163397448;
    place_rectangle(place, 100, 100);
    place_drain(place, 50, 50);
    assert_true(place_find(place));
    expect_at(place, 100, 50, 0.5 + 50 * 0.25 * 0.70710678118655);
    expect_at(place, 100, 100, 0.5 + 50 * 0.25 * 1.4142135623731);
}

/* ---- Models ---- */

static void test_model_by_drains(void **state)
{
    struct place *place = *state;

    place_rectangle(place, 200, 60);
    place_drain(place, 50, 28.5);
    place_drain(place, 150, 31.5); /* within a board of a line */
    assert_true(place_find(place));
    assert_int_equal(place->taper.model, TAPER_TWO_WAY);
    expect_at(place, 50, 30, 0.5); /* the line is midway */
    expect_at(place, 50, 60, 0.5 + 30 * 0.25);
    place->drains[1] = place_point(place, 150, 33);
    assert_true(place_find(place));
    assert_int_equal(place->taper.model, TAPER_FOUR_WAY);
    place->settings.model = TAPER_TWO_WAY; /* two lines now */
    assert_true(place_find(place));
    assert_int_equal(place->taper.model, TAPER_TWO_WAY);
    expect_at(place, 50, 28.5, 0.5);
    expect_at(place, 150, 33, 0.5);
    expect_at(place, 150, 60, 0.5 + 27 * 0.25);
    expect_at(place, 50, 60, 0.5 + (27 + 100 - 2 * 27) * 0.25); /* on its cricket */
}

/* Along the short side the axes turn; a line of scuppers in a wall has one side. */
static void test_lines_elsewhere(void **state)
{
    struct place *place = *state;

    place_rectangle(place, 60, 200);
    place_drain(place, 30, 50);
    place_drain(place, 30, 150);
    assert_true(place_find(place));
    assert_int_equal(place->taper.model, TAPER_TWO_WAY);
    expect_at(place, 0, 50, 0.5 + 30 * 0.25);
    expect_at(place, 30, 100, 0.5 + 50 * 0.25); /* ridge of the cricket */
    place->drains[0] = place_point(place, 0, 50);
    place->drains[1] = place_point(place, 0.02, 150);
    assert_true(place_find(place));
    expect_at(place, 60, 50, 0.5 + 59.99 * 0.25);
    assert_int_equal(place->taper.cricket_count, 3);
}

/* A penthouse on the line parts it: no cricket in its shadow; each part has drains. */
static void test_line_parted(void **state)
{
    struct place *place = *state;
    const double house[] = {90, 20, 90, 40, 110, 40, 110, 20};

    place_rectangle(place, 200, 60);
    place_ring(place, house, 4);
    place_drain(place, 45, 30);
    place_drain(place, 155, 30);
    assert_true(place_find(place));
    assert_int_equal(place->taper.cricket_count,
                     4); /* two walls, two sides of the house */
    expect_at(place, 45, 60, 0.5 + 30 * 0.25);
    /* Past the corner of the house, 10 ft above the line: 30 - 10 on from there. */
    expect_at(place, 100, 60, 0.5 + 30 * 0.25);
    expect_near(place->taper.area, (12000 - 400) * FT * FT);
}

/* ---- Panels ---- */

static double sum_panels(const struct taper *taper, const char *letter, int fill,
                         size_t *whole)
{
    double sum = 0;

    for (size_t i = 0; i < taper->panel_count; i++)
        if (strcmp(taper->panels[i].letter, letter) == 0 &&
            (fill < 0 || taper->panels[i].fill == fill)) {
            sum += taper->panels[i].area;
            *whole += taper->panels[i].whole;
        }
    return sum / (FT * FT);
}

/* Rings of 4 ft around the drain: the first holds 64 ft2, the n-th 64 (2 n - 1); each has
 * 8 panels cut along the valleys, none of the first is whole. The 13th is 2 ft wide. */
static void test_panels_four_way(void **state)
{
    struct place *place = *state;
    const struct taper *taper = &place->taper;
    size_t whole = 0;

    place_rectangle(place, 100, 100);
    place_drain(place, 50, 50);
    assert_true(place_find(place));
    expect_near(sum_panels(taper, "G", 0, &whole), 64);
    assert_int_equal(whole, 0);
    expect_near(sum_panels(taper, "H", 0, &whole), 192);
    assert_int_equal(whole, 8);
    expect_near(sum_panels(taper, "G", 1, &whole), 320);
    expect_near(sum_panels(taper, "G", 6, &whole), 10000 - 96 * 96);
    whole = 0;
    sum_panels(taper, "G", -1, &whole);
    sum_panels(taper, "H", -1, &whole);
    assert_int_equal(whole, 8 * (0 + 1 + 2 + 3 + 4 + 5 + 6 + 7 + 8 + 9 + 10 + 11));
    assert_null(taper->panels_lacking);
    assert_true(fabs(taper->format.fill - 2 * IN) < 1e-9);
}

/* Fill lies in squares of 4 ft, one layer from 8 ft on, two from 16, three from 24; also
 * where a valley cuts the panels above it. The third layer is 1 ft wide. */
static void test_fill_across_valleys(void **state)
{
    struct place *place = *state;
    const struct taper *taper = &place->taper;
    double area[4] = {0};
    size_t whole[4] = {0}, cut[4] = {0};

    place_rectangle(place, 50, 50);
    place_drain(place, 25, 25);
    assert_true(place_find(place));
    for (size_t i = 0; i < taper->fill_count; i++) {
        const struct taper_panel *fill = &taper->fills[i];

        assert_in_range(fill->fill, 1, 3);
        area[fill->fill] += fill->area / (FT * FT);
        whole[fill->fill] += fill->whole;
        cut[fill->fill] += !fill->whole;
    }
    expect_near(area[1], 32 * 32 - 16 * 16);
    expect_near(area[2], 48 * 48 - 32 * 32);
    expect_near(area[3], 50 * 50 - 48 * 48);
    assert_int_equal(whole[1], 8 * 8 - 4 * 4);
    assert_int_equal(whole[2], 12 * 12 - 8 * 8);
    assert_int_equal(whole[3], 0);
    assert_int_equal(cut[1] + cut[2], 0);
    assert_int_equal(cut[3], 4 * 12 + 4);
}

/* Crickets by thickness: between two drains 60 ft apart one of 900 ft2 in all, of which
 * the panels of 4 ft up to 4 in take what is x - 2 y <= 8 ft. */
static void test_panels_two_way(void **state)
{
    struct place *place = *state;
    const struct taper *taper = &place->taper;
    double sum = 0;
    size_t whole = 0;

    place_rectangle(place, 60, 60);
    place_drain(place, 0, 30);
    place_drain(place, 60, 30);
    assert_true(place_find(place));
    assert_int_equal(taper->model, TAPER_TWO_WAY);
    for (size_t i = 0; i < taper->panel_count; i++)
        sum += taper->panels[i].cricket ? taper->panels[i].area : 0;
    expect_near(sum / (FT * FT), 900);
    expect_near(taper->cricket_area / (FT * FT), 900);
    /* A half holds 30 x 15 / 2, of it x - 2 y > 8: 22 x 11 / 2. */
    expect_near(sum_panels(taper, "L", 0, &whole), 900 - 4 * 22 * 11 / 2.0);
    expect_near(sum_panels(taper, "G", -1, &whole) + sum_panels(taper, "H", -1, &whole),
                3600);
    assert_int_equal(whole, 3600 / 16 - 15); /* 7 rows of whole panels on each side */
}

static void test_panels_lacking(void **state)
{
    struct place *place = *state;

    place_rectangle(place, 100, 100);
    place_drain(place, 50, 50);
    place->slope = 0.02345;
    assert_true(place_find(place));
    assert_non_null(strstr(place->taper.panels_lacking, "of this slope"));
    assert_int_equal(place->taper.panel_count, 0);
    expect_near(place->taper.most, 0.5 * IN + 50 * FT * 0.02345);
    place->slope = 0.25 / 12;
    place->settings.least = 1.5 * IN; /* begins with the second panel */
    assert_true(place_find(place));
    assert_null(place->taper.panels_lacking);
    assert_string_equal(place->taper.panels[0].letter, "H");
    place->settings.least = 1 * IN;
    assert_true(place_find(place));
    assert_non_null(strstr(place->taper.panels_lacking, "least thickness"));
}

/* ---- Contours ---- */

/* One ring of four lines an inch, each as long as its square: 8 ft an inch times 4. */
static void test_contours(void **state)
{
    struct place *place = *state;
    const struct taper *taper = &place->taper;

    place_rectangle(place, 100, 100);
    place_drain(place, 50, 50);
    assert_true(place_find(place));
    assert_int_equal(taper->contour_count, 4 * 12);
    for (size_t i = 0; i < taper->contour_count; i++) {
        const struct taper_contour *contour = &taper->contours[i];

        expect_near(point_distance(contour->from, contour->to) / FT,
                    8 * (contour->thickness / IN - 0.5));
        expect_near(taper_at(taper, contour->from), contour->thickness);
    }
}

int main(void)
{
#define TEST(name) cmocka_unit_test_setup_teardown(name, set_up, tear_down)
    const struct CMUnitTest tests[] = {
        TEST(test_around_a_corner),     TEST(test_around_a_wall),
        TEST(test_around_a_court),      TEST(test_unreached),
        TEST(test_several_drains),      TEST(test_bearing),
        TEST(test_model_by_drains),     TEST(test_lines_elsewhere),
        TEST(test_line_parted),         TEST(test_panels_four_way),
        TEST(test_fill_across_valleys), TEST(test_panels_two_way),
        TEST(test_panels_lacking),      TEST(test_contours),
        TEST(test_on_the_outline),      TEST(test_level_with_a_jog),
    };

    return cmocka_run_group_tests_name("taper/taper", tests, NULL, NULL);
}
