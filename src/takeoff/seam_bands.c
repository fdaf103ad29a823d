/* Sheets side by side: half sheets along the edges that run with them, full ones between,
 * and what is left over. */

#include <math.h>
#include <stdlib.h>

#include "takeoff/seam_private.h"

/* Shorter edges are passed by, m (ours). */
static const double edge_min = 6.0;
/* Edges whose slope against the sheets is less run with them. */
static const double slope_max = 0.02;
/* Bands nearer than this touch, m. */
static const double touching = 1e-6;

/* ---- Half sheets along edges ---- */

/* An edge along the sheets. */
struct ledge {
    double at;     /* across, m */
    double length; /* m */
    double inward; /* 1: the roof lies beyond it, -1: before it */
};

static int longer_first(const void *a, const void *b)
{
    const struct ledge *x = a;
    const struct ledge *y = b;

    if (fabs(x->length - y->length) > touching)
        return x->length < y->length ? 1 : -1;
    return (x->at > y->at) - (x->at < y->at);
}

static int by_place(const void *a, const void *b)
{
    const struct fixed_band *x = a;
    const struct fixed_band *y = b;

    return (x->from > y->from) - (x->from < y->from);
}

static size_t ledges_find(const struct seam_work *w, const struct region *region,
                          struct ledge *out)
{
    size_t count = 0;

    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++) {
            struct ring ring = region->polygons[i].rings[j];
            bool wall = j > 0 && hole_is_wall(w, ring);

            for (size_t k = 0, l = ring.count - 1; !wall && k < ring.count; l = k++) {
                struct point d = {ring.points[k].x - ring.points[l].x,
                                  ring.points[k].y - ring.points[l].y};
                double along = dot(d, w->along);
                double slope = fabs(dot(d, w->across) / along);

                if (fabs(along) >= edge_min && slope <= slope_max)
                    out[count++] = (struct ledge){(dot(ring.points[k], w->across) +
                                                   dot(ring.points[l], w->across)) /
                                                      2,
                                                  fabs(along), along > 0 ? 1 : -1};
            }
        }
    return count;
}

/* Whether a band touches the others or leaves room for a sheet. */
static bool band_fits(const struct fixed_bands *fixed, const struct fixed_band *band)
{
    if (band->from < fixed->low - touching || band->to > fixed->high + touching)
        return false;
    for (size_t k = 0; k < fixed->count; k++) {
        double gap =
            fmax(fixed->bands[k].from - band->to, band->from - fixed->bands[k].to);

        if (gap < SLIVER && fabs(gap) > touching)
            return false;
    }
    return true;
}

bool fixed_bands_find(struct seam_work *w, const struct region *region, double low,
                      double high, int half_sheets, struct fixed_bands *out)
{
    size_t room = region_points(region) + 2;
    struct ledge *ledges = arena_array(w->arena, room, sizeof *ledges);
    size_t count;

    *out = (struct fixed_bands){NULL, 0, low, high};
    out->bands = arena_array(w->arena, room, sizeof *out->bands);
    if (!ledges || !out->bands)
        return false;
    if (half_sheets == 0)
        return true;
    out->bands[out->count++] =
        (struct fixed_band){low, low + half_sheets * w->half, half_sheets};
    out->bands[out->count++] =
        (struct fixed_band){high - half_sheets * w->half, high, half_sheets};
    count = ledges_find(w, region, ledges);
    qsort(ledges, count, sizeof *ledges, longer_first);
    for (size_t k = 0; k < count; k++)
        for (int n = half_sheets; n > 0; n--) {
            double to = ledges[k].at + ledges[k].inward * n * w->half;
            struct fixed_band band = {fmin(ledges[k].at, to), fmax(ledges[k].at, to), n};

            if (!band_fits(out, &band))
                continue;
            out->bands[out->count++] = band;
            break;
        }
    qsort(out->bands, out->count, sizeof *out->bands, by_place);
    return true;
}

/* ---- Full sheets between ---- */

/* Widths of what whole full sheets leave: none, one or two odd sheets. A rest under
 * SLIVER is widened to a half sheet by cutting the sheet beside it narrower. */
static size_t odd_sheets(const struct seam_work *w, double width, size_t *full,
                         double odd[2])
{
    double rest;

    *full = (size_t)floor(width / w->full + 1e-9);
    rest = width - (double)*full * w->full;
    if (rest < 1e-6)
        return 0;
    odd[0] = rest;
    if (rest >= SLIVER || *full == 0)
        return 1;
    (*full)--;
    odd[0] = w->full + rest - w->half;
    odd[1] = w->half;
    return 2;
}

static void band_put(struct seam_work *w, struct bands *bands, double width)
{
    bands->kind[bands->count] = width <= w->half * (1 + 1e-9) ? SHEET_HALF : SHEET_FULL;
    bands->at[bands->count + 1] = bands->at[bands->count] + width;
    bands->count++;
}

/* Fills up to a place across: full sheets and, before, behind or between them, odd
 * ones. */
static void bands_fill(struct seam_work *w, struct bands *out, double to, int place)
{
    double width = to - out->at[out->count];
    size_t full = 0;
    double odd[2] = {0, 0};
    size_t odds = width > touching ? odd_sheets(w, width, &full, odd) : 0;
    bool mirrored = place == 0 || place == 3;
    size_t before;

    if (!(width > touching))
        return;
    before = place == 0 ? 0 : place == 1 ? full : place == 2 ? full / 2 : full - full / 2;
    for (size_t k = 0; k < before; k++)
        band_put(w, out, w->full);
    for (size_t k = 0; k < odds; k++)
        band_put(w, out, odd[mirrored ? odds - 1 - k : k]);
    for (size_t k = before; k < full; k++)
        band_put(w, out, w->full);
    out->at[out->count] = to;
}

bool bands_make(struct seam_work *w, const struct fixed_bands *fixed, int place,
                struct bands *out)
{
    size_t room = (size_t)((fixed->high - fixed->low) / w->half) + 8 * (fixed->count + 1);

    out->at = arena_array(w->arena, room + 1, sizeof *out->at);
    out->kind = arena_array(w->arena, room, sizeof *out->kind);
    if (!out->at || !out->kind)
        return false;
    out->count = 0;
    out->at[0] = fixed->low;
    for (size_t k = 0; k < fixed->count; k++) {
        bands_fill(w, out, fixed->bands[k].from, place);
        for (int n = 0; n < fixed->bands[k].half_sheets; n++)
            band_put(w, out, w->half);
        out->at[out->count] = fixed->bands[k].to;
    }
    bands_fill(w, out, fixed->high, place);
    return true;
}
