#include "write/survey_points.h"

#include <stdlib.h>
#include <string.h>

#include <cpl_conv.h>
#include <cpl_error.h>
#include <cpl_string.h>
#include <gdal.h>
#include <ogr_api.h>
#include <ogr_srs_api.h>

#include "write/survey_table.h"

struct survey_points {
    const struct write_settings *set;
    char *path;
    GDALDatasetH dataset; /* NULL once closed */
    OGRLayerH layer;
    size_t features; /* that the file must hold */
};

static enum outlay_status fail(const struct survey_points *points, const char *doing,
                               struct outlay_error *err)
{
    const char *message = CPLGetLastErrorMsg();

    if (CPLGetLastErrorNo() == CPLE_OutOfMemory)
        return outlay_fail(err, OUTLAY_E_MEMORY, "%s: out of memory", doing);
    outlay_fail(err, OUTLAY_E_OUTPUT, "%s failed: %s", doing,
                *message ? message : "the driver doesn't say why");
    outlay_fail_where(err, "%s", points->path);
    outlay_fail_todo(err, "check that there is room and that you may write there");
    return OUTLAY_E_OUTPUT;
}

/* ---- Opening ---- */

static bool add_field(OGRLayerH layer, const char *name, const char *title)
{
    OGRFieldDefnH field = OGR_Fld_Create(name, OFTString);
    bool added = false;

    OGR_Fld_SetAlternativeName(field, title);
    added = OGR_L_CreateField(layer, field, TRUE) == OGRERR_NONE;
    OGR_Fld_Destroy(field);
    return added;
}

static bool add_layer(struct survey_points *points, OGRSpatialReferenceH crs,
                      const char *caution)
{
    char **options = CSLSetNameValue(NULL, "DESCRIPTION", caution);
    bool added = false;

    points->layer =
        GDALDatasetCreateLayer(points->dataset, "survey", crs, wkbPoint, options);
    CSLDestroy(options);
    added = points->layer != NULL;
    for (size_t i = 0; added && i < survey_sheet.column_count; i++)
        added = add_field(points->layer, survey_sheet.columns[i].name, "");
    return added && add_field(points->layer, "caution", caution);
}

static bool create(struct survey_points *points)
{
    GDALDriverH driver = GDALGetDriverByName("GPKG");
    OGRSpatialReferenceH crs = OSRNewSpatialReference(NULL);
    struct text caution = TEXT_INIT;
    bool made = false;

    caution_print(&caution, points->set->catalog_built_in);
    if (caution.failed)
        CPLError(CE_Failure, CPLE_OutOfMemory, "out of memory");
    if (driver && crs && !caution.failed && OSRImportFromEPSG(crs, 4326) == OGRERR_NONE) {
        OSRSetAxisMappingStrategy(crs, OAMS_TRADITIONAL_GIS_ORDER);
        /* as in write/layers.c */
        CPLSetThreadLocalConfigOption("SPATIALITE_LOAD", "NO");
        points->dataset = GDALCreate(driver, points->path, 0, 0, 0, GDT_Unknown, NULL);
        CPLSetThreadLocalConfigOption("SPATIALITE_LOAD", NULL);
        made = points->dataset && add_layer(points, crs, caution.data) &&
               GDALDatasetStartTransaction(points->dataset, FALSE) == OGRERR_NONE;
    }
    if (crs)
        OSRDestroySpatialReference(crs);
    text_release(&caution);
    return made;
}

enum outlay_status survey_points_open(const char *path, const struct write_settings *set,
                                      struct survey_points **out,
                                      struct outlay_error *err)
{
    struct survey_points *points = calloc(1, sizeof *points);
    enum outlay_status status = OUTLAY_OK;
    size_t size = strlen(path) + 1;

