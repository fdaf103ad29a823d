#define _XOPEN_SOURCE 700 /* nftw() */

/* layout.gpkg, read again through GDAL. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <gdal.h>
#include <ogr_api.h>
#include <ogr_srs_api.h>

#include "roof/edges.h"
#include "roof/fixtures.h"
#include "roof/layout.h"
#include "sample.h"
#include "scratch.h"
#include "write/layout_file.h"

/* One roof of 20 m with a sheet, cut from two rolls, a board with three plates, a row and
 * two plates. */
struct laid {
    struct sample sample;
    struct point corners[4];
    struct ring ring;
    struct polygon polygon;
    struct sheet sheet;
    struct board board;
    struct row_piece row;
    struct plate plates[2], board_plates[3];
    struct roll_piece pieces[2];
    struct layout layout;
    struct bill bill;
    struct edge edge;
    struct fixture fixtures[2];
    struct point footprint[3];
    struct walkway walkway;
};

/* A unit and a drain, and a way. */
static void place_fixtures(struct laid *laid, struct roof *roof)
{
    laid->footprint[0] = (struct point){2, 2};
    laid->footprint[1] = (struct point){4, 2};
    laid->footprint[2] = (struct point){4, 3};
    laid->fixtures[0] = (struct fixture){.kind = FIXTURE_UNIT,
                                         .id = "U1",
                                         .at = {3.3, 2.3},
                                         .footprint = {laid->footprint, 3},
                                         .width = 1,
                                         .length = 2,
                                         .height = 0.3048};
    laid->fixtures[1] = (struct fixture){.kind = FIXTURE_DRAIN,
                                         .id = "D1",
                                         .at = {-3, 0},
                                         .width = NAN,
                                         .length = NAN,
                                         .height = NAN,
                                         .crowded = true};
    laid->walkway = (struct walkway){{0, 0}, {3, 4}};
    roof->fixtures = laid->fixtures;
    roof->fixture_count = 2;
    roof->walkways = &laid->walkway;
    roof->walkway_count = 1;
}

static void lay(struct laid *laid, double longitude, double latitude)
{
    struct roof *roof = &laid->sample.roofs[0];
    struct geo_ctx *ctx = NULL;
    struct outlay_error err = {0};
    struct region region;

    memset(laid, 0, sizeof *laid);
    sample_fill(&laid->sample, &unit_system_si);
    assert_int_equal(geo_ctx_new(&ctx, &err), OUTLAY_OK);
    frame_init(&laid->sample.building.frame, ctx, (struct point){longitude, latitude});
    geo_ctx_free(ctx);
    sample_square(laid->corners, -10, -10, 20);
    laid->ring = (struct ring){laid->corners, 4};
    laid->polygon = (struct polygon){&laid->ring, 1};
    region = (struct region){&laid->polygon, 1};
    roof->outline = region;
    for (size_t i = 0; i < roof->zone_count; i++)
        roof->zones[i].region = region;
    laid->sheet = (struct sheet){
        .number = 1, .region = region, .width = 20, .length = 20, .area = 400};
    laid->board = (struct board){.region = region, .area = 400, .plates = 7};
    laid->row = (struct row_piece){.from = {-10, 0},
                                   .to = {10, 0},
                                   .zone = ZONE_FIELD,
                                   .spacing = 0.3,
                                   .fasteners = 67,
                                   .tributary = NAN};
    laid->plates[1].at = (struct point){3, 4};
    laid->pieces[0] = (struct roll_piece){
        .roll = 8, .sheet = 1, .part = 2, .parts = 2, .length = 8, .beside_length = NAN};
    laid->pieces[1] = (struct roll_piece){.roll = 9,
                                          .sheet = 1,
                                          .part = 1,
                                          .parts = 2,
                                          .length = 12.1,
                                          .beside_length = NAN};
    laid->bill = (struct bill){.pieces = laid->pieces, .piece_count = 2};
    laid->edge = (struct edge){.from = {10, -10},
                               .to = {10, 10},
                               .kind = EDGE_PARAPET,
                               .source = EDGE_BY_OPTION,
                               .height = 0.5,
                               .thickness = NAN};
    place_fixtures(laid, roof);
    roof->edges = &laid->edge;
    roof->edge_count = 1;
    laid->layout = (struct layout){.method = METHOD_SEAM_FASTENED,
                                   .sheets = &laid->sheet,
                                   .sheet_count = 1,
                                   .rows = &laid->row,
                                   .row_count = 1,
                                   .plates = laid->plates,
                                   .plate_count = 2,
                                   .board_plates = laid->board_plates,
                                   .board_plate_count = 3,
                                   .boards = &laid->board,
                                   .board_count = 1};
    roof->layouts = &laid->layout;
    roof->bills = &laid->bill;
    roof->layout_count = 1;
}

