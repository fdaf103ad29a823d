#define _LARGEFILE64_SOURCE 1 /* VSIStatBufL is a struct stat64 */

#include "read/side_layer.h"

#include <stdio.h>
#include <string.h>

#include <cpl_vsi.h>

#include "read/layer.h"

enum outlay_status side_layer_refuse(const struct side_layer *side,
                                     enum outlay_status status, const char *what,
                                     const char *todo, struct outlay_error *err)
{
    outlay_fail(err, status, "%s", what);
    outlay_fail_where(err, "%s", side->path);
    outlay_fail_todo(err, "%s", todo);
    return status;
}

static bool exists(const char *path)
{
    VSIStatBufL stat;

    return VSIStatExL(path, &stat, VSI_STAT_EXISTS_FLAG) == 0;
}

/* Where the layer's name starts in "dataset/layer"; NULL: there is none. */
static const char *find_layer_name(const char *path)
{
    const char *slash = strrchr(path, '/');
    char dataset[1024];

    if (exists(path) || !slash || (size_t)(slash - path) >= sizeof dataset)
        return NULL;
    snprintf(dataset, sizeof dataset, "%.*s", (int)(slash - path), path);
    return exists(dataset) ? slash + 1 : NULL;
}

static enum outlay_status find_layer(struct side_layer *side, struct outlay_error *err)
{
    const char *name = find_layer_name(side->path);
    char dataset[1024];
    enum outlay_status status = OUTLAY_OK;

    snprintf(dataset, sizeof dataset, "%.*s",
             name ? (int)(name - side->path - 1) : (int)sizeof dataset - 1, side->path);
    status = dataset_open(dataset, side->log, &side->dataset, err);
    if (status != OUTLAY_OK) {
        outlay_fail_where(err, "%s", dataset);
        return status;
    }
    if (name) {
        side->layer = GDALDatasetGetLayerByName(side->dataset, name);
        return side->layer ? OUTLAY_OK
                           : side_layer_refuse(side, OUTLAY_E_USAGE,
                                               "there is no such layer in it",
                                               "`ogrinfo FILE` lists them", err);
    }
    side->layer = GDALDatasetGetLayer(side->dataset, 0);
    if (side->layer && GDALDatasetGetLayerCount(side->dataset) == 1)
        return OUTLAY_OK;
    return side_layer_refuse(side, OUTLAY_E_USAGE, "there isn't just one layer in it",
                             "name the one that is meant behind a slash: FILE/LAYER",
                             err);
}

static enum outlay_status find_transform(struct side_layer *side,
                                         struct outlay_error *err)
{
    OGRSpatialReferenceH crs = OGR_L_GetSpatialRef(side->layer);
    OGRSpatialReferenceH wgs84 = OSRNewSpatialReference(NULL);

    if (!crs || !wgs84 || OSRSetWellKnownGeogCS(wgs84, "WGS84") != OGRERR_NONE) {
        OSRDestroySpatialReference(wgs84);
        return side_layer_refuse(
            side, OUTLAY_E_INPUT, "the layer says no coordinate reference system",
            "write it into the file: ogr2ogr -a_srs EPSG:CODE OUT IN", err);
    }
    OSRSetAxisMappingStrategy(wgs84, OAMS_TRADITIONAL_GIS_ORDER);
    side->to_lonlat = OCTNewCoordinateTransformation(crs, wgs84);
    OSRDestroySpatialReference(wgs84);
    return side->to_lonlat
               ? OUTLAY_OK
               : side_layer_refuse(
                     side, OUTLAY_E_INPUT,
                     gdal_log_text(side->log, "its CRS can't be used"),
                     "give the layer in a CRS that PROJ knows: ogr2ogr -t_srs", err);
}

enum outlay_status side_layer_open(const char *path, struct gdal_log *log,
                                   struct side_layer *out, struct outlay_error *err)
{
    *out = (struct side_layer){.path = path, .log = log};
    enum outlay_status status = find_layer(out, err);

    if (status == OUTLAY_OK)
        status = find_transform(out, err);
    gdal_log_clear(log);
    return status;
}

void side_layer_close(struct side_layer *side)
{
    if (side->to_lonlat)
        OCTDestroyCoordinateTransformation(side->to_lonlat);
    if (side->dataset)
        GDALClose(side->dataset);
    side->to_lonlat = NULL;
    side->dataset = NULL;
}

enum outlay_status side_layer_check(const struct side_layer *side, size_t points,
                                    struct outlay_error *err)
{
    if (side->log->failures)
        return side_layer_refuse(side, OUTLAY_E_INPUT, side->log->failure,
                                 "the layer is damaged or cut off: get it again", err);
    if (points > SIDE_POINTS_MAX)
        return side_layer_refuse(
            side, OUTLAY_E_INPUT, "the layer has over 4,000,000 points",
            "cut it to the roofs first: ogr2ogr -clipsrc W S E N OUT IN", err);
    return OUTLAY_OK;
}

size_t side_layer_points(OGRGeometryH geometry)
{
    size_t count = (size_t)OGR_G_GetPointCount(geometry);

    for (int i = 0; i < OGR_G_GetGeometryCount(geometry); i++)
        count += side_layer_points(OGR_G_GetGeometryRef(geometry, i));
    return count;
}

struct value side_layer_value(struct arena *arena, OGRFeatureH feature, int column)
{
    OGRFieldType type = OGR_Fld_GetType(OGR_F_GetFieldDefnRef(feature, column));
    const char *text = NULL;

    if (!OGR_F_IsFieldSetAndNotNull(feature, column))
        return (struct value){.kind = VALUE_NULL};
    if (type == OFTInteger || type == OFTInteger64)
        return (struct value){.kind = VALUE_WHOLE,
                              .whole = OGR_F_GetFieldAsInteger64(feature, column)};
    if (type == OFTReal)
        return (struct value){.kind = VALUE_REAL,
                              .real = OGR_F_GetFieldAsDouble(feature, column)};
    text = OGR_F_GetFieldAsString(feature, column);
    text = arena_text(arena, text, strlen(text));
    return (struct value){.kind = text ? VALUE_TEXT : VALUE_NULL, .text = text};
}
