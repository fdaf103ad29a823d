#include "geo/round.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#include "geo/arrange.h"

static double round_degrees(double degrees)
{
    return round(degrees * 1e8) / 1e8;
}

/* Longitudes of one building differ by far less than a turn: those that come back from
 * the other side of the antimeridian are brought next to the first, past 180. */
static void ring_round(struct ring *ring, double near)
{
    size_t kept = 0;

    for (size_t k = 0; k < ring->count; k++) {
        struct point p = ring->points[k];

        p.x += p.x < near - 180 ? 360 : (p.x > near + 180 ? -360 : 0);
        p.x = round_degrees(p.x);
        p.y = round_degrees(p.y);
        if (kept == 0 || p.x != ring->points[kept - 1].x ||
            p.y != ring->points[kept - 1].y)
            ring->points[kept++] = p;
    }
    while (kept > 1 && ring->points[kept - 1].x == ring->points[0].x &&
           ring->points[kept - 1].y == ring->points[0].y)
        kept--;
    ring->count = kept;
}

/* Of the first ring; rounded already or not. */
static struct point first_point(const struct region *regions, size_t count)
{
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < regions[i].polygon_count; j++)
            if (regions[i].polygons[j].rings[0].count > 0)
                return regions[i].polygons[j].rings[0].points[0];
    return (struct point){0, 0};
}

static void regions_project(const struct frame *frame, struct region *regions,
                            size_t count)
{
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < regions[i].polygon_count; j++)
            for (size_t k = 0; k < regions[i].polygons[j].ring_count; k++) {
                struct ring *ring = &regions[i].polygons[j].rings[k];

                frame_to_lonlat(frame, ring->points, ring->count);
            }
}

/* Rounds all rings. @return whether each kept its points and its direction */
static bool regions_round(struct region *regions, size_t count)
{
    double near = first_point(regions, count).x;
    bool intact = true;

    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < regions[i].polygon_count; j++)
            for (size_t k = 0; k < regions[i].polygons[j].ring_count; k++) {
                struct ring *ring = &regions[i].polygons[j].rings[k];
                size_t before = ring->count;

                ring_round(ring, near);
                intact = intact && ring->count == before && ring->count >= 3 &&
                         (ring_area(*ring) > 0) == (k == 0);
            }
    return intact;
}

/* ---- Making a rounded partition valid again ----------------------------------- */

static int label_first(const int winding[ARRANGE_LAYERS], const void *user)
{
    size_t count = *(const size_t *)user;

    for (size_t i = 0; i < count; i++)
        if (winding[i] > 0)
            return (int)i;
    return -1;
}

static enum outlay_status collect(struct arena *arena, const struct region *regions,
                                  size_t count, struct layer_rings *rings,
                                  struct outlay_error *err)
{
    for (size_t i = 0; i < count; i++)
        if (!layer_rings_add_region(arena, rings, &regions[i], (int)i))
            return outlay_fail(err, OUTLAY_E_MEMORY, "rounding an outline");
    return OUTLAY_OK;
}

static enum outlay_status settle(struct geo_ctx *ctx, struct arena *arena,
                                 const struct snap_grid *grid, bool intact,
                                 struct region *regions, size_t count,
                                 struct outlay_error *err)
{
    struct layer_rings rings = {NULL, 0, 0};
    bool settled = false;
    enum outlay_status status = collect(arena, regions, count, &rings, err);

    if (status == OUTLAY_OK && intact)
        status = rings_settled(ctx, &rings, grid, &settled, err);
    if (status == OUTLAY_OK && !settled)
        status = arrange(ctx, arena,
                         &(struct overlay){.rings = &rings,
                                           .grid = *grid,
                                           .label = label_first,
                                           .user = &count,
                                           .label_count = count},
                         regions, err);
    return status;
}

/* ---- The antimeridian ---------------------------------------------------------- */

static int label_east(const int winding[ARRANGE_LAYERS], const void *user)
{
    (void)user;
    return winding[0] > 0 ? winding[1] > 0 : -1;
}

/* Moves a region by a longitude and brings every number to the double that its written
 * form reads back as. */
