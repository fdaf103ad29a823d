#include "write/roofs_layer.h"

#include <cpl_conv.h>
#include <cpl_error.h>
#include <cpl_string.h>
#include <errno.h>
#include <gdal.h>
#include <gdal_utils.h>
#include <stdlib.h>
#include <string.h>

#include "write/output.h"

static const char select_all[] =
    "SELECT *, 'planning figures, not a design' AS caution FROM roofs";

/* Features of a layer that can be read; -1. */
static GIntBig count_features(OGRLayerH layer)
{
    return layer ? OGR_L_GetFeatureCount(layer, TRUE) : -1;
}

/* Roofs that have an outline, which a FlatGeobuf file can't be without. */
static GIntBig count_outlines(GDALDatasetH source)
{
    OGRLayerH found = GDALDatasetExecuteSQL(
        source, "SELECT FID FROM roofs WHERE OGR_GEOMETRY IS NOT NULL", NULL, "OGRSQL");
    GIntBig count = count_features(found);

    if (found)
        GDALDatasetReleaseResultSet(source, found);
    return count;
}

static bool holds(const char *path, GIntBig count)
{
    GDALDatasetH dataset =
        GDALOpenEx(path, GDAL_OF_VECTOR | GDAL_OF_READONLY, NULL, NULL, NULL);
    bool whole = dataset && count_features(GDALDatasetGetLayer(dataset, 0)) == count;

    if (dataset)
        GDALClose(dataset);
    return whole;
}

/* Adds -lco OPTION=NAME, with a name that no field has in any case. */
static char **add_name(char **arguments, const char *option, const char *name,
                       OGRLayerH layer)
{
    char free_name[80];

    CPLsnprintf(free_name, sizeof free_name, "%s", name);
    for (size_t end = strlen(name);
         OGR_FD_GetFieldIndex(OGR_L_GetLayerDefn(layer), free_name) >= 0 &&
         end + 1 < sizeof free_name;
         free_name[++end] = '\0')
        free_name[end] = '_';
    arguments = CSLAddString(arguments, "-lco");
    return CSLAddString(arguments, CPLSPrintf("%s=%s", option, free_name));
}

static char **make_arguments(bool geopackage, OGRLayerH layer, const struct text *caution)
{
    static const char *const common[] = {
        "-nln", "roofs",        "-sql", select_all,
        "-nlt", "MULTIPOLYGON", "-lco", "SPATIAL_INDEX=YES",
        NULL};
    char **arguments = CSLDuplicate((char **)common);

    arguments = CSLAddString(arguments, "-f");
    arguments = CSLAddString(arguments, geopackage ? "GPKG" : "FlatGeobuf");
    if (!geopackage)
        return arguments;
    arguments = add_name(arguments, "FID", "outlay_fid", layer);
    arguments = add_name(arguments, "GEOMETRY_NAME", "outline", layer);
    arguments = CSLAddString(arguments, "-lco");
    return CSLAddString(arguments, CPLSPrintf("DESCRIPTION=%s", caution->data));
}

/* @return whether it was written without a failure */
static bool translate(GDALDatasetH source, const char *path, char **arguments)
{
    GDALVectorTranslateOptions *options = NULL;
    GDALDatasetH dataset = NULL;

    CPLErrorReset();
    options = GDALVectorTranslateOptionsNew(arguments, NULL);
    if (options)
        dataset = GDALVectorTranslate(path, NULL, 1, &source, options, NULL);
    if (dataset)
        GDALClose(dataset);
    GDALVectorTranslateOptionsFree(options);
    return dataset && CPLGetLastErrorType() < CE_Failure;
}

/* Drivers have been seen to leave features out without a word. */
static bool write_layer(GDALDatasetH source, const char *path, const struct text *caution)
{
    OGRLayerH layer = GDALDatasetGetLayer(source, 0);
    bool geopackage = EQUAL(CPLGetExtension(path), "gpkg");
    GIntBig count = geopackage ? count_features(layer) : count_outlines(source);
    char **arguments = make_arguments(geopackage, layer, caution);
    bool written = translate(source, path, arguments);

    CSLDestroy(arguments);
    if (written && !holds(path, count)) {
        CPLError(CE_Failure, CPLE_FileIO, "not all roofs can be read again");
        written = false;
    }
    return written;
}

static enum outlay_status fail(const char *path, struct outlay_error *err)
{
    const char *message = CPLGetLastErrorMsg();

    outlay_fail(err, OUTLAY_E_OUTPUT, "writing failed: %s",
                *message ? message : "the driver doesn't say why");
    outlay_fail_where(err, "%s", path);
    outlay_fail_todo(err, "check that there is room and that you may write there");
    return OUTLAY_E_OUTPUT;
}

/* The file that it is made from; owned. */
static char *source_of(const char *path)
{
    size_t stem = (size_t)(strrchr(path, '.') - path);
    char *source = path_with(path, ".geojson");

    if (source)
        memcpy(source + stem, ".geojson", sizeof ".geojson");
    return source;
}

enum outlay_status roofs_layer_write(const char *path, const struct write_settings *set,
                                     struct outlay_error *err)
{
    /* texts that look like dates stay what they are; FlatGeobuf has no lists */
    static const char *const as_texts[] = {"DATE_AS_STRING=YES", "ARRAY_AS_STRING=YES",
                                           NULL};
    enum outlay_status status = OUTLAY_OK;
    struct text caution = TEXT_INIT;
    GDALDatasetH dataset = NULL;
    char *source = source_of(path);

    caution_print(&caution, set->catalog_built_in);
    if (!source || caution.failed) {
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
        goto done;
    }
    GDALAllRegister();
    CPLPushErrorHandler(CPLQuietErrorHandler);
    CPLErrorReset();
    /* SpatiaLite, which isn't needed, would change the locale of the whole process. */
    CPLSetThreadLocalConfigOption("SPATIALITE_LOAD", "NO");
    dataset = GDALOpenEx(source, GDAL_OF_VECTOR | GDAL_OF_READONLY, NULL, as_texts, NULL);
    if (!dataset || !write_layer(dataset, path, &caution))
        status = fail(path, err);
    if (dataset)
        GDALClose(dataset);
    CPLSetThreadLocalConfigOption("SPATIALITE_LOAD", NULL);
    CPLPopErrorHandler();
    if (status == OUTLAY_OK && !output_synchronise(path))
        status = output_fail(err, errno, "bringing it to the disk", path);
done:
    text_release(&caution);
    free(source);
    return status;
}
