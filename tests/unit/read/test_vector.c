/* Formats, layers, filters and coordinate systems through GDAL's drivers. */

#include "help.h"

enum { MANY = 250 };

/* Expects the rectangles of collection_write(), whatever they went through. */
static void expect_collection(const char *path, size_t roofs)
{
    struct reading reading;

    read_path(path, &reading);
    if (reading.status != OUTLAY_OK)
        fail_msg("%s: %s", path, reading.err.what);
    assert_int_equal(reading.roofs, roofs);
    assert_int_equal(reading_problems(&reading), 0);
    assert_false(reading.streams);
    for (int i = 0; i < 20; i++) {
        const struct roof *roof = &reading.kept[i];
        struct box box = region_box(&roof->lonlat);
        char id[16], note[32];

        snprintf(id, sizeof id, "R%d", i);
        snprintf(note, sizeof note, "\"note\":\"a \\\"b\\\" %d\"", i);
        assert_string_equal(roof->id, id);
        assert_true(roof->given.height == 3.5 + i);
        assert_contains(roof->properties, note);
        assert_int_equal(region_points(&roof->lonlat), 4);
        assert_true(fabs(box.min_x - (-80 + 0.02 * i)) < 1e-9);
        assert_true(fabs(box.max_y - 40.01) < 1e-9);
    }
    reading_release(&reading);
}

static void formats_give_the_same_roofs(void **state)
{
    (void)state;
    collection_write("in.geojson", MANY);
    expect_collection("in.geojson", MANY);
    convert("in.geojson", "out.shp", "-f \"ESRI Shapefile\"");
    expect_collection("out.shp", MANY);
    convert("in.geojson", "out.gpkg", "-f GPKG");
    expect_collection("out.gpkg", MANY);
    convert("in.geojson", "out.fgb", "-f FlatGeobuf -lco SPATIAL_INDEX=NO");
    expect_collection("out.fgb", MANY);
    convert("in.geojson", "out.geojsonl", "-f GeoJSONSeq");
    expect_collection("out.geojsonl", MANY);
    convert("in.geojson", "out.csv", "-f CSV -lco GEOMETRY=AS_WKT");
    expect_collection("out.csv", MANY);
    file_pack("out.shp", "/vsizip/out.zip/in.shp");
    file_pack("out.shx", "/vsizip/out.zip/in.shx");
    file_pack("out.dbf", "/vsizip/out.zip/in.dbf");
    file_pack("out.prj", "/vsizip/out.zip/in.prj");
    expect_collection("/vsizip/out.zip", MANY);
    expect_collection("/vsizip/out.zip/in.shp", MANY);
    file_pack("in.geojson", "/vsigzip/out.geojson.gz");
    expect_collection("/vsigzip/out.geojson.gz", MANY);
}

static void a_count_is_known_for_files(void **state)
{
    struct reading reading;

    (void)state;
    collection_write("count.geojson", 30);
    read_path("count.geojson", &reading);
    assert_int_equal(reading.count, 30);
    reading_release(&reading);
}

/* Opens, surveys and reads to the end. @return roofs read */
static size_t surveyed(const struct read_settings *settings, long long most,
                       struct extent *out)
{
    struct arena *arena = arena_new();
    struct reader *reader = NULL;
    struct roof roof;
    struct outlay_error err = {0};
    size_t roofs = 0;
    bool end = false;

    assert_non_null(arena);
    assert_int_equal(reader_open(settings, &reader, &err), OUTLAY_OK);
    assert_int_equal(reader_extent(reader, most, out, &err), OUTLAY_OK);
    while (reader_next(reader, arena, &roof, &end, &err) == OUTLAY_OK && !end)
        roofs++;
    assert_true(end);
    reader_close(reader);
    arena_free(arena);
    return roofs;
}

/* Outlines stand 0.02 degrees apart from 80 W on. A survey counts what a filter lets
 * through, knows where that is, also of a projected layer, and takes nothing away. */
