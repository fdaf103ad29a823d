/* Parallel sheets. The search (ours): along the longest edge, square to it and along the
 * smallest rectangle, square to that; the odd sheet first, last or in the middle. Cost
 * (ours): a fastener is 1, a m of seam 1, a m2 of roll 0.5, a m of cover strip 2, a m of
 * seam nearer than 0.5 m to an edge along it 10, a drain or pipe with a seam within 1 ft
 * 1000. */

#include <math.h>
#include <string.h>

#include "geo/hull.h"
#include "geo/jogs.h"
#include "geo/outline.h"
#include "takeoff/seam_private.h"

static const double pi = 3.14159265358979323846;

enum { DIRECTIONS_MAX = 4 };

/* Past the end of a seam lies the roof or not: looked up so far on, m. */
#define END_STEP 0.05

/* Beside a seam lies what the roof has there; on it rounding decides, m. */
#define BESIDE_EDGE 1e-3

static void direct(struct seam_work *w, double bearing)
{
    w->along = (struct point){cos(bearing), sin(bearing)};
    w->across = (struct point){-w->along.y, w->along.x};
}

static void extent_across(const struct region *region, struct point d, double *low,
                          double *high)
{
    *low = INFINITY;
    *high = -INFINITY;
    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t k = 0; k < region->polygons[i].rings[0].count; k++) {
            double v = dot(region->polygons[i].rings[0].points[k], d);

            *low = fmin(*low, v);
            *high = fmax(*high, v);
        }
}

/* Ends of a line across the whole cover. */
static void line_ends(const struct seam_work *w, const double u[2], double v,
                      struct point *a, struct point *b)
{
    *a = (struct point){u[0] * w->along.x + v * w->across.x,
                        u[0] * w->along.y + v * w->across.y};
    *b = (struct point){u[1] * w->along.x + v * w->across.x,
                        u[1] * w->along.y + v * w->across.y};
}

/* Length of seam nearer than SLIVER to an edge of the region along it, m. */
static double sliver_length(const struct seam_work *w, const struct bands *bands,
                            const struct region *region)
{
    double sum = 0;

    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++) {
            struct ring ring = region->polygons[i].rings[j];

            for (size_t k = 0, l = ring.count - 1; k < ring.count; l = k++) {
                struct point d = {ring.points[k].x - ring.points[l].x,
                                  ring.points[k].y - ring.points[l].y};
                double v = dot(ring.points[l], w->across) + dot(d, w->across) / 2;

                if (fabs(dot(d, w->across)) > 0.1 * fabs(dot(d, w->along)))
                    continue;
                for (size_t s = 1; s < bands->count; s++)
                    if (fabs(bands->at[s] - v) < SLIVER)
                        sum += fabs(dot(d, w->along));
            }
        }
    return sum;
}

static double cost_of_span(const struct seam_work *w, const struct span *span,
                           double length, double advance)
{
    double part = (span->to - span->from) * length;
    int rows = rows_between(w, span->role, advance);

    return part * (rows * (2 + 1 / spacing_in(w, span->role)));
}

static bool seam_cost(struct seam_work *w, const double u[2], double v,
                      const struct clip *clip, double *cost)
{
    struct point a;
    struct point b;
    size_t spans;

    line_ends(w, u, v, &a, &b);
    if (!clip_segment(w, a, b, clip, &spans))
        return false;
    *cost = 0;
    for (size_t s = 0; s < spans; s++)
        *cost += (w->spans[s].to - w->spans[s].from) * (u[1] - u[0]) *
                 (1 + 1 / spacing_in(w, w->spans[s].role));
    return true;
}

/* Seams, rows between them and sheets of one try, see above; given up at the cost of a
 * better one. @param on_edges  seams may run on edges: half of what lies either side */
static bool cost_of(struct seam_work *w, const struct bands *bands, const double u[2],
                    const struct clip *clip, bool on_edges, double limit, double *cost)
{
    double off = on_edges ? BESIDE_EDGE : 0;

    *cost =
        10 * sliver_length(w, bands, clip->within ? clip->within : &w->roof->outline) +
        1000 * (double)seams_crowd(w, clip->within, bands);
    for (size_t k = 0; k < bands->count && *cost < limit; k++) {
        double advance = bands->at[k + 1] - bands->at[k];
        double width = w->assembly->sheet_width / (bands->kind[k] == SHEET_HALF ? 2 : 1);
        struct point a;
        struct point b;
        size_t spans;

        line_ends(w, u, bands->at[k] + advance / 2, &a, &b);
        if (!clip_segment(w, a, b, clip, &spans))
            return false;
        for (size_t s = 0; s < spans; s++)
            *cost += cost_of_span(w, &w->spans[s], u[1] - u[0], advance) +
                     (w->spans[s].to - w->spans[s].from) * (u[1] - u[0]) * width / 2;
        if (k == 0)
            continue;
        for (int side = -1; side <= (on_edges ? 1 : -1); side += 2) {
            double seam;

            if (!seam_cost(w, u, bands->at[k] + side * off, clip, &seam))
                return false;
            *cost += on_edges ? seam / 2 : seam;
        }
    }
    return true;
}

