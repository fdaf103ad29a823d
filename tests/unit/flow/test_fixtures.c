/* What stands on roofs: the marks of a layer become the fixtures of the roof. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <unistd.h>

#include <cmocka.h>

#include "../temporary.h"
#include "flow/stages.h"
#include "geo/frame.h"
#include "roof/fixtures.h"
#include "roof/normalise.h"

#define FEATURE(members, type, coordinates)                             \
    "{\"type\":\"Feature\",\"properties\":{" members "},\"geometry\":{" \
    "\"type\":\"" type "\",\"coordinates\":" coordinates "}}"

/* A roof of about 88 m x 55 m at 37 degrees north, with a hole in its east. */
static struct point shell[] = {
    {-122, 37}, {-121.999, 37}, {-121.999, 37.0005}, {-122, 37.0005}};
static struct point hole[] = {{-121.9993, 37.0002},
                              {-121.9993, 37.0003},
                              {-121.9991, 37.0003},
                              {-121.9991, 37.0002}};

/* Runs the stage with a layer of these features; ids are blank, since they are the
 * layer's. */
static void run_on(struct building *building, const char *features)
{
    struct settings settings;
    struct geo_ctx *ctx = NULL;
    char path[TEMPORARY_MOST];
    int file = mkstemp(temporary_name(path, "outlay-XXXXXX"));
    FILE *stream = file < 0 ? NULL : fdopen(file, "w");

    assert_non_null(stream);
    fprintf(stream, "{\"type\":\"FeatureCollection\",\"features\":[%s]}", features);
    fclose(stream);
    settings_init(&settings);
    assert_int_equal(
        marks_open(MARKS_FIXTURES, path, settings.read.marks, &settings.fixtures, NULL),
        OUTLAY_OK);
    unlink(path);
    assert_int_equal(geo_ctx_new(&ctx, NULL), OUTLAY_OK);
    assert_int_equal(normalise_building(building, ctx, NULL), OUTLAY_OK);
    assert_int_equal(fixtures_run(building, &settings, ctx, NULL), OUTLAY_OK);
    geo_ctx_free(ctx);
    for (size_t k = 0; k < building->roof_count; k++)
        for (size_t i = 0; i < building->roofs[k].fixture_count; i++)
            building->roofs[k].fixtures[i].id = "";
    settings_release(&settings);
}

/* The roof with its hole, in arena. */
static struct roof *run_with(struct arena *arena, const char *features)
{
    struct ring rings[] = {{shell, 4}, {hole, 4}};
    struct polygon polygon = {rings, 2};
    struct region outline = {&polygon, 1};
    struct roof *roof = arena_alloc(arena, sizeof *roof);
    struct building building = {.arena = arena, .roofs = roof, .roof_count = 1};

    *roof = (struct roof){.id = "1", .given = attributes_missing()};
    assert_int_equal(region_copy(arena, &outline, &roof->lonlat), OUTLAY_OK);
    run_on(&building, features);
    return roof;
}

/* Roofs by west and east, of the same south and north but the first, which is smaller. */
static void run_with_two(struct building *building, struct roof roofs[2],
                         const double west_east[2][2], const char *features)
{
    for (size_t k = 0; k < 2; k++) {
        double west = west_east[k][0], east = west_east[k][1];
        double north = k == 0 ? 37.0004 : 37.0005;
        struct point points[] = {{west, 37}, {east, 37}, {east, north}, {west, north}};
        struct ring ring = {points, 4};
        struct polygon polygon = {&ring, 1};
        struct region outline = {&polygon, 1};

        roofs[k] = (struct roof){.id = k ? "2" : "1", .given = attributes_missing()};
        assert_int_equal(region_copy(building->arena, &outline, &roofs[k].lonlat),
                         OUTLAY_OK);
    }
    building->roofs = roofs;
    building->roof_count = 2;
    run_on(building, features);
}

static void test_only_what_lies_in_the_roof(void **state)
{
    struct arena *arena = arena_new();
    struct roof *roof =
        run_with(arena, FEATURE("\"kind\":\"drain\"", "MultiPoint",
                                "[[-121.9995,37.0002],[-121.9992,37.00025],[-122.1,37],"
                                "[-121.9999,37.0004]]"));

    (void)state;
    assert_int_equal(roof->fixture_count, 2); /* one is in the hole, one elsewhere */
    assert_int_equal(roof->fixtures[0].mark, 0);
    assert_int_equal(roof->fixtures[1].mark, 3);
    assert_int_equal(fixtures_count(roof, FIXTURE_DRAIN), 2);
    assert_int_equal(roof->fixtures[0].footprint.count, 0);
    assert_true(isnan(fixture_girth(&roof->fixtures[0])));
    arena_free(arena);
}

