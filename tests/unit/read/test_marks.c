/* Layers beside the outlines: what stands on roofs and along their edges. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

#include "../temporary.h"
#include "read/marks.h"
#include "roof/fixtures.h"
#include "roof/roof.h"

#define FEATURE(members, type, coordinates)                             \
    "{\"type\":\"Feature\",\"properties\":{" members "},\"geometry\":{" \
    "\"type\":\"" type "\",\"coordinates\":" coordinates "}}"

static const char *const no_columns[MARK_ROLES];

/* Reads a layer of these features, whose file is gone afterwards. */
static enum outlay_status read_layer(enum mark_layer layer, const char *features,
                                     const char *const *columns, struct marks **out,
                                     struct outlay_error *err)
{
    char path[TEMPORARY_MOST];
    int file = mkstemp(temporary_name(path, "outlay-XXXXXX"));
    FILE *stream = file < 0 ? NULL : fdopen(file, "w");
    enum outlay_status status = OUTLAY_OK;

    assert_non_null(stream);
    fprintf(stream, "{\"type\":\"FeatureCollection\",\"features\":[%s]}", features);
    fclose(stream);
    status = marks_open(layer, path, columns, out, err);
    unlink(path);
    return status;
}

static struct marks *marks_of(enum mark_layer layer, const char *features,
                              const char *const *columns)
{
    struct outlay_error err = {.status = OUTLAY_OK};
    struct marks *marks = NULL;

    if (read_layer(layer, features, columns, &marks, &err) != OUTLAY_OK)
        fail_msg("%s: %s", err.where, err.what);
    return marks;
}

static void test_points_and_polygons(void **state)
{
    struct marks *marks = marks_of(
        MARKS_FIXTURES,
        FEATURE("\"kind\":\"drain\",\"id\":\"D1\"", "Point", "[1,2]") "," FEATURE(
            "\"kind\":\"Unit\",\"id\":7,\"height_in\":14", "Polygon",
            "[[[0,0],[0,1],[1,1],[0,0]]]") "," FEATURE("\"kind\":\"pipe\"", "MultiPoint",
                                                       "[[3,4],[5,6]]"),
        no_columns);

    (void)state;
    assert_int_equal(marks->count, 4);
    assert_null(marks->doubts);
    assert_int_equal(marks->items[0].kind, FIXTURE_DRAIN);
    assert_string_equal(marks->items[0].id, "D1");
    assert_true(isnan(marks->items[0].height));
    assert_int_equal(marks->items[1].kind, FIXTURE_UNIT);
    assert_string_equal(marks->items[1].id, "7");
    assert_int_equal(marks->items[1].shape, MARK_RING);
    assert_int_equal(marks->items[1].count, 3);
    assert_true(ring_area((struct ring){marks->items[1].points, 3}) > 0);
    assert_true(fabs(marks->items[1].height - 14 * 0.0254) < 1e-12);
    assert_string_equal(marks->items[2].id, "feature 3");
    assert_true(marks->items[3].points[0].x == 5 && marks->items[3].points[0].y == 6);
    marks_close(marks);
}

static void test_lengths_have_units(void **state)
{
    const char *named[MARK_ROLES] = {[MARK_FIXTURE_WIDTH] = "W:ft"};
    struct marks *marks = marks_of(
        MARKS_FIXTURES,
        FEATURE("\"kind\":\"curb\",\"W\":4,\"length\":\"2 m\",\"height\":\"1'6\\\"\"",
                "Point", "[0,0]"),
        named);
    struct outlay_error err;

    (void)state;
    assert_true(fabs(marks->items[0].width - 4 * 0.3048) < 1e-12);
    assert_true(marks->items[0].length == 2);
    assert_true(fabs(marks->items[0].height - 0.4572) < 1e-12);
    marks_close(marks);
    assert_int_equal(
        read_layer(MARKS_FIXTURES,
                   FEATURE("\"kind\":\"curb\",\"width\":4", "Point", "[0,0]"), no_columns,
                   &marks, &err),
        OUTLAY_E_USAGE);
    assert_non_null(strstr(err.todo, "--field fixture_width="));
    named[MARK_FIXTURE_WIDTH] = "W:psf";
    assert_int_equal(read_layer(MARKS_FIXTURES,
                                FEATURE("\"kind\":\"curb\",\"W\":4", "Point", "[0,0]"),
                                named, &marks, &err),
                     OUTLAY_E_USAGE);
}

