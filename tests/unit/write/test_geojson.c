#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <cpl_conv.h>
#include <cpl_vsi.h>
#include <gdal.h>
#include <json.h>
#include <ogr_api.h>

#include "roof/caution.h"
#include "sample.h"

typedef void (*chunk_writer)(struct text *out, const struct building *building,
                             const struct write_settings *set);

/* A whole collection of `chunks` times the same building. */
static void collect(struct text *out, const char *layer, chunk_writer write,
                    const struct sample *sample, int chunks)
{
    bool first = true;

    geojson_open(out, layer, &sample->set);
    for (int i = 0; i < chunks; i++) {
        struct text chunk = TEXT_INIT;
        size_t skip = first ? GEOJSON_JOINT : 0;

        write(&chunk, &sample->building, &sample->set);
        first = first && chunk.length == 0;
        if (chunk.length > 0)
            text_append(out, chunk.data + skip, chunk.length - skip);
        text_release(&chunk);
    }
    geojson_close(out);
    assert_false(out->failed);
}

/* Strict: no trailing commas, no duplicates are noticed by the caller. */
static json_object *parse(const char *text)
{
    struct json_tokener *tokener = json_tokener_new();
    json_object *object = NULL;

    json_tokener_set_flags(tokener, JSON_TOKENER_STRICT);
    object = json_tokener_parse_ex(tokener, text, (int)strlen(text) + 1);
    if (!object)
        fail_msg("%s in %s", json_tokener_error_desc(json_tokener_get_error(tokener)),
                 text);
    json_tokener_free(tokener);
    return object;
}

static json_object *get(json_object *object, const char *key)
{
    json_object *value = NULL;

    if (!json_object_object_get_ex(object, key, &value))
        fail_msg("no member %s", key);
    return value;
}

static const char *get_text(json_object *object, const char *key)
{
    return json_object_get_string(get(object, key));
}

static json_object *feature(json_object *collection, size_t i)
{
    return json_object_array_get_idx(get(collection, "features"), i);
}

static json_object *properties(json_object *collection, size_t i)
{
    return get(feature(collection, i), "properties");
}

static void the_collection_says_what_it_is(void **state)
{
    struct sample sample;
    struct text out = TEXT_INIT;
    json_object *root = NULL;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    collect(&out, "zones", geojson_zones, &sample, 2);
    root = parse(out.data);
    assert_string_equal(get_text(root, "type"), "FeatureCollection");
    assert_string_equal(get_text(root, "name"), "zones");
    assert_string_equal(get_text(root, "caution"), caution_text());
    assert_string_equal(get_text(root, "standard"), standard_asce7_22.title);
    assert_non_null(strstr(get_text(root, "version"), OUTLAY_VERSION));
    assert_non_null(strstr(get_text(root, "ratings"), "invented"));
    assert_int_equal(json_object_array_length(get(root, "features")), 8);
    json_object_put(root);
    text_release(&out);
}

static void an_empty_collection_is_valid(void **state)
{
    struct sample sample;
    struct text out = TEXT_INIT;
    json_object *root = NULL;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    sample.set.catalog_built_in = false;
    sample.building.roof_count = 0;
    collect(&out, "roofs", geojson_roofs, &sample, 3);
    root = parse(out.data);
    assert_int_equal(json_object_array_length(get(root, "features")), 0);
    assert_false(json_object_object_get_ex(root, "ratings", NULL));
    json_object_put(root);
    text_release(&out);
}

static void each_feature_is_a_line(void **state)
{
    struct sample sample;
    struct text out = TEXT_INIT;
    size_t lines = 0;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    collect(&out, "zones", geojson_zones, &sample, 2);
    for (const char *at = out.data; (at = strchr(at, '\n')) != NULL; at++)
        lines++;
    assert_int_equal(lines, 1 + 8 + 1);
    text_release(&out);
}

