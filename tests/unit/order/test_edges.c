/* What edges take, counted on paper. */

#include "bill_site.h"

/* What an amount of an item was taken from, in words. */
static const char *taken_from(const struct bill *bill, enum item_use use, double measure)
{
    for (size_t i = 0; i < bill->taking_count; i++)
        if (bill->takings[i].use == use && bill->takings[i].measure == measure)
            return bill->takings[i].per;
    return "nothing";
}

static void test_metal(void **state)
{
    struct site *site = *state;
    struct bill bill;

    rectangle(site);
    site->sums[0].convex = 4;
    site->sums[0].reentrant = 1;
    bill = count(site);
    near(need(&bill, USE_EDGE_METAL)->net, 391 * FT);
    near(need(&bill, USE_EDGE_SCREW)->net, 3 * 391);
    near(need(&bill, USE_STRIP_IN)->net, 391 * FT);
    near(need(&bill, USE_EDGE_CORNER)->net, 5);
    assert_string_equal(taken_from(&bill, USE_EDGE_CORNER, 4), "convex corners");
    assert_string_equal(taken_from(&bill, USE_EDGE_CORNER, 1), "re-entrant corner");
    /* 2 in of boards: two courses of 1-1/2 in */
    near(need(&bill, USE_NAILER)->net, 2 * 391 * FT);
    near(need(&bill, USE_NAILER_SCREW)->net, 2 * 391);
    assert_string_equal(need(&bill, USE_NAILER)->note, "2 courses on each other");
    for (int use = USE_MASTIC; use <= USE_COPING_CORNER; use++)
        assert_null(find(&bill, (enum item_use)use));
    assert_null(find(&bill, USE_GUTTER));
}

static void test_courses(void **state)
{
    static const double stacks[][2] = {{0, 1}, {0.5, 1}, {1.5, 1}, {1.6, 2},
                                       {3, 2}, {4, 3},   {7.5, 5}};
    struct site *site = *state;

    for (size_t i = 0; i < sizeof stacks / sizeof stacks[0]; i++) {
        struct bill bill;

        rectangle(site);
        site->roof.given.stack = stacks[i][0] * M_PER_IN;
        bill = count(site);
        near(need(&bill, USE_NAILER)->net, stacks[i][1] * 391 * FT);
    }
}

/* 9,550 ft2: one downspout for each 2,000, so five. */
static void test_gutter(void **state)
{
    struct site *site = *state;
    struct bill bill;

    rectangle(site);
    site->sums[0].kind = EDGE_GUTTER;
    bill = count(site);
    near(need(&bill, USE_EDGE_METAL)->net, 391 * FT);
    near(need(&bill, USE_GUTTER)->net, 391 * FT);
    near(need(&bill, USE_HANGER)->net, 196);
    near(need(&bill, USE_DOWNSPOUT)->net, 5);
}

/* 3 ft up, 8 in over the top, 6 in onto the field; around openings 8 in up and 6 in. */
static void test_parapet_and_curb(void **state)
{
    struct site *site = *state;
    double girth = 391 * (3 + 8 / 12.0), curb = 20 * 8 / 12.0;
    struct bill bill;

    rectangle(site);
    edges(site, EDGE_PARAPET, 391 * FT, 3 * FT);
    site->sums[0].convex = 4;
    site->sums[1] = (struct edge_sum){.kind = EDGE_CURB,
                                      .length = 20 * FT,
                                      .height = NAN,
                                      .thickness = NAN,
                                      .reentrant = 4};
    site->roof.edge_sum_count = 2;
    bill = count(site);
    near(need(&bill, USE_FLASHING)->net, (girth + curb + 411 * 0.5) * FT2);
    near(need(&bill, USE_PRIMER)->net, (girth + curb + 411 * 0.5) * FT2);
    near(need(&bill, USE_FLASHING_GLUE)->net, 2 * (girth + curb) * FT2);
    near(need(&bill, USE_COPING)->net, 391 * FT);
    assert_string_equal(need(&bill, USE_COPING)->note,
                        "for a parapet 8 in (203 mm) thick, assumed");
    near(need(&bill, USE_COPING_CORNER)->net, 4);
    near(need(&bill, USE_CORNER_IN)->net, 4);
    near(need(&bill, USE_CORNER_OUT)->net, 4);
    near(need(&bill, USE_BAR)->net, 20 * FT);
    site->sums[0].ends = 3; /* one of them at a wall: coping has no corner there */
    site->sums[0].ends_at_walls = 1;
    bill = count(site);
    near(need(&bill, USE_CORNER_IN)->net, 4 + 1);
    near(need(&bill, USE_CORNER_OUT)->net, 4 + 3);
    near(need(&bill, USE_COPING_CORNER)->net, 4);
    assert_null(find(&bill, USE_COUNTERFLASHING));
    assert_null(find(&bill, USE_EDGE_METAL));
    assert_null(find(&bill, USE_NAILER));

    site->sums[0].height = 0.1; /* flashing still goes 8 in up */
    site->sums[0].thickness = site->roof.given.parapet_thickness = 1 * FT;
    bill = count(site);
    near(need(&bill, USE_FLASHING)->net,
         (391 * (8 / 12.0 + 1 + 0.5) + 20 * (8 / 12.0 + 0.5)) * FT2);
    assert_string_equal(need(&bill, USE_COPING)->note,
                        "for a parapet 12 in (305 mm) thick");
}