static void test_what_is_wrong_is_said(void **state)
{
    struct marks *marks =
        marks_of(MARKS_FIXTURES,
                 FEATURE("\"kind\":\"tree\"", "Point", "[0,0]") "," FEATURE(
                     "\"kind\":\"drain\"", "LineString",
                     "[[0,0],[1,1]]") "," FEATURE("\"kind\":\"curb\",\"width\":\"wide\","
                                                  "\"height_m\":99",
                                                  "Point", "[0,0]"),
                 no_columns);
    const struct mark_doubt *doubt = marks->doubts;

    (void)state;
    assert_int_equal(marks->count, 1);
    assert_int_equal(doubt->code, PROBLEM_VALUE_UNKNOWN);
    assert_non_null(strstr(doubt->what, "feature 1, fixture_kind: \"tree\""));
    doubt = doubt->next;
    assert_int_equal(doubt->code, PROBLEM_FEATURE_UNUSED);
    assert_non_null(strstr(doubt->what, "feature 2"));
    doubt = doubt->next;
    assert_int_equal(doubt->code, PROBLEM_NOT_A_NUMBER);
    assert_string_equal(doubt->field, "fixture_width");
    doubt = doubt->next;
    assert_int_equal(doubt->code, PROBLEM_VALUE_RANGE);
    assert_null(doubt->next);
    assert_true(isnan(marks->items[0].width) && isnan(marks->items[0].height));
    marks_close(marks);
}

static void test_lines_of_edges(void **state)
{
    struct marks *marks =
        marks_of(MARKS_EDGES,
                 FEATURE("\"kind\":\"parapet\",\"height_ft\":3,\"thickness\":\"8 in\"",
                         "MultiLineString", "[[[0,0],[1,1]],[[2,2],[3,3],[4,3]]]"),
                 no_columns);

    (void)state;
    assert_int_equal(marks->count, 2);
    assert_int_equal(marks->items[1].kind, EDGE_PARAPET);
    assert_int_equal(marks->items[1].count, 3);
    assert_true(fabs(marks->items[0].thickness - 0.2032) < 1e-12);
    marks_close(marks);
}

static void test_what_is_near(void **state)
{
    struct marks *marks =
        marks_of(MARKS_FIXTURES,
                 FEATURE("\"kind\":\"drain\"", "MultiPoint", "[[3,4],[5,6],[0.5,0.5]]"),
                 no_columns);
    struct arena *arena = arena_new();
    size_t *near, count;

    (void)state;
    assert_int_equal(marks_near(marks, &(struct box){0, 0, 3.5, 5}, arena, &near, &count),
                     OUTLAY_OK);
    assert_int_equal(count, 2);
    assert_true(near[0] == 0 && near[1] == 2);
    arena_free(arena);
    marks_close(marks);
}

static void test_what_cannot_be_opened(void **state)
{
    struct marks *marks;
    struct outlay_error err;

    (void)state;
    assert_int_equal(
        marks_open(MARKS_FIXTURES, "/nowhere/a.gpkg", no_columns, &marks, &err),
        OUTLAY_E_INPUT);
    assert_true(err.where[0] && err.todo[0]);
    assert_int_equal(read_layer(MARKS_EDGES, FEATURE("\"a\":1", "Point", "[0,0]"),
                                no_columns, &marks, &err),
                     OUTLAY_E_USAGE);
    assert_non_null(strstr(err.todo, "--field edge_kind=COLUMN"));
    assert_null(marks);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_points_and_polygons),
        cmocka_unit_test(test_lengths_have_units),
        cmocka_unit_test(test_what_is_wrong_is_said),
        cmocka_unit_test(test_lines_of_edges),
        cmocka_unit_test(test_what_is_near),
        cmocka_unit_test(test_what_cannot_be_opened),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
