/* No text of a page covers another or leaves the frame, whatever the roof: hard outlines
 * and names through all stages, drawn with both unit systems. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "draw/plan_page.h"
#include "flow/stages.h"

#define PI 3.14159265358979323846
#define POINTS_MOST 400

/* What two boxes may share: roundings of letter forms, pt. */
#define HAIR 0.2

/* An outline in metres, and what is given of the roof. */
struct site {
    struct point points[POINTS_MOST];
    size_t count;
    struct roof roof;
};

static unsigned draw_number(unsigned *state)
{
    *state = *state * 1664525u + 1013904223u;
    return *state >> 8;
}

static double draw_share(unsigned *state)
{
    return draw_number(state) / 16777216.0;
}

static void add(struct site *site, double x, double y)
{
    assert_true(site->count < POINTS_MOST);
    site->points[site->count++] = (struct point){x, y};
}

/* A star with count points whose radius varies between least and most. */
static void make_star(struct site *site, size_t count, double least, double most,
                      unsigned *state)
{
    for (size_t i = 0; i < count; i++) {
        double angle = 2 * PI * (double)i / (double)count;
        double radius = least + (most - least) * draw_share(state);
        add(site, radius * cos(angle), radius * sin(angle));
    }
}

/* A box with teeth on one side. */
static void make_comb(struct site *site, size_t teeth, double pitch, double depth)
{
    double length = (double)teeth * pitch;
    add(site, 0, 0);
    add(site, length, 0);
    for (size_t i = teeth; i > 0; i--) {
        double x = (double)i * pitch;
        add(site, x, 20 + depth);
        add(site, x - pitch / 2, 20 + depth);
        add(site, x - pitch / 2, 20);
        add(site, x - pitch, 20);
    }
}

static void make_box(struct site *site, double width, double height)
{
    add(site, 0, 0);
    add(site, width, 0);
    add(site, width, height);
    add(site, 0, height);
}

static void place(struct site *site, struct arena *arena)
{
    const double lon = -93, lat = 39, radius = 6371000;
    struct roof *roof = &site->roof;
    struct ring *ring = arena_array(arena, 1, sizeof *ring);
    struct polygon *polygon = arena_array(arena, 1, sizeof *polygon);
    ring->points = arena_array(arena, site->count, sizeof *ring->points);
    ring->count = site->count;
    for (size_t i = 0; i < site->count; i++)
        ring->points[i] = (struct point){lon + site->points[i].x / radius /
                                                   cos(lat * PI / 180) * 180 / PI,
                                         lat + site->points[i].y / radius * 180 / PI};
    *polygon = (struct polygon){ring, 1};
    roof->lonlat = (struct region){polygon, 1};
    roof->properties = "";
}

static bool inside(struct area area, struct quad quad)
{
    area.x -= HAIR;
    area.y -= HAIR;
    area.width += 2 * HAIR;
    area.height += 2 * HAIR;
    return area_holds(area, quad);
}

static void assert_legible(const struct plan_page *page)
{
    const struct boxes *boxes = canvas_boxes(page->canvas);
    size_t count = boxes_texts(boxes);
    assert_true(count > 15);
    for (size_t i = 0; i < count; i++) {
        struct quad quad = boxes_text(boxes, i);
        assert_true(inside(page->frame, quad));
        for (size_t j = 0; j < i; j++)
            if (quads_overlap(quad, boxes_text(boxes, j), HAIR))
                fail_msg("roof %.40s: texts %zu and %zu cover each other at %.0f, %.0f",
                         page->roof->id, j, i, quad.corners[0].x, quad.corners[0].y);
    }
}

/* All pages of a roof. @return bits 1u << LAYER_... of what the plan shows */
static unsigned draw(const struct building *building, const struct settings *settings)
{
    const struct paper paper = {1224, 792, CANVAS_FULL, false};
    struct edge_use uses[EDGE_KINDS] = {0};
    struct output *output = NULL;
    struct canvas *canvas = NULL;
    unsigned drawn = 0;
    assert_int_equal(output_open("/dev/null", &output, NULL), OUTLAY_OK);
    assert_int_equal(canvas_new(CANVAS_PDF, &paper, output, &canvas, NULL), OUTLAY_OK);
    edge_uses_add(uses, settings->order.details, settings->order.flashing_height,
                  &building->roofs[0]);
    for (int kind = PAGE_PLAN; kind <= PAGE_DETAILS; kind++) {
        struct plan_page page = {.kind = (enum page_kind)kind,
                                 .canvas = canvas,
                                 .set = &settings->write,
                                 .building = building,
                                 .roof =
                                     kind == PAGE_DETAILS ? NULL : &building->roofs[0],
                                 .uses = uses,
                                 .details = settings->order.details,
                                 .revision = "0123456789abcdef0123456789abcdef",
                                 .number = 7,
                                 .of = 12345,
                                 .paper = paper,
                                 .scratch = TEXT_INIT};
        assert_true(plan_page_draw(&page));
        assert_legible(&page);
        canvas_next_page(canvas);
        drawn |= kind == PAGE_PLAN ? page.drawn : 0;
    }
    assert_int_equal(canvas_finish(canvas, NULL), OUTLAY_OK);
    canvas_free(canvas);
    output_abort(output);
    return drawn;
}