static void test_a_point_with_size_is_square_to_the_roof(void **state)
{
    struct arena *arena = arena_new();
    struct roof *roof = run_with(
        arena,
        FEATURE("\"kind\":\"curb\",\"width_m\":1,\"length_m\":3", "Point",
                "[-121.9995,37.0002]") "," FEATURE("\"kind\":\"hatch\","
                                                   "\"width_m\":0.9",
                                                   "Point", "[-121.9996,37.0002]"));
    struct box box;

    (void)state;
    assert_int_equal(roof->fixture_count, 2);
    box = ring_box(roof->fixtures[0].footprint);
    assert_true(fabs(box.max_x - box.min_x - 3) < 0.01); /* the roof's long side: east */
    assert_true(fabs(box.max_y - box.min_y - 1) < 0.01);
    assert_true(fabs(fixture_girth(&roof->fixtures[0]) - 8) < 1e-9);
    assert_true(roof->fixtures[1].length == 0.9);
    assert_true(fabs(ring_area(roof->fixtures[1].footprint) - 0.81) < 1e-9);
    arena_free(arena);
}

static void test_a_polygon_is_measured(void **state)
{
    struct arena *arena = arena_new();
    struct roof *roof = run_with(
        arena, FEATURE("\"kind\":\"unit\",\"height_ft\":2", "Polygon",
                       "[[[-121.9996,37.0001],[-121.9995,37.0001],[-121.9995,37.00012],"
                       "[-121.9996,37.00012],[-121.9996,37.0001]]]"));
    const struct fixture *unit = roof->fixtures;

    (void)state;
    assert_int_equal(roof->fixture_count, 1);
    assert_true(fabs(unit->length - 8.9) < 0.1 && fabs(unit->width - 2.22) < 0.05);
    assert_true(fabs(unit->height - 0.6096) < 1e-9);
    assert_true(ring_area(unit->footprint) > 0);
    assert_true(ring_holds(unit->footprint, unit->at));
    arena_free(arena);
}

/* A scupper goes through the wall, of which the outline is the outside: 0.9 m off it is
 * the roof's, 1.1 m off it isn't, nor is a drain there. 1e-5 degrees are 1.11 m north. */
static void test_a_scupper_stands_in_the_wall(void **state)
{
    struct arena *arena = arena_new();
    struct roof *roof =
        run_with(arena, FEATURE("\"kind\":\"scupper\"", "MultiPoint",
                                "[[-121.9995,36.9999919],[-121.9995,36.9999901],"
                                "[-122.0000101,37.0002],[-121.99921,37.0002081]]") "," //
                 FEATURE("\"kind\":\"drain\"", "Point", "[-121.9995,36.9999919]"));

    (void)state;
    assert_int_equal(roof->fixture_count, 3);
    assert_int_equal(roof->fixtures[0].mark, 0);
    assert_int_equal(roof->fixtures[1].mark, 2);
    assert_int_equal(roof->fixtures[2].mark, 3); /* in the hole's wall */
    arena_free(arena);
}

/* Between two sections it is the nearer one's, and that's that. */
static void test_a_scupper_between_two_roofs(void **state)
{
    static const double west_east[2][2] = {{-122, -121.99951}, {-121.9995, -121.999}};
    struct building building = {.arena = arena_new()};
    struct roof roofs[2];

    (void)state;
    run_with_two(&building, roofs, west_east,
                 FEATURE("\"kind\":\"scupper\"", "MultiPoint",
                         "[[-121.999506,37.0002],[-121.999504,37.0002]]"));
    assert_int_equal(roofs[0].fixture_count, 1);
    assert_int_equal(roofs[0].fixtures[0].mark, 0);
    assert_int_equal(roofs[1].fixture_count, 1);
    assert_int_equal(roofs[1].fixtures[0].mark, 1);
    arena_free(building.arena);
}

/* What lies in two sections is ordered once: for the smaller one. */
static void test_a_drain_where_sections_overlap(void **state)
{
    static const double west_east[2][2] = {{-122, -121.9994}, {-121.9996, -121.999}};
    struct building building = {.arena = arena_new()};
    struct roof roofs[2];

    (void)state;
    run_with_two(&building, roofs, west_east,
                 FEATURE("\"kind\":\"drain\"", "MultiPoint",
                         "[[-121.9995,37.0002],[-121.9995,37.00045]]"));
    assert_int_equal(roofs[0].fixture_count, 1);
    assert_int_equal(roofs[0].fixtures[0].mark, 0);
    assert_int_equal(roofs[1].fixture_count, 1);
    assert_int_equal(roofs[1].fixtures[0].mark, 1);
    arena_free(building.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_only_what_lies_in_the_roof),
        cmocka_unit_test(test_a_point_with_size_is_square_to_the_roof),
        cmocka_unit_test(test_a_polygon_is_measured),
        cmocka_unit_test(test_a_scupper_stands_in_the_wall),
        cmocka_unit_test(test_a_scupper_between_two_roofs),
        cmocka_unit_test(test_a_drain_where_sections_overlap),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
