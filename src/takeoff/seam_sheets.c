/* Sheets: bands cut by the roof. */

#include <math.h>
#include <string.h>

#include "takeoff/seam_private.h"

/* Less of a sheet is rounding, m2. */
static const double sheet_area_min = 1e-4;

bool sheet_add(struct seam_work *w, const struct sheet *sheet)
{
    struct layout *out = w->out;

    if (out->sheet_count == w->sheet_capacity) {
        size_t capacity = w->sheet_capacity ? 2 * w->sheet_capacity : 64;
        struct sheet *more = arena_array(w->arena, capacity, sizeof *more);

        if (!more)
            return false;
        if (out->sheet_count > 0)
            memcpy(more, out->sheets, out->sheet_count * sizeof *more);
        out->sheets = more;
        w->sheet_capacity = capacity;
    }
    out->sheets[out->sheet_count++] = *sheet;
    return true;
}

static int label_sheet(const int winding[ARRANGE_LAYERS], const void *user)
{
    const size_t *count = user;
    int lines = winding[1];

    if (winding[0] <= 0 || lines <= 0 || lines % 2 == 0 || lines / 2 >= (int)*count)
        return -1;
    return lines / 2;
}

static double extent(const struct region *region, struct point d, double *low,
                     double *high)
{
    *low = INFINITY;
    *high = -INFINITY;
    for (size_t i = 0; i < region->polygon_count; i++) {
        struct ring shell = region->polygons[i].rings[0];

        for (size_t k = 0; k < shell.count; k++) {
            *low = fmin(*low, dot(shell.points[k], d));
            *high = fmax(*high, dot(shell.points[k], d));
        }
    }
    return *high - *low;
}

/* The half plane across from v on, as far as the cover reaches. */
static bool half_plane_add(struct seam_work *w, struct layer_rings *rings, double v,
                           const double reach[3])
{
    struct ring ring = {arena_array(w->arena, 4, sizeof *ring.points), 4};
    double us[] = {reach[0] - 1, reach[1] + 1, reach[1] + 1, reach[0] - 1};
    double vs[] = {v, v, reach[2] + 2, reach[2] + 2};

    if (!ring.points)
        return false;
    for (int k = 0; k < 4; k++)
        ring.points[k] = (struct point){us[k] * w->along.x + vs[k] * w->across.x,
                                        us[k] * w->along.y + vs[k] * w->across.y};
    return layer_rings_add(w->arena, rings, ring, 1);
}

bool pieces_add(struct seam_work *w, const struct region *region, enum sheet_kind kind,
                struct point along)
{
    for (size_t i = 0; i < region->polygon_count; i++) {
        double low;
        double high;
        struct sheet sheet = {.kind = kind, .region = {region->polygons + i, 1}};

        sheet.area = region_area(&sheet.region);
        if (sheet.area < sheet_area_min)
            continue;
        sheet.length = extent(&sheet.region, along, &low, &high);
        sheet.width =
            kind == SHEET_HALF ? w->assembly->sheet_width / 2 : w->assembly->sheet_width;
        if (!sheet_add(w, &sheet))
            return false;
    }
    return true;
}

/* Every second sheet, so that those cut together share no lap. */
static enum outlay_status half_of_sheets(struct seam_work *w, const struct bands *bands,
                                         const struct region *cover, size_t first)
{
    size_t count = bands->count > first ? (bands->count - first + 1) / 2 : 0;
    double lap = w->assembly->lap;
    double reach[3];
    double low;
    struct layer_rings rings = {NULL, 0, 0};
    struct region *regions = arena_array(w->arena, count + 1, sizeof *regions);
    struct overlay overlay = {
        .rings = &rings, .label = label_sheet, .user = &count, .label_count = count};
    enum outlay_status status = OUTLAY_OK;

    if (!regions || !layer_rings_add_region(w->arena, &rings, cover, 0))
        return outlay_fail(w->err, OUTLAY_E_MEMORY, "cutting sheets");
    extent(cover, w->along, &reach[0], &reach[1]);
    extent(cover, w->across, &low, &reach[2]);
    for (size_t k = first; k < bands->count; k += 2) {
        if (!half_plane_add(w, &rings, bands->at[k] - lap / 2, reach) ||
            !half_plane_add(w, &rings, bands->at[k + 1] + lap / 2, reach))
            return outlay_fail(w->err, OUTLAY_E_MEMORY, "cutting sheets");
    }
    if (count == 0)
        return OUTLAY_OK;
    overlay.grid = grid_for(&rings, atan2(w->along.y, w->along.x));
    status = arrange(w->ctx, w->arena, &overlay, regions, w->err);
    for (size_t k = 0; k < count && status == OUTLAY_OK; k++)
        if (!pieces_add(w, &regions[k], bands->kind[first + 2 * k], w->along))
            status = outlay_fail(w->err, OUTLAY_E_MEMORY, "cutting sheets");
    return status;
}

enum outlay_status sheets_cut(struct seam_work *w, const struct bands *bands,
                              const struct region *cover)
{
    enum outlay_status status = half_of_sheets(w, bands, cover, 0);

    return status == OUTLAY_OK ? half_of_sheets(w, bands, cover, 1) : status;
}
