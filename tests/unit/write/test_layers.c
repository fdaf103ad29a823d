#define _XOPEN_SOURCE 700 /* nftw() */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <cpl_error.h>
#include <gdal.h>
#include <ogr_api.h>
#include <ogr_srs_api.h>
#include <signal.h>
#include <sys/resource.h>

#include "roof/caution.h"
#include "sample.h"
#include "scratch.h"
#include "write/layers.h"

static struct layer_file *opened(const char *path, const struct sample *sample)
{
    struct layer_file *file = NULL;
    struct outlay_error err = {0};

    if (layer_file_open(path, &sample->set, &file, &err) != OUTLAY_OK)
        fail_msg("%s: %s", err.where, err.what);
    return file;
}

static size_t write_sample(const char *path, const struct sample *sample)
{
    struct layer_file *file = opened(path, sample);
    struct outlay_error err = {0};
    size_t left_out = 99;

    assert_int_equal(layer_file_add(file, &sample->building, &err), OUTLAY_OK);
    assert_false(scratch_is_there(path));
    if (layer_file_commit(file, &left_out, &err) != OUTLAY_OK)
        fail_msg("%s: %s", err.where, err.what);
    return left_out;
}

static const char *field(OGRFeatureH feature, const char *name)
{
    int index = OGR_F_GetFieldIndex(feature, name);

    if (index < 0)
        fail_msg("no field %s", name);
    return OGR_F_IsFieldSetAndNotNull(feature, index)
               ? OGR_F_GetFieldAsString(feature, index)
               : NULL;
}

static OGRFeatureH find_zone(OGRLayerH layer, const char *role)
{
    OGRFeatureH feature = NULL;

    OGR_L_ResetReading(layer);
    while ((feature = OGR_L_GetNextFeature(layer)) != NULL) {
        if (strcmp(field(feature, "zone"), role) == 0)
            return feature;
        OGR_F_Destroy(feature);
    }
    fail_msg("no zone %s", role);
    return NULL;
}

static void check_perimeter(OGRLayerH layer)
{
    OGRFeatureH zone = find_zone(layer, "perimeter");
    OGRGeometryH geometry = OGR_F_GetGeometryRef(zone);

    assert_string_equal(field(zone, "roof_id"), "W-1");
    assert_string_equal(field(zone, "standard_zone"), "2");
    assert_string_equal(field(zone, "assembly"), "Seam-fastened, 10 ft \"A\"");
    assert_string_equal(field(zone, "area_ft2"), "2691.4");
    assert_string_equal(field(zone, "share"), "0.25");
    assert_string_equal(field(zone, "uplift_psf"), "62.7");
    assert_string_equal(field(zone, "fasteners"), "26");
    assert_null(field(zone, "per_board"));
    assert_null(field(zone, "reason"));
    assert_string_equal(field(zone, "estimated"), "storeys");
    assert_string_equal(field(zone, "assumed"), "exposure; pullout-untested");
    assert_non_null(strstr(field(zone, "caution"), "not a design"));
    assert_non_null(geometry);
    assert_true(OGR_G_IsValid(geometry));
    assert_true(fabs(OGR_G_Area(geometry) - 0.0005 * 0.0005) < 1e-12);
    OGR_F_Destroy(zone);
}

static void check_crs(OGRLayerH layer)
{
    OGRSpatialReferenceH crs = OGR_L_GetSpatialRef(layer);
    OGREnvelope box;

    assert_non_null(crs);
    assert_string_equal(OSRGetAuthorityCode(crs, NULL), "4326");
    assert_int_equal(OGR_L_GetExtent(layer, &box, TRUE), OGRERR_NONE);
    assert_true(fabs(box.MinX + 77) < 1e-9 && fabs(box.MinY - 38.5) < 1e-9);
}

static void a_geopackage_holds_every_zone(void **state)
{
    struct sample sample;
    GDALDatasetH dataset = NULL;
    OGRLayerH layer = NULL;
    OGRFeatureH zone = NULL;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    assert_int_equal(write_sample("zones.gpkg", &sample), 0);
    assert_int_equal(scratch_count("."), 1);
    dataset = GDALOpenEx("zones.gpkg", GDAL_OF_VECTOR, NULL, NULL, NULL);
    assert_non_null(dataset);
    layer = GDALDatasetGetLayerByName(dataset, "zones");
    assert_non_null(layer);
    assert_int_equal(OGR_L_GetFeatureCount(layer, TRUE), 4);
    assert_true(OGR_L_TestCapability(layer, OLCFastSpatialFilter));
    assert_memory_equal(GDALGetMetadataItem(layer, "DESCRIPTION", NULL), caution_text(),
                        strlen(caution_text()));
    check_crs(layer);
    check_perimeter(layer);
    zone = find_zone(layer, "interior");
    assert_null(OGR_F_GetGeometryRef(zone));
    assert_string_equal(field(zone, "area_ft2"), "3766.9");
    OGR_F_Destroy(zone);
    GDALClose(dataset);
}

static void a_flatgeobuf_tells_what_it_cannot_hold(void **state)
{
    struct sample sample;
    GDALDatasetH dataset = NULL;
    OGRLayerH layer = NULL;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    assert_int_equal(write_sample("zones.FGB", &sample), 1);
    assert_int_equal(scratch_count("."), 1);
    dataset = GDALOpenEx("zones.FGB", GDAL_OF_VECTOR, NULL, NULL, NULL);
    assert_non_null(dataset);
    layer = GDALDatasetGetLayer(dataset, 0);
    assert_int_equal(OGR_L_GetFeatureCount(layer, TRUE), 3);
    assert_true(OGR_L_TestCapability(layer, OLCFastSpatialFilter));
    check_crs(layer);
    check_perimeter(layer);
    GDALClose(dataset);
}

