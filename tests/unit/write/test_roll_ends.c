/* Rolls' ends laid out on the sheets. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "write/roll_ends.h"

#define PI 3.14159265358979323846

enum { ENDS_MOST = 8 };

struct found {
    struct roll_end ends[ENDS_MOST];
    int count, stop;
};

static bool keep(void *self, const struct roll_end *end)
{
    struct found *found = self;

    assert_true(found->count < ENDS_MOST);
    found->ends[found->count++] = *end;
    return found->count != found->stop;
}

/* Two sheets of 3 m x 40 m side by side, turned by an angle; the second is cut at a slant
 * and is 30 m long. */
struct laid {
    struct point points[2][4];
    struct ring rings[2];
    struct polygon polygons[2];
    struct sheet sheets[2];
    struct layout layout;
    struct roll_piece pieces[3];
    struct bill bill;
    struct roof roof;
    struct building building;
};

static struct point turned(double x, double y, double angle)
{
    return (struct point){100 + x * cos(angle) - y * sin(angle),
                          x * sin(angle) + y * cos(angle)};
}

static void lay(struct laid *laid, double angle)
{
    const double corners[2][4][2] = {{{0, 0}, {40, 0}, {40, 3}, {0, 3}},
                                     {{0, 3}, {30, 3}, {27, 6}, {0, 6}}};

    *laid = (struct laid){
        .layout = {.bearing = angle, .sheets = laid->sheets, .sheet_count = 2}};
    for (int i = 0; i < 2; i++) {
        for (int k = 0; k < 4; k++)
            laid->points[i][k] = turned(corners[i][k][0], corners[i][k][1], angle);
        laid->rings[i] = (struct ring){laid->points[i], 4};
        laid->polygons[i] = (struct polygon){&laid->rings[i], 1};
        laid->sheets[i] = (struct sheet){.number = 2 - i, /* not in their order */
                                         .region = {&laid->polygons[i], 1},
                                         .width = 3,
                                         .length = i ? 30 : 40};
    }
    /* 16 + 14 + 10.2 m with laps of 0.1 m are 40 m; the other is ripped beside it. */
    for (int i = 0; i < 3; i++)
        laid->pieces[i] = (struct roll_piece){.roll = 5 + i,
                                              .sheet = 2,
                                              .beside = 1,
                                              .beside_length = 30,
                                              .part = 3 - i, /* nor these */
                                              .parts = 3};
    laid->pieces[2].length = 16;
    laid->pieces[1].length = 14;
    laid->pieces[0].length = 10.2;
    laid->bill = (struct bill){.pieces = laid->pieces, .piece_count = 3};
    laid->roof = (struct roof){
        .id = "whole", .layouts = &laid->layout, .bills = &laid->bill, .layout_count = 1};
    laid->building = (struct building){.roofs = &laid->roof, .roof_count = 1};
}

static bool walk(struct laid *laid, struct found *found)
{
    return roll_ends_walk(&laid->building, &laid->roof, &laid->layout, keep, found);
}

static void expect(const struct roll_end *end, double angle, double x, double low,
                   double high)
{
    struct point from = turned(x, low, angle), to = turned(x, high, angle);

    assert_true(point_distance(end->from, from) < 1e-9);
    assert_true(point_distance(end->to, to) < 1e-9);
}

static void test_ends(void **state)
{
    (void)state;
    for (double angle = -1; angle < 7; angle += 0.5) {
        struct laid laid;
        struct found found = {0};

        lay(&laid, angle);
        assert_true(walk(&laid, &found));
        /* Of the shorter one the second end at 29.85 m lies in its cut-off tip. */
        assert_int_equal(found.count, 4);
        expect(&found.ends[0], angle, 15.95, 0, 3);
        expect(&found.ends[1], angle, 29.85, 0, 3);
        expect(&found.ends[2], angle, 15.95, 3, 6);
        expect(&found.ends[3], angle, 29.85, 3, 3.15);
        assert_int_equal(found.ends[1].sheet, 2);
        assert_int_equal(found.ends[1].part, 2);
        assert_int_equal(found.ends[1].roll, 6);
        assert_int_equal(found.ends[1].next_roll, 5);
        assert_true(fabs(found.ends[1].lap - 0.1) < 1e-9);
        assert_int_equal(found.ends[2].sheet, 1);
    }
}