static void run_and_draw(struct site *site, int unit_system)
{
    struct settings settings;
    struct geo_ctx *ctx = NULL;
    struct arena *arena = arena_new();
    struct building building = {
        .arena = arena, .name = "Yard", .roofs = &site->roof, .roof_count = 1};
    settings_init(&settings);
    settings.unit_system = unit_system;
    settings.takeoff.place_plates = true;
    assert_int_equal(settings_resolve(&settings, NULL), OUTLAY_OK);
    assert_int_equal(geo_ctx_new(&ctx, NULL), OUTLAY_OK);
    place(site, arena);
    assert_int_equal(stages_run(&building, &settings, true, ctx, NULL), OUTLAY_OK);
    assert_false(draw(&building, &settings) & 1u << LAYER_SHARED);
    geo_ctx_free(ctx);
    settings_release(&settings);
    arena_free(arena);
}

static struct site site_named(const char *id, const char *name)
{
    struct site site = {.roof = {.id = id, .name = name, .given = attributes_missing()}};
    site.roof.given.height = 9;
    site.roof.given.wind_speed = 55;
    return site;
}

static void test_stars(void **state)
{
    (void)state;
    unsigned seed = 5;
    for (int i = 0; i < 16; i++) {
        struct site site = site_named("star", "Star");
        double share = draw_share(&seed);
        double size = pow(10, 0.5 + 1.7 * share);
        /* Many corners on small stars, few on large ones: both take the time. */
        size_t count = 5 + draw_number(&seed) % (size_t)(300 - 280 * share);
        make_star(&site, count, size * (0.3 + 0.7 * draw_share(&seed)), size, &seed);
        run_and_draw(&site, i % 2);
    }
}

static void test_combs(void **state)
{
    (void)state;
    for (int i = 0; i < 8; i++) {
        struct site site = site_named("comb", "Comb");
        make_comb(&site, 3 + 7 * (size_t)i, 0.7 + i, 0.4 + 0.5 * i);
        run_and_draw(&site, i % 2);
    }
}

static void test_sizes(void **state)
{
    (void)state;
    static const double sizes[][2] = {{5, 5},     {305, 305}, {2, 600},
                                      {300, 1.2}, {1.5, 1.5}, {1500, 60}};
    for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++)
        for (int method = METHOD_NOT_GIVEN; method < METHOD_KINDS; method++) {
            struct site site = site_named("box", "Box");
            site.roof.given.method = (enum method)method;
            make_box(&site, sizes[i][0], sizes[i][1]);
            run_and_draw(&site, method % 2);
        }
}

static void test_names(void **state)
{
    (void)state;
    char lengthy[2000];
    memset(lengthy, 'W', sizeof lengthy - 1);
    lengthy[sizeof lengthy - 1] = '\0';
    const char *const names[] = {
        lengthy,
        "<script>alert(1)</script> &amp; <b>",
        "two\nlines\rand\ttabs\x07",
        "\xD9\x85\xD8\xAF\xD8\xB1\xD8\xB3\xD8\xA9 \xD7\xA9\xD7\x9C\xD7\x95\xD7\x9D 12",
        "broken \xFF\xC3 bytes",
        "%s %n {0} \\",
        "",
        "a\xCC\x81\xCC\x81\xCC\x81\xCC\x81\xCC\x81\xCC\x81\xCC\x81\xCC\x81 stacked"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        struct site site = site_named(*names[i] ? names[i] : "-", names[i]);
        make_box(&site, 30, 20);
        run_and_draw(&site, 0);
    }
}

/* 860,000 m2, on a scale that no other site here has; one method, since
 * its fasteners take the time. */
static void test_largest(void **state)
{
    (void)state;
    struct site site = site_named("large", "Large");
    make_box(&site, 1200, 720);
    run_and_draw(&site, 0);
}

static void test_million_square_feet(void **state)
{
    (void)state;
    struct site site = site_named("big", "Big");
    make_box(&site, 304.8, 304.8);
    run_and_draw(&site, 0);
}

