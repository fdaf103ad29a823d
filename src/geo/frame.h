#ifndef OUTLAY_GEO_FRAME_H
#define OUTLAY_GEO_FRAME_H

/**
 * @file geo/frame.h
 * Local metric frames: the plane that touches the WGS 84 ellipsoid at an origin,
 * points projected square onto it. Within 2 km of the origin, areas agree with the
 * geodesic area to 1e-7 and lengths to 5e-8 at any latitude, and the antimeridian and
 * the poles are places like any other.
 *
 * Threads: one geo_ctx a thread; a frame is plain data.
 */

#include "geo/shape.h"

/** A thread's workspace: its PROJ and GEOS handles, scratch memory. */
struct geo_ctx;

/** Opens a workspace; owned by the caller, closed by geo_ctx_free() in the same thread.
 *  @return OUTLAY_E_MEMORY, OUTLAY_E_GEOMETRY (a library could not start) */
enum outlay_status geo_ctx_new(struct geo_ctx **out,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Closes a workspace. NULL is ignored. */
void geo_ctx_free(struct geo_ctx *ctx);

/** Origin in earth-centred coordinates (m) and the east, north and up directions. */
struct frame {
    double origin[3];
    double east[3];
    double north[3];
    double up[3];
    double radius; /**< mean radius of curvature at the origin, m */
};

/** Sets up the frame that touches the ellipsoid at a longitude and latitude, degrees. */
void frame_init(struct frame *frame, struct geo_ctx *ctx, struct point lonlat);

/** Turns count points of longitude and latitude (degrees) into easting and northing
 *  (m), in place. */
void frame_to_local(const struct frame *frame, struct geo_ctx *ctx, struct point *points,
                    size_t count);

/** The other way; longitudes come back in -180 to 180. Inverse of frame_to_local() to
 *  1e-5 m within 2 km. */
void frame_to_lonlat(const struct frame *frame, struct point *points, size_t count);

#endif