static struct layout_file *opened(const struct laid *laid, const struct box *place)
{
    struct layout_file *file = NULL;
    struct outlay_error err = {0};

    GDALAllRegister();
    assert_int_equal(
        layout_file_open("layout.gpkg", &laid->sample.set, place, &file, &err),
        OUTLAY_OK);
    return file;
}

static void add(struct layout_file *file, const struct laid *laid)
{
    struct outlay_error err = {0};

    if (layout_file_add(file, &laid->sample.building, &err) != OUTLAY_OK)
        fail_msg("%s: %s", err.where, err.what);
}

static void commit(struct layout_file *file)
{
    struct outlay_error err = {0};

    if (layout_file_commit(file, &err) != OUTLAY_OK)
        fail_msg("%s: %s", err.where, err.what);
}

static void expect_layer(GDALDatasetH dataset, const char *name, int features)
{
    OGRLayerH layer = GDALDatasetGetLayerByName(dataset, name);

    assert_non_null(layer);
    assert_int_equal(OGR_L_GetFeatureCount(layer, TRUE), features);
}

static OGRFeatureH first(GDALDatasetH dataset, const char *name)
{
    OGRFeatureH feature = OGR_L_GetNextFeature(GDALDatasetGetLayerByName(dataset, name));

    assert_non_null(feature);
    return feature;
}

/* 75 W is the middle of zone 18, where the scale is 0.9996. */
static void test_layers(void **state)
{
    struct laid laid;
    struct layout_file *file = NULL;
    GDALDatasetH dataset = NULL;
    OGRFeatureH feature = NULL;
    OGRSpatialReferenceH crs = NULL;

    (void)state;
    lay(&laid, -75, 40);
    file = opened(&laid, NULL);
    add(file, &laid);
    commit(file);
    dataset = GDALOpenEx("layout.gpkg", GDAL_OF_VECTOR, NULL, NULL, NULL);
    assert_non_null(dataset);
    expect_layer(dataset, "outline", 1);
    expect_layer(dataset, "zones", 4);
    expect_layer(dataset, "edges", 1);
    expect_layer(dataset, "sheets", 1);
    expect_layer(dataset, "boards", 1);
    expect_layer(dataset, "rows", 1);
    expect_layer(dataset, "plates", 2);
    expect_layer(dataset, "insulation_plates", 1);
    expect_layer(dataset, "roll_ends", 1);
    expect_layer(dataset, "fixtures", 2);
    expect_layer(dataset, "footprints", 1);
    expect_layer(dataset, "walkways", 1);
    feature = first(dataset, "sheets");
    crs = OGR_G_GetSpatialReference(OGR_F_GetGeometryRef(feature));
    assert_string_equal(OSRGetAuthorityCode(crs, NULL), "32618");
    assert_true(fabs(OGR_G_Area(OGR_F_GetGeometryRef(feature)) - 400 * 0.9996 * 0.9996) <
                0.01);
    assert_string_equal(
        OGR_F_GetFieldAsString(feature, OGR_F_GetFieldIndex(feature, "kind")), "full");
    OGR_F_Destroy(feature);
    feature = first(dataset, "rows");
    assert_true(fabs(OGR_G_Length(OGR_F_GetGeometryRef(feature)) - 20 * 0.9996) < 1e-3);
    assert_true(OGR_F_GetFieldIndex(feature, "tributary_m") >= 0);
    assert_false(
        OGR_F_IsFieldSetAndNotNull(feature, OGR_F_GetFieldIndex(feature, "tributary_m")));
    OGR_F_Destroy(feature);
    feature = first(dataset, "edges");
    assert_string_equal(
        OGR_F_GetFieldAsString(feature, OGR_F_GetFieldIndex(feature, "kind")), "parapet");
    assert_string_equal(
        OGR_F_GetFieldAsString(feature, OGR_F_GetFieldIndex(feature, "source")),
        "option");
    assert_true(
        OGR_F_GetFieldAsDouble(feature, OGR_F_GetFieldIndex(feature, "height_m")) == 0.5);
    assert_false(OGR_F_IsFieldSetAndNotNull(
        feature, OGR_F_GetFieldIndex(feature, "thickness_mm")));
    OGR_F_Destroy(feature);
    feature = first(dataset, "outline");
    assert_non_null(
        strstr(OGR_F_GetFieldAsString(feature, OGR_F_GetFieldIndex(feature, "caution")),
               "not a design"));
    OGR_F_Destroy(feature);
    GDALClose(dataset);
}

