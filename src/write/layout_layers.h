#ifndef OUTLAY_WRITE_LAYOUT_LAYERS_H
#define OUTLAY_WRITE_LAYOUT_LAYERS_H

/** @file write/layout_layers.h  The layers of a layout file. Private to layout_file.c. */

#include <gdal.h>
#include <ogr_api.h>
#include <ogr_srs_api.h>

#include "geo/frame.h"
#include "roof/bill.h"
#include "roof/layout.h"
#include "write/write.h"

enum layout_layer {
    LAYER_OUTLINE,
    LAYER_ZONES,
    LAYER_EDGES,
    LAYER_SHEETS,
    LAYER_BOARDS,
    LAYER_ROWS,
    LAYER_PLATES,
    LAYER_INSULATION_PLATES,
    LAYER_ROLL_ENDS,
    LAYER_FIXTURES,
    LAYER_FOOTPRINTS,
    LAYER_WALKWAYS,
    LAYER_TAPER,
    LAYOUT_LAYERS
};

/* What features of one roof are made with. */
struct layout_pen {
    const struct write_settings *set;
    const struct frame *frame;
    OGRCoordinateTransformationH to_utm;
    const OGRLayerH *layers;
    const struct building *building;
    const struct roof *roof;
    double *xs, *ys; /* owned: points on their way to UTM */
    size_t room;
};

/* A new layer with its fields; NULL on failure. */
OGRLayerH layout_layer_make(GDALDatasetH dataset, enum layout_layer layer,
                            OGRSpatialReferenceH crs, const struct write_settings *set);

/* Outline, zones, edges, what stands on the roof, the walkways and contours of tapered
 * insulation. False when the driver refuses or memory is short. */
bool layout_outline_add(struct layout_pen *pen);

/* Sheets, boards, rows, plates and, by the bills, the ends of rolls. */
bool layout_add(struct layout_pen *pen, const struct layout *layout);

/* The name of a layer, which its styles go by. */
const char *layout_layer_name(enum layout_layer layer);

#endif
