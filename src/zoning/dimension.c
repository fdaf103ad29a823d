#include "zoning/dimension.h"

#include <math.h>
#include <string.h>

#include "geo/hull.h"
#include "geo/overlap.h"

static const double part_gap = 0.3; /* m; wider, and the outlines are apart */

/* The building's outlines without their openings. */
struct shells {
    struct polygon *items; /* of one ring each */
    size_t *part;          /* by shell: the first shell of its part */
    size_t count;
    size_t points;
};

static bool shells_gather(struct building *building, struct shells *out)
{
    size_t count = 0;

    *out = (struct shells){NULL, NULL, 0, 0};
    for (size_t r = 0; r < building->roof_count; r++)
        count += building->roofs[r].outline.polygon_count;
    out->items = arena_array(building->arena, count + 1, sizeof *out->items);
    out->part = arena_array(building->arena, count + 1, sizeof *out->part);
    if (!out->items || !out->part)
        return false;
    for (size_t r = 0; r < building->roof_count; r++)
        for (size_t i = 0; i < building->roofs[r].outline.polygon_count; i++) {
            struct polygon shell = building->roofs[r].outline.polygons[i];

            shell.ring_count = 1;
            out->points += shell.rings[0].count;
            out->part[out->count] = out->count;
            out->items[out->count++] = shell;
        }
    return true;
}

static void shells_join(struct shells *shells, size_t a, size_t b)
{
    size_t to = shells->part[a] < shells->part[b] ? shells->part[a] : shells->part[b];
    size_t from = shells->part[a] + shells->part[b] - to;

    for (size_t k = from; k < shells->count; k++)
        if (shells->part[k] == from)
            shells->part[k] = to;
}

static enum outlay_status parts_find(struct shells *shells, struct geo_ctx *ctx,
                                     struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    for (size_t a = 0; a < shells->count; a++)
        for (size_t b = a + 1; b < shells->count && status == OUTLAY_OK; b++) {
            struct region one = {&shells->items[a], 1};
            struct region other = {&shells->items[b], 1};
            struct box box = region_box(&one);
            struct box box_other = region_box(&other);
            bool near = false;

            if (shells->part[a] == shells->part[b] ||
                !boxes_near(&box, &box_other, part_gap))
                continue;
            status = regions_near(ctx, &one, &other, part_gap, &near, err);
            if (near)
                shells_join(shells, a, b);
        }
    return status;
}

/* All points of one part, since the rectangle goes by their hull. */
static struct ring part_points(const struct shells *shells, size_t part,
                               struct point *room)
{
    struct ring all = {room, 0};

    for (size_t k = part; k < shells->count; k++) {
        const struct ring *shell = &shells->items[k].rings[0];

        if (shells->part[k] != part)
            continue;
        memcpy(room + all.count, shell->points, shell->count * sizeof *room);
        all.count += shell->count;
    }
    return all;
}

enum outlay_status building_measure(struct building *building, struct geo_ctx *ctx,
                                    struct dimension *out, struct outlay_error *err)
{
    struct shells shells;
    struct point *room = NULL;
    double filled = 0;
    double around = 0;
    enum outlay_status status = OUTLAY_OK;

    *out = (struct dimension){0, false};
    if (shells_gather(building, &shells))
        room = arena_array(building->arena, shells.points + 1, sizeof *room);
    if (!room)
        return outlay_fail(err, OUTLAY_E_MEMORY, "measuring a building");
    status = parts_find(&shells, ctx, err);
    for (size_t k = 0; k < shells.count && status == OUTLAY_OK; k++) {
        struct rectangle rectangle;

        if (shells.part[k] != k)
            continue;
        status = smallest_rectangle(building->arena, part_points(&shells, k, room),
                                    &rectangle);
        out->least = fmax(out->least, rectangle.shorter);
        around += rectangle.shorter * rectangle.longer;
    }
    for (size_t r = 0; r < building->roof_count; r++)
        filled += region_area(&building->roofs[r].outline);
    out->irregular = filled < 0.98 * around;
    return status;
}