static void a_zone_carries_its_annotations(void **state)
{
    struct sample sample;
    struct text out = TEXT_INIT;
    json_object *root = NULL;
    json_object *zone = NULL;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    collect(&out, "zones", geojson_zones, &sample, 1);
    root = parse(out.data);
    zone = properties(root, 1);
    assert_string_equal(get_text(zone, "roof_id"), "W-1");
    assert_string_equal(get_text(zone, "name"), "North \"big\", warehouse");
    assert_string_equal(get_text(zone, "zone"), "perimeter");
    assert_string_equal(get_text(zone, "standard"), "asce7-22");
    assert_string_equal(get_text(zone, "standard_zone"), "2");
    assert_string_equal(get_text(zone, "coefficients"), "from memory");
    assert_string_equal(get_text(zone, "area_ft2"), "2691.4");
    assert_string_equal(get_text(zone, "share"), "0.2500");
    assert_string_equal(get_text(zone, "uplift_psf"), "62.7");
    assert_string_equal(get_text(zone, "allowable_psf"), "37.6");
    assert_string_equal(get_text(zone, "required_psf"), "75.2");
    assert_string_equal(get_text(zone, "method"), "seam-fastened");
    assert_string_equal(get_text(zone, "assembly"), "Seam-fastened, 10 ft \"A\"");
    assert_string_equal(get_text(zone, "state"), "met");
    assert_string_equal(get_text(zone, "edge_rule"), "calculated");
    assert_string_equal(get_text(zone, "quantity_basis"), "by area");
    assert_string_equal(get_text(zone, "fasteners"), "26");
    assert_string_equal(get_text(zone, "row_spacing_ft"), "9.50");
    assert_string_equal(get_text(zone, "fastener_spacing_in"), "6.0");
    assert_null(get(zone, "per_board"));
    assert_null(get(zone, "reason"));
    assert_string_equal(get_text(zone, "estimated"), "storeys");
    assert_string_equal(get_text(zone, "assumed"), "exposure; pullout-untested");
    assert_string_equal(get_text(properties(root, 0), "reason"), "12 psf short");
    json_object_put(root);
    text_release(&out);
}

static void unknown_is_null_and_never_zero(void **state)
{
    static const char *const keys[] = {
        "uplift_pa",      "allowable_pa",  "required_pa",         "assembly",
        "fasteners",      "row_spacing_m", "fastener_spacing_mm", "coefficients",
        "quantity_basis", "capacity_pa"};
    struct sample sample;
    struct text out = TEXT_INIT;
    json_object *root = NULL;

    (void)state;
    sample_fill(&sample, &unit_system_si);
    memset(&sample.roofs[0].zones[2].uplift, 0, sizeof(struct zone_uplift));
    memset(&sample.roofs[0].zones[2].attachment, 0, sizeof(struct zone_attachment));
    collect(&out, "zones", geojson_zones, &sample, 1);
    root = parse(out.data);
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++)
        assert_null(get(properties(root, 2), keys[i]));
    assert_string_equal(get_text(properties(root, 2), "state"), "unknown");
    assert_string_equal(get_text(properties(root, 2), "estimated"), "storeys");
    assert_null(strstr(out.data, "nan"));
    json_object_put(root);
    text_release(&out);
}

static void a_zone_without_polygon_stays_with_null_geometry(void **state)
{
    struct sample sample;
    struct text out = TEXT_INIT;
    json_object *root = NULL;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    collect(&out, "zones", geojson_zones, &sample, 1);
    root = parse(out.data);
    assert_null(get(feature(root, 3), "geometry"));
    assert_string_equal(get_text(properties(root, 3), "area_ft2"), "3766.9");
    json_object_put(root);
    text_release(&out);
}

static void lines_stand_alone(void **state)
{
    struct sample sample;
    struct text out = TEXT_INIT;
    size_t lines = 0;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    geojson_zone_lines(&out, &sample.building, &sample.set);
    for (char *line = out.data, *end; (end = strchr(line, '\n')) != NULL;
         line = end + 1) {
        json_object *root = NULL;

        *end = '\0';
        root = parse(line);
        assert_string_equal(get_text(root, "type"), "Feature");
        assert_non_null(strstr(get_text(root, "caution"), "not a design"));
        if (lines == 4) {
            assert_null(get(get(root, "properties"), "zone"));
            assert_null(get(get(root, "properties"), "area_ft2"));
            assert_string_equal(get_text(get(root, "properties"), "roof_id"), "=S,2");
            assert_string_equal(get_text(get(root, "properties"), "reason"),
                                "no height, no storeys");
        }
        json_object_put(root);
        lines++;
    }
    assert_int_equal(lines, 5);
    text_release(&out);
}

static void a_roof_left_out_keeps_its_own_outline(void **state)
{
    struct sample sample;
    struct text out = TEXT_INIT;
    const char *last = NULL;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    sample.roofs[1].lonlat = sample.roofs[0].lonlat;
    geojson_zone_lines(&out, &sample.building, &sample.set);
    last = strstr(out.data, "\"roof_id\":\"=S,2\"");
    assert_non_null(last);
    assert_non_null(strstr(last, "[[[-77,38],[-76.999,38],[-76.999,38.001],[-77,38.001],"
                                 "[-77,38]]]"));
    text_release(&out);
}

