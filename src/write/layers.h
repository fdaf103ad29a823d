#ifndef OUTLAY_WRITE_LAYERS_H
#define OUTLAY_WRITE_LAYERS_H

/**
 * @file write/layers.h
 * The zones as a layer of a GeoPackage or FlatGeobuf file: the columns of zones.geojson,
 * WGS 84 (EPSG:4326, longitude first), with a spatial index; appears whole or not at all,
 * as in write/output.h.
 *
 *     status = layer_file_open(path, &set, &file, err);
 *     while (status == OUTLAY_OK && ...)
 *         status = layer_file_add(file, building, err);
 *     if (status == OUTLAY_OK)
 *         status = layer_file_commit(file, &left_out, err);
 *     else
 *         layer_file_abort(file);
 *
 * A field `caution` says in each feature that these are planning figures; the field's
 * title is the whole caution, and so is the description of a GeoPackage's layer.
 *
 * Threads: a file is used in one thread.
 */

#include <stdbool.h>
#include <stddef.h>

#include "write/write.h"

struct layer_file;

/** Whether path's ending (.gpkg, .fgb, in any case) asks for a layer file. */
bool layer_file_suits(const char *path);

/**
 * Opens a file beside path, NAME.partial.gpkg; one left over from before is removed.
 * @param path      with an ending that layer_file_suits()
 * @param set       borrowed until the file is committed or aborted
 * @param[out] out  owned; ends with layer_file_commit() or layer_file_abort().
 * @return OUTLAY_E_OUTPUT, OUTLAY_E_MEMORY
 */
enum outlay_status layer_file_open(const char *path, const struct write_settings *set,
                                   struct layer_file **out,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Adds a feature for each zone of each zoned roof. @return OUTLAY_E_OUTPUT */
enum outlay_status layer_file_add(struct layer_file *file,
                                  const struct building *building,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Finishes the file beside its place and counts its features again, so that committing
 * does no more than rename: for files that belong together.
 * @param[out] left_out  zones without a polygon, which FlatGeobuf with a spatial index
 *                       can't hold; 0 for a GeoPackage, where they have no geometry
 * @return OUTLAY_E_OUTPUT
 */
enum outlay_status layer_file_finish(struct layer_file *file, size_t *left_out,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Finishes the file if it isn't yet, puts it in its place and frees it. On failure what
 *  stood there before still does. */
enum outlay_status layer_file_commit(struct layer_file *file, size_t *left_out,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Removes what was written and frees the file. NULL is ignored. */
void layer_file_abort(struct layer_file *file);

#endif
