#ifndef OUTLAY_WRITE_LAYOUT_STYLES_H
#define OUTLAY_WRITE_LAYOUT_STYLES_H

/** @file write/layout_styles.h  How the layers of a layout file look when a desktop GIS
 *  opens it: the table layer_styles, a QML style for each layer. Private to
 *  layout_file.c. */

#include "write/layout_layers.h"

/* Adds the table with a style for each layer, none of them dated, so that the same layout
 * gives the same styles. False when the driver refuses or memory is short. */
bool layout_styles_add(GDALDatasetH dataset, const OGRLayerH layers[LAYOUT_LAYERS]);

#endif
