/* Inputs that can't be read, or not to their end. */

#include "help.h"

enum { MANY = 2000 };

static void expect_error(const char *path, enum outlay_status status, const char *what)
{
    struct reading reading;

    read_path(path, &reading);
    if (reading.status != status)
        fail_msg("%s: status %d, %s", path, reading.status, reading.err.what);
    assert_contains(reading.err.what, what);
    assert_contains(reading.err.where, path);
    assert_true(reading.err.todo[0] != '\0');
    reading_release(&reading);
}

static void what_isnt_there_or_isnt_vector(void **state)
{
    /* a PNG of one pixel */
    static const unsigned char png[] = {
        0x89, 'P', 'N', 'G',  0x0D, 0x0A, 0x1A, 0x0A, 0,    0, 0, 0x0D,
        'I',  'H', 'D', 'R',  0,    0,    0,    1,    0,    0, 0, 1,
        8,    0,   0,   0,    0,    0x3A, 0x7E, 0x9B, 0x55, 0, 0, 0,
        0x0A, 'I', 'D', 'A',  'T',  0x78, 0x9C, 0x63, 0x60, 0, 0, 0,
        2,    0,   1,   0x48, 0xAF, 0xA4, 0x71, 0,    0,    0, 0, 'I',
        'E',  'N', 'D', 0xAE, 0x42, 0x60, 0x82};
    FILE *file = fopen("a.png", "wb");

    (void)state;
    assert_int_equal(fwrite(png, 1, sizeof png, file), sizeof png);
    fclose(file);
    file_write("zero.geojson", "");
    file_write("text.txt", "hello\n");
    assert_int_equal(mkdir("folder", 0700), 0);
    expect_error("missing.shp", OUTLAY_E_INPUT, "no such file");
    expect_error("folder/missing.gpkg", OUTLAY_E_INPUT, "no such file");
    expect_error("a.png", OUTLAY_E_INPUT, "raster");
    expect_error("folder", OUTLAY_E_INPUT, "can't be read");
    expect_error("zero.geojson", OUTLAY_E_INPUT, "can't be read");
    expect_error("text.txt", OUTLAY_E_INPUT, "can't be read");
    expect_error("PG:host=/nonexistent dbname=none", OUTLAY_E_INPUT, "can't be read");
    expect_error("/vsistdin/", OUTLAY_E_USAGE, "standard input");
    expect_error("/dev/stdin", OUTLAY_E_USAGE, "standard input");
}

static void an_unreadable_file(void **state)
{
    (void)state;
    if (geteuid() == 0) {
        /* root reads anything; a link to itself can't be read by anybody */
        assert_int_equal(symlink("loop.geojson", "loop.geojson"), 0);
        expect_error("loop.geojson", OUTLAY_E_INPUT, "no such file");
        return;
    }
    collection_write("locked.geojson", 1);
    assert_int_equal(chmod("locked.geojson", 0), 0);
    expect_error("locked.geojson", OUTLAY_E_INPUT, "");
}

static void no_input_is_named(void **state)
{
    const struct read_settings settings = {.input = ""};
    struct reading reading;

    (void)state;
    read_all(&settings, &reading);
    assert_int_equal(reading.status, OUTLAY_E_USAGE);
    reading_release(&reading);
    reader_close(NULL);
}

static void layers_without_outlines(void **state)
{
    (void)state;
    file_write("empty.geojson", "{\"type\":\"FeatureCollection\",\"features\":[]}");
    expect_error("empty.geojson", OUTLAY_E_INPUT, "no feature");
    feature_file("points.geojson", "", "{\"type\":\"Point\",\"coordinates\":[1,2]}");
    expect_error("points.geojson", OUTLAY_E_INPUT, "these are points");
    feature_file("lines.geojson", "",
                 "{\"type\":\"LineString\",\"coordinates\":[[0,0],[1,0],[0,0]]}");
    expect_error("lines.geojson", OUTLAY_E_INPUT, "these are lines");
    feature_file("null.geojson", "", "null");
    expect_error("null.geojson", OUTLAY_E_INPUT, "");
    file_write("table.csv", "a,b\n1,2\n");
    expect_error("table.csv", OUTLAY_E_INPUT, "no polygons in it");
    file_write("lines.csv", "wkt,b\n\"LINESTRING(0 0,1 1)\",2\n");
    expect_error("lines.csv", OUTLAY_E_INPUT, "these are lines");
    file_write("mixed.csv", "wkt,b\n\"LINESTRING(0 0,1 1)\",2\n\"POLYGON EMPTY\",3\n");
    expect_error("mixed.csv", OUTLAY_E_INPUT, "no usable polygon in its 2 features");
}