    if (points)
        points->path = malloc(size);
    if (!points || !points->path) {
        survey_points_abort(points);
        return outlay_fail(err, OUTLAY_E_MEMORY, "opening %s", path);
    }
    memcpy(points->path, path, size);
    points->set = set;
    GDALAllRegister();
    CPLErrorReset();
    CPLPushErrorHandler(CPLQuietErrorHandler);
    if (!create(points))
        status = fail(points, "making the file", err);
    CPLPopErrorHandler();
    *out = points;
    return status;
}

/* ---- Points ---- */

static bool add_entry(struct survey_points *points, const struct grid *grid, size_t row,
                      struct point at)
{
    OGRFeatureH feature = OGR_F_Create(OGR_L_GetLayerDefn(points->layer));
    OGRGeometryH geometry = OGR_G_CreateGeometry(wkbPoint);
    bool added = feature && geometry;

    for (size_t i = 0; added && i < survey_sheet.column_count; i++) {
        const char *text = grid_cell_text(grid, row, i);

        if (text)
            OGR_F_SetFieldString(feature, (int)i, text);
    }
    if (added) {
        OGR_F_SetFieldString(feature, (int)survey_sheet.column_count,
                             "planning figures, not a design");
        OGR_G_SetPoint_2D(geometry, 0, at.x, at.y);
        added = OGR_F_SetGeometry(feature, geometry) == OGRERR_NONE &&
                OGR_L_CreateFeature(points->layer, feature) == OGRERR_NONE;
    }
    OGR_G_DestroyGeometry(geometry);
    OGR_F_Destroy(feature);
    points->features += added;
    return added;
}

static bool add_roof(struct survey_points *points, const struct site_survey *survey)
{
    struct grid *grid = grid_new(&survey_sheet, points->set);
    bool added = grid != NULL;

    if (added) {
        survey_of_roof(grid, survey, points->set);
        added = !grid_failed(grid);
    }
    if (!added)
        CPLError(CE_Failure, CPLE_OutOfMemory, "out of memory");
    for (size_t i = 0; added && i < survey->entry_count; i++)
        added =
            add_entry(points, grid, i, survey->places[survey->entries[i].place].lonlat);
    grid_free(grid);
    return added;
}

enum outlay_status survey_points_add(struct survey_points *points,
                                     const struct building *building,
                                     struct outlay_error *err)
{
    bool added = true;
    enum outlay_status status = OUTLAY_OK;

    CPLErrorReset();
    CPLPushErrorHandler(CPLQuietErrorHandler);
    for (size_t i = 0; added && building->surveys && i < building->roof_count; i++)
        added = add_roof(points, &building->surveys[i]);
    if (!added)
        status = fail(points, "writing points", err);
    CPLPopErrorHandler();
    return status;
}

/* ---- The end ---- */

/* What the driver kept, read back. */
static bool holds_all(const struct survey_points *points)
{
    GDALDatasetH dataset =
        GDALOpenEx(points->path, GDAL_OF_VECTOR | GDAL_OF_READONLY, NULL, NULL, NULL);
    OGRLayerH layer = dataset ? GDALDatasetGetLayer(dataset, 0) : NULL;
    bool whole = layer && OGR_L_GetFeatureCount(layer, TRUE) == (GIntBig)points->features;

    if (dataset)
        GDALClose(dataset);
    return whole;
}

enum outlay_status survey_points_close(struct survey_points *points,
                                       struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    bool kept = false;

    CPLErrorReset();
    CPLPushErrorHandler(CPLQuietErrorHandler);
    kept = GDALDatasetCommitTransaction(points->dataset) == OGRERR_NONE;
    GDALClose(points->dataset);
    points->dataset = NULL;
    kept = kept && CPLGetLastErrorType() < CE_Failure && holds_all(points);
    if (!kept)
        status = fail(points, "finishing the file", err);
    CPLPopErrorHandler();
    survey_points_abort(points);
    return status;
}

void survey_points_abort(struct survey_points *points)
{
    if (!points)
        return;
    if (points->dataset)
        GDALClose(points->dataset);
    free(points->path);
    free(points);
}