/* However high the wall, flashing goes 8 in up. */
static void test_wall(void **state)
{
    struct site *site = *state;
    struct bill bill;

    rectangle(site);
    edges(site, EDGE_WALL, 100.5 * FT, 16 * FT);
    bill = count(site);
    near(need(&bill, USE_FLASHING)->net, 100.5 * 14 / 12 * FT2);
    near(need(&bill, USE_FLASHING_GLUE)->net, 2 * 100.5 * 8 / 12 * FT2);
    near(need(&bill, USE_MASTIC)->net, 100.5 * FT);
    near(need(&bill, USE_BAR)->net, 100.5 * FT);
    near(need(&bill, USE_BAR_SCREW)->net, 101);
    near(need(&bill, USE_CAULK)->net, 100.5 * FT);
    near(need(&bill, USE_COUNTERFLASHING)->net, 100.5 * FT);
    assert_null(find(&bill, USE_COPING));
}

/* One cover for two sections: each counts half of it. */
static void test_joint(void **state)
{
    struct site *site = *state;
    struct bill bill;

    rectangle(site);
    edges(site, EDGE_JOINT, 80 * FT, NAN);
    bill = count(site);
    near(need(&bill, USE_JOINT_COVER)->net, 40 * FT);
    near(need(&bill, USE_STRIP_IN)->net, 80 * FT);
    assert_null(find(&bill, USE_NAILER));
}

/* Two curbs of 4 x 6 ft, one 14 in high, the other 3 in: flashing still goes 8 in up. */
static void test_curbs_on_the_roof(void **state)
{
    struct site *site = *state;
    struct point points[4];
    struct fixture curbs[4] = {{.kind = FIXTURE_CURB, .height = 14 * M_PER_IN},
                               {.kind = FIXTURE_UNIT, .height = 3 * M_PER_IN},
                               {.kind = FIXTURE_HATCH, .height = NAN},
                               {.kind = FIXTURE_PIPE, .height = NAN}};
    struct bill bill;

    rectangle(site);
    site->roof.edge_sum_count = 0;
    square(points, 6 * FT, 4 * FT);
    curbs[0].footprint = curbs[1].footprint = (struct ring){points, 4};
    curbs[3].footprint = (struct ring){points, 4}; /* it gets a boot instead */
    site->roof.fixtures = curbs;
    site->roof.fixture_count = 4;
    bill = count(site);
    near(need(&bill, USE_FLASHING)->net, 20 * ((14 + 6 + 8 + 6) / 12.0) * FT2);
    near(need(&bill, USE_CORNER_OUT)->net, 8);
    assert_null(find(&bill, USE_CORNER_IN));
    near(need(&bill, USE_BAR)->net, 40 * FT);
    near(need(&bill, USE_BOOT)->net, 1);
    assert_true(isnan(need(&bill, USE_SUMP)->net)); /* drains aren't known */
}

/* What is placed counts, and not the column; each for its own. */
static void test_placed_drains(void **state)
{
    struct site *site = *state;
    struct fixture placed[] = {
        {.kind = FIXTURE_DRAIN}, {.kind = FIXTURE_DRAIN}, {.kind = FIXTURE_SCUPPER}};
    struct bill bill;

    rectangle(site);
    site->roof.given.drains = 5;
    site->roof.given.penetrations = 7;
    site->roof.fixtures = placed;
    site->roof.fixture_count = 2;
    bill = count(site);
    near(need(&bill, USE_SUMP)->net, 2);
    near(need(&bill, USE_TARGET)->net, 2);
    near(need(&bill, USE_BOOT)->net, 7);
    assert_null(find(&bill, USE_SCUPPER));
}

/* A scupper takes a box of its own, and neither the patch nor the sump of a drain; of an
 * older table of items, which hasn't got it, one that is in no pack. */
