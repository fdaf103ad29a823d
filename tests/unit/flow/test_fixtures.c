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

/* Runs the stage with a layer of these features; the roof is in arena. */
static struct roof *run_with(struct arena *arena, const char *features)
{
    struct ring rings[] = {{shell, 4}, {hole, 4}};
    struct polygon polygon = {rings, 2};
    struct region outline = {&polygon, 1};
    struct settings settings;
    struct roof *roof = arena_alloc(arena, sizeof *roof);
    struct building building = {.arena = arena, .roofs = roof, .roof_count = 1};
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
    *roof = (struct roof){.id = "1", .given = attributes_missing()};
    assert_int_equal(geo_ctx_new(&ctx, NULL), OUTLAY_OK);
    assert_int_equal(region_copy(arena, &outline, &roof->lonlat), OUTLAY_OK);
    assert_int_equal(normalise_building(&building, ctx, NULL), OUTLAY_OK);
    assert_int_equal(fixtures_run(&building, &settings, ctx, NULL), OUTLAY_OK);
    geo_ctx_free(ctx);
    for (size_t i = 0; i < roof->fixture_count; i++)
        roof->fixtures[i].id = ""; /* it was the layer's */
    settings_release(&settings);
    return roof;
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_only_what_lies_in_the_roof),
        cmocka_unit_test(test_a_point_with_size_is_square_to_the_roof),
        cmocka_unit_test(test_a_polygon_is_measured),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
