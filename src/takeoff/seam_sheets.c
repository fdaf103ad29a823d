/* Sheets: bands cut by the roof. */

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/grow.h"
#include "takeoff/board_grid.h"
#include "takeoff/seam_private.h"

/* Less of a sheet is rounding, m2. */
static const double sheet_area_min = 1e-4;
/* What is nearer is at the same place, m. */
static const double same = 1e-6;

bool sheet_add(struct seam_work *w, const struct sheet *sheet)
{
    struct layout *out = w->out;
    struct sheet *sheets = grow_in(w->arena, out->sheets, out->sheet_count, 1,
                                   &w->sheet_capacity, sizeof *sheets);

    if (!sheets)
        return false;
    out->sheets = sheets;
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
        sheet.laid_width =
            extent(&sheet.region, (struct point){-along.y, along.x}, &low, &high);
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

/* What lies on one side of the line at u along the sheets. */
static struct half_plane past(const struct seam_work *w, double u, double side)
{
    return (struct half_plane){{u * w->along.x, u * w->along.y},
                               {side * w->along.x, side * w->along.y}};
}

/* ---- How far the sheets of a band run ---- */

/* Where an edge runs along a seam, a sheet would lie on the other side of it with its lap
 * alone. So it ends where the band does, but for as much as a slanting edge needs. */
struct stretch {
    double from, to;
};

static int by_start(const void *a, const void *b)
{
    const struct stretch *x = a;
    const struct stretch *y = b;

    return (x->from > y->from) - (x->from < y->from);
}

static size_t stretches_join(struct stretch *all, size_t count)
{
    size_t kept = 0;

    qsort(all, count, sizeof *all, by_start);
    for (size_t i = 0; i < count; i++)
        if (kept > 0 && all[i].from <= all[kept - 1].to)
            all[kept - 1].to = fmax(all[kept - 1].to, all[i].to);
        else
            all[kept++] = all[i];
    return kept;
}

static enum outlay_status stretches_find(struct seam_work *w, const struct bands *bands,
                                         size_t k, const struct region *cover,
                                         struct stretch **out, size_t *count)
{
    const struct half_plane sides[] = {beyond(w, bands->at[k], 1),
                                       beyond(w, bands->at[k + 1], -1)};
    struct region body;
    enum outlay_status status = region_cut(w, cover, sides, 2, &body);

    *count = 0;
    if (status != OUTLAY_OK || body.polygon_count == 0)
        return status;
    *out = arena_array(w->arena, body.polygon_count, sizeof **out);
    if (!*out)
        return outlay_fail(w->err, OUTLAY_E_MEMORY, "cutting sheets");
    for (size_t i = 0; i < body.polygon_count; i++) {
        const struct region piece = {body.polygons + i, 1};
        struct stretch *stretch = &(*out)[(*count)++];

        (void)extent(&piece, w->along, &stretch->from, &stretch->to);
        stretch->from -= w->assembly->lap;
        stretch->to += w->assembly->lap;
    }
    *count = stretches_join(*out, *count);
    return OUTLAY_OK;
}

/* Leaves out the pieces that lie in the lap with the sheet beside them. */
static void laps_drop(const struct seam_work *w, const struct bands *bands, size_t k,
                      double lap, struct region *region)
{
    size_t kept = 0;

    for (size_t i = 0; i < region->polygon_count; i++) {
        const struct region piece = {region->polygons + i, 1};
        double low;
        double high;

        (void)extent(&piece, w->across, &low, &high);
        if ((k > 0 && high <= bands->at[k] + lap / 2 + same) ||
            (k + 1 < bands->count && low >= bands->at[k + 1] - lap / 2 - same))
            continue;
        region->polygons[kept++] = region->polygons[i];
    }
    region->polygon_count = kept;
}

/* ---- Cutting ---- */

/* @param stretch  NULL: however far the cover reaches */
static enum outlay_status band_cut(struct seam_work *w, const struct bands *bands,
                                   size_t k, const struct region *cover,
                                   const struct stretch *stretch)
{
    double lap = w->assembly->lap - 2 * CUT_SHORT;
    struct half_plane sides[4] = {beyond(w, bands->at[k] - lap / 2, 1),
                                  beyond(w, bands->at[k + 1] + lap / 2, -1)};
    struct region region;
    enum outlay_status status = OUTLAY_OK;

    if (stretch) {
        sides[2] = past(w, stretch->from, 1);
        sides[3] = past(w, stretch->to, -1);
    }
    status = region_cut(w, cover, sides, stretch ? 4 : 2, &region);
    if (status != OUTLAY_OK)
        return status;
    laps_drop(w, bands, k, lap, &region);
    if (!pieces_add(w, &region, bands->kind[k], w->along))
        return outlay_fail(w->err, OUTLAY_E_MEMORY, "cutting sheets");
    return OUTLAY_OK;
}

static bool is_convex(const struct region *region)
{
    return region->polygon_count == 1 && region->polygons[0].ring_count == 1 &&
           ring_is_convex(region->polygons[0].rings[0]);
}

enum outlay_status sheets_cut(struct seam_work *w, const struct bands *bands,
                              const struct region *cover)
{
    bool convex = is_convex(cover);
    enum outlay_status status = OUTLAY_OK;

    for (size_t k = 0; k < bands->count && status == OUTLAY_OK; k++) {
        struct stretch *stretches = NULL;
        size_t count = 0;

        if (convex)
            status = band_cut(w, bands, k, cover, NULL);
        else
            status = stretches_find(w, bands, k, cover, &stretches, &count);
        for (size_t s = 0; s < count && status == OUTLAY_OK; s++)
            status = band_cut(w, bands, k, cover, &stretches[s]);
    }
    return status;
}
