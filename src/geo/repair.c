#include "geo/repair.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/print.h"
#include "base/units.h"
#include "geo/arrange.h"
#include "geo/geos_private.h"

/* Parts that are smaller are noise of the rebuilding, m2: a square centimetre. */
static const double least_area = 1e-4;

/* Points nearer to each other are one point, m: a tenth of what is written. */
static const double same_point = 1e-4;

static bool is_same(struct point a, struct point b)
{
    return fabs(a.x - b.x) < same_point && fabs(a.y - b.y) < same_point;
}

/* Drops repeated points; false when no ring is left. */
static bool ring_clean(struct ring *ring)
{
    size_t kept = 0;

    for (size_t k = 0; k < ring->count; k++)
        if (kept == 0 || !is_same(ring->points[k], ring->points[kept - 1]))
            ring->points[kept++] = ring->points[k];
    while (kept > 1 && is_same(ring->points[kept - 1], ring->points[0]))
        kept--;
    ring->count = kept;
    return kept >= 3;
}

/* Turns the first `count` points of a ring to its end. */
static void ring_rotate(struct ring ring, size_t count)
{
    struct ring head = {ring.points, count};
    struct ring tail = {ring.points + count, ring.count - count};

    ring_reverse(head);
    ring_reverse(tail);
    ring_reverse(ring);
}

static void ring_begin(struct ring ring)
{
    size_t first = 0;

    for (size_t k = 1; k < ring.count; k++) {
        struct point p = ring.points[k];
        struct point least = ring.points[first];

        if (p.x < least.x || (p.x == least.x && p.y < least.y))
            first = k;
    }
    ring_rotate(ring, first);
}

/* Lets every ring begin at its westernmost point, of several the southernmost, so that
 * nothing later can depend on where a tracing began. */
static void region_begin(struct region *region)
{
    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++)
            ring_begin(region->polygons[i].rings[j]);
}

/* Drops what holds no area and turns the rings; a polygon without a shell goes. */
static void region_clean(struct region *region)
{
    size_t polygons = 0;

    for (size_t i = 0; i < region->polygon_count; i++) {
        struct polygon *polygon = &region->polygons[i];
        size_t rings = 0;

        for (size_t j = 0; j < polygon->ring_count; j++) {
            if (ring_clean(&polygon->rings[j])) {
                if ((ring_area(polygon->rings[j]) > 0) != (j == 0))
                    ring_reverse(polygon->rings[j]);
                polygon->rings[rings++] = polygon->rings[j];
            } else if (j == 0) {
                break;
            }
        }
        polygon->ring_count = rings;
        if (rings > 0)
            region->polygons[polygons++] = *polygon;
    }
    region->polygon_count = polygons;
}

/* One simple ring is valid; only other outlines are worth GEOS's test. */
static enum outlay_status is_simple(struct geo_ctx *ctx, struct arena *arena,
                                    const struct region *region, bool *simple,
                                    struct outlay_error *err)
{
    struct layer_rings rings = {NULL, 0, 0};
    struct snap_grid grid;

    *simple = false;
    if (region->polygon_count != 1 || region->polygons[0].ring_count != 1)
        return OUTLAY_OK;
    if (!layer_rings_add_region(arena, &rings, region, 0))
        return outlay_fail(err, OUTLAY_E_MEMORY, "checking an outline");
    grid = grid_for(&rings, 0);
    return rings_settled(ctx, &rings, &grid, simple, err);
}

/* Whether GEOS calls the geometry valid; else its reason, with the place. */
static bool is_valid(struct geo_ctx *ctx, const GEOSGeometry *geometry,
                     struct repair *report)
{
    char *reason = NULL;
    GEOSGeometry *place = NULL;
    char valid = GEOSisValidDetail_r(ctx->geos, geometry, 0, &reason, &place);
    double x = 0;
    double y = 0;

    if (valid != 1 && place && GEOSGeomGetX_r(ctx->geos, place, &x) == 1 &&
        GEOSGeomGetY_r(ctx->geos, place, &y) == 1)
        print_into(report->reason, sizeof report->reason,
                   "%s %.1f ft (%.1f m) %s, %.1f ft (%.1f m) %s of the building's middle",
                   reason ? reason : "invalid", fabs(x) / M_PER_FT, fabs(x),
                   x < 0 ? "west" : "east", fabs(y) / M_PER_FT, fabs(y),
                   y < 0 ? "south" : "north");
    else if (valid != 1)
        snprintf(report->reason, sizeof report->reason, "%s",
                 reason ? reason : "invalid");
    GEOSFree_r(ctx->geos, reason);
    GEOSGeom_destroy_r(ctx->geos, place);
    return valid == 1;
}

static enum outlay_status rebuild(struct geo_ctx *ctx, struct arena *arena,
                                  const GEOSGeometry *geometry, struct region *out,
                                  struct outlay_error *err)
{
    GEOSMakeValidParams *params = GEOSMakeValidParams_create_r(ctx->geos);
    GEOSGeometry *made = NULL;
    enum outlay_status status = OUTLAY_OK;

    if (params) {
        GEOSMakeValidParams_setMethod_r(ctx->geos, params, GEOS_MAKE_VALID_STRUCTURE);
        GEOSMakeValidParams_setKeepCollapsed_r(ctx->geos, params, 0);
        made = GEOSMakeValidWithParams_r(ctx->geos, geometry, params);
        GEOSMakeValidParams_destroy_r(ctx->geos, params);
    }
    if (made)
        status = region_from_geos(ctx, arena, made, least_area, out, err);
    else
        status = geos_failed(ctx, "rebuilding an outline", err);
    GEOSGeom_destroy_r(ctx->geos, made);
    return status;
}

enum outlay_status outline_repair(struct geo_ctx *ctx, struct arena *arena,
                                  const struct region *raw, struct region *out,
                                  struct repair *report, struct outlay_error *err)
{
    GEOSGeometry *geometry = NULL;
    bool simple = false;
    enum outlay_status status = region_copy(arena, raw, out);

    memset(report, 0, sizeof *report);
    if (status != OUTLAY_OK)
        return outlay_fail(err, status, "repairing an outline");
    region_clean(out);
    region_begin(out);
    report->area_before = region_area(out);
    status = is_simple(ctx, arena, out, &simple, err);
    if (status != OUTLAY_OK || simple || out->polygon_count == 0)
        goto done;
    geometry = geos_from_region(ctx, out);
    if (!geometry) {
        status = geos_failed(ctx, "repairing an outline", err);
        goto done;
    }
    if (!is_valid(ctx, geometry, report)) {
        report->changed = true;
        status = rebuild(ctx, arena, geometry, out, err);
        region_begin(out);
    }
    if (status == OUTLAY_OK && ctx->out_of_memory)
        status = geos_failed(ctx, "repairing an outline", err);

done:
    GEOSGeom_destroy_r(ctx->geos, geometry);
    report->area_after = status == OUTLAY_OK ? region_area(out) : 0;
    return status;
}
