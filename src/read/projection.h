#ifndef OUTLAY_READ_PROJECTION_H
#define OUTLAY_READ_PROJECTION_H

/**
 * @file read/projection.h
 * From the input's CRS to degrees of longitude and latitude, WGS 84.
 * Not thread-safe: it has scratch memory and a GDAL transformation.
 */

#include <stdbool.h>
#include <stddef.h>

#include <ogr_srs_api.h>

#include "geo/shape.h"
#include "outlay/status.h"

struct projection {
    OGRCoordinateTransformationH to_lonlat; /**< owned; NULL: already lon/lat */
    OGRSpatialReferenceH crs;               /**< owned; NULL: none was stated */
    double *x, *y;                          /**< owned scratch */
    int *good;                              /**< owned scratch */
    size_t capacity;
    bool has_area;   /**< it is known where the CRS is meant to be used */
    struct box area; /**< that, degrees; min_x > max_x across the antimeridian */
    char name[120];  /**< for people: "EPSG:2272, NAD83 / Pennsylvania South (ftUS)" */
};

/**
 * Sets up the projection. With neither a given nor a layer CRS, coordinates are taken as
 * lon/lat and projection->crs stays NULL.
 * @param given   user's CRS in any form PROJ knows; NULL. Wins over `layer`.
 * @param layer  the layer's CRS, borrowed; NULL.
 * @return OUTLAY_E_USAGE for a given CRS that isn't known, OUTLAY_E_INPUT for a layer's
 *         that can't be turned into lon/lat, OUTLAY_E_MEMORY.
 */
enum outlay_status projection_init(struct projection *projection, const char *given,
                                   OGRSpatialReferenceH layer,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

void projection_release(struct projection *projection);

/**
 * Turns the region's points into lon/lat, in place.
 * @param[out] lost  points that have no lon/lat: they become NAN.
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status projection_apply(struct projection *projection, struct region *region,
                                    size_t *lost,
                                    struct outlay_error *err) OUTLAY_MUST_CHECK;

/** True for a place, lon/lat, more than a degree outside the area that the CRS is meant
 *  for: the coordinates are probably in another CRS. */
bool projection_outside(const struct projection *projection, struct point place);

/** The box in the input's CRS that holds all of a lon/lat box.
 *  @return OUTLAY_E_USAGE when the CRS doesn't reach there */
enum outlay_status projection_box(struct projection *projection, struct box lonlat,
                                  struct box *out,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
