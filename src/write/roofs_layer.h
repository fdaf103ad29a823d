#ifndef OUTLAY_WRITE_ROOFS_LAYER_H
#define OUTLAY_WRITE_ROOFS_LAYER_H

/**
 * @file write/roofs_layer.h
 * roofs.geojson again, as a GeoPackage or FlatGeobuf file: once it is finished, since
 * ranks are known at the end alone and a FlatGeobuf file can't be changed.
 *
 * Threads: any.
 */

#include "write/write.h"

/**
 * Writes path from the finished file of the same name that ends in .geojson, with all
 * of its fields, a field `caution`, and a spatial index. FlatGeobuf can't hold a roof
 * without an outline, so such roofs aren't in that.
 * @param path  ends in .gpkg or .fgb; in a folder that isn't in its place yet
 * @return OUTLAY_E_OUTPUT, OUTLAY_E_MEMORY
 */
enum outlay_status roofs_layer_write(const char *path, const struct write_settings *set,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