/* Cut off at many places: never a quiet success, and never more roofs than there are. */
static void expect_cut(const char *whole, const char *cut, bool opens)
{
    for (int i = 1; i < 12; i++) {
        struct reading reading;

        file_copy(whole, cut);
        file_cut(cut, i / 12.0);
        read_path(cut, &reading);
        if (reading.status != OUTLAY_E_INPUT)
            fail_msg("%s cut at %d/12: status %d after %zu roofs", whole, i,
                     reading.status, reading.roofs);
        assert_true(reading.roofs <= MANY);
        if (!opens)
            assert_int_equal(reading.roofs, 0);
        reading_release(&reading);
    }
}

static void truncated_collections_give_nothing(void **state)
{
    struct reading reading;

    (void)state;
    collection_write("whole.geojson", MANY);
    expect_cut("whole.geojson", "cut.geojson", false);
    /* only the closing brackets are missing */
    file_copy("whole.geojson", "cut.geojson");
    file_cut("cut.geojson", 1 - 1e-5);
    read_path("cut.geojson", &reading);
    assert_int_equal(reading.status, OUTLAY_E_INPUT);
    assert_int_equal(reading.roofs, 0);
    reading_release(&reading);
}

/* Wherever the cut is, but between two lines. */
static void truncated_sequences_give_the_whole_lines(void **state)
{
    struct reading reading;
    struct stat about;

    (void)state;
    collection_write("few.geojson", 30);
    convert("few.geojson", "few.geojsonl", "-f GeoJSONSeq");
    assert_int_equal(stat("few.geojsonl", &about), 0);
    for (off_t size = about.st_size - 2; size > about.st_size - 280; size--) {
        file_copy("few.geojsonl", "cut.geojsonl");
        assert_int_equal(truncate("cut.geojsonl", size), 0);
        read_path("cut.geojsonl", &reading);
        if (reading.status != OUTLAY_E_INPUT && reading.roofs != 29)
            fail_msg("cut to %ld: %zu roofs", (long)size, reading.roofs);
        assert_true(reading.roofs == 28 || reading.roofs == 29);
        reading_release(&reading);
    }
    for (int records = 0; records < 2; records++) {
        convert("few.geojson", "rs.geojsonl",
                records ? "-f GeoJSONSeq -lco RS=YES" : "-f GeoJSONSeq");
        read_path("rs.geojsonl", &reading);
        assert_int_equal(reading.status, OUTLAY_OK);
        assert_int_equal(reading.roofs, 30);
        reading_release(&reading);
        file_cut("rs.geojsonl", 0.702);
        read_path("rs.geojsonl", &reading);
        assert_int_equal(reading.status, OUTLAY_E_INPUT);
        assert_int_equal(reading.roofs, 21);
        reading_release(&reading);
    }
}

static void truncated_shapefiles(void **state)
{
    static const char *const parts[] = {"whole.shp", "whole.shx", "whole.dbf"};
    static const char *const cuts[] = {"cut.shp", "cut.shx", "cut.dbf"};

    (void)state;
    collection_write("whole.geojson", MANY);
    convert("whole.geojson", "whole.shp", "-f \"ESRI Shapefile\"");
    for (int part = 0; part < 3; part++) {
        for (int i = 1; i < 12; i++) {
            struct reading reading;

            for (int j = 0; j < 3; j++)
                file_copy(parts[j], cuts[j]);
            file_cut(cuts[part], i / 12.0);
            read_path("cut.shp", &reading);
            if (reading.status != OUTLAY_E_INPUT)
                fail_msg("%s cut at %d/12: status %d after %zu roofs", parts[part], i,
                         reading.status, reading.roofs);
            reading_release(&reading);
        }
    }
}

static void truncated_binary_formats(void **state)
{
    (void)state;
    collection_write("whole.geojson", MANY);
    convert("whole.geojson", "whole.fgb", "-f FlatGeobuf");
    expect_cut("whole.fgb", "cut.fgb", true);
    convert("whole.geojson", "plain.fgb", "-f FlatGeobuf -lco SPATIAL_INDEX=NO");
    expect_cut("plain.fgb", "cut.fgb", true);
    convert("whole.geojson", "whole.gpkg", "-f GPKG");
    expect_cut("whole.gpkg", "cut.gpkg", true);
}