static void roofs_keep_their_fields_and_prefix_what_clashes(void **state)
{
    struct sample sample;
    struct text out = TEXT_INIT;
    json_object *root = NULL;
    json_object *roof = NULL;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    collect(&out, "roofs", geojson_roofs, &sample, 1);
    root = parse(out.data);
    roof = properties(root, 0);
    assert_string_equal(get_text(roof, "height_ft"), "30");
    assert_string_equal(get_text(roof, "outlay_height_ft"), "30.0");
    assert_string_equal(get_text(roof, "NAME"), "x");
    assert_string_equal(get_text(roof, "outlay_name"), "North \"big\", warehouse");
    assert_string_equal(get_text(roof, "outlay_area_ft2"), "1");
    assert_string_equal(get_text(roof, "outlay_outlay_area_ft2"), "10763.9");
    assert_string_equal(get_text(roof, "state"), "not met");
    assert_string_equal(get_text(roof, "corner_ft2"), "1076.4");
    assert_string_equal(get_text(roof, "half_sheets"), "2");
    assert_string_equal(get_text(roof, "a\"b"), "state");
    json_object_put(root);
    text_release(&out);
}

static void roofs_left_out_are_there_with_empty_results(void **state)
{
    struct sample sample;
    struct text out = TEXT_INIT;
    json_object *root = NULL;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    collect(&out, "roofs", geojson_roofs, &sample, 1);
    root = parse(out.data);
    assert_int_equal(json_object_array_length(get(root, "features")), 2);
    assert_null(get(feature(root, 1), "geometry"));
    assert_string_equal(get_text(properties(root, 1), "roof_id"), "=S,2");
    assert_null(get(properties(root, 1), "height_ft"));
    assert_null(get(properties(root, 1), "corner_ft2"));
    assert_null(get(properties(root, 1), "fasteners"));
    assert_string_equal(get_text(properties(root, 1), "area_ft2"), "215.3");
    json_object_put(root);
    text_release(&out);
}

static void input_text_is_escaped(void **state)
{
    struct sample sample;
    struct text out = TEXT_INIT;
    json_object *root = NULL;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    sample.roofs[0].name = "tab\there \\ \"quote\" \xc3\xa9 \xff end\n";
    collect(&out, "zones", geojson_zones, &sample, 1);
    root = parse(out.data);
    assert_string_equal(get_text(properties(root, 0), "name"),
                        "tab\there \\ \"quote\" \xc3\xa9 \xef\xbf\xbd end\n");
    json_object_put(root);
    text_release(&out);
}

/* Polygons as another reader sees them: valid, closed, right-hand, of the same area. */
static void gdal_reads_the_same(void **state)
{
    const char *path = "/vsimem/zones.geojson";
    struct sample sample;
    struct text out = TEXT_INIT;
    GDALDatasetH dataset = NULL;
    OGRLayerH layer = NULL;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    collect(&out, "zones", geojson_zones, &sample, 1);
    VSIFCloseL(VSIFileFromMemBuffer(path, (GByte *)out.data, out.length, FALSE));
    dataset = GDALOpenEx(path, GDAL_OF_VECTOR, NULL, NULL, NULL);
    assert_non_null(dataset);
    layer = GDALDatasetGetLayer(dataset, 0);
    assert_string_equal(OGR_L_GetName(layer), "zones");
    assert_int_equal(OGR_L_GetFeatureCount(layer, TRUE), 4);
    for (int i = 0; i < 3; i++) {
        OGRFeatureH read = OGR_L_GetNextFeature(layer);
        OGRGeometryH polygon = OGR_F_GetGeometryRef(read);
        OGRGeometryH shell = OGR_G_GetGeometryRef(polygon, 0);
        int last = OGR_G_GetPointCount(shell) - 1;
        double area = 0; /* twice, signed */

        assert_true(OGR_G_IsValid(polygon));
        assert_int_equal(last, 4);
        assert_true(OGR_G_GetX(shell, 0) == OGR_G_GetX(shell, last));
        assert_true(OGR_G_GetY(shell, 0) == OGR_G_GetY(shell, last));
        for (int p = 0; p < last; p++)
            area += (OGR_G_GetX(shell, p) + 77) * (OGR_G_GetY(shell, p + 1) - 38) -
                    (OGR_G_GetX(shell, p + 1) + 77) * (OGR_G_GetY(shell, p) - 38);
        assert_true(fabs(area / 2 - 0.0005 * 0.0005) < 1e-12);
        assert_true(
            fabs(OGR_F_GetFieldAsDouble(read, OGR_F_GetFieldIndex(read, "share")) -
                 sample.roofs[0].zones[i].area / 1000) < 0.5001e-4);
        OGR_F_Destroy(read);
    }
    GDALClose(dataset);
    VSIUnlink(path);
    text_release(&out);
}

