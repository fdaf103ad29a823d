#ifndef OUTLAY_WRITE_COORDINATES_H
#define OUTLAY_WRITE_COORDINATES_H

/**
 * @file write/coordinates.h
 * Regions as GeoJSON geometry (RFC 7946): longitude and latitude with at most 8
 * decimals, right-hand rings, the first point repeated at the end.
 */

#include "base/text.h"
#include "geo/shape.h"

/**
 * Appends `{"type":"Polygon",...}` or a MultiPolygon, or `null` for a region without
 * any polygon that is left after rounding or with a coordinate that isn't a place.
 *
 * Points that rounding joins to their neighbour are left out, and so is a ring of fewer
 * than three points. Shells come out counter-clockwise and holes clockwise whatever
 * their direction here, also across the antimeridian.
 * @param lonlat  degrees WGS 84
 */
void coordinates_print(struct text *out, const struct region *lonlat);

#endif
