#include "help.h"

#include <pthread.h>

#define POLYGON(rings) "{\"type\":\"Polygon\",\"coordinates\":" rings "}"
#define SQUARE POLYGON("[[[0,0],[1,0],[1,1],[0,1],[0,0]]]")
#define FEATURE(properties) \
    "{\"type\":\"Feature\",\"properties\":{" properties "},\"geometry\":" SQUARE "}"

/* A feature's properties without braces and its geometry. */
struct line {
    const char *properties;
    const char *geometry;
};

/* Reads count lines as a stream. */
static void read_lines(const struct line *lines, size_t count, struct reading *reading)
{
    struct text text = TEXT_INIT;

    for (size_t i = 0; i < count; i++)
        text_printf(&text, "{\"type\":\"Feature\",\"properties\":{%s},\"geometry\":%s}\n",
                    lines[i].properties, lines[i].geometry);
    assert_false(text.failed);
    read_text(text.data, text.length, reading);
    text_release(&text);
}

#define READ_LINES(lines, reading) \
    read_lines(lines, sizeof(lines) / sizeof((lines)[0]), reading)

static void expect_roofs(const char *text, size_t roofs)
{
    struct reading reading;

    read_text(text, strlen(text), &reading);
    if (reading.status != OUTLAY_OK)
        fail_msg("%s: %s", text, reading.err.what);
    assert_int_equal(reading.roofs, roofs);
    for (size_t i = 0; i < roofs; i++)
        assert_int_equal(region_points(&reading.kept[i].lonlat), 4);
    assert_true(reading.streams);
    assert_int_equal(reading.count, -1);
    reading_release(&reading);
}

static void expect_error(const char *text, size_t roofs, const char *what,
                         const char *where, const char *todo)
{
    struct reading reading;

    read_text(text, strlen(text), &reading);
    assert_int_equal(reading.status, OUTLAY_E_INPUT);
    assert_int_equal(reading.roofs, roofs);
    assert_contains(reading.err.what, what);
    assert_contains(reading.err.where, "standard input");
    assert_contains(reading.err.where, where);
    assert_contains(reading.err.todo, todo);
    reading_release(&reading);
}

static void lines_are_features(void **state)
{
    (void)state;
    expect_roofs(FEATURE("") "\n" FEATURE("") "\n", 2);
    expect_roofs(FEATURE("") "\r\n\r\n\n" FEATURE("") "\r\n", 2);
    expect_roofs(FEATURE("") "\n" FEATURE(""), 2);
    expect_roofs("\x1E" FEATURE("") "\n\x1E" FEATURE("") "\n", 2);
    expect_roofs("\x1E{\n\"type\":\"Feature\",\n\"properties\":{},\n\"geometry\":" SQUARE
                 "\n}\n\x1E" FEATURE(""),
                 2);
}

