#ifndef OUTLAY_GEO_GEOS_PRIVATE_H
#define OUTLAY_GEO_GEOS_PRIVATE_H

/* Between plain shapes and GEOS; included by the .c files of geo/ only. */

#include "geo/ctx_private.h"

/* What a failed call of GEOS comes to: OUTLAY_E_MEMORY where memory ran out, in GEOS or
 * on the way to it, else OUTLAY_E_GEOMETRY with its last error. */
enum outlay_status geos_failed(const struct geo_ctx *ctx, const char *doing,
                               struct outlay_error *err);

/* A GEOS multipolygon of the region's rings as they are, valid or not. Owned by the
 * caller. NULL: memory, or a ring that GEOS refuses; geos_failed() tells. */
GEOSGeometry *geos_from_region(struct geo_ctx *ctx, const struct region *region);

/* The polygons of a GEOS geometry, in arena, shells counter-clockwise; what isn't a
 * polygon, or has no more than least_area m2, is passed over. */
enum outlay_status region_from_geos(struct geo_ctx *ctx, struct arena *arena,
                                    const GEOSGeometry *geometry, double least_area,
                                    struct region *out,
                                    struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
