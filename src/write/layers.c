#include "write/layers.h"

#include <cpl_conv.h>
#include <cpl_error.h>
#include <cpl_string.h>
#include <errno.h>
#include <gdal.h>
#include <math.h>
#include <ogr_api.h>
#include <ogr_srs_api.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/number.h"
#include "write/columns.h"
#include "write/output.h"

static const char short_caution[] = "planning figures, not a design";

struct layer_file {
    const struct write_settings *set;
    char *path;
    char *partial;
    GDALDatasetH dataset; /* NULL once closed */
    OGRLayerH layer;
    bool geopackage;
    struct text scratch;
    size_t features; /* that the file must hold */
    size_t left_out;
};

static const char *ending_of(const char *path)
{
    const char *dot = strrchr(path, '.');

    return dot && !strchr(dot, '/') ? dot : "";
}

static bool is_geopackage(const char *path)
{
    return EQUAL(ending_of(path), ".gpkg");
}

bool layer_file_suits(const char *path)
{
    return is_geopackage(path) || EQUAL(ending_of(path), ".fgb");
}

/* The driver's words, or the status' own where it has none. */
static enum outlay_status fail_by_gdal(const struct layer_file *file, const char *doing,
                                       struct outlay_error *err)
{
    const char *message = CPLGetLastErrorMsg();

    if (file->scratch.failed || CPLGetLastErrorNo() == CPLE_OutOfMemory)
        return outlay_fail(err, OUTLAY_E_MEMORY, "%s: out of memory", doing);
    outlay_fail(err, OUTLAY_E_OUTPUT, "%s failed: %s", doing,
                *message ? message : "the driver doesn't say why");
    outlay_fail_where(err, "%s", file->path);
    outlay_fail_todo(err, "check that there is room and that you may write there");
    return OUTLAY_E_OUTPUT;
}

/* ---- Opening ---- */

static OGRSpatialReferenceH wgs84(void)
{
    OGRSpatialReferenceH crs = OSRNewSpatialReference(NULL);

    if (crs && OSRImportFromEPSG(crs, 4326) != OGRERR_NONE) {
        OSRDestroySpatialReference(crs);
        crs = NULL;
    }
    if (crs)
        OSRSetAxisMappingStrategy(crs, OAMS_TRADITIONAL_GIS_ORDER);
    return crs;
}

static bool is_whole(const struct column *column)
{
    return column->measure == MEASURE_NONE && column->decimals[0] == 0;
}

static OGRFieldType field_type(const struct column *column)
{
    if (column->kind != COLUMN_NUMBER)
        return OFTString;
    return is_whole(column) ? OFTInteger64 : OFTReal;
}

/* title: "" for none */
static bool add_field(struct layer_file *file, const char *name, const char *title,
                      OGRFieldType type)
{
    OGRFieldDefnH field = OGR_Fld_Create(name, type);
    bool added = false;

    OGR_Fld_SetAlternativeName(field, title);
    added = OGR_L_CreateField(file->layer, field, TRUE) == OGRERR_NONE;
    OGR_Fld_Destroy(field);
    return added;
}

static bool add_fields(struct layer_file *file, const char *caution)
{
    int units = columns_units(file->set);

    for (size_t i = 0; i < zone_column_count; i++) {
        text_clear(&file->scratch);
        column_name(&file->scratch, &zone_columns[i], units);
        if (file->scratch.failed ||
            !add_field(file, file->scratch.data, "", field_type(&zone_columns[i])))
            return false;
    }
    return add_field(file, "caution", caution, OFTString);
}

static bool add_layer(struct layer_file *file)
{
    OGRSpatialReferenceH crs = wgs84();
    struct text caution = TEXT_INIT;
    char **options = NULL;
    bool added = false;

    caution_print(&caution, file->set->catalog_built_in);
    file->scratch.failed = file->scratch.failed || caution.failed;
    options = CSLSetNameValue(options, "SPATIAL_INDEX", "YES");
    if (file->geopackage && !caution.failed)
        options = CSLSetNameValue(options, "DESCRIPTION", caution.data);
    if (crs && !caution.failed)
        file->layer =
            GDALDatasetCreateLayer(file->dataset, "zones", crs, wkbMultiPolygon, options);
    added = file->layer && add_fields(file, caution.data);
    CSLDestroy(options);
    text_release(&caution);
    if (crs)
        OSRDestroySpatialReference(crs);
    return added;
}