static double bearing_of_longest(struct ring ring)
{
    double longest = 0;
    double bearing = 0;

    for (size_t k = 0; k < ring.count; k++) {
        struct point a = ring.points[k];
        struct point b = ring.points[k + 1 == ring.count ? 0 : k + 1];
        double length = point_distance(a, b);

        if (length > longest * (1 + 1e-9)) {
            longest = length;
            bearing = atan2(b.y - a.y, b.x - a.x);
        }
    }
    bearing = fmod(bearing + 2 * pi, pi);
    return pi - bearing < 1e-9 ? 0 : bearing;
}

/* Directions to try; one where the ribs are known. */
static enum outlay_status directions_find(struct seam_work *w, const struct region *whole,
                                          double out[DIRECTIONS_MAX], size_t *count)
{
    struct ring shell = whole->polygons[0].rings[0];
    struct ring level;
    struct thin_ring thin;
    struct rectangle rectangle;
    double off;

    for (size_t i = 1; i < whole->polygon_count; i++)
        if (ring_area(whole->polygons[i].rings[0]) > ring_area(shell))
            shell = whole->polygons[i].rings[0];
    *count = 1;
    if (!isnan(w->roof->given.deck_bearing)) {
        /* clockwise from north to counter-clockwise from east, then across */
        out[0] = fmod(540 - w->roof->given.deck_bearing, 180) * pi / 180;
        w->out->bearing_reason = "across the ribs";
        return OUTLAY_OK;
    }
    w->out->bearing_reason = "least cost of the directions tried";
    if (ring_without_jogs(w->arena, shell, FRAME_TOLERANCE, &level) != OUTLAY_OK ||
        ring_thin(w->arena, level, FRAME_TOLERANCE, &thin) != OUTLAY_OK ||
        smallest_rectangle(w->arena, shell, &rectangle) != OUTLAY_OK)
        return outlay_fail(w->err, OUTLAY_E_MEMORY, "looking for a direction");
    out[0] = bearing_of_longest(thin.ring);
    out[1] = fmod(out[0] + pi / 2, pi);
    *count = 2;
    off = fmod(fabs(rectangle.bearing - out[0]), pi / 2);
    if (fmin(off, pi / 2 - off) > 1e-3) {
        out[2] = rectangle.bearing;
        out[3] = fmod(rectangle.bearing + pi / 2, pi);
        *count = 4;
    }
    return OUTLAY_OK;
}

/* Where a seam ends on a frame there are three sheets one over the other: past its end
 * the roof goes on. */
static bool ends_count(struct seam_work *w, struct point a, struct point b,
                       const struct region *within)
{
    struct clip rough = {.within = within, .rough = true};
    double length = point_distance(a, b);
    size_t spans;

    if (!clip_segment(w, a, b, &rough, &spans))
        return false;
    for (size_t k = 0; k < spans; k++) {
        double from = w->spans[k].from - END_STEP / length;
        double to = w->spans[k].to + END_STEP / length;

        if ((k == 0 || w->spans[k - 1].to < w->spans[k].from) &&
            role_at(w, point_between(a, b, from)) >= 0)
            w->out->t_joints++;
        if ((k + 1 == spans || w->spans[k + 1].from > w->spans[k].to) &&
            role_at(w, point_between(a, b, to)) >= 0)
            w->out->t_joints++;
    }
    return true;
}

static bool seams_lay(struct seam_work *w, const struct bands *bands, const double u[2],
                      const struct clip *clip)
{
    for (size_t k = 0; k < bands->count; k++) {
        struct point a;
        struct point b;

        line_ends(w, u, bands->at[k], &a, &b);
        if (k > 0 && clip->within && !ends_count(w, a, b, clip->within))
            return false;
        if (k > 0 && !row_add(w, a, b, clip))
            return false;
        if (!rows_add_between(w, a, b, bands->at[k + 1] - bands->at[k], clip))
            return false;
    }
    return true;
}

/* As many half sheets as leave SLIVER or more between them. */
static int half_sheets_fit(const struct seam_work *w, double width, int wanted)
{
    while (wanted > 0 && width - 2 * wanted * w->half < SLIVER)
        wanted--;
    return wanted;
}

/* What is searched, and the best so far. */
struct search {
    const struct region *whole;
    int half_sheets; /* wanted */
    struct bands best;
    double least; /* cost */
    double bearing;
    int laid; /* half sheets */
};

