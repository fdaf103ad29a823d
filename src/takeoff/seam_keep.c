/* Seams and rows keep away from drains and pipes. */

#include <math.h>

#include "base/text.h"
#include "roof/field.h"
#include "roof/fixtures.h"
#include "takeoff/seam_private.h"

/* Kept beyond what must be, so that rounding takes nothing of it, m. */
static const double to_spare = 1e-3;

/* Where no seam should be, across the sheets: nearer to a fixture than 1 ft with the edge
 * of its lap. */
static bool too_near(const struct seam_work *w, const struct region *within,
                     const struct fixture *fixture, double *low, double *high)
{
    double v = dot(fixture->at, w->across);
    double apart = FIXTURE_CLEAR + fixture_radius(fixture) + w->assembly->lap / 2;

    *low = v - apart - to_spare;
    *high = v + apart + to_spare;
    return fixture_keeps_clear(fixture) && (!within || region_holds(within, fixture->at));
}

static bool is_clear(const struct seam_work *w, const struct region *within, double v)
{
    double low, high;

    for (size_t i = 0; i < w->roof->fixture_count; i++)
        if (too_near(w, within, &w->roof->fixtures[i], &low, &high) && low < v &&
            v < high)
            return false;
    return true;
}

/* The next place from v on in a direction (1, -1) that is clear; any, once it is
 * further off than a sheet is wide. */
static double clear_from(const struct seam_work *w, const struct region *within, double v,
                         int direction)
{
    double start = v;
    bool moved = true;

    while (moved && fabs(v - start) < w->full) {
        moved = false;
        for (size_t i = 0; i < w->roof->fixture_count; i++) {
            double low, high;

            if (!too_near(w, within, &w->roof->fixtures[i], &low, &high) || v <= low ||
                v >= high)
                continue;
            v = direction > 0 ? high : low;
            moved = true;
        }
    }
    return v;
}

size_t seams_crowd(const struct seam_work *w, const struct region *within,
                   const struct bands *bands)
{
    size_t count = 0;

    for (size_t i = 0; i < w->roof->fixture_count; i++) {
        double low, high;
        bool crowded = false;

        if (!too_near(w, within, &w->roof->fixtures[i], &low, &high))
            continue;
        for (size_t k = 1; k < bands->count && !crowded; k++)
            crowded = low < bands->at[k] && bands->at[k] < high;
        count += crowded;
    }
    return count;
}

static void seam_put(const struct seam_work *w, struct bands *bands, double at)
{
    double width = at - bands->at[bands->count];

    bands->kind[bands->count] = width <= w->half * (1 + 1e-9) ? SHEET_HALF : SHEET_FULL;
    bands->at[++bands->count] = at;
}

/* Full sheets from the last seam of bands up to a place, each as wide as can be: from
 * there, or, with the odd sheet first, back from that place. A seam that no place is
 * clear for stays where a whole sheet ends. */
static void fill_clear(const struct seam_work *w, const struct region *within, double to,
                       bool odd_first, struct bands *bands)
{
    double from = bands->at[bands->count];
    double begin = odd_first ? to : from;
    double end = odd_first ? from : to;
    double sign = odd_first ? -1 : 1;
    size_t first = bands->count;
    size_t count = 0;

    while (fabs(end - begin) > w->full * (1 + 1e-9)) {
        double whole = begin + sign * fmin(w->full, fabs(end - begin) - SLIVER);
        double at = clear_from(w, within, whole, odd_first ? 1 : -1);

        begin = fabs(at - begin) >= w->half && (at - begin) * sign > 0 ? at : whole;
        bands->at[first + ++count] = begin;
    }
    for (size_t k = 0; k < count / 2 && odd_first; k++) {
        double swap = bands->at[first + 1 + k];

        bands->at[first + 1 + k] = bands->at[first + count - k];
        bands->at[first + count - k] = swap;
    }
    for (size_t k = 0; k < count; k++)
        seam_put(w, bands, bands->at[first + 1 + k]);
    seam_put(w, bands, to);
}

/* Puts the bands that lie between two places again, full ones anew. */
static void put_between(const struct seam_work *w, const struct region *within,
                        const struct bands *old, double to, bool odd_first,
                        struct bands *bands)
{
    double from = bands->at[bands->count];
    bool clear = true;

