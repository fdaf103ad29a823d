#include "geo/overlap.h"

#include "geo/geos_private.h"

/* The region in a frame, made valid. NULL: geos_failed() tells. */
static GEOSGeometry *valid_in_frame(struct geo_ctx *ctx, struct arena *scratch,
                                    const struct frame *frame,
                                    const struct region *lonlat)
{
    struct region local = {NULL, 0};
    GEOSGeometry *raw = NULL;
    GEOSGeometry *valid = NULL;

    if (region_copy(scratch, lonlat, &local) != OUTLAY_OK) {
        ctx->out_of_memory = true;
        return NULL;
    }
    for (size_t i = 0; i < local.polygon_count; i++)
        for (size_t j = 0; j < local.polygons[i].ring_count; j++)
            frame_to_local(frame, ctx, local.polygons[i].rings[j].points,
                           local.polygons[i].rings[j].count);
    raw = geos_from_region(ctx, &local);
    if (raw) {
        valid = GEOSMakeValid_r(ctx->geos, raw);
        GEOSGeom_destroy_r(ctx->geos, raw);
    }
    return valid;
}

enum outlay_status overlap_area(struct geo_ctx *ctx, struct arena *scratch,
                                const struct region *a, const struct region *b,
                                double *out, struct outlay_error *err)
{
    struct frame frame;
    GEOSGeometry *first = NULL;
    GEOSGeometry *second = NULL;
    GEOSGeometry *shared = NULL;
    enum outlay_status status = OUTLAY_OK;

    *out = 0;
    if (a->polygon_count == 0 || b->polygon_count == 0)
        return OUTLAY_OK;
    frame_init(&frame, ctx, a->polygons[0].rings[0].points[0]);
    first = valid_in_frame(ctx, scratch, &frame, a);
    second = valid_in_frame(ctx, scratch, &frame, b);
    if (first && second)
        shared = GEOSIntersection_r(ctx->geos, first, second);
    if (!shared || !GEOSArea_r(ctx->geos, shared, out))
        status = geos_failed(ctx, "comparing two outlines", err);
    GEOSGeom_destroy_r(ctx->geos, shared);
    GEOSGeom_destroy_r(ctx->geos, second);
    GEOSGeom_destroy_r(ctx->geos, first);
    return status;
}

enum outlay_status shared_length(struct geo_ctx *ctx, const struct region *a,
                                 const struct region *b, double reach, double *out,
                                 struct outlay_error *err)
{
    GEOSGeometry *first = geos_from_region(ctx, a);
    GEOSGeometry *second = geos_from_region(ctx, b);
    GEOSGeometry *border = first ? GEOSBoundary_r(ctx->geos, first) : NULL;
    GEOSGeometry *near = second ? GEOSBuffer_r(ctx->geos, second, reach, 8) : NULL;
    GEOSGeometry *shared =
        border && near ? GEOSIntersection_r(ctx->geos, border, near) : NULL;
    enum outlay_status status = OUTLAY_OK;

    *out = 0;
    if (!shared || !GEOSLength_r(ctx->geos, shared, out))
        status = geos_failed(ctx, "comparing two roofs of a building", err);
    GEOSGeom_destroy_r(ctx->geos, shared);
    GEOSGeom_destroy_r(ctx->geos, near);
    GEOSGeom_destroy_r(ctx->geos, border);
    GEOSGeom_destroy_r(ctx->geos, second);
    GEOSGeom_destroy_r(ctx->geos, first);
    return status;
}

enum outlay_status regions_near(struct geo_ctx *ctx, const struct region *a,
                                const struct region *b, double reach, bool *out,
                                struct outlay_error *err)
{
    GEOSGeometry *first = geos_from_region(ctx, a);
    GEOSGeometry *second = geos_from_region(ctx, b);
    double distance = INFINITY;
    enum outlay_status status = OUTLAY_OK;

    if (!first || !second || !GEOSDistance_r(ctx->geos, first, second, &distance))
        status = geos_failed(ctx, "comparing two roofs of a building", err);
    *out = distance <= reach;
    GEOSGeom_destroy_r(ctx->geos, second);
    GEOSGeom_destroy_r(ctx->geos, first);
    return status;
}