static void properties_are_kept(void **state)
{
    static const char text[] = FEATURE("\"a\":1,\"b\":2.50,\"c\":null,\"d\":\"x\\\"\","
                                       "\"e\":{\"f\":[true]},\"id\":\"R\\u00e9\"");
    struct reading reading;

    (void)state;
    read_text(text, sizeof text - 1, &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_string_equal(reading.kept[0].properties,
                        "\"a\":1,\"b\":2.5,\"c\":null,\"d\":\"x\\\"\",\"e\":{\"f\":"
                        "[true]},\"id\":\"R\xC3\xA9\"");
    assert_string_equal(reading.kept[0].id, "R\xC3\xA9");
    reading_release(&reading);
}

static void a_feature_id_serves_as_id(void **state)
{
    static const char text[] =
        "{\"type\":\"Feature\",\"id\":\"way/7\",\"properties\":{\"n\":1},"
        "\"geometry\":" SQUARE "}\n" FEATURE("") "\n";
    struct reading reading;

    (void)state;
    read_text(text, sizeof text - 1, &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_string_equal(reading.kept[0].id, "way/7");
    assert_string_equal(reading.kept[0].properties, "\"id\":\"way/7\",\"n\":1");
    assert_string_equal(reading.kept[1].id, "2");
    reading_release(&reading);
}

/* Each feature may have other properties, in another order. */
static void columns_may_differ_between_lines(void **state)
{
    static const struct line lines[] = {
        {"\"id\":\"a\",\"height_m\":5", SQUARE},
        {"\"height_m\":6,\"storeys\":2,\"id\":\"b\"", SQUARE},
        {"", SQUARE},
        {"\"storeys\":3,\"x\":1", SQUARE},
    };
    struct reading reading;

    (void)state;
    READ_LINES(lines, &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_int_equal(reading.roofs, 4);
    assert_string_equal(reading.kept[1].id, "b");
    assert_true(reading.kept[1].given.height == 6 && reading.kept[1].given.storeys == 2);
    assert_string_equal(reading.kept[2].id, "3");
    assert_true(isnan(reading.kept[2].given.height));
    assert_true(reading.kept[3].given.storeys == 3);
    assert_int_equal(reading.field_count, 3);
    assert_int_equal(reading.fields[1].filled, 2);
    reading_release(&reading);
}

static void what_isnt_a_feature_says_what_to_do(void **state)
{
    (void)state;
    expect_error("{\"type\":\"FeatureCollection\",\"features\":[" FEATURE("") "]}\n", 0,
                 "FeatureCollection", "line 1", "ogr2ogr -f GeoJSONSeq");
    expect_error("{\n \"type\": \"FeatureCollection\",\n \"features\": [\n", 0,
                 "FeatureCollection", "line 1", "ogr2ogr -f GeoJSONSeq");
    expect_error("{\"type\":\"FeatureCollection\",\n\"features\":[\n", 0,
                 "FeatureCollection", "line 1", "name the file");
    expect_error(SQUARE "\n", 1, "bare geometry (Polygon)", "line 1", "wrap it");
    expect_error("{\"type\":\"GeometryCollection\",\"geometries\":[]}\n", 1,
                 "bare geometry", "line 1", "wrap it");
    expect_error("[1,2]\n", 1, "not a GeoJSON feature", "line 1", "on each line");
    expect_error("7\n", 1, "not a GeoJSON feature", "line 1", "on each line");
    expect_error("id,height\n1,2\n", 2, "not a GeoJSON feature", "line 1",
                 "on each line");
    expect_error("\n\n{\"type\":\"Feature\",}\n", 1, "not a GeoJSON", "line 3", "line");
}

static void expect_bad_line(const struct roof *roof, const char *what)
{
    assert_non_null(roof->problems);
    assert_int_equal(roof->problems->code, PROBLEM_BAD_LINE);
    assert_contains(roof->problems->what, what);
    assert_int_equal(roof->lonlat.polygon_count, 0);
}

/* Each stands for a roof that can't be read, with the number of its line. */
static void bad_lines_do_not_stop_the_stream(void **state)
{
    static const char text[] = FEATURE("\"id\":\"a\"") "\n\n" FEATURE("") "," FEATURE(
        "") "\n" SQUARE "\n{\"type\":\"FeatureCollection\"}\n" FEATURE("");
    struct read_settings settings = {.input = "-", .has_bbox = true};
    struct reading reading;

    (void)state;
    for (int boxed = 0; boxed < 2; boxed++) {
        settings.has_bbox = boxed == 1;
        settings.bbox = (struct box){-1, -1, 2, 2};
        settings.stream = fmemopen((void *)(uintptr_t)text, sizeof text - 1, "r");
        assert_non_null(settings.stream);
        read_all(&settings, &reading);
        fclose(settings.stream);
        assert_int_equal(reading.status, OUTLAY_OK);
        assert_int_equal(reading.roofs, 5);
        assert_null(reading.kept[0].problems);
        expect_bad_line(&reading.kept[1], "line 3: not a GeoJSON feature: unexpected");
        assert_string_equal(reading.kept[1].id, "2");
        expect_bad_line(&reading.kept[2], "line 4: a bare geometry (Polygon)");
        expect_bad_line(&reading.kept[3], "line 5: a FeatureCollection");
        assert_null(reading.kept[4].problems);
        reading_release(&reading);
    }
}

/* The first lines tell that it's another kind of input, long before its end. */
static void bad_lines_alone_stop_the_stream(void **state)
{
    struct text text = TEXT_INIT;

    (void)state;
    for (int i = 0; i < 1000; i++)
        text_puts(&text, "1,2,3\n");
    expect_error(text.data, 99, "not a GeoJSON feature", "line 1", "on each line");
    text_release(&text);
}

static void the_first_line_may_be_bad(void **state)
{
    static const char text[] = "nothing\n" FEATURE("") "\n";
    struct reading reading;

    (void)state;
    read_text(text, sizeof text - 1, &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_int_equal(reading.roofs, 2);
    expect_bad_line(&reading.kept[0], "line 1: ");
    reading_release(&reading);
}

static void an_empty_stream_is_no_error(void **state)
{
    (void)state;
    expect_roofs("", 0);
    expect_roofs("\n \n", 0);
    expect_roofs("\x1E\n", 0);
}

static void only_numbers_given_here_get_the_prefix(void **state)
{
    static const char text[] = FEATURE("\"id\":\"a\"") "\n" FEATURE("") "\n";
    struct read_settings settings = {.input = "-", .id_prefix = "north-"};
    struct reading reading;

    (void)state;
    settings.stream = fmemopen((void *)(uintptr_t)text, sizeof text - 1, "r");
    assert_non_null(settings.stream);
    read_all(&settings, &reading);
    fclose(settings.stream);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_string_equal(reading.kept[0].id, "a");
    assert_string_equal(reading.kept[1].id, "north-2");
    reading_release(&reading);
}

/* Earlier roofs come out, then the error. */
static void a_cut_off_stream_is_an_error(void **state)
{
    static const char whole[] = FEATURE("\"id\":\"a\"") "\n" FEATURE("\"id\":\"b\"");
    const size_t first = strlen(FEATURE("\"id\":\"a\"") "\n");

    (void)state;
    for (size_t length = first + 1; length < sizeof whole - 1; length++) {
        struct reading reading;

        read_text(whole, length, &reading);
        assert_int_equal(reading.status, OUTLAY_E_INPUT);
        assert_contains(reading.err.what, "cut off");
        assert_contains(reading.err.where, "line 2");
        assert_int_equal(reading.roofs, 1);
        reading_release(&reading);
    }
    expect_roofs(whole, 2);
    expect_error("\x1E" FEATURE("") "\n\x1E{\"type\":\"Fea", 1, "cut off", "record 2",
                 "again");
}

static void bad_geometries_are_problems_of_their_roofs(void **state)
{
    static const struct {
        struct line line;
        enum problem_code expected;
    } cases[] = {
        {{"", "null"}, PROBLEM_NO_GEOMETRY},
        {{"", "{\"type\":\"Point\",\"coordinates\":[1,2]}"}, PROBLEM_NOT_POLYGON},
        {{"", POLYGON("[]")}, PROBLEM_NO_GEOMETRY},
        {{"", POLYGON("[[[0,0],[1,\"x\"],[1,1],[0,0]]]")}, PROBLEM_NOT_FINITE},
        {{"", POLYGON("[[[0,0],[1,NaN],[1,1],[0,0]]]")}, PROBLEM_NOT_FINITE},
        {{"", POLYGON("[[[0,0],[1],[1,1],[0,0]]]")}, PROBLEM_NOT_FINITE},
        {{"", POLYGON("[[[0,1e999],[1,0],[1,1],[0,0]]]")}, PROBLEM_NOT_FINITE},
        {{"", POLYGON("[[[0,0],[1,0],[0,0]]]")}, PROBLEM_ZERO_AREA},
        {{"", POLYGON("[[[500000,4e6],[5e5,5e6],[6e5,5e6]]]")}, PROBLEM_OUT_OF_RANGE},
        {{"", "7"}, PROBLEM_NOT_POLYGON},
    };
    enum { CASES = sizeof cases / sizeof cases[0] };
    struct line lines[CASES + 1] = {{"", SQUARE}};
    struct reading reading;

    (void)state;
    for (size_t i = 0; i < CASES; i++)
        lines[i + 1] = cases[i].line;
    READ_LINES(lines, &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_int_equal(reading.roofs, CASES + 1);
    assert_null(reading.kept[0].problems);
    for (size_t i = 0; i < CASES; i++) {
        const struct roof *roof = &reading.kept[i + 1];

        assert_non_null(roof->problems);
        assert_int_equal(roof->problems->code, cases[i].expected);
        assert_int_equal(roof->lonlat.polygon_count, 0);
    }
    reading_release(&reading);
}

static void parts_holes_and_collections_come_out(void **state)
{
    static const struct line lines[] = {
        {"",
         "{\"type\":\"MultiPolygon\",\"coordinates\":[[[[0,0,5],[0.4,0,5],[0.4,0.4,5],"
         "[0,0,5]],[[0.1,0.1],[0.2,0.1],[0.2,0.2],[0.1,0.1]]],[],"
         "[[[0.6,0.6],[0.7,0.6],[0.7,0.7]]]]}"},
        {"", "{\"type\":\"GeometryCollection\",\"geometries\":[" SQUARE
             ",{\"type\":\"Point\",\"coordinates\":[0,0]}]}"},
    };
    struct reading reading;

    (void)state;
    READ_LINES(lines, &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_int_equal(reading.kept[0].lonlat.polygon_count, 2);
    assert_int_equal(reading.kept[0].lonlat.polygons[0].ring_count, 2);
    assert_int_equal(reading.kept[0].lonlat.polygons[0].rings[0].count, 3);
    assert_true(reading.kept[0].lonlat.polygons[1].rings[0].points[2].y == 0.7);
    assert_null(reading.kept[0].problems);
    assert_int_equal(reading.kept[1].lonlat.polygon_count, 1);
    assert_int_equal(reading.kept[1].problems->code, PROBLEM_REPAIRED);
    assert_string_equal(reading.kept[1].problems->what,
                        "a collection with 1 part that isn't a polygon");
    reading_release(&reading);
}

static void a_column_without_unit_stops_the_stream(void **state)
{
    static const char text[] = FEATURE("") "\n" FEATURE("\"height\":5") "\n";
    struct reading reading;

    (void)state;
    read_text(text, sizeof text - 1, &reading);
    assert_int_equal(reading.status, OUTLAY_E_USAGE);
    assert_int_equal(reading.roofs, 1);
    assert_contains(reading.err.todo, "--field height=height:ft|m");
    assert_contains(reading.err.where, "line 2");
    reading_release(&reading);
}

/* A named column may come late, but not never. */
static void a_told_column_that_never_comes_is_an_error(void **state)
{
    struct read_settings settings = {.input = "-"};
    struct reading reading;
    FILE *file;

    (void)state;
    settings.fields[ROLE_HEIGHT] = "H:ft";
    for (int late = 0; late < 3; late++) {
        file = fopen("given.geojsonl", "w+");
        assert_non_null(file);
        for (int i = 0; i < 1500; i++)
            fprintf(file, "%s\n",
                    (late == 1 && i == 999) ? FEATURE("\"H\":30") : FEATURE("\"x\":1"));
        assert_int_equal(fflush(file), 0);
        if (late == 2)
            assert_int_equal(ftruncate(fileno(file), ftell(file) / 2), 0);
        assert_int_equal(lseek(fileno(file), 0, SEEK_SET), 0);
        settings.stream = file;
        read_all(&settings, &reading);
        fclose(file);
        assert_int_equal(reading.status, late == 1 ? OUTLAY_OK : OUTLAY_E_USAGE);
        if (late == 0) {
            assert_int_equal(reading.roofs, 1000);
            assert_contains(reading.err.todo, "the columns are: x");
        } else if (late == 1) {
            assert_int_equal(reading.roofs, 1500);
            assert_int_equal(reading.fields[0].filled, 1);
        } else {
            assert_int_equal(reading.roofs, 750);
        }
        reading_release(&reading);
    }
}

static void filters_are_for_files_but_the_box(void **state)
{
    static const char text[] =
        "{\"type\":\"Feature\",\"properties\":{\"id\":\"a\"},\"geometry\":" SQUARE "}\n"
        "{\"type\":\"Feature\",\"properties\":{\"id\":\"b\"},\"geometry\":"
        "{\"type\":\"Polygon\",\"coordinates\":[[[10,10],[11,10],[11,11],[10,10]]]}}\n"
        "{\"type\":\"Feature\",\"properties\":null,\"geometry\":null}\n";
    struct read_settings settings = {.input = "-", .where = "id = 'a'"};
    struct reading reading;

    (void)state;
    settings.stream = fmemopen((void *)(uintptr_t)text, sizeof text - 1, "r");
    assert_non_null(settings.stream);
    read_all(&settings, &reading);
    assert_int_equal(reading.status, OUTLAY_E_USAGE);
    assert_contains(reading.err.what, "--where");
    reading_release(&reading);

    settings.where = NULL;
    settings.layer = "x";
    read_all(&settings, &reading);
    assert_int_equal(reading.status, OUTLAY_E_USAGE);
    reading_release(&reading);

    settings.layer = NULL;
    settings.has_bbox = true;
    settings.bbox = (struct box){9, 9, 10.5, 10.5};
    read_all(&settings, &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_int_equal(reading.roofs, 1);
    assert_string_equal(reading.kept[0].id, "b");
    reading_release(&reading);
    fclose(settings.stream);
}

static void another_crs_may_be_told(void **state)
{
    /* Pennsylvania South, US feet: Philadelphia */
    static const char text[] =
        "{\"type\":\"Feature\",\"properties\":{},\"geometry\":{\"type\":\"Polygon\","
        "\"coordinates\":[[[2694000,235000],[2694100,235000],[2694100,235100],"
        "[2694000,235000]]]}}\n";
    struct read_settings settings = {.input = "-", .crs = "EPSG:2272"};
    struct reading reading;

    (void)state;
    settings.stream = fmemopen((void *)(uintptr_t)text, sizeof text - 1, "r");
    read_all(&settings, &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_true(fabs(reading.kept[0].lonlat.polygons[0].rings[0].points[0].x + 75.16) <
                0.02);
    assert_true(fabs(reading.kept[0].lonlat.polygons[0].rings[0].points[0].y - 39.95) <
                0.02);
    reading_release(&reading);
    fclose(settings.stream);
}

struct feeder {
    int descriptor;
    int features;
};

/* Sends in odd pieces, as a pipe does. */
static void *feed(void *argument)
{
    const struct feeder *feeder = argument;
    FILE *out = fdopen(feeder->descriptor, "w");
    char buffer[777];

    setvbuf(out, buffer, _IOFBF, sizeof buffer);
    for (int i = 0; i < feeder->features; i++) {
        char properties[40];

        snprintf(properties, sizeof properties, "\"id\":%d,\"height_m\":10", i);
        feature_write(out, -100 + i % 1000 * 0.02, 30 + i / 1000 * 0.02, properties);
        fputc('\n', out);
    }
    fclose(out);
    return NULL;
}

/* GDAL 3.6's own driver loses nearly all of these. */
static void a_pipe_loses_no_feature(void **state)
{
    enum { FEATURES = 120000 };
    struct read_settings settings = {.input = "-"};
    struct reading reading;
    struct feeder feeder;
    pthread_t thread;
    int ends[2];

    (void)state;
    assert_int_equal(pipe(ends), 0);
    feeder = (struct feeder){ends[1], FEATURES};
    settings.stream = fdopen(ends[0], "r");
    assert_int_equal(pthread_create(&thread, NULL, feed, &feeder), 0);
    read_all(&settings, &reading);
    pthread_join(thread, NULL);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_int_equal(reading.roofs, FEATURES);
    assert_int_equal(reading.fields[0].filled, FEATURES);
    assert_int_equal(reading.fields[1].filled, FEATURES);
    reading_release(&reading);
    fclose(settings.stream);
}

static void *feed_named(void *argument)
{
    struct feeder feeder = {.features = 5000};
    FILE *out = fopen(argument, "w");

    feeder.descriptor = dup(fileno(out));
    fclose(out);
    return feed(&feeder);
}

/* As a shell's <(...) gives one. */
static void a_named_pipe_is_a_stream(void **state)
{
    struct reading reading;
    char name[] = "pipe";
    pthread_t thread;

    (void)state;
    assert_int_equal(mkfifo("pipe", 0600), 0);
    assert_int_equal(pthread_create(&thread, NULL, feed_named, name), 0);
    read_path("pipe", &reading);
    pthread_join(thread, NULL);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_true(reading.streams);
    assert_int_equal(reading.roofs, 5000);
    reading_release(&reading);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_are_features),
        cmocka_unit_test(properties_are_kept),
        cmocka_unit_test(a_feature_id_serves_as_id),
        cmocka_unit_test(columns_may_differ_between_lines),
        cmocka_unit_test(what_isnt_a_feature_says_what_to_do),
        cmocka_unit_test(bad_lines_do_not_stop_the_stream),
        cmocka_unit_test(bad_lines_alone_stop_the_stream),
        cmocka_unit_test(the_first_line_may_be_bad),
        cmocka_unit_test(an_empty_stream_is_no_error),
        cmocka_unit_test(only_numbers_given_here_get_the_prefix),
        cmocka_unit_test(a_cut_off_stream_is_an_error),
        cmocka_unit_test(bad_geometries_are_problems_of_their_roofs),
        cmocka_unit_test(parts_holes_and_collections_come_out),
        cmocka_unit_test(a_column_without_unit_stops_the_stream),
        cmocka_unit_test(a_told_column_that_never_comes_is_an_error),
        cmocka_unit_test(filters_are_for_files_but_the_box),
        cmocka_unit_test(another_crs_may_be_told),
        cmocka_unit_test(a_pipe_loses_no_feature),
        cmocka_unit_test(a_named_pipe_is_a_stream),
    };

    return cmocka_run_group_tests_name("read/sequence", tests, folder_enter,
                                       folder_leave);
}