/* Ends of lines along the sheets, outside the roof. */
static void ends_find(const struct seam_work *w, double u[2])
{
    extent_across(&w->roof->outline, w->along, &u[0], &u[1]);
    u[0] -= 1;
    u[1] += 1;
}

static bool bands_same(const struct bands *a, const struct bands *b)
{
    return a->count == b->count &&
           memcmp(a->at, b->at, (a->count + 1) * sizeof *a->at) == 0;
}

/* All places of the odd sheet in one direction. */
static bool direction_try(struct seam_work *w, struct search *search, double bearing,
                          const struct clip *rough)
{
    struct bands last = {NULL, NULL, 0};
    struct fixed_bands fixed;
    double u[2];
    double low;
    double high;
    int halves;

    direct(w, bearing);
    ends_find(w, u);
    extent_across(search->whole, w->across, &low, &high);
    halves = half_sheets_fit(w, high - low, search->half_sheets);
    if (!fixed_bands_find(w, search->whole, low, high, halves, &fixed))
        return false;
    for (int place = 0; place < ODD_PLACES; place++) {
        struct bands bands;
        double cost;

        if (!bands_make(w, &fixed, place, &bands) ||
            !seams_keep_clear(w, &fixed, place, rough->within, &bands))
            return false;
        if (place > 0 && bands_same(&bands, &last))
            continue;
        last = bands;
        if (!cost_of(w, &bands, u, rough, fixed.count > 2, search->least, &cost))
            return false;
        if (!(cost < search->least * (1 - 1e-9)))
            continue;
        search->least = cost;
        search->best = bands;
        search->bearing = bearing;
        search->laid = halves;
    }
    return true;
}

enum outlay_status lines_lay(struct seam_work *w, const struct region *within,
                             const struct region *cover, int half_sheets)
{
    struct search search = {.whole = within ? within : &w->roof->outline,
                            .half_sheets = half_sheets,
                            .least = INFINITY};
    struct clip clip = {.within = within};
    struct clip rough = {.within = within, .rough = true};
    double tries[DIRECTIONS_MAX] = {0};
    size_t count = 0;
    double u[2];
    enum outlay_status status = directions_find(w, search.whole, tries, &count);

    for (size_t t = 0; t < count && status == OUTLAY_OK; t++)
        if (!direction_try(w, &search, tries[t], &rough))
            status = outlay_fail(w->err, OUTLAY_E_MEMORY, "trying a direction");
    if (status != OUTLAY_OK)
        return status;
    w->out->bearing = search.bearing;
    if (half_sheets > 0)
        w->out->half_sheets = search.laid;
    w->out->met_in_middle = w->out->met_in_middle || search.laid < half_sheets;
    direct(w, search.bearing);
    ends_find(w, u);
    if (!seams_lay(w, &search.best, u, &clip))
        return outlay_fail(w->err, OUTLAY_E_MEMORY, "laying rows");
    return sheets_cut(w, &search.best, cover ? cover : search.whole);
}

/* Length of the seams inside the roof, m. */
static bool seams_measure(struct seam_work *w, const struct bands *bands,
                          const double u[2], double *length)
{
    struct clip rough = {.rough = true};

    *length = 0;
    for (size_t k = 1; k < bands->count; k++) {
        struct point a;
        struct point b;
        size_t spans;

        line_ends(w, u, bands->at[k], &a, &b);
        if (!clip_segment(w, a, b, &rough, &spans))
            return false;
        for (size_t s = 0; s < spans; s++)
            *length += (w->spans[s].to - w->spans[s].from) * (u[1] - u[0]);
    }
    return true;
}

enum outlay_status sheets_lay(struct seam_work *w, double bearing)
{
    /* crews begin at an edge and end with the odd sheet */
    static const int places[ODD_PLACES] = {1, 0, 2, 3};
    const struct region *outline = &w->roof->outline;
    struct fixed_bands none = {NULL, 0, 0, 0};
    struct bands best = {NULL, NULL, 0};
    double least = INFINITY;
    double u[2];

    direct(w, bearing);
    ends_find(w, u);
    extent_across(outline, w->across, &none.low, &none.high);
    for (int t = 0; t < ODD_PLACES; t++) {
        struct bands bands;
        double slivers;

        if (!bands_make(w, &none, places[t], &bands) ||
            !seams_keep_clear(w, &none, places[t], NULL, &bands))
            return outlay_fail(w->err, OUTLAY_E_MEMORY, "laying sheets");
        slivers = sliver_length(w, &bands, outline) +
                  100 * (double)seams_crowd(w, NULL, &bands);
        if (slivers < least - 1e-6) {
            least = slivers;
            best = bands;
        }
    }
    if (!seams_measure(w, &best, u, &w->out->side_lap))
        return outlay_fail(w->err, OUTLAY_E_MEMORY, "laying sheets");
    return sheets_cut(w, &best, outline);
}