static bool create(struct layer_file *file)
{
    GDALDriverH driver = GDALGetDriverByName(file->geopackage ? "GPKG" : "FlatGeobuf");

    if (!driver)
        return false;
    /* SpatiaLite, which isn't needed, would change the locale of the whole process. */
    CPLSetThreadLocalConfigOption("SPATIALITE_LOAD", "NO");
    file->dataset = GDALCreate(driver, file->partial, 0, 0, 0, GDT_Unknown, NULL);
    CPLSetThreadLocalConfigOption("SPATIALITE_LOAD", NULL);
    if (!file->dataset || !add_layer(file))
        return false;
    return !file->geopackage ||
           GDALDatasetStartTransaction(file->dataset, FALSE) == OGRERR_NONE;
}

/* Drivers know their files by the ending, so `.partial` comes before it. */
static char *partial_of(const char *path)
{
    const char *ending = ending_of(path);
    size_t size = strlen(path) + sizeof ".partial";
    char *partial = malloc(size);

    if (partial)
        snprintf(partial, size, "%.*s.partial%s", (int)(ending - path), path, ending);
    return partial;
}

enum outlay_status layer_file_open(const char *path, const struct write_settings *set,
                                   struct layer_file **out, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    struct layer_file *file = calloc(1, sizeof *file);

    *out = NULL;
    if (!file)
        return outlay_fail(err, OUTLAY_E_MEMORY, "opening %s", path);
    file->set = set;
    file->geopackage = is_geopackage(path);
    file->path = path_with(path, "");
    file->partial = partial_of(path);
    if (!file->path || !file->partial) {
        layer_file_abort(file);
        return outlay_fail(err, OUTLAY_E_MEMORY, "opening %s", path);
    }
    if (unlink(file->partial) != 0 && errno != ENOENT) {
        status =
            output_fail(err, errno, "removing what a stopped run left", file->partial);
        layer_file_abort(file);
        return status;
    }
    GDALAllRegister();
    CPLPushErrorHandler(CPLQuietErrorHandler);
    CPLErrorReset();
    if (!create(file))
        status = fail_by_gdal(file, "opening the output", err);
    CPLPopErrorHandler();
    if (status == OUTLAY_OK)
        *out = file;
    else
        layer_file_abort(file);
    return status;
}

/* ---- Features ---- */

/* The number as it is printed elsewhere. */
static void set_number(struct layer_file *file, OGRFeatureH feature, int field,
                       const struct column *column, const struct row *row)
{
    double value = column_number(column, row);

    if (!isfinite(value))
        return;
    text_clear(&file->scratch);
    text_fixed(&file->scratch, value, column->decimals[columns_units(row->set)]);
    if (file->scratch.failed || !number_parse(file->scratch.data, &value))
        return;
    if (is_whole(column))
        OGR_F_SetFieldInteger64(feature, field, (GIntBig)value);
    else
        OGR_F_SetFieldDouble(feature, field, value);
}

static void set_field(struct layer_file *file, OGRFeatureH feature, int field,
                      const struct column *column, const struct row *row)
{
    const char *text = NULL;

    switch (column->kind) {
    case COLUMN_NUMBER:
        set_number(file, feature, field, column, row);
        return;
    case COLUMN_NAMES:
        text_clear(&file->scratch);
        column_names(&file->scratch, column, row);
        text = file->scratch.length > 0 ? file->scratch.data : NULL;
        break;
    case COLUMN_TEXT:
    case COLUMN_WORD:
        text = column_text(column, row);
        break;
    }
    if (text)
        OGR_F_SetFieldString(feature, field, text);
}

static OGRGeometryH make_ring(struct ring ring)
{
    OGRGeometryH made = OGR_G_CreateGeometry(wkbLinearRing);

    for (size_t i = 0; i < ring.count; i++)
        OGR_G_AddPoint_2D(made, ring.points[i].x, ring.points[i].y);
    OGR_G_CloseRings(made);
    return made;
}

/* Owned by the caller. NULL for an empty region. */
static OGRGeometryH make_geometry(const struct region *region)
{
    OGRGeometryH made = NULL;

    if (region->polygon_count == 0)
        return NULL;
    made = OGR_G_CreateGeometry(wkbMultiPolygon);
    for (size_t i = 0; i < region->polygon_count; i++) {
        OGRGeometryH polygon = OGR_G_CreateGeometry(wkbPolygon);

        for (size_t r = 0; r < region->polygons[i].ring_count; r++)
            OGR_G_AddGeometryDirectly(polygon, make_ring(region->polygons[i].rings[r]));
        OGR_G_AddGeometryDirectly(made, polygon);
    }
    return made;
}