static int integer(OGRFeatureH feature, const char *field)
{
    return OGR_F_GetFieldAsInteger(feature, OGR_F_GetFieldIndex(feature, field));
}

static void test_fixtures(void **state)
{
    struct laid laid;
    struct layout_file *file = NULL;
    GDALDatasetH dataset = NULL;
    OGRFeatureH feature = NULL;

    (void)state;
    lay(&laid, -75, 40);
    file = opened(&laid, NULL);
    add(file, &laid);
    commit(file);
    dataset = GDALOpenEx("layout.gpkg", GDAL_OF_VECTOR, NULL, NULL, NULL);
    feature = first(dataset, "fixtures");
    assert_string_equal(
        OGR_F_GetFieldAsString(feature, OGR_F_GetFieldIndex(feature, "kind")), "unit");
    assert_true(OGR_F_GetFieldAsDouble(
                    feature, OGR_F_GetFieldIndex(feature, "height_mm")) == 304.8);
    assert_int_equal(integer(feature, "seam_near"), 0);
    OGR_F_Destroy(feature);
    feature = first(dataset, "footprints");
    assert_true(fabs(OGR_G_Area(OGR_F_GetGeometryRef(feature)) - 0.9996 * 0.9996) < 1e-3);
    OGR_F_Destroy(feature);
    feature = first(dataset, "walkways");
    assert_true(fabs(OGR_G_Length(OGR_F_GetGeometryRef(feature)) - 5 * 0.9996) < 1e-3);
    OGR_F_Destroy(feature);
    GDALClose(dataset);
}

/* A board's plates are one feature, each roll's end a line across its sheet. */
static void test_plates_and_ends(void **state)
{
    struct laid laid;
    struct layout_file *file = NULL;
    GDALDatasetH dataset = NULL;
    OGRFeatureH feature = NULL;

    (void)state;
    lay(&laid, -75, 40);
    file = opened(&laid, NULL);
    add(file, &laid);
    commit(file);
    dataset = GDALOpenEx("layout.gpkg", GDAL_OF_VECTOR, NULL, NULL, NULL);
    feature = first(dataset, "insulation_plates");
    assert_int_equal(OGR_G_GetGeometryCount(OGR_F_GetGeometryRef(feature)), 3);
    assert_int_equal(integer(feature, "plates"), 3);
    OGR_F_Destroy(feature);
    feature = first(dataset, "roll_ends");
    assert_int_equal(integer(feature, "part"), 1);
    assert_int_equal(integer(feature, "roll"), 9);
    assert_int_equal(integer(feature, "next_roll"), 8);
    assert_true(OGR_F_GetFieldAsDouble(feature, OGR_F_GetFieldIndex(feature, "at_m")) ==
                12.05);
    assert_true(OGR_F_GetFieldAsDouble(feature, OGR_F_GetFieldIndex(feature, "lap_mm")) ==
                100);
    assert_true(fabs(OGR_G_Length(OGR_F_GetGeometryRef(feature)) - 20 * 0.9996) < 1e-3);
    OGR_F_Destroy(feature);
    GDALClose(dataset);
}