    if (!(to - from > 1e-6))
        return;
    for (size_t k = 1; k < old->count; k++)
        clear = clear && (old->at[k] <= from + 1e-6 || old->at[k] >= to - 1e-6 ||
                          is_clear(w, within, old->at[k]));
    if (!clear) {
        fill_clear(w, within, to, odd_first, bands);
        return;
    }
    for (size_t k = 1; k <= old->count; k++)
        if (old->at[k] > from + 1e-6 && old->at[k] <= to + 1e-6)
            seam_put(w, bands, old->at[k]);
}

bool seams_keep_clear(struct seam_work *w, const struct fixed_bands *fixed, int place,
                      const struct region *within, struct bands *bands)
{
    size_t room = (size_t)((fixed->high - fixed->low) / SLIVER) + 2 * bands->count + 8;
    bool odd_first = place == 0 || place == 3;
    struct bands kept;

    if (seams_crowd(w, within, bands) == 0)
        return true;
    kept = (struct bands){.at = arena_array(w->arena, room, sizeof *kept.at),
                          .kind = arena_array(w->arena, room, sizeof *kept.kind)};
    if (!kept.at || !kept.kind)
        return false;
    kept.at[0] = bands->at[0];
    for (size_t k = 0; k < fixed->count; k++) {
        put_between(w, within, bands, fixed->bands[k].from, odd_first, &kept);
        for (int n = 1; n <= fixed->bands[k].half_sheets; n++)
            seam_put(w, &kept, fixed->bands[k].from + n * w->half);
        kept.at[kept.count] = fixed->bands[k].to;
    }
    put_between(w, within, bands, fixed->high, odd_first, &kept);
    *bands = kept;
    return true;
}

/* ---- What was laid ---- */

/* Whether an edge of a sheet is the field's, and no seam. */
static bool on_outline(const struct region *outline, struct point a, struct point b)
{
    const double near = 2e-3; /* m: sheets are cut by rounded outlines */

    return region_distance(outline, a) < near && region_distance(outline, b) < near &&
           region_distance(outline, point_between(a, b, 0.5)) < near;
}

static bool sheet_comes_near(const struct region *outline, const struct sheet *sheet,
                             struct point p, double apart)
{
    for (size_t i = 0; i < sheet->region.polygon_count; i++)
        for (size_t j = 0; j < sheet->region.polygons[i].ring_count; j++) {
            struct ring ring = sheet->region.polygons[i].rings[j];

            for (size_t k = 0, l = ring.count - 1; k < ring.count; l = k++)
                if (segment_distance(p, ring.points[l], ring.points[k]) < apart &&
                    !on_outline(outline, ring.points[l], ring.points[k]))
                    return true;
        }
    return false;
}

static bool is_crowded(const struct region *outline, const struct layout *layout,
                       const struct fixture *fixture)
{
    double apart = FIXTURE_CLEAR + fixture_radius(fixture);

    for (size_t k = 0; k < layout->row_count; k++)
        if (segment_distance(fixture->at, layout->rows[k].from, layout->rows[k].to) <
            apart)
            return true;
    for (size_t k = 0; k < layout->sheet_count; k++)
        if (sheet_comes_near(outline, &layout->sheets[k], fixture->at, apart))
            return true;
    return false;
}

enum outlay_status layout_crowding_note(struct arena *arena, struct roof *roof,
                                        const struct region *outline,
                                        const struct layout *layout, bool own,
                                        struct outlay_error *err)
{
    enum { NAMED_MOST = 8 };
    struct text names = TEXT_INIT;
    size_t count = 0;
    bool failed = false;

    for (size_t i = 0; i < roof->fixture_count && layout->sheet_count > 0; i++) {
        struct fixture *fixture = &roof->fixtures[i];

        if (!fixture_keeps_clear(fixture) || !is_crowded(outline, layout, fixture))
            continue;
        if (own)
            fixture->crowded = true;
        if (count++ < NAMED_MOST)
            text_printf(&names, "%s%s %s", count > 1 ? ", " : "",
                        fixture_kind_name((int)fixture->kind), fixture->id);
    }
    if (count > NAMED_MOST)
        text_printf(&names, " and %zu more", count - NAMED_MOST);
    if (count > 0 && names.data)
        roof_problem(arena, roof, PROBLEM_SEAM_NEAR,
                     "no direction or offset tried keeps clear of all: patch there, or "
                     "move the seam on the roof",
                     "a seam or row lies within 1 ft (0.3 m) of %s", names.data);
    failed = names.failed;
    text_release(&names);
    return failed ? outlay_fail(err, OUTLAY_E_MEMORY, "out of memory") : OUTLAY_OK;
}