/* CSV can't tell that lines are missing, but a cut line has no geometry. */
static void a_cut_line_of_csv(void **state)
{
    struct reading reading;

    (void)state;
    file_write("cut.csv", "wkt,a\n\"POLYGON((0 0,1 0,1 1,0 0))\",1\n"
                          "\"POLYGON((2 0,3 0,3 1");
    read_path("cut.csv", &reading);
    assert_int_equal(reading.status, OUTLAY_E_INPUT);
    assert_contains(reading.err.what, "last line is cut off");
    reading_release(&reading);
    file_write("open.csv", "wkt,a\n\"POLYGON((0 0,1 0,1 1,0 0))\",1");
    read_path("open.csv", &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    reading_release(&reading);
}

/* Rows marked as deleted are neither read nor missed. */
static void deleted_rows_arent_missed(void **state)
{
    struct reading reading;
    GDALDatasetH dataset;
    OGRLayerH layer;

    (void)state;
    collection_write("rows.geojson", 20);
    convert("rows.geojson", "rows.shp", "-f \"ESRI Shapefile\"");
    dataset = GDALOpenEx("rows.shp", GDAL_OF_VECTOR | GDAL_OF_UPDATE, NULL, NULL, NULL);
    assert_non_null(dataset);
    layer = GDALDatasetGetLayer(dataset, 0);
    assert_int_equal(OGR_L_DeleteFeature(layer, 3), OGRERR_NONE);
    assert_int_equal(OGR_L_DeleteFeature(layer, 19), OGRERR_NONE);
    GDALClose(dataset);
    read_path("rows.shp", &reading);
    if (reading.status != OUTLAY_OK)
        fail_msg("%s", reading.err.what);
    assert_int_equal(reading.roofs, 18);
    reading_release(&reading);
}

/* One bad geometry in a collection is its feature's problem alone. */
static void one_bad_geometry_spoils_one_roof(void **state)
{
    static const char *const bad[] = {
        "null",
        "{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[\"x\",0],[1,1],[0,0]]]}",
        "{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[NaN,0],[1,1],[0,0]]]}",
        "{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[1e999,0],[1,1],[0,0]]]}",
        "{\"type\":\"Polygon\",\"coordinates\":[0,0]}",
        "{\"type\":\"Polygon\",\"coordinates\":[]}",
        "{\"type\":\"Polygone\",\"coordinates\":[]}",
        "{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[500000,0],[1,1],[0,0]]]}",
        "{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[1],[1,1],[0,0]]]}",
    };

    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        struct reading reading;
        FILE *out = fopen("bad.geojson", "wb");

        fputs("{\"type\":\"FeatureCollection\",\"features\":[", out);
        feature_write(out, 1, 1, "\"n\":1");
        fprintf(out, ",{\"type\":\"Feature\",\"properties\":{\"n\":2},\"geometry\":%s},",
                bad[i]);
        feature_write(out, 3, 3, "\"n\":3");
        fputs("]}", out);
        fclose(out);
        read_path("bad.geojson", &reading);
        if (reading.status != OUTLAY_OK || reading.roofs != 3)
            fail_msg("%s: %s, %zu roofs", bad[i], reading.err.what, reading.roofs);
        assert_null(reading.kept[0].problems);
        assert_non_null(reading.kept[1].problems);
        assert_int_equal(problem_severity(reading.kept[1].problems->code),
                         SEVERITY_ERROR);
        assert_int_equal(reading.kept[1].lonlat.polygon_count, 0);
        assert_null(reading.kept[2].problems);
        reading_release(&reading);
    }
}

/* GDAL's own messages are ours to write. */
static void gdal_prints_nothing(void **state)
{
    int saved = dup(STDERR_FILENO);
    struct stat about;

    (void)state;
    assert_non_null(freopen("stderr.txt", "w", stderr));
    collection_write("whole.geojson", 50);
    convert("whole.geojson", "whole.shp", "-f \"ESRI Shapefile\"");
    file_cut("whole.shp", 0.5);
    expect_error("whole.shp", OUTLAY_E_INPUT, "");
    expect_error("missing.gpkg", OUTLAY_E_INPUT, "");
    fflush(stderr);
    dup2(saved, STDERR_FILENO);
    close(saved);
    assert_int_equal(stat("stderr.txt", &about), 0);
    assert_int_equal(about.st_size, 0);
}

