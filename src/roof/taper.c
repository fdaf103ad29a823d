#include "roof/taper.h"

#include <math.h>
#include <string.h>

#include "roof/sections.h"

const char *taper_model_name(int value)
{
    static const char *const names[] = {"auto", "four-way", "two-way"};

    return value >= 0 && value < 3 ? names[value] : NULL;
}

bool taper_panels_alike(const struct taper_panel *a, const struct taper_panel *b)
{
    return a->cricket == b->cricket && strcmp(a->letter, b->letter) == 0;
}

double taper_mean(const struct taper *taper)
{
    return taper->area > 0 ? taper->volume / taper->area : NAN;
}

/* ---- Places ---- */

/* How far a place lies outside a convex ring, m: 0 or less inside. Past a corner it is
 * less than the distance, which is enough to tell neighbours apart. */
static double outside(struct ring ring, struct point p)
{
    double most = -INFINITY;

    for (size_t i = 0; i < ring.count; i++) {
        struct point a = ring.points[i];
        struct point b = ring.points[(i + 1) % ring.count];
        double length = point_distance(a, b);

        if (length > 0)
            most = fmax(most,
                        ((p.x - a.x) * (b.y - a.y) - (p.y - a.y) * (b.x - a.x)) / length);
    }
    return most;
}

double taper_at(const struct taper *taper, struct point p)
{
    const struct taper_cell *best = NULL;
    double least = INFINITY;

    for (size_t i = 0; i < taper->cell_count && least > 0; i++) {
        double off = outside(taper->cells[i].ring, p);

        if (off < least) {
            least = off;
            best = &taper->cells[i];
        }
    }
    if (taper->unreached > 0 && least > SECTION_GAP) /* what closes a gap is reached */
        return 0;
    return best ? fmin(fmax(taper_thickness_in(best, p), taper->least), taper->most)
                : NAN;
}

/* ---- The mean of 1 / t ---- */

/* Divided difference of t ln t, less 1 + ln m, which cancels when two of them are
 * subtracted. */
static double difference(double a, double b, double m)
{
    double r = (a - b) / b;

    /* (a ln a - b ln b) / (a - b) = ln b + a ln(1 + r) / (r b) */
    return log(b / m) + (fabs(r) < 1e-9 ? 1 : a * log1p(r) / (r * b));
}

static double inverse_mean(double a, double b, double c)
{
    double least = fmin(a, fmin(b, c));
    double most = fmax(a, fmax(b, c));
    double m = (a + b + c) / 3;
    double middle = 3 * m - least - most;
    double spread = most - least;

    /* The differences cancel where the values are close: then the series, whose next
     * term is of the order of (spread / m)^3. */
    if (spread < 1e-3 * m)
        return 1 / m + ((a - m) * (a - m) + (b - m) * (b - m) + (c - m) * (c - m)) /
                           (12 * m * m * m);
    return 2 * (difference(most, middle, m) - difference(least, middle, m)) / spread;
}

double taper_inverse_mean(const struct taper *taper, double more)
{
    double sum = 0;

    for (size_t i = 0; i < taper->cell_count; i++) {
        const struct taper_cell *cell = &taper->cells[i];

        for (size_t k = 1; k + 1 < cell->ring.count; k++) {
            struct point a = cell->ring.points[0];
            struct point b = cell->ring.points[k];
            struct point c = cell->ring.points[k + 1];

            sum +=
                triangle_area(a, b, c) * inverse_mean(taper_thickness_in(cell, a) + more,
                                                      taper_thickness_in(cell, b) + more,
                                                      taper_thickness_in(cell, c) + more);
        }
    }
    return sum / taper->area;
}

double taper_most_under(const struct taper *taper, struct ring ring)
{
    struct box box = ring_box(ring);
    double most = taper_at(
        taper, (struct point){(box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2});

    for (size_t k = 0; k < ring.count; k++)
        most = fmax(most, taper_at(taper, ring.points[k]));
    return most;
}