/* Half sheets in a frame run along edges of their own. */
static void test_a_sheet_across(void **state)
{
    struct laid laid;
    struct found found = {0};

    (void)state;
    lay(&laid, 0);
    laid.layout.bearing = PI / 2;
    assert_true(walk(&laid, &found));
    assert_int_equal(found.count, 4);
    assert_true(fabs(found.ends[0].from.x - found.ends[0].to.x) < 1e-9);
}

/* What isn't as long as the list says has no place for an end. */
static void test_another_length(void **state)
{
    struct laid laid;
    struct found found = {0};

    (void)state;
    lay(&laid, 0);
    laid.sheets[0].length = 39;
    laid.sheets[1].length = 29;
    assert_true(walk(&laid, &found));
    assert_int_equal(found.count, 0);
}

/* A section's half of one sheet, as a layout of its own. */
struct half {
    struct point points[4];
    struct ring ring;
    struct polygon polygon;
    struct sheet sheet;
    struct layout layout;
    struct bill bill;
};

/* A sheet of 3 m x 40 m that one section cuts, of 16, 14 and 10.2 m. A slanting line
 * parts it from 20 to 32 m: an end at 29.85 m lies on both, one at 15.95 m on one. */
static void test_a_sheet_of_two_sections(void **state)
{
    const double corners[2][4][2] = {{{0, 0}, {20, 0}, {32, 3}, {0, 3}},
                                     {{20, 0}, {40, 0}, {40, 3}, {32, 3}}};
    struct roll_piece pieces[3] = {{.length = 16}, {.length = 14}, {.length = 10.2}};
    struct half halves[2];
    struct roof roofs[] = {{.id = "west", .section_group = 1, .layout_count = 1},
                           {.id = "east", .section_group = 1, .layout_count = 1}};
    const struct building building = {.roofs = roofs, .roof_count = 2};

    (void)state;
    for (int i = 0; i < 2; i++) {
        struct half *half = &halves[i];

        for (int k = 0; k < 4; k++)
            half->points[k] = turned(corners[i][k][0], corners[i][k][1], 0.7);
        half->ring = (struct ring){half->points, 4};
        half->polygon = (struct polygon){&half->ring, 1};
        half->sheet = (struct sheet){.number = 9,
                                     .region = {&half->polygon, 1},
                                     .width = 3,
                                     .length = 40,
                                     .elsewhere = 0.5,
                                     .cut_elsewhere = i == 0};
        half->layout =
            (struct layout){.bearing = 0.7, .sheets = &half->sheet, .sheet_count = 1};
        half->bill = (struct bill){.pieces = pieces, .piece_count = i == 0 ? 0 : 3};
        roofs[i].layouts = &half->layout;
        roofs[i].bills = &half->bill;
    }
    for (int i = 0; i < 3; i++) {
        pieces[i].roll = pieces[i].part = i + 1;
        pieces[i].sheet = 9;
        pieces[i].parts = 3;
    }
    for (int i = 0; i < 2; i++) {
        struct found found = {0};
        const struct roll_end *last = &found.ends[1 - i];

        assert_true(
            roll_ends_walk(&building, &roofs[i], &halves[i].layout, keep, &found));
        assert_int_equal(found.count, 2 - i);
        if (i == 0)
            expect(&found.ends[0], 0.7, 15.95, 0, 3);
        expect(last, 0.7, 29.85, i == 0 ? 9.85 / 4 : 0, i == 0 ? 3 : 9.85 / 4);
        assert_int_equal(last->part, 2);
        assert_string_equal(last->cut_by, "east");
    }
    roofs[0].section_group = 0; /* laid out alone: what the other one cuts isn't its */
    assert_true(roll_ends_walk(&building, &roofs[0], &halves[0].layout, keep,
                               &(struct found){.stop = 1}));
}

static void test_stop(void **state)
{
    struct laid laid;
    struct found found = {.stop = 3};

    (void)state;
    lay(&laid, 0);
    assert_false(walk(&laid, &found));
    assert_int_equal(found.count, 3);
    laid.bill.piece_count = 0;
    assert_true(walk(&laid, &found));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_ends),
        cmocka_unit_test(test_a_sheet_across),
        cmocka_unit_test(test_another_length),
        cmocka_unit_test(test_a_sheet_of_two_sections),
        cmocka_unit_test(test_stop),
    };

    return cmocka_run_group_tests_name("write/roll_ends", tests, NULL, NULL);
}
