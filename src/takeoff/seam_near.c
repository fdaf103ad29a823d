/* Rows looked up by place: pieces in bins across the sheets, each in all bins that it
 * touches, so that what a row's load costs doesn't grow with the roof. */

#include <math.h>

#include "takeoff/seam_private.h"

/* More bins than sheets side by side on any roof. */
enum { BINS_MAX = 4096 };

struct row_bins {
    double low;     /* of the first bin, m across */
    double step;    /* m */
    size_t count;   /* bins */
    size_t *starts; /* count + 1, into items */
    size_t *items;  /* pieces */
    size_t *near;   /* those asked for last */
    size_t *seen;   /* by piece: 1 + the one that it was near to last */
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
    bins->near = arena_array(w->arena, w->out->row_count, sizeof *bins->near);
    bins->seen = arena_array(w->arena, w->out->row_count, sizeof *bins->seen);
    if (!bins->near || !bins->seen || !bins_measure(w, bins))
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

size_t row_bins_near(const struct seam_work *w, struct row_bins *bins, size_t self,
                     double reach, const size_t **near)
{
    double from = dot(w->out->rows[self].from, w->across);
    double to = dot(w->out->rows[self].to, w->across);
    size_t last = bin_of(bins, fmax(from, to) + reach);
    size_t count = 0;

    for (size_t b = bin_of(bins, fmin(from, to) - reach); b <= last; b++)
        for (size_t i = bins->starts[b]; i < bins->starts[b + 1]; i++) {
            size_t k = bins->items[i];

            if (k == self || bins->seen[k] == self + 1)
                continue;
            bins->seen[k] = self + 1;
            bins->near[count++] = k;
        }
    *near = bins->near;
    return count;
}
