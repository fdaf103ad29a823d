#include "geo/geos_private.h"

#include <stdbool.h>
#include <stdlib.h>

enum outlay_status geos_failed(const struct geo_ctx *ctx, const char *doing,
                               struct outlay_error *err)
{
    if (ctx->out_of_memory)
        return outlay_fail(err, OUTLAY_E_MEMORY, "%s: out of memory", doing);
    return outlay_fail(err, OUTLAY_E_GEOMETRY, "%s: %s", doing, ctx->message);
}

/* Zeroed; NULL is remembered. */
static GEOSGeometry **new_list(struct geo_ctx *ctx, size_t count)
{
    GEOSGeometry **list = calloc(count, sizeof(GEOSGeometry *));

    ctx->out_of_memory = ctx->out_of_memory || !list;
    return list;
}

/* ---- To GEOS ------------------------------------------------------------------- */

static GEOSGeometry *geos_ring(struct geo_ctx *ctx, struct ring ring)
{
    GEOSCoordSequence *points =
        GEOSCoordSeq_create_r(ctx->geos, (unsigned)ring.count + 1, 2);

    for (size_t k = 0; points && k <= ring.count; k++) {
        struct point p = ring.points[k == ring.count ? 0 : k];

        GEOSCoordSeq_setXY_r(ctx->geos, points, (unsigned)k, p.x, p.y);
    }
    return points ? GEOSGeom_createLinearRing_r(ctx->geos, points) : NULL;
}

static void destroy_all(struct geo_ctx *ctx, GEOSGeometry **items, size_t count)
{
    for (size_t i = 0; items && i < count; i++)
        if (items[i])
            GEOSGeom_destroy_r(ctx->geos, items[i]);
    free(items);
}

static GEOSGeometry *geos_polygon(struct geo_ctx *ctx, const struct polygon *polygon)
{
    GEOSGeometry **rings = new_list(ctx, polygon->ring_count);
    GEOSGeometry *out = NULL;
    bool complete = rings != NULL;

    for (size_t j = 0; complete && j < polygon->ring_count; j++) {
        rings[j] = geos_ring(ctx, polygon->rings[j]);
        complete = rings[j] != NULL;
    }
    if (complete) {
        /* takes the rings, on failure too */
        out = GEOSGeom_createPolygon_r(ctx->geos, rings[0], rings + 1,
                                       (unsigned)polygon->ring_count - 1);
        free(rings);
        return out;
    }
    destroy_all(ctx, rings, polygon->ring_count);
    return NULL;
}

GEOSGeometry *geos_from_region(struct geo_ctx *ctx, const struct region *region)
{
    GEOSGeometry **parts = new_list(ctx, region->polygon_count + 1);
    GEOSGeometry *out = NULL;
    bool complete = parts != NULL;

    for (size_t i = 0; complete && i < region->polygon_count; i++) {
        parts[i] = geos_polygon(ctx, &region->polygons[i]);
        complete = parts[i] != NULL;
    }
    if (complete) {
        out = GEOSGeom_createCollection_r(ctx->geos, GEOS_MULTIPOLYGON, parts,
                                          (unsigned)region->polygon_count);
        free(parts);
        return out;
    }
    destroy_all(ctx, parts, region->polygon_count);
    return NULL;
}

/* ---- From GEOS ----------------------------------------------------------------- */

static enum outlay_status ring_from_geos(struct geo_ctx *ctx, struct arena *arena,
                                         const GEOSGeometry *geometry, bool is_shell,
                                         struct ring *out)
{
    const GEOSCoordSequence *points = GEOSGeom_getCoordSeq_r(ctx->geos, geometry);
    unsigned count = 0;

    if (!points || !GEOSCoordSeq_getSize_r(ctx->geos, points, &count) || count < 4)
        return OUTLAY_E_GEOMETRY;
    out->count = count - 1;
    out->points = arena_array(arena, out->count, sizeof *out->points);
    if (!out->points)
        return OUTLAY_E_MEMORY;
    for (unsigned k = 0; k + 1 < count; k++)
        GEOSCoordSeq_getXY_r(ctx->geos, points, k, &out->points[k].x, &out->points[k].y);
    if ((ring_area(*out) > 0) != is_shell)
        ring_reverse(*out);
    return OUTLAY_OK;
}

static enum outlay_status polygon_from_geos(struct geo_ctx *ctx, struct arena *arena,
                                            const GEOSGeometry *geometry,
                                            struct polygon *out)
{
    int holes = GEOSGetNumInteriorRings_r(ctx->geos, geometry);
    enum outlay_status status = OUTLAY_OK;

    if (holes < 0)
        return OUTLAY_E_GEOMETRY;
    out->ring_count = (size_t)holes + 1;
    out->rings = arena_array(arena, out->ring_count, sizeof *out->rings);
    if (!out->rings)
        return OUTLAY_E_MEMORY;
    for (int j = 0; j <= holes && status == OUTLAY_OK; j++)
        status =
            ring_from_geos(ctx, arena,
                           j == 0 ? GEOSGetExteriorRing_r(ctx->geos, geometry)
                                  : GEOSGetInteriorRingN_r(ctx->geos, geometry, j - 1),
                           j == 0, &out->rings[j]);
    return status;
}

/* Whether a part is a polygon worth keeping. */
static bool is_area(struct geo_ctx *ctx, const GEOSGeometry *part, double least_area)
{
    double area = 0;

    return GEOSGeomTypeId_r(ctx->geos, part) == GEOS_POLYGON &&
           GEOSArea_r(ctx->geos, part, &area) && area > least_area;
}

enum outlay_status region_from_geos(struct geo_ctx *ctx, struct arena *arena,
                                    const GEOSGeometry *geometry, double least_area,
                                    struct region *out, struct outlay_error *err)
{
    int count = GEOSGetNumGeometries_r(ctx->geos, geometry);
    enum outlay_status status = OUTLAY_OK;

    out->polygon_count = 0;
    out->polygons =
        arena_array(arena, count > 0 ? (size_t)count : 1, sizeof *out->polygons);
    if (!out->polygons)
        return outlay_fail(err, OUTLAY_E_MEMORY, "reading a geometry back");
    for (int i = 0; i < count && status == OUTLAY_OK; i++) {
        const GEOSGeometry *part = GEOSGetGeometryN_r(ctx->geos, geometry, i);

        if (is_area(ctx, part, least_area))
            status =
                polygon_from_geos(ctx, arena, part, &out->polygons[out->polygon_count++]);
    }
    if (status != OUTLAY_OK)
        outlay_fail(err, status, "reading a geometry back: %s", ctx->message);
    return status;
}
