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

/* What lies on one side of the line at v across the sheets. */
static struct half_plane beyond(const struct seam_work *w, double v, double side)
{
    return (struct half_plane){{v * w->across.x, v * w->across.y},
                               {side * w->across.x, side * w->across.y}};
}

enum outlay_status sheets_cut(struct seam_work *w, const struct bands *bands,
                              const struct region *cover)
{
    double lap = w->assembly->lap - 2 * CUT_SHORT;
    enum outlay_status status = OUTLAY_OK;

    for (size_t k = 0; k < bands->count && status == OUTLAY_OK; k++) {
        const struct half_plane sides[] = {beyond(w, bands->at[k] - lap / 2, 1),
                                           beyond(w, bands->at[k + 1] + lap / 2, -1)};
        struct region region;

        status = region_cut(w, cover, sides, 2, &region);
        if (status == OUTLAY_OK && !pieces_add(w, &region, bands->kind[k], w->along))
            status = outlay_fail(w->err, OUTLAY_E_MEMORY, "cutting sheets");
    }
    return status;
}