/* One default style for each layer, under the column names that readers look for. */
static void test_styles(void **state)
{
    static const char *const names[] = {
        "f_table_catalog", "f_table_schema", "f_table_name", "f_geometry_column",
        "styleName",       "styleQML",       "styleSLD",     "useAsDefault",
        "description",     "owner",          "ui",           "update_time"};
    struct laid laid;
    struct layout_file *file = NULL;
    GDALDatasetH dataset = NULL;
    OGRLayerH styles = NULL;
    OGRFeatureH style = NULL;
    int count = 0;

    (void)state;
    lay(&laid, -75, 40);
    file = opened(&laid, NULL);
    add(file, &laid);
    commit(file);
    dataset = GDALOpenEx("layout.gpkg", GDAL_OF_VECTOR, NULL, NULL, NULL);
    styles = GDALDatasetGetLayerByName(dataset, "layer_styles");
    assert_non_null(styles);
    for (int i = 0; i < 12; i++)
        assert_string_equal(
            OGR_Fld_GetNameRef(OGR_FD_GetFieldDefn(OGR_L_GetLayerDefn(styles), i)),
            names[i]);
    for (; (style = OGR_L_GetNextFeature(styles)); count++) {
        OGRLayerH layer =
            GDALDatasetGetLayerByName(dataset, OGR_F_GetFieldAsString(style, 2));

        assert_non_null(layer);
        assert_string_equal(OGR_F_GetFieldAsString(style, 3),
                            OGR_L_GetGeometryColumn(layer));
        assert_int_equal(integer(style, "useAsDefault"), 1);
        assert_false(OGR_F_IsFieldSetAndNotNull(style, 11)); /* no dates */
        OGR_F_Destroy(style);
    }
    assert_int_equal(count, GDALDatasetGetLayerCount(dataset) - 1);
    GDALClose(dataset);
}

static void expect_file(const char *path, const char *epsg, int outlines)
{
    GDALDatasetH dataset = GDALOpenEx(path, GDAL_OF_VECTOR, NULL, NULL, NULL);
    OGRLayerH layer = NULL;

    assert_non_null(dataset);
    layer = GDALDatasetGetLayerByName(dataset, "outline");
    assert_int_equal(OGR_L_GetFeatureCount(layer, TRUE), outlines);
    assert_string_equal(OSRGetAuthorityCode(OGR_L_GetSpatialRef(layer), NULL), epsg);
    GDALClose(dataset);
}

/* A piece of row of no length isn't drawn, but where a screw is in it. */
static void test_shreds(void **state)
{
    (void)state;
    for (int screws = 0; screws < 2; screws++) {
        struct laid laid;
        struct layout_file *file = NULL;
        GDALDatasetH dataset = NULL;

        lay(&laid, -75, 40);
        laid.row.to = (struct point){-10 + 1e-7, 0};
        laid.row.fasteners = screws;
        file = opened(&laid, NULL);
        add(file, &laid);
        commit(file);
        dataset = GDALOpenEx("layout.gpkg", GDAL_OF_VECTOR, NULL, NULL, NULL);
        expect_layer(dataset, "rows", screws);
        GDALClose(dataset);
        remove("layout.gpkg");
    }
}

/* Roofs at 71.9 W and 72.3 W, on either side of a boundary of zones: their middle is in
 * zone 18, whichever comes first, and one file has both. */
static void test_zone_of_the_middle(void **state)
{
    const double longitudes[][2] = {{-71.9, -72.3}, {-72.3, -71.9}};
    const struct box place = {-72.3, 40, -71.9, 40};

    (void)state;
    for (int i = 0; i < 2; i++) {
        struct laid laid;
        struct layout_file *file = NULL;

        lay(&laid, longitudes[i][0], 40);
        file = opened(&laid, &place);
        add(file, &laid);
        lay(&laid, longitudes[i][1], 40);
        add(file, &laid);
        assert_string_equal(layout_file_name(file, 0), "layout.gpkg");
        assert_null(layout_file_name(file, 1));
        commit(file);
        expect_file("layout.gpkg", "32618", 2);
        remove("layout.gpkg");
    }
}