static void shift(struct region *region, double by)
{
    for (size_t j = 0; j < region->polygon_count; j++)
        for (size_t k = 0; k < region->polygons[j].ring_count; k++)
            for (size_t p = 0; p < region->polygons[j].rings[k].count; p++) {
                struct point *point = &region->polygons[j].rings[k].points[p];

                point->x = round_degrees(point->x + by);
                point->y = round_degrees(point->y);
            }
}

static enum outlay_status join(struct arena *arena, const struct region *a,
                               const struct region *b, struct region *out)
{
    size_t count = a->polygon_count + b->polygon_count;
    struct polygon *polygons = arena_array(arena, count + 1, sizeof *polygons);

    if (!polygons)
        return OUTLAY_E_MEMORY;
    if (a->polygon_count)
        memcpy(polygons, a->polygons, a->polygon_count * sizeof *polygons);
    if (b->polygon_count)
        memcpy(polygons + a->polygon_count, b->polygons,
               b->polygon_count * sizeof *polygons);
    *out = (struct region){polygons, count};
    return OUTLAY_OK;
}

/* Cuts a region at a meridian and brings the part east of it back by a turn. */
static enum outlay_status cut(struct geo_ctx *ctx, struct arena *arena,
                              const struct snap_grid *grid, double meridian,
                              struct region *region, struct outlay_error *err)
{
    struct box box = region_box(region);
    struct point corners[4] = {{meridian, box.min_y - 1e-6},
                               {box.max_x + 1e-6, box.min_y - 1e-6},
                               {box.max_x + 1e-6, box.max_y + 1e-6},
                               {meridian, box.max_y + 1e-6}};
    struct layer_rings rings = {NULL, 0, 0};
    struct region sides[2];
    enum outlay_status status = OUTLAY_OK;

    if (!layer_rings_add_region(arena, &rings, region, 0) ||
        !layer_rings_add(arena, &rings, (struct ring){corners, 4}, 1))
        return outlay_fail(err, OUTLAY_E_MEMORY, "cutting at the antimeridian");
    status = arrange(
        ctx, arena,
        &(struct overlay){
            .rings = &rings, .grid = *grid, .label = label_east, .label_count = 2},
        sides, err);
    if (status != OUTLAY_OK)
        return status;
    shift(&sides[meridian > 0 ? 1 : 0], meridian > 0 ? -360 : 360);
    return join(arena, &sides[0], &sides[1], region);
}

static enum outlay_status cut_antimeridian(struct geo_ctx *ctx, struct arena *arena,
                                           const struct snap_grid *grid,
                                           struct region *regions, size_t count,
                                           struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = 0; i < count && status == OUTLAY_OK; i++) {
        struct box box = region_box(&regions[i]);

        if (regions[i].polygon_count == 0)
            continue;
        if (box.max_x > 180)
            status = cut(ctx, arena, grid, 180, &regions[i], err);
        else if (box.min_x < -180)
            status = cut(ctx, arena, grid, -180, &regions[i], err);
    }
    return status;
}

static void close_exactly(struct region *regions, size_t count)
{
    for (size_t i = 0; i < count; i++)
        shift(&regions[i], 0);
}

enum outlay_status regions_to_lonlat(struct geo_ctx *ctx, struct arena *arena,
                                     const struct frame *frame,
                                     const struct region *regions, size_t count,
                                     bool clear, struct region *lonlat,
                                     struct outlay_error *err)
{
    /* whole units of 1e-8 degrees from a point that is itself on the grid */
    struct snap_grid grid = {{0, 0}, 1e8, 0};
    enum outlay_status status = OUTLAY_OK;
    bool intact = false;

    for (size_t i = 0; i < count; i++)
        if (region_copy(arena, &regions[i], &lonlat[i]) != OUTLAY_OK)
            return outlay_fail(err, OUTLAY_E_MEMORY, "rounding an outline");
    regions_project(frame, lonlat, count);
    intact = regions_round(lonlat, count);
    grid.origin = first_point(lonlat, count);
    if (!(clear && intact))
        status = settle(ctx, arena, &grid, intact, lonlat, count, err);
    if (status == OUTLAY_OK)
        status = cut_antimeridian(ctx, arena, &grid, lonlat, count, err);
    if (status == OUTLAY_OK)
        close_exactly(lonlat, count);
    return status;
}