static void test_placed_scuppers(void **state)
{
    struct site *site = *state;
    struct fixture placed[] = {
        {.kind = FIXTURE_SCUPPER}, {.kind = FIXTURE_DRAIN}, {.kind = FIXTURE_SCUPPER}};
    struct bill bill;

    rectangle(site);
    site->roof.fixtures = placed;
    site->roof.fixture_count = 3;
    bill = count(site);
    near(need(&bill, USE_SCUPPER)->ordered, 2);
    assert_string_equal(need(&bill, USE_SCUPPER)->item,
                        "scupper box with flange flashing");
    assert_string_equal(need(&bill, USE_SCUPPER)->pack, "piece");
    near(need(&bill, USE_SUMP)->net, 1);
    near(need(&bill, USE_TARGET)->net, 1);
    site->roof.fixture_count = 1;
    bill = count(site);
    near(need(&bill, USE_SCUPPER)->net, 1);
    assert_null(find(&bill, USE_SUMP));
    assert_null(find(&bill, USE_TARGET));
    for (size_t i = 0; i < site->items.count; i++)
        if (site->items.items[i].use == USE_SCUPPER)
            site->items.items[i].decks = 0;
    bill = count(site);
    near(need(&bill, USE_SCUPPER)->ordered, 1);
    assert_null(need(&bill, USE_SCUPPER)->pack);
}

/* A lap of two sheets runs under a curb: a patch where it meets either side. */
static void test_seams_at_a_curb(void **state)
{
    struct site *site = *state;
    struct point points[3][4];
    struct ring rings[3];
    struct polygon polygons[2];
    struct fixture curb = {.kind = FIXTURE_CURB, .height = NAN};
    struct bill bill;

    rectangle(site);
    for (size_t i = 0; i < 2; i++) {
        square(points[i], 20, i ? 5 : 5.15);
        for (size_t k = 0; k < 4 && i; k++)
            points[i][k].y += 5;
        rings[i] = (struct ring){points[i], 4};
        polygons[i] = (struct polygon){&rings[i], 1};
        site->sheets[i].region = (struct region){&polygons[i], 1};
    }
    square(points[2], 2, 3);
    for (size_t k = 0; k < 4; k++) {
        points[2][k].x += 8;
        points[2][k].y += 4;
    }
    curb.footprint = (struct ring){points[2], 4};
    site->roof.fixtures = &curb;
    site->roof.fixture_count = 1;
    bill = count(site);
    near(need(&bill, USE_T_JOINT)->net, 2);
}

/* Two sheets lap 0.5 ft and end at a wall, where their four corners are, two of them at
 * its ends; at the edge metal across they take no patch. */
static void test_seams_at_a_wall(void **state)
{
    struct site *site = *state;
    struct point points[2][4];
    struct ring rings[2];
    struct polygon polygons[2];
    struct edge edge[2];
    struct bill bill;

    rectangle(site);
    for (size_t i = 0; i < 2; i++) {
        square(points[i], 10, i ? 6 : 5.5);
        for (size_t k = 0; k < 4 && i; k++)
            points[i][k].y += 5;
        rings[i] = (struct ring){points[i], 4};
        polygons[i] = (struct polygon){&rings[i], 1};
        site->sheets[i].region = (struct region){&polygons[i], 1};
        edge[i] = (struct edge){.kind = i ? EDGE_METAL : EDGE_WALL,
                                .from = {i ? 0 : 10, i ? 11 : 0},
                                .to = {i ? 0 : 10, i ? 0 : 11}};
    }
    edges(site, EDGE_WALL, 11, NAN);
    site->roof.edges = edge;
    site->roof.edge_count = 2;
    bill = count(site);
    near(need(&bill, USE_T_JOINT)->net, 1);
}

/* What nobody gave and changes an order by much. */
static void test_what_is_assumed(void **state)
{
    static const struct {
        double stack;
        enum existing_kind existing;
        int covers;
        unsigned assumed;
    } cases[] = {{NAN, EXISTING_SMOOTH, 1, ASSUMPTION_BIT(ASSUME_STACK)},
                 {0.1, EXISTING_NOT_GIVEN, MISSING, ASSUMPTION_BIT(ASSUME_COVER)},
                 {0.1, EXISTING_NOT_GIVEN, 0, 0},
                 {0, EXISTING_SMOOTH, MISSING, 0},
                 {NAN, EXISTING_NOT_GIVEN, 2,
                  ASSUMPTION_BIT(ASSUME_STACK) | ASSUMPTION_BIT(ASSUME_COVER)}};
    struct site *site = *state;

    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct building building = {
            .arena = site->catalog.arena, .roofs = &site->roof, .roof_count = 1};

        rectangle(site);
        site->roof.id = "1";
        site->roof.layouts = &site->layout;
        site->roof.layout_count = 1;
        site->roof.assumed = 0;
        site->roof.given.stack = cases[i].stack;
        site->roof.given.existing = cases[i].existing;
        site->roof.given.covers = cases[i].covers;
        assert_int_equal(order_run(&building, &site->settings, NULL), OUTLAY_OK);
        assert_int_equal(site->roof.assumed,
                         cases[i].assumed | ASSUMPTION_BIT(ASSUME_PACKS));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_metal, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_courses, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_gutter, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_parapet_and_curb, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_wall, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_joint, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_curbs_on_the_roof, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_placed_drains, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_placed_scuppers, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_seams_at_a_curb, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_seams_at_a_wall, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_what_is_assumed, set_up, tear_down),
    };

    return cmocka_run_group_tests_name("order/edges", tests, NULL, NULL);
}