static void si_has_its_own_fields(void **state)
{
    struct sample sample;
    GDALDatasetH dataset = NULL;
    OGRFeatureH zone = NULL;

    (void)state;
    sample_fill(&sample, &unit_system_si);
    write_sample("zones.gpkg", &sample);
    dataset = GDALOpenEx("zones.gpkg", GDAL_OF_VECTOR, NULL, NULL, NULL);
    assert_non_null(dataset);
    zone = find_zone(GDALDatasetGetLayer(dataset, 0), "corner");
    assert_string_equal(field(zone, "area_m2"), "100");
    assert_string_equal(field(zone, "uplift_pa"), "4000");
    assert_string_equal(field(zone, "reason"), "12 psf short");
    OGR_F_Destroy(zone);
    GDALClose(dataset);
}

static void an_existing_file_is_replaced_at_the_commit(void **state)
{
    struct sample sample;
    struct layer_file *file = NULL;
    size_t left_out = 0;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    scratch_write("zones.gpkg", "old");
    scratch_write("zones.partial.gpkg", "left over");
    file = opened("zones.gpkg", &sample);
    assert_int_equal(layer_file_add(file, &sample.building, NULL), OUTLAY_OK);
    scratch_expect("zones.gpkg", "old");
    layer_file_abort(file);
    scratch_expect("zones.gpkg", "old");
    assert_int_equal(scratch_count("."), 1);
    file = opened("zones.gpkg", &sample);
    assert_int_equal(layer_file_commit(file, &left_out, NULL), OUTLAY_OK);
    assert_int_equal(scratch_count("."), 1);
}

static void places_that_cannot_be_written_are_refused(void **state)
{
    struct sample sample;
    struct layer_file *file = NULL;
    struct outlay_error err = {0};

    (void)state;
    sample_fill(&sample, &unit_system_us);
    assert_int_equal(layer_file_open("no/zones.gpkg", &sample.set, &file, &err),
                     OUTLAY_E_OUTPUT);
    assert_null(file);
    assert_string_equal(err.where, "no/zones.gpkg");
    assert_int_equal(layer_file_open("no/zones.fgb", &sample.set, &file, &err),
                     OUTLAY_E_OUTPUT);
    layer_file_abort(NULL);
}

/* Writes a hundred samples where files may not grow beyond `room` bytes: that stands
 * for a disk without room. */
static enum outlay_status write_within(const char *path, rlim_t room,
                                       struct outlay_error *err)
{
    struct sample sample;
    struct rlimit before;
    struct rlimit small;
    struct layer_file *file = NULL;
    size_t left_out = 0;
    enum outlay_status status = OUTLAY_OK;

    sample_fill(&sample, &unit_system_us);
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &before), 0);
    small = before;
    small.rlim_cur = room < before.rlim_cur ? room : before.rlim_cur;
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &small), 0);
    status = layer_file_open(path, &sample.set, &file, err);
    for (int i = 0; i < 100 && status == OUTLAY_OK; i++)
        status = layer_file_add(file, &sample.building, err);
    if (status == OUTLAY_OK)
        status = layer_file_commit(file, &left_out, err);
    else
        layer_file_abort(file);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &before), 0);
    return status;
}

/* The last bytes are the ones that a driver may lose quietly. */
static void expect_no_room(const char *path)
{
    static const off_t lacking[] = {1, 50, 1000, 4096, 5000, 20000, 100000};
    struct outlay_error err = {0};
    struct stat found;

    assert_int_equal(write_within(path, RLIM_INFINITY, &err), OUTLAY_OK);
    assert_int_equal(stat(path, &found), 0);
    assert_true(found.st_size > 100000);
    scratch_write(path, "old");
    for (size_t i = 0; i < sizeof lacking / sizeof lacking[0]; i++) {
        rlim_t room = (rlim_t)(found.st_size - lacking[i]);

        err = (struct outlay_error){0};
        assert_int_equal(write_within(path, room, &err), OUTLAY_E_OUTPUT);
        assert_string_equal(err.where, path);
        assert_true(strlen(err.what) > 0);
        scratch_expect(path, "old");
        assert_int_equal(scratch_count("."), 1);
    }
    assert_int_equal(unlink(path), 0);
}

static void no_room_leaves_the_old_file(void **state)
{
    (void)state;
    signal(SIGXFSZ, SIG_IGN);
    expect_no_room("zones.gpkg");
    expect_no_room("zones.fgb");
}

static void endings_choose_the_format(void **state)
{
    (void)state;
    assert_true(layer_file_suits("a.gpkg"));
    assert_true(layer_file_suits("b/A.GPKG"));
    assert_true(layer_file_suits("a.fgb"));
    assert_false(layer_file_suits("a.geojson"));
    assert_false(layer_file_suits("gpkg"));
    assert_false(layer_file_suits("a.gpkg/out"));
    assert_false(layer_file_suits(""));
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

#define IN_SCRATCH(test) \
    cmocka_unit_test_setup_teardown(test, scratch_enter, scratch_leave)

int main(void)
{
    const struct CMUnitTest tests[] = {
        IN_SCRATCH(a_geopackage_holds_every_zone),
        IN_SCRATCH(a_flatgeobuf_tells_what_it_cannot_hold),
        IN_SCRATCH(si_has_its_own_fields),
        IN_SCRATCH(an_existing_file_is_replaced_at_the_commit),
        IN_SCRATCH(places_that_cannot_be_written_are_refused),
        IN_SCRATCH(no_room_leaves_the_old_file),
        cmocka_unit_test(endings_choose_the_format),
    };

    return cmocka_run_group_tests_name("write/layers", tests, register_drivers,
                                       deregister_drivers);
}