static bool add_zone(struct layer_file *file, const struct row *row)
{
    OGRGeometryH geometry = make_geometry(&row->zone->lonlat);
    OGRFeatureH feature = NULL;
    bool added = false;

    if (!geometry && !file->geopackage) {
        file->left_out++;
        return true;
    }
    feature = OGR_F_Create(OGR_L_GetLayerDefn(file->layer));
    for (size_t i = 0; i < zone_column_count; i++)
        set_field(file, feature, (int)i, &zone_columns[i], row);
    OGR_F_SetFieldString(feature, (int)zone_column_count, short_caution);
    if (geometry)
        OGR_F_SetGeometryDirectly(feature, geometry);
    added = OGR_L_CreateFeature(file->layer, feature) == OGRERR_NONE;
    OGR_F_Destroy(feature);
    file->features += added;
    return added && !file->scratch.failed;
}

static bool add_roof(struct layer_file *file, const struct roof *roof)
{
    struct row row = row_start(file->set, roof);

    for (size_t z = 0; z < roof->zone_count; z++) {
        row.zone = &roof->zones[z];
        if (!add_zone(file, &row))
            return false;
    }
    return true;
}

enum outlay_status layer_file_add(struct layer_file *file,
                                  const struct building *building,
                                  struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    CPLPushErrorHandler(CPLQuietErrorHandler);
    CPLErrorReset();
    for (size_t i = 0; i < building->roof_count && status == OUTLAY_OK; i++)
        if (!add_roof(file, &building->roofs[i]) || CPLGetLastErrorType() >= CE_Failure)
            status = fail_by_gdal(file, "writing", err); /* points are lost in silence */
    CPLPopErrorHandler();
    return status;
}

/* ---- Finishing ---- */

/* Closing writes most of a FlatGeobuf, and GDALClose() doesn't say whether it worked. */
static bool finish(struct layer_file *file)
{
    bool committed =
        !file->geopackage || GDALDatasetCommitTransaction(file->dataset) == OGRERR_NONE;

    if (!committed)
        return false;
    CPLErrorReset();
    GDALClose(file->dataset);
    file->dataset = NULL;
    return CPLGetLastErrorType() < CE_Failure;
}

/* A FlatGeobuf ends with its last feature, and what doesn't fit of the last few kB is
 * lost without a word. */
static bool has_end(const struct layer_file *file, OGRLayerH layer)
{
    OGRFeatureH last = NULL;

    if (file->geopackage || file->features == 0)
        return true;
    last = OGR_L_GetFeature(layer, (GIntBig)file->features - 1);
    if (!last)
        return false;
    OGR_F_Destroy(last);
    return true;
}

/* Drivers have been seen to leave features out without a word. */
static bool holds_all(const struct layer_file *file)
{
    GDALDatasetH dataset = NULL;
    OGRLayerH layer = NULL;
    bool all = false;

    CPLSetThreadLocalConfigOption("SPATIALITE_LOAD", "NO");
    dataset = GDALOpenEx(file->partial, GDAL_OF_VECTOR, NULL, NULL, NULL);
    CPLSetThreadLocalConfigOption("SPATIALITE_LOAD", NULL);
    layer = dataset ? GDALDatasetGetLayer(dataset, 0) : NULL;
    all = layer && OGR_L_GetFeatureCount(layer, TRUE) == (GIntBig)file->features &&
          has_end(file, layer);
    if (dataset)
        GDALClose(dataset);
    if (!all)
        CPLError(CE_Failure, CPLE_FileIO, "not all features can be read again");
    return all;
}

enum outlay_status layer_file_finish(struct layer_file *file, size_t *left_out,
                                     struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    *left_out = file->left_out;
    CPLPushErrorHandler(CPLQuietErrorHandler);
    if (!finish(file) || !holds_all(file))
        status = fail_by_gdal(file, "finishing the file", err);
    CPLPopErrorHandler();
    if (status == OUTLAY_OK && !output_synchronise(file->partial))
        status = output_fail(err, errno, "bringing it to the disk", file->path);
    return status;
}

enum outlay_status layer_file_commit(struct layer_file *file, size_t *left_out,
                                     struct outlay_error *err)
{
    enum outlay_status status =
        file->dataset ? layer_file_finish(file, left_out, err) : OUTLAY_OK;

    if (status == OUTLAY_OK && rename(file->partial, file->path) != 0)
        status = output_fail(err, errno, "renaming the finished file", file->path);
    layer_file_abort(file);
    return status;
}

/* What a driver that couldn't close leaves beside its file. */
static void remove_journal(const char *path)
{
    char *journal = path_with(path, "-journal");

    if (journal)
        unlink(journal);
    free(journal);
}

void layer_file_abort(struct layer_file *file)
{
    if (!file)
        return;
    CPLPushErrorHandler(CPLQuietErrorHandler);
    if (file->dataset)
        GDALClose(file->dataset);
    CPLPopErrorHandler();
    if (file->partial) {
        unlink(file->partial); /* gone already after a commit */
        remove_journal(file->partial);
    }
    text_release(&file->scratch);
    free(file->path);
    free(file->partial);
    free(file);
}
