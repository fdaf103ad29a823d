#define _LARGEFILE64_SOURCE 1 /* VSIStatBufL is a struct stat64 */

#include "read/layer.h"

#include <stdbool.h>
#include <string.h>

#include <cpl_string.h>
#include <cpl_vsi.h>

#include "read/outline.h"

/*
 * Options of single drivers; the others ignore them. Text that looks like a date stays
 * text, so that it is written as it was read. Types of CSV columns aren't guessed: GDAL
 * guesses from the first lines and then drops what doesn't fit.
 */
static const char *const open_options[] = {
    "DATE_AS_STRING=YES",
    "GEOM_POSSIBLE_NAMES=wkt,wkt_*,geom,geometry,the_geom,wkb_geometry,shape,outline",
    "KEEP_GEOM_COLUMNS=NO", NULL};

static enum outlay_status fail_open(const char *input, const struct gdal_log *log,
                                    struct outlay_error *err)
{
    VSIStatBufL stat;
    GDALDriverH driver = NULL;

    bool exists = VSIStatExL(input, &stat, VSI_STAT_EXISTS_FLAG) == 0;

    if (!exists && !strchr(input, ':')) {
        outlay_fail(err, OUTLAY_E_INPUT, "there is no such file");
        outlay_fail_todo(err, "check the path of the input");
        return OUTLAY_E_INPUT;
    }
    driver = exists ? GDALIdentifyDriverEx(input, GDAL_OF_RASTER, NULL, NULL) : NULL;
    if (driver && !GDALGetMetadataItem(driver, GDAL_DCAP_VECTOR, NULL)) {
        outlay_fail(err, OUTLAY_E_INPUT, "a raster (%.60s), not a layer of outlines",
                    GDALGetDriverLongName(driver));
        outlay_fail_todo(err, "give a vector file, such as GeoJSON or a shapefile");
        return OUTLAY_E_INPUT;
    }
    outlay_fail(err, OUTLAY_E_INPUT, "it can't be read: %.190s",
                gdal_log_text(log, "no vector driver takes it"));
    outlay_fail_todo(err, "check that the file is whole and its format is among those of "
                          "ogrinfo --formats");
    return OUTLAY_E_INPUT;
}

enum outlay_status dataset_open(const char *input, struct gdal_log *log,
                                GDALDatasetH *out, struct outlay_error *err)
{
    *out = NULL;
    if (strncmp(input, "/vsistdin", 9) == 0 || strcmp(input, "/dev/stdin") == 0) {
        outlay_fail(err, OUTLAY_E_USAGE, "GDAL loses features on standard input");
        outlay_fail_todo(err, "give - and pipe one GeoJSON feature a line");
        return OUTLAY_E_USAGE;
    }
    GDALAllRegister();
    gdal_log_clear(log);
    /* SpatiaLite, which isn't needed, would change the locale of the whole process. */
    CPLSetThreadLocalConfigOption("SPATIALITE_LOAD", "NO");
    *out = GDALOpenEx(input, GDAL_OF_VECTOR | GDAL_OF_READONLY | GDAL_OF_VERBOSE_ERROR,
                      NULL, open_options, NULL);
    CPLSetThreadLocalConfigOption("SPATIALITE_LOAD", NULL);
    if (!*out)
        return fail_open(input, log, err);
    return OUTLAY_OK;
}

/* Types that hold or may hold polygons. A type that can't tell (any geometry) counts
 * only when `loose`. */
static bool holds_polygons(OGRLayerH layer, bool loose)
{
    switch (wkbFlatten(OGR_L_GetGeomType(layer))) {
    case wkbPolygon:
    case wkbMultiPolygon:
    case wkbCurvePolygon:
    case wkbMultiSurface:
    case wkbSurface:
    case wkbTriangle:
        return true;
    case wkbUnknown:
    case wkbGeometryCollection:
        return loose;
    default:
        return false;
    }
}

static void list_layers(GDALDatasetH dataset, struct outlay_error *err)
{
    struct text list = TEXT_INIT;

    for (int i = 0; i < GDALDatasetGetLayerCount(dataset) && list.length < 160; i++) {
        text_puts(&list, i ? ", " : "");
        text_puts(&list, OGR_L_GetName(GDALDatasetGetLayer(dataset, i)));
    }
    outlay_fail_todo(err, "the layers are: %.180s", list.length ? list.data : "none");
    text_release(&list);
}

static enum outlay_status fail_no_polygons(GDALDatasetH dataset, struct outlay_error *err)
{
    int count = GDALDatasetGetLayerCount(dataset);

    if (count == 0) {
        outlay_fail(err, OUTLAY_E_INPUT, "there is no layer in it");
        outlay_fail_todo(err, "check that this is the file you mean");
        return OUTLAY_E_INPUT;
    }
    if (count == 1) {
        OGRwkbGeometryType type = OGR_L_GetGeomType(GDALDatasetGetLayer(dataset, 0));

        return outline_fail_type(
            wkbFlatten(type) == wkbNone ? "missing" : OGRGeometryTypeToName(type), err);
    }
    outlay_fail(err, OUTLAY_E_INPUT, "none of its layers holds polygons");
    list_layers(dataset, err);
    return OUTLAY_E_INPUT;
}

/* The first candidate, with a note when there are more. */
static OGRLayerH first_layer(GDALDatasetH dataset, bool loose, struct text *notes)
{
    OGRLayerH found = NULL;
    size_t others = 0;

    for (int i = 0; i < GDALDatasetGetLayerCount(dataset); i++) {
        OGRLayerH layer = GDALDatasetGetLayer(dataset, i);

        if (!holds_polygons(layer, loose))
            continue;
        if (found)
            others++;
        else
            found = layer;
    }
    if (others)
        text_printf(
            notes,
            "note: layer \"%s\" is read, the first of %zu that can hold polygons; "
            "--layer names another\n",
            OGR_L_GetName(found), others + 1);
    return found;
}

enum outlay_status layer_pick(GDALDatasetH dataset, const char *name, struct text *notes,
                              OGRLayerH *out, struct outlay_error *err)
{
    if (name) {
        *out = GDALDatasetGetLayerByName(dataset, name);
        if (*out)
            return OUTLAY_OK;
        outlay_fail(err, OUTLAY_E_USAGE, "there is no layer \"%.80s\"", name);
        list_layers(dataset, err);
        return OUTLAY_E_USAGE;
    }
    *out = first_layer(dataset, false, notes);
    if (!*out)
        *out = first_layer(dataset, true, notes);
    if (!*out)
        return fail_no_polygons(dataset, err);
    return OUTLAY_OK;
}