/* Wider than 6 degrees, or of unknown width: each roof in the file of its own zone. */
static void test_zones_apart(void **state)
{
    const struct box place = {-105, 39, -76.6, 40};

    (void)state;
    for (int given = 0; given < 2; given++) {
        struct laid laid;
        struct layout_file *file = NULL;

        lay(&laid, -76.6, 39.3);
        file = opened(&laid, given ? &place : NULL);
        add(file, &laid);
        lay(&laid, -80.5, 39.3);
        add(file, &laid);
        lay(&laid, -105, 39.7);
        add(file, &laid);
        lay(&laid, -75, 39.7);
        add(file, &laid);
        assert_string_equal(layout_file_name(file, 2), "layout_utm13n.gpkg");
        assert_null(layout_file_name(file, 3));
        commit(file);
        expect_file("layout.gpkg", "32618", 2);
        expect_file("layout_utm17n.gpkg", "32617", 1);
        expect_file("layout_utm13n.gpkg", "32613", 1);
        remove("layout.gpkg");
        remove("layout_utm17n.gpkg");
        remove("layout_utm13n.gpkg");
    }
}

/* A portfolio across 180 degrees is narrow. */
static void test_across_180(void **state)
{
    const struct box place = {178.9, -17, 180.9, -17};
    struct laid laid;
    struct layout_file *file = NULL;

    (void)state;
    lay(&laid, 178.9, -17);
    file = opened(&laid, &place);
    add(file, &laid);
    lay(&laid, -179.1, -17);
    add(file, &laid);
    commit(file);
    expect_file("layout.gpkg", "32760", 2);
}

/* Longitudes below -180 degrees, as west of the date line may be given. */
static void test_below_180(void **state)
{
    const struct box place = {-190, 40, -189.9, 40};
    struct laid laid;
    struct layout_file *file = NULL;

    (void)state;
    lay(&laid, -190, 40);
    file = opened(&laid, &place);
    add(file, &laid);
    commit(file);
    expect_file("layout.gpkg", "32659", 1);
}

static void test_no_place(void **state)
{
    struct laid laid;
    struct layout_file *file = NULL;
    struct outlay_error err = {0};

    (void)state;
    GDALAllRegister();
    lay(&laid, -75, 40);
    assert_int_equal(
        layout_file_open("none/layout.gpkg", &laid.sample.set, NULL, &file, &err),
        OUTLAY_OK);
    assert_int_equal(layout_file_add(file, &laid.sample.building, &err), OUTLAY_E_OUTPUT);
    assert_string_equal(err.where, "none/layout.gpkg");
    layout_file_abort(file);
    layout_file_abort(NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_layers, scratch_enter, scratch_leave),
        cmocka_unit_test_setup_teardown(test_fixtures, scratch_enter, scratch_leave),
        cmocka_unit_test_setup_teardown(test_plates_and_ends, scratch_enter,
                                        scratch_leave),
        cmocka_unit_test_setup_teardown(test_styles, scratch_enter, scratch_leave),
        cmocka_unit_test_setup_teardown(test_zone_of_the_middle, scratch_enter,
                                        scratch_leave),
        cmocka_unit_test_setup_teardown(test_shreds, scratch_enter, scratch_leave),
        cmocka_unit_test_setup_teardown(test_zones_apart, scratch_enter, scratch_leave),
        cmocka_unit_test_setup_teardown(test_across_180, scratch_enter, scratch_leave),
        cmocka_unit_test_setup_teardown(test_below_180, scratch_enter, scratch_leave),
        cmocka_unit_test_setup_teardown(test_no_place, scratch_enter, scratch_leave),
    };

    return cmocka_run_group_tests_name("write/layout_file", tests, NULL, NULL);
}