static void outlines_in_metres_arent_degrees(void **state)
{
    struct reading reading;

    (void)state;
    file_write("metres.csv", "wkt,b\n\"POLYGON((0 0,40 0,40 30,0 30,0 0))\",1\n");
    read_path("metres.csv", &reading);
    assert_int_equal(reading.status, OUTLAY_E_INPUT);
    assert_contains(reading.err.what, "no CRS is stated");
    assert_contains(reading.err.todo, "--crs");
    assert_int_equal(reading.problems[PROBLEM_OUT_OF_RANGE], 1);
    assert_contains(reading.kept[0].problems->done, "--crs");
    reading_release(&reading);
}

/* A square of 100 units at x, y, read as `crs`. */
static void expect_outside(const char *crs, double x, double y, bool outside)
{
    struct read_settings settings = {.input = "place.csv", .crs = crs};
    FILE *out = fopen("place.csv", "wb");
    struct reading reading;
    double side = crs ? 100 : 0.001;

    assert_non_null(out);
    fprintf(out, "wkt,b\n\"POLYGON((%.9g %.9g,%.9g %.9g,%.9g %.9g,%.9g %.9g))\",1\n", x,
            y, x + side, y, x + side, y + side, x, y);
    assert_int_equal(fclose(out), 0);
    read_all(&settings, &reading);
    assert_int_equal(reading.status, OUTLAY_OK);
    if (reading.problems[PROBLEM_OUTSIDE_CRS] != outside)
        fail_msg("%s at %g, %g: %s", crs ? crs : "no CRS", x, y,
                 outside ? "not noticed" : "refused");
    if (outside)
        assert_contains(reading.kept[0].problems->done, "--crs");
    assert_false(reading.kept[0].lonlat.polygon_count == 0);
    reading_release(&reading);
}

static void places_outside_the_area_of_use(void **state)
{
    (void)state;
    /* Philadelphia in state-plane feet, and that taken for something else */
    expect_outside("EPSG:2272", 2700000, 240000, false);
    expect_outside("EPSG:26918", 2700000, 240000, true);
    expect_outside("EPSG:32129", 2700000, 240000, true);
    expect_outside("EPSG:2272", 240000, 2700000, true); /* swapped */
    expect_outside("EPSG:2272", 822960, 73152, true);   /* metres read as feet */
    expect_outside("EPSG:32129", 822960, 73152, false);
    expect_outside("EPSG:26918", 480000, 4420000, false);
    expect_outside("EPSG:26918", 4420000, 480000, true);  /* swapped */
    expect_outside("EPSG:26918", 170000, 4420000, false); /* 1 degree beyond the zone */
    expect_outside("+proj=utm +zone=18 +datum=NAD83", 480000, 4420000, false);
    expect_outside("+proj=utm +zone=18 +datum=NAD83", 2700000, 240000, true);
    expect_outside("+proj=tmerc +lon_0=-75 +datum=NAD83", 0, 0, false); /* nobody's */
    /* Fiji's grid reaches across the antimeridian */
    expect_outside("EPSG:3460", 2000000, 4000000, false);
    expect_outside("EPSG:3460", 3500000, 4000000, true);
    /* longitude and latitude, and swapped */
    expect_outside(NULL, -75.1, 40, false);
    expect_outside(NULL, 40, -75.1, true);
    expect_outside(NULL, 359, -40, false);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_isnt_there_or_isnt_vector),
        cmocka_unit_test(an_unreadable_file),
        cmocka_unit_test(no_input_is_named),
        cmocka_unit_test(layers_without_outlines),
        cmocka_unit_test(truncated_collections_give_nothing),
        cmocka_unit_test(truncated_sequences_give_the_whole_lines),
        cmocka_unit_test(truncated_shapefiles),
        cmocka_unit_test(truncated_binary_formats),
        cmocka_unit_test(a_cut_line_of_csv),
        cmocka_unit_test(deleted_rows_arent_missed),
        cmocka_unit_test(one_bad_geometry_spoils_one_roof),
        cmocka_unit_test(gdal_prints_nothing),
        cmocka_unit_test(outlines_in_metres_arent_degrees),
        cmocka_unit_test(places_outside_the_area_of_use),
    };

    return cmocka_run_group_tests_name("read/reader", tests, folder_enter, folder_leave);
}