/* Columns of texts whose type readers take from the data: a column is of one type in all
 * features, whatever is in them, and a reader sees it as in a GeoPackage. */
static void a_column_has_one_type(void **state)
{
    static const chunk_writer writers[] = {geojson_zones, geojson_roofs};
    const char *path = "/vsimem/types.geojson";
    struct sample sample;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    sample.roofs[0].properties = ""; /* columns of our own only */
    sample.roofs[1].properties = "";
    sample.roofs[1].assumed = 0;
    for (size_t w = 0; w < sizeof writers / sizeof writers[0]; w++) {
        struct text out = TEXT_INIT;
        json_object *root = NULL;

        collect(&out, "types", writers[w], &sample, 1);
        root = parse(out.data);
        json_object_object_foreach(properties(root, 0), key, unused)
        {
            enum json_type type = json_type_null;

            (void)unused;
            for (size_t i = 0; i < json_object_array_length(get(root, "features")); i++) {
                enum json_type found =
                    json_object_get_type(get(properties(root, i), key));

                assert_true(type == json_type_null || found == json_type_null ||
                            found == type);
                assert_true(found != json_type_array && found != json_type_object);
                type = found == json_type_null ? type : found;
            }
        }
        if (writers[w] == geojson_roofs)
            assert_null(get(properties(root, 1), "assumed"));
        json_object_put(root);

        VSIFCloseL(VSIFileFromMemBuffer(path, (GByte *)out.data, out.length, FALSE));
        GDALDatasetH dataset = GDALOpenEx(path, GDAL_OF_VECTOR, NULL, NULL, NULL);
        OGRFeatureDefnH columns = OGR_L_GetLayerDefn(GDALDatasetGetLayer(dataset, 0));
        for (int i = 0; i < OGR_FD_GetFieldCount(columns); i++) {
            OGRFieldType type = OGR_Fld_GetType(OGR_FD_GetFieldDefn(columns, i));

            assert_true(type == OFTString || type == OFTReal || type == OFTInteger);
        }
        GDALClose(dataset);
        VSIUnlink(path);
        text_release(&out);
    }
}

/* The sum of printed areas is the printed area to the digits printed. */
static void zones_add_up_to_the_roof(void **state)
{
    struct sample sample;
    struct text zones = TEXT_INIT;
    struct text roofs = TEXT_INIT;
    json_object *zone_root = NULL;
    json_object *roof_root = NULL;
    double sum = 0;

    (void)state;
    sample_fill(&sample, &unit_system_si);
    collect(&zones, "zones", geojson_zones, &sample, 1);
    collect(&roofs, "roofs", geojson_roofs, &sample, 1);
    zone_root = parse(zones.data);
    roof_root = parse(roofs.data);
    for (size_t i = 0; i < 4; i++)
        sum += json_object_get_double(get(properties(zone_root, i), "area_m2"));
    assert_true(fabs(sum - json_object_get_double(
                               get(properties(roof_root, 0), "area_m2"))) < 0.005);
    json_object_put(zone_root);
    json_object_put(roof_root);
    text_release(&zones);
    text_release(&roofs);
}

static int register_drivers(void **state)
{
    (void)state;
    GDALAllRegister();
    return 0;
}

static int deregister_drivers(void **state)
{
    (void)state;
    GDALDestroyDriverManager();
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_collection_says_what_it_is),
        cmocka_unit_test(an_empty_collection_is_valid),
        cmocka_unit_test(each_feature_is_a_line),
        cmocka_unit_test(a_zone_carries_its_annotations),
        cmocka_unit_test(unknown_is_null_and_never_zero),
        cmocka_unit_test(a_zone_without_polygon_stays_with_null_geometry),
        cmocka_unit_test(lines_stand_alone),
        cmocka_unit_test(a_roof_left_out_keeps_its_own_outline),
        cmocka_unit_test(roofs_keep_their_fields_and_prefix_what_clashes),
        cmocka_unit_test(roofs_left_out_are_there_with_empty_results),
        cmocka_unit_test(input_text_is_escaped),
        cmocka_unit_test(gdal_reads_the_same),
        cmocka_unit_test(a_column_has_one_type),
        cmocka_unit_test(zones_add_up_to_the_roof),
    };

    return cmocka_run_group_tests_name("write/geojson", tests, register_drivers,
                                       deregister_drivers);
}
