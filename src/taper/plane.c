#include "taper/plane.h"

/* What is nearer to a line lies on it, m. */
static const double on_line = 1e-9;

/* Polygons of less area are none, m2. */
static const double no_area = 1e-12;

double plane_most(struct plane plane, struct ring ring)
{
    double most = -INFINITY;

    for (size_t i = 0; i < ring.count; i++)
        most = fmax(most, plane_at(plane, ring.points[i]));
    return most;
}

static double value_at(struct plane side, struct point p)
{
    double value = plane_at(side, p);

    return fabs(value) <= on_line ? 0 : value;
}

enum outlay_status convex_cut(struct arena *arena, struct ring ring, struct plane side,
                              struct ring *out)
{
    struct ring cut = {NULL, 0};
    size_t inside = 0;

    for (size_t i = 0; i < ring.count; i++)
        inside += value_at(side, ring.points[i]) >= 0;
    *out = inside == ring.count ? ring : (struct ring){NULL, 0};
    if (inside == ring.count || inside == 0)
        return OUTLAY_OK;
    cut.points = arena_array(arena, ring.count + 2, sizeof *cut.points);
    if (!cut.points)
        return OUTLAY_E_MEMORY;
    for (size_t i = 0; i < ring.count; i++) {
        struct point a = ring.points[i];
        struct point b = ring.points[(i + 1) % ring.count];
        double from = value_at(side, a);
        double to = value_at(side, b);
        double share = from / (from - to);

        if (from >= 0)
            cut.points[cut.count++] = a;
        if (from * to < 0)
            cut.points[cut.count++] =
                (struct point){a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
    }
    if (cut.count >= 3 && fabs(ring_area(cut)) > no_area)
        *out = cut;
    return OUTLAY_OK;
}

double plane_integral(struct plane plane, struct ring ring)
{
    double sum = 0;

    for (size_t i = 1; i + 1 < ring.count; i++) {
        struct point a = ring.points[0];
        struct point b = ring.points[i];
        struct point c = ring.points[i + 1];

        sum += triangle_area(a, b, c) *
               (plane_at(plane, a) + plane_at(plane, b) + plane_at(plane, c)) / 3;
    }
    return sum;
}
