#include "sample/mask.h"

#include <stdlib.h>

bool scale_invert(const double from[4], double to[4])
{
    double det = from[0] * from[3] - from[1] * from[2];

    if (!isfinite(det) || det == 0)
        return false;
    to[0] = from[3] / det;
    to[1] = -from[1] / det;
    to[2] = -from[2] / det;
    to[3] = from[0] / det;
    return true;
}

/* The k-th edge of a ring ends at its k-th point. */
static struct point edge_start(struct ring ring, size_t k)
{
    return ring.points[k > 0 ? k - 1 : ring.count - 1];
}

static int compare_numbers(const void *left, const void *right)
{
    double a = *(const double *)left;
    double b = *(const double *)right;

    return (a > b) - (a < b);
}

/* Where the line y crosses edges. @return how many */
static size_t crossings(const struct region *outline, double y, double *out)
{
    size_t count = 0;

    for (size_t i = 0; i < outline->polygon_count; i++)
        for (size_t j = 0; j < outline->polygons[i].ring_count; j++) {
            struct ring ring = outline->polygons[i].rings[j];

            for (size_t k = 0; k < ring.count; k++) {
                struct point a = edge_start(ring, k);
                struct point b = ring.points[k];

                if ((a.y <= y) != (b.y <= y))
                    out[count++] = a.x + (y - a.y) * (b.x - a.x) / (b.y - a.y);
            }
        }
    qsort(out, count, sizeof *out, compare_numbers);
    return count;
}

/* The first pixel whose centre isn't before x, within 0 to width. */
static int first_from(double x, int width)
{
    return (int)fmin(fmax(ceil(x - 0.5), 0), width);
}

bool mask_inside(struct mask *mask, const struct region *outline, struct arena *arena)
{
    double *xs = arena_array(arena, region_points(outline), sizeof *xs);

    for (int row = 0; xs && row < mask->height; row++) {
        unsigned char *bits = mask->bits + (size_t)row * (size_t)mask->width;
        size_t count = crossings(outline, row + 0.5, xs);

        for (size_t k = 0; k + 1 < count; k += 2) {
            int end = first_from(xs[k + 1], mask->width);

            for (int col = first_from(xs[k], mask->width); col < end; col++)
                bits[col] |= MASK_INSIDE;
        }
    }
    return xs != NULL;
}

/* Square of the distance, m2, between a pixel's centre and the edge from a to b, both in
 * metres from that centre. */
static double distance2(struct point a, struct point b)
{
    struct point along = {b.x - a.x, b.y - a.y};
    double length2 = along.x * along.x + along.y * along.y;
    double share = length2 > 0 ? -(a.x * along.x + a.y * along.y) / length2 : 0;
    double x, y;

    share = fmin(fmax(share, 0), 1);
    x = a.x + share * along.x;
    y = a.y + share * along.y;
    return x * x + y * y;
}

struct point mask_metres(const struct mask *mask, double cols, double rows)
{
    const double *m = mask->metres;

    return (struct point){m[0] * cols + m[1] * rows, m[2] * cols + m[3] * rows};
}

/* The part of the edge that lies within rows low to high: its least and greatest x. */
static void clip_rows(struct point a, struct point b, double low, double high,
                      double *least, double *most)
{
    double from = 0, to = 1;

    if (a.y != b.y) {
        double t = (low - a.y) / (b.y - a.y);
        double u = (high - a.y) / (b.y - a.y);

        from = fmin(fmax(fmin(t, u), 0), 1);
        to = fmin(fmax(fmax(t, u), 0), 1);
    }
    *least = fmin(a.x + from * (b.x - a.x), a.x + to * (b.x - a.x));
    *most = fmax(a.x + from * (b.x - a.x), a.x + to * (b.x - a.x));
}

static void mark_edge(struct mask *mask, struct point a, struct point b, double distance,
                      double cols, double rows, enum mask_bit bit)
{
    int end = first_from(fmax(a.y, b.y) + rows, mask->height);

    for (int row = first_from(fmin(a.y, b.y) - rows, mask->height); row < end; row++) {
        double y = row + 0.5;
        double least, most;

        clip_rows(a, b, y - rows, y + rows, &least, &most);
        for (int col = first_from(least - cols, mask->width);
             col < first_from(most + cols, mask->width); col++) {
            double x = col + 0.5;

            if (distance2(mask_metres(mask, a.x - x, a.y - y),
                          mask_metres(mask, b.x - x, b.y - y)) < distance * distance)
                mask->bits[(size_t)row * (size_t)mask->width + (size_t)col] |=
                    (unsigned char)bit;
        }
    }
}

void mask_near(struct mask *mask, const struct region *outline, double distance,
               enum mask_bit bit)
{
    double pixels[4];

    if (!scale_invert(mask->metres, pixels))
        return;
    double cols = distance * sqrt(pixels[0] * pixels[0] + pixels[1] * pixels[1]) + 1;
    double rows = distance * sqrt(pixels[2] * pixels[2] + pixels[3] * pixels[3]) + 1;

    for (size_t i = 0; i < outline->polygon_count; i++)
        for (size_t j = 0; j < outline->polygons[i].ring_count; j++) {
            struct ring ring = outline->polygons[i].rings[j];

            for (size_t k = 0; k < ring.count; k++)
                mark_edge(mask, edge_start(ring, k), ring.points[k], distance, cols, rows,
                          bit);
        }
}

double mask_edge_distance(const struct mask *mask, const struct region *outline, int col,
                          int row)
{
    double x = col + 0.5, y = row + 0.5, least = INFINITY;

    for (size_t i = 0; i < outline->polygon_count; i++)
        for (size_t j = 0; j < outline->polygons[i].ring_count; j++) {
            struct ring ring = outline->polygons[i].rings[j];

            for (size_t k = 0; k < ring.count; k++) {
                struct point a = edge_start(ring, k), b = ring.points[k];

                least = fmin(least, distance2(mask_metres(mask, a.x - x, a.y - y),
                                              mask_metres(mask, b.x - x, b.y - y)));
            }
        }
    return sqrt(least);
}