/* Two halves of one surface, 0.1 m apart, and a third roof that is higher. */
static void test_shared_edges(void **state)
{
    (void)state;
    static const double lefts[] = {0, 30.1, 50}, rights[] = {30, 50, 80};
    struct settings settings;
    struct geo_ctx *ctx = NULL;
    struct arena *arena = arena_new();
    struct roof *roofs = arena_array(arena, 3, sizeof *roofs);
    struct building building = {
        .arena = arena, .name = "Yard", .roofs = roofs, .roof_count = 3};
    settings_init(&settings);
    assert_int_equal(settings_resolve(&settings, NULL), OUTLAY_OK);
    assert_int_equal(geo_ctx_new(&ctx, NULL), OUTLAY_OK);
    for (int i = 0; i < 3; i++) {
        struct site site = site_named("half", NULL);
        add(&site, lefts[i], 0);
        add(&site, rights[i], 0);
        add(&site, rights[i], 20);
        add(&site, lefts[i], 20);
        place(&site, arena);
        roofs[i] = site.roof;
        roofs[i].building = "Yard";
        roofs[i].given.height = i == 2 ? 14 : 9;
    }
    assert_int_equal(stages_run(&building, &settings, true, ctx, NULL), OUTLAY_OK);
    unsigned drawn = draw(&building, &settings);
    assert_true(drawn & 1u << LAYER_SHARED && drawn & 1u << LAYER_METAL);
    assert_false(drawn & 1u << LAYER_WALL || drawn & 1u << LAYER_OUTLINE);
    building.roofs = &roofs[1]; /* the middle one, with the higher roof beside it */
    building.roof_count = 2;
    drawn = draw(&building, &settings);
    assert_true(drawn & 1u << LAYER_SHARED && drawn & 1u << LAYER_WALL);
    geo_ctx_free(ctx);
    settings_release(&settings);
    arena_free(arena);
}

/* Everything that may stand on a roof, a walkway, and a drain that a seam runs past. */
static void test_fixtures(void **state)
{
    (void)state;
    struct point corners[] = {{-3, -2}, {-1, -2}, {-1, 0}, {-3, 0}};
    struct fixture fixtures[FIXTURE_KINDS] = {0};
    struct walkway walkway = {{2, 2}, {9, 5}};
    struct settings settings;
    struct geo_ctx *ctx = NULL;
    struct arena *arena = arena_new();
    struct site site = site_named("served", "Served");
    struct building building = {
        .arena = arena, .name = "Yard", .roofs = &site.roof, .roof_count = 1};
    settings_init(&settings);
    assert_int_equal(settings_resolve(&settings, NULL), OUTLAY_OK);
    assert_int_equal(geo_ctx_new(&ctx, NULL), OUTLAY_OK);
    make_box(&site, 30, 20);
    place(&site, arena);
    assert_int_equal(stages_run(&building, &settings, true, ctx, NULL), OUTLAY_OK);
    assert_false(draw(&building, &settings) & 1u << LAYER_CROWDED);
    for (int kind = 0; kind < FIXTURE_KINDS; kind++)
        fixtures[kind] = (struct fixture){.kind = (enum fixture_kind)kind,
                                          .at = {kind - 4.0, 3},
                                          .crowded = kind == FIXTURE_DRAIN,
                                          .height = NAN};
    fixtures[FIXTURE_UNIT].at = (struct point){-2, -1};
    fixtures[FIXTURE_UNIT].footprint = (struct ring){corners, 4};
    site.roof.fixtures = &fixtures[FIXTURE_NOT_GIVEN + 1];
    site.roof.fixture_count = FIXTURE_KINDS - 1;
    site.roof.walkways = &walkway;
    site.roof.walkway_count = 1;
    unsigned drawn = draw(&building, &settings);
    assert_true(drawn & 1u << LAYER_CROWDED && drawn & 1u << LAYER_WALKWAYS);
    geo_ctx_free(ctx);
    settings_release(&settings);
    arena_free(arena);
}

/* Every remark there is, and a roof without zones. */
static void test_weak_roofs(void **state)
{
    (void)state;
    for (int i = 0; i < 3; i++) {
        struct site site = site_named("weak", "Weak");
        site.roof.given.height = i == 2 ? NAN : 90;
        site.roof.given.wind_speed = 89;
        site.roof.assumed = ASSUMPTION_BIT(ASSUMPTIONS) - 1;
        site.roof.estimated = (1u << ESTIMATES) - 1;
        make_box(&site, 30, 20);
        run_and_draw(&site, i % 2);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_stars),        cmocka_unit_test(test_combs),
        cmocka_unit_test(test_sizes),        cmocka_unit_test(test_names),
        cmocka_unit_test(test_weak_roofs),   cmocka_unit_test(test_fixtures),
        cmocka_unit_test(test_shared_edges), cmocka_unit_test(test_million_square_feet),
        cmocka_unit_test(test_largest),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
