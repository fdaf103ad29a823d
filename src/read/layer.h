#ifndef OUTLAY_READ_LAYER_H
#define OUTLAY_READ_LAYER_H

/**
 * @file read/layer.h
 * Opens a GDAL dataset for reading and picks the layer of outlines in it.
 */

#include <gdal.h>
#include <ogr_api.h>

#include "base/text.h"
#include "read/gdal_log.h"

/**
 * Opens `input` read-only.
 * @param[out] out  owned; GDALClose().
 * @return OUTLAY_E_INPUT: no such file, no driver for it, broken; OUTLAY_E_USAGE:
 *         standard input by one of GDAL's names.
 */
enum outlay_status dataset_open(const char *input, struct gdal_log *log,
                                GDALDatasetH *out,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Picks the layer of that name, or else the only one that can hold polygons, or else the
 * first such with a note.
 * @param name   NULL for none.
 * @param notes  the note goes here, as one line.
 * @param[out] out  borrowed from the dataset.
 * @return OUTLAY_E_USAGE for a name that isn't there, OUTLAY_E_INPUT for a dataset
 *         without layers or without polygons.
 */
enum outlay_status layer_pick(GDALDatasetH dataset, const char *name, struct text *notes,
                              OGRLayerH *out, struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
