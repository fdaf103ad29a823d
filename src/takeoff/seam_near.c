/* Rows looked up by place: pieces in bins across the sheets, each in all bins that it
 * touches, so that what a row's load costs doesn't grow with the roof. */

#include <math.h>

#include "takeoff/seam_private.h"

/* Sine of 20 degrees: rows that slant more towards a joint end there and hold it
 * (ours). */
static const double slant = 0.34;

/* More bins than sheets side by side on any roof. */
enum { BINS_MAX = 4096 };

struct row_bins {
    double low;     /* of the first bin, m across */
    double step;    /* m */
    size_t count;   /* bins */
    size_t *starts; /* count + 1, into items */
    size_t *items;  /* pieces */
};

static size_t bin_of(const struct row_bins *bins, double v)
{
    double k = floor((v - bins->low) / bins->step);

    return (size_t)fmax(0, fmin(k, (double)bins->count - 1));
}

/* First and last bin of a piece. */
static void bins_touched(const struct seam_work *w, const struct row_bins *bins,
                         const struct row_piece *row, size_t touched[2])
{
    double from = dot(row->from, w->across);
    double to = dot(row->to, w->across);

    touched[0] = bin_of(bins, fmin(from, to) - 1e-6);
    touched[1] = bin_of(bins, fmax(from, to) + 1e-6);
}

static bool bins_measure(const struct seam_work *w, struct row_bins *bins)
{
    double high = -INFINITY;

    bins->low = INFINITY;
    for (size_t k = 0; k < w->out->row_count; k++) {
        double from = dot(w->out->rows[k].from, w->across);
        double to = dot(w->out->rows[k].to, w->across);

        bins->low = fmin(bins->low, fmin(from, to));
        high = fmax(high, fmax(from, to));
    }
    bins->step = fmax(w->full, (high - bins->low) / BINS_MAX);
    bins->count = (size_t)((high - bins->low) / bins->step) + 1;
    bins->starts = arena_array(w->arena, bins->count + 1, sizeof *bins->starts);
    return bins->starts != NULL;
}

/* Puts every piece into its bins; counts only while there are no items. */
static void bins_fill(const struct seam_work *w, struct row_bins *bins, size_t *next)
{
    for (size_t k = 0; k < w->out->row_count; k++) {
        size_t touched[2];

        bins_touched(w, bins, &w->out->rows[k], touched);
        for (size_t b = touched[0]; b <= touched[1]; b++) {
            if (bins->items)
                bins->items[next[b]] = k;
            next[b]++;
        }
    }
}

struct row_bins *row_bins_make(struct seam_work *w)
{
    struct row_bins *bins = arena_alloc(w->arena, sizeof *bins);
    size_t *next = NULL;

    if (!bins)
        return NULL;
    *bins = (struct row_bins){0};
    if (!bins_measure(w, bins))
        return NULL;
    next = arena_array(w->arena, bins->count, sizeof *next);
    if (!next)
        return NULL;
    bins_fill(w, bins, next);
    for (size_t b = 0; b < bins->count; b++) {
        bins->starts[b + 1] = bins->starts[b] + next[b];
        next[b] = bins->starts[b];
    }
    bins->items = arena_array(w->arena, bins->starts[bins->count], sizeof *bins->items);
    if (!bins->items)
        return NULL;
    bins_fill(w, bins, next);
    return bins;
}

/* Where the line from a to b is met on the way from p along d, m; INFINITY where it
 * isn't. */
static double way_to_line(struct point a, struct point b, struct point p, struct point d)
{
    struct point e = {b.x - a.x, b.y - a.y};
    struct point f = {a.x - p.x, a.y - p.y};
    double cross = d.x * e.y - d.y * e.x;
    double s = (f.x * e.y - f.y * e.x) / cross;
    double t = (f.x * d.y - f.y * d.x) / cross;

    if (fabs(cross) < 1e-9 * sqrt(dot(e, e)) || t < -1e-9 || t > 1 + 1e-9 || s <= 1e-3)
        return INFINITY;
    return s;
}

double way_to_next_row(const struct seam_work *w, const struct row_bins *bins,
                       size_t self, struct point p, struct point d, double reach)
{
    double v = dot(p, w->across);
    double last = v + reach * dot(d, w->across);
    size_t to = bin_of(bins, fmax(v, last) + 1e-6);
    double least = INFINITY;

    for (size_t b = bin_of(bins, fmin(v, last) - 1e-6); b <= to; b++)
        for (size_t i = bins->starts[b]; i < bins->starts[b + 1]; i++)
            if (bins->items[i] != self)
                least = fmin(least, way_to_line(w->out->rows[bins->items[i]].from,
                                                w->out->rows[bins->items[i]].to, p, d));
    return least;
}

double way_to_joint(const struct seam_work *w, struct point p, struct point d,
                    double reach)
{
    const struct region *outline = &w->roof->outline;
    struct point edge = {0, 0};
    double least = INFINITY;
    double beyond;

    for (size_t i = 0; w->roof->level.outline && i < outline->polygon_count; i++)
        for (size_t j = 0; j < outline->polygons[i].ring_count; j++) {
            struct ring ring = outline->polygons[i].rings[j];

            for (size_t k = 0, l = ring.count - 1; k < ring.count; l = k++) {
                struct point a = ring.points[l];
                struct point b = ring.points[k];
                double way = way_to_line(a, b, p, d);

                if (way < least) {
                    least = way;
                    edge = (struct point){b.x - a.x, b.y - a.y};
                }
            }
        }
    if (least > reach || fabs(dot(edge, d)) > slant * sqrt(dot(edge, edge)))
        return 0;
    beyond = least + JOINT_BEYOND;
    return region_holds(w->roof->level.outline,
                        (struct point){p.x + d.x * beyond, p.y + d.y * beyond})
               ? least
               : 0;
}
