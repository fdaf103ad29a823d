#ifndef OUTLAY_READ_SIDE_LAYER_H
#define OUTLAY_READ_SIDE_LAYER_H

/**
 * @file read/side_layer.h
 * Opens a layer that is read beside the outlines: what samples, fixtures and edges come
 * from. Each is named by its file, and by its layer where the file has several:
 * roofs.gpkg/drains.
 */

#include <gdal.h>
#include <ogr_api.h>
#include <ogr_srs_api.h>

#include "read/gdal_log.h"
#include "read/value.h"

/** Points that such a layer may have: what is held is bounded (ours). */
#define SIDE_POINTS_MAX 4000000

struct side_layer {
    const char *path;
    struct gdal_log *log;                   /**< begun by the caller */
    GDALDatasetH dataset;                   /**< owned */
    OGRLayerH layer;                        /**< of the dataset */
    OGRCoordinateTransformationH to_lonlat; /**< owned; degrees WGS 84 */
};

/**
 * @param path  of the dataset, or dataset/layer; borrowed
 * @param[out] out  to be closed in any case
 * @return OUTLAY_E_INPUT: no such file, damaged, no CRS; OUTLAY_E_USAGE: no such layer,
 *         or one has to be named
 */
enum outlay_status side_layer_open(const char *path, struct gdal_log *log,
                                   struct side_layer *out,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Twice is fine. */
void side_layer_close(struct side_layer *side);

/** Fails with what, the layer's path as where, and todo. @return status */
enum outlay_status side_layer_refuse(const struct side_layer *side,
                                     enum outlay_status status, const char *what,
                                     const char *todo, struct outlay_error *err);

/** Fails where the layer is damaged, which shows when all its features are read, or where
 *  it has more points than may be. @return OUTLAY_E_INPUT */
enum outlay_status side_layer_check(const struct side_layer *side, size_t points,
                                    struct outlay_error *err) OUTLAY_MUST_CHECK;

/** A column's value, texts in the arena; missing where it ran out of memory. */
struct value side_layer_value(struct arena *arena, OGRFeatureH feature, int column);

/** Number of points in all parts of a geometry. */
size_t side_layer_points(OGRGeometryH geometry);

#endif