static void a_survey_counts_and_places(void **state)
{
    struct read_settings settings = {.input = "extent.geojson"};
    struct extent extent;

    (void)state;
    collection_write("extent.geojson", 30);
    assert_int_equal(surveyed(&settings, 1000, &extent), 30);
    assert_int_equal(extent.count, 30);
    assert_true(extent.box.min_x > -80 && extent.box.min_x < -79.98);
    assert_true(extent.box.max_x > -79.42 && extent.box.max_x < -79.4);
    assert_int_equal(surveyed(&settings, 7, &extent), 30);
    assert_int_equal(extent.count, 8); /* more than asked for */
    settings.where = "height_m < 5";
    assert_int_equal(surveyed(&settings, 1000, &extent), 4);
    assert_int_equal(extent.count, 4);
    convert("extent.geojson", "extent.shp", "-f \"ESRI Shapefile\" -t_srs EPSG:2272");
    settings = (struct read_settings){.input = "extent.shp"};
    assert_int_equal(surveyed(&settings, 1000, &extent), 30);
    assert_true(extent.box.min_x > -80 && extent.box.min_x < -79.98);
}

/* State-plane US feet: the same corners come back to a tenth of a millimetre. */
static void projected_layers_come_out_as_lonlat(void **state)
{
    struct reading reading;

    (void)state;
    collection_write("plane.geojson", 20);
    convert("plane.geojson", "plane.shp", "-f \"ESRI Shapefile\" -t_srs EPSG:2272");
    read_path("plane.shp", &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_int_equal(reading.roofs, 20);
    assert_contains(reading.about.data, "2272");
    for (int i = 0; i < 20; i++) {
        struct box box = region_box(&reading.kept[i].lonlat);

        assert_true(fabs(box.min_x - (-80 + 0.02 * i)) < 1e-9);
        assert_true(fabs(box.min_y - 40) < 1e-9);
    }
    reading_release(&reading);
}

static void the_users_crs_wins(void **state)
{
    struct read_settings settings = {.input = "wins.shp", .crs = "EPSG:2272"};
    struct reading reading;

    (void)state;
    collection_write("wins.geojson", 20);
    convert("wins.geojson", "wins.shp", "-f \"ESRI Shapefile\" -t_srs EPSG:2272");
    assert_int_equal(remove("wins.prj"), 0);
    read_path("wins.shp", &reading);
    assert_int_equal(reading.status, OUTLAY_E_INPUT);
    assert_contains(reading.err.what, "no CRS is stated");
    assert_contains(reading.err.todo, "--crs");
    reading_release(&reading);
    read_all(&settings, &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_true(fabs(region_box(&reading.kept[0].lonlat).min_x + 80) < 1e-9);
    reading_release(&reading);
    settings.crs = "EPSG:nonsense";
    read_all(&settings, &reading);
    assert_int_equal(reading.status, OUTLAY_E_USAGE);
    assert_contains(reading.err.what, "EPSG:nonsense");
    reading_release(&reading);
}

static void without_a_crs_lonlat_is_assumed_with_a_note(void **state)
{
    struct reading reading;

    (void)state;
    collection_write("bare.geojson", 3);
    convert("bare.geojson", "bare.shp", "-f \"ESRI Shapefile\"");
    assert_int_equal(remove("bare.prj"), 0);
    read_path("bare.shp", &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_int_equal(reading.roofs, 3);
    assert_contains(reading.about.data, "no CRS is stated");
    reading_release(&reading);
}

/* The first hundred out of range: the declaration is wrong, not the outlines. */
static void projected_coordinates_declared_as_lonlat(void **state)
{
    struct reading reading;

    (void)state;
    collection_write("plane.geojson", 150);
    convert("plane.geojson", "declared.shp", "-f \"ESRI Shapefile\" -t_srs EPSG:2272");
    convert("declared.shp", "declared.geojson", "-f GeoJSON -a_srs EPSG:4326");
    read_path("declared.geojson", &reading);
    assert_int_equal(reading.status, OUTLAY_E_INPUT);
    assert_contains(reading.err.what, "aren't what the input's CRS says");
    assert_contains(reading.err.todo, "--crs");
    assert_int_equal(reading.roofs, 99);
    assert_int_equal(reading.problems[PROBLEM_OUT_OF_RANGE], 99);
    reading_release(&reading);
    /* fewer: at the end */
    feature_file("one.geojson", "",
                 "{\"type\":\"Polygon\",\"coordinates\":[[[2e6,2e5],[3e6,2e5],[3e6,3e5],"
                 "[2e6,2e5]]]}");
    read_path("one.geojson", &reading);
    assert_int_equal(reading.status, OUTLAY_E_INPUT);
    assert_int_equal(reading.roofs, 1);
    assert_contains(reading.err.todo, "--crs");
    reading_release(&reading);
}

static void several_layers(void **state)
{
    struct read_settings settings = {.input = "layers.gpkg"};
    struct reading reading;

    (void)state;
    collection_write("l.geojson", 5);
    feature_file("p.geojson", "", "{\"type\":\"Point\",\"coordinates\":[1,2]}");
    convert("p.geojson", "layers.gpkg", "-f GPKG -nln points");
    convert("l.geojson", "layers.gpkg", "-f GPKG -update -nln outlines");
    read_all(&settings, &reading); /* the only one with polygons */
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_int_equal(reading.roofs, 5);
    assert_contains(reading.about.data, "layer: outlines");
    assert_null(strstr(reading.about.data, "--layer"));
    reading_release(&reading);

    convert("l.geojson", "layers.gpkg", "-f GPKG -update -nln more");
    read_all(&settings, &reading); /* the first of two, with a note */
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_contains(reading.about.data, "note: layer \"outlines\"");
    reading_release(&reading);

    settings.layer = "more";
    read_all(&settings, &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_contains(reading.about.data, "layer: more");
    assert_null(strstr(reading.about.data, "note: layer"));
    reading_release(&reading);

    settings.layer = "points";
    read_all(&settings, &reading);
    assert_int_equal(reading.status, OUTLAY_E_INPUT);
    assert_contains(reading.err.what, "polygon");
    reading_release(&reading);

    settings.layer = "roofs";
    read_all(&settings, &reading);
    assert_int_equal(reading.status, OUTLAY_E_USAGE);
    assert_contains(reading.err.what, "no layer \"roofs\"");
    assert_contains(reading.err.todo, "points, outlines, more");
    reading_release(&reading);
}

static void where_filters(void **state)
{
    struct read_settings settings = {.input = "where.geojson", .where = "height_m > 20"};
    struct reading reading;

    (void)state;
    collection_write("where.geojson", 40);
    read_all(&settings, &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_int_equal(reading.roofs, 6); /* 20.5, 21.5, 22.5 twice */
    reading_release(&reading);
    settings.where = "height_m >";
    read_all(&settings, &reading);
    assert_int_equal(reading.status, OUTLAY_E_USAGE);
    assert_contains(reading.err.what, "--where \"height_m >\"");
    reading_release(&reading);
    settings.where = "no_such = 1";
    read_all(&settings, &reading);
    assert_int_equal(reading.status, OUTLAY_E_USAGE);
    assert_contains(reading.err.what, "no_such");
    reading_release(&reading);
    settings.where = "height_m > 900";
    read_all(&settings, &reading);
    assert_int_equal(reading.status, OUTLAY_E_INPUT);
    assert_contains(reading.err.what, "--where");
    reading_release(&reading);
}

static void a_box_filters_in_any_crs(void **state)
{
    static const char *const inputs[] = {"box.geojson", "box.shp", "box.gpkg"};
    struct read_settings settings = {.has_bbox = true,
                                     .bbox = {-79.985, 39.9, -79.93, 40.1}};
    struct reading reading;

    (void)state;
    collection_write("box.geojson", 40);
    convert("box.geojson", "box.shp", "-f \"ESRI Shapefile\" -t_srs EPSG:2272");
    convert("box.geojson", "box.gpkg", "-f GPKG -t_srs EPSG:3857");
    for (size_t i = 0; i < 3; i++) {
        settings.input = inputs[i];
        read_all(&settings, &reading);
        assert_int_equal(reading.status, OUTLAY_OK);
        assert_int_equal(reading.roofs, 3); /* -79.98, -79.96, -79.94 */
        assert_string_equal(reading.kept[0].id, "R1");
        reading_release(&reading);
    }
    settings.bbox = (struct box){10, 10, 9, 11};
    read_all(&settings, &reading);
    assert_int_equal(reading.status, OUTLAY_E_USAGE);
    assert_contains(reading.err.todo, "west,south,east,north");
    reading_release(&reading);
}

static void told_fields_and_unknown_ones(void **state)
{
    struct read_settings settings = {.input = "given.geojson"};
    struct reading reading;

    (void)state;
    feature_file("given.geojson", "\"BIN\":12,\"HEIGHTROOF\":30,\"use\":null",
                 "{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[1,0],[1,1],[0,0]]]}");
    settings.fields[ROLE_HEIGHT] = "HEIGHTROOF:ft";
    settings.fields[ROLE_ID] = "BIN";
    settings.fields[ROLE_BUILDING] = "BIN";
    read_all(&settings, &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_true(fabs(reading.kept[0].given.height - 9.144) < 1e-12);
    assert_string_equal(reading.kept[0].id, "12");
    assert_string_equal(reading.kept[0].building, "12");
    assert_string_equal(reading.kept[0].properties,
                        "\"BIN\":12,\"HEIGHTROOF\":30,\"use\":null");
    reading_release(&reading);
    settings.fields[ROLE_HEIGHT] = "HEIGHT:ft";
    read_all(&settings, &reading);
    assert_int_equal(reading.status, OUTLAY_E_USAGE);
    assert_contains(reading.err.todo, "BIN, HEIGHTROOF, use");
    assert_contains(reading.err.where, "given.geojson");
    reading_release(&reading);
}

/* Values of every type come out as JSON. */
static void types_become_json(void **state)
{
    static const char properties[] =
        "\"i\":5,\"big\":9007199254740993,\"r\":1.25,\"b\":true,\"s\":\"x\","
        "\"d\":\"2020/01/02\",\"l\":[1,2],\"t\":[\"a\",\"b\"],\"o\":{\"k\":[1.5]},"
        "\"n\":null";
    struct reading reading;

    (void)state;
    feature_file("types.geojson", properties,
                 "{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[1,0],[1,1],[0,0]]]}");
    read_path("types.geojson", &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_string_equal(
        reading.kept[0].properties,
        "\"i\":5,\"big\":9007199254740993,\"r\":1.25,\"b\":true,"
        "\"s\":\"x\",\"d\":\"2020/01/02\",\"l\":[1,2],\"t\":[\"a\",\"b\"],"
        "\"o\":{\"k\":[1.5]},\"n\":null");
    reading_release(&reading);
}

static void dates_of_databases_are_iso(void **state)
{
    struct reading reading;

    (void)state;
    file_write("dates.csv", "wkt,installed,seen\n"
                            "\"POLYGON((0 0,1 0,1 1,0 0))\",2004-05-17,"
                            "2020-01-02 03:04:05+01\n");
    file_write("dates.csvt", "WKT,Date,DateTime\n");
    convert("dates.csv", "dates.gpkg", "-f GPKG");
    read_path("dates.gpkg", &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_int_equal(reading.kept[0].given.installed, 2004);
    assert_contains(reading.kept[0].properties, "\"installed\":\"2004-05-17\"");
    assert_contains(reading.kept[0].properties, "\"seen\":\"2020-01-02T0");
    reading_release(&reading);
}

/* The id of a database row is hidden from the fields. */
static void a_row_id_serves_as_id(void **state)
{
    struct read_settings settings = {.input = "rows.gpkg", .where = "note = 'b'"};
    struct reading reading;

    (void)state;
    file_write("rows.csv", "wkt,note\n\"POLYGON((0 0,1 0,1 1,0 0))\",a\n"
                           "\"POLYGON((2 0,3 0,3 1,2 0))\",b\n");
    convert("rows.csv", "rows.gpkg", "-f GPKG -lco FID=gid");
    read_all(&settings, &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_int_equal(reading.roofs, 1);
    assert_string_equal(reading.kept[0].id, "2");
    assert_int_equal(reading.kept[0].position, 0);
    reading_release(&reading);
}

static void curves_height_and_collections(void **state)
{
    struct reading reading;

    (void)state;
    file_write("odd.csv",
               "wkt,n\n"
               "\"CURVEPOLYGON(CIRCULARSTRING(0 0,0.1 0.1,0.2 0,0.1 -0.1,0 0))\",1\n"
               "\"POLYGON Z((0 0 5,1 0 5,1 1 5,0 0 5))\",1\n"
               "\"GEOMETRYCOLLECTION(POINT(0 0),POLYGON((0 0,1 0,1 1,0 0)),"
               "GEOMETRYCOLLECTION(POLYGON((2 0,3 0,3 1,2 0))))\",1\n"
               "\"MULTIPOLYGON(((0 0,.4 0,.4 .4,0 0),(.2 .1,.3 .1,.3 .2,.2 .1)),"
               "((.9 .9,.8 .9,.8 .8,.9 .9)))\",1\n"
               "\"LINESTRING(0 0,1 1)\",1\n"
               "\"POLYGON EMPTY\",1\n"
               "\"nonsense\",1\n"
               "\"POLYGON((0 0,1 0,0 0))\",1\n");
    read_path("odd.csv", &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_int_equal(reading.roofs, 8);
    assert_true(region_points(&reading.kept[0].lonlat) > 60); /* a chord each 4 degrees */
    assert_int_equal(region_points(&reading.kept[1].lonlat), 3);
    assert_int_equal(reading.kept[2].lonlat.polygon_count, 2);
    assert_int_equal(reading.kept[2].problems->code, PROBLEM_REPAIRED);
    assert_int_equal(reading.kept[3].lonlat.polygon_count, 2);
    assert_int_equal(reading.kept[3].lonlat.polygons[0].ring_count, 2);
    assert_int_equal(reading.kept[4].problems->code, PROBLEM_NOT_POLYGON);
    assert_contains(reading.kept[4].problems->what, "Line String");
    assert_int_equal(reading.kept[5].problems->code, PROBLEM_NO_GEOMETRY);
    assert_int_equal(reading.kept[6].problems->code, PROBLEM_NO_GEOMETRY);
    assert_int_equal(reading.kept[7].problems->code, PROBLEM_ZERO_AREA);
    reading_release(&reading);
}

/* A layer across the antimeridian keeps its longitudes; a later stage has the frame. */
static void longitudes_stay_as_they_are(void **state)
{
    struct reading reading;
    struct box box;

    (void)state;
    feature_file("date.geojson", "",
                 "{\"type\":\"Polygon\",\"coordinates\":[[[179.99,10],[-179.99,10],"
                 "[-179.99,10.01],[179.99,10.01],[179.99,10]]]}");
    read_path("date.geojson", &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_int_equal(reading_problems(&reading), 0);
    box = region_box(&reading.kept[0].lonlat);
    assert_true(box.min_x == -179.99 && box.max_x == 179.99);
    reading_release(&reading);
    feature_file("date.geojson", "",
                 "{\"type\":\"Polygon\",\"coordinates\":[[[179.99,10],[180.01,10],"
                 "[180.01,10.01],[179.99,10]]]}");
    read_path("date.geojson", &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_int_equal(reading_problems(&reading), 0);
    reading_release(&reading);
}

static void an_outline_may_have_100000_vertices(void **state)
{
    FILE *out = fopen("large.geojson", "wb");
    struct reading reading;

    (void)state;
    fputs("{\"type\":\"FeatureCollection\",\"features\":[{\"type\":\"Feature\","
          "\"properties\":{},\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[[",
          out);
    for (int i = 0; i <= 100000; i++)
        fprintf(out, "%s[%.9f,%.9f]", i ? "," : "", cos(i % 100000 * 6.2831853e-5) / 100,
                sin(i % 100000 * 6.2831853e-5) / 100);
    fputs("]]}}]}", out);
    assert_int_equal(fclose(out), 0);
    read_path("large.geojson", &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    assert_int_equal(region_points(&reading.kept[0].lonlat), 100000);
    reading_release(&reading);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(formats_give_the_same_roofs),
        cmocka_unit_test(a_count_is_known_for_files),
        cmocka_unit_test(a_survey_counts_and_places),
        cmocka_unit_test(projected_layers_come_out_as_lonlat),
        cmocka_unit_test(the_users_crs_wins),
        cmocka_unit_test(without_a_crs_lonlat_is_assumed_with_a_note),
        cmocka_unit_test(projected_coordinates_declared_as_lonlat),
        cmocka_unit_test(several_layers),
        cmocka_unit_test(where_filters),
        cmocka_unit_test(a_box_filters_in_any_crs),
        cmocka_unit_test(told_fields_and_unknown_ones),
        cmocka_unit_test(types_become_json),
        cmocka_unit_test(dates_of_databases_are_iso),
        cmocka_unit_test(a_row_id_serves_as_id),
        cmocka_unit_test(curves_height_and_collections),
        cmocka_unit_test(longitudes_stay_as_they_are),
        cmocka_unit_test(an_outline_may_have_100000_vertices),
    };

    return cmocka_run_group_tests_name("read/vector", tests, folder_enter, folder_leave);
}
