/* Which way the rows run and where the first begins. */

#include "geo/outline.h"
#include "takeoff/board_grid.h"

/* Lengths that differ by less are equal, m. */
static const double same_length = 1e-6;

/* An edge that runs off by more isn't square to an axis, m (ours). */
static const double bend = 0.01;

/* What is wider than BOARD_FILLED and narrower than this is a sliver that nobody wants
 * to lay, m (ours). */
static const double sliver = 0.15;

/* Shifts tried each way (ours). */
enum { SHIFTS = 16 };

struct point axes_to_local(const struct axes *axes, struct point p)
{
    double x = p.x - axes->origin.x;
    double y = p.y - axes->origin.y;

    return (struct point){x * axes->along.x + y * axes->along.y,
                          y * axes->along.x - x * axes->along.y};
}

struct point axes_to_frame(const struct axes *axes, struct point p)
{
    return (struct point){axes->origin.x + p.x * axes->along.x - p.y * axes->along.y,
                          axes->origin.y + p.x * axes->along.y + p.y * axes->along.x};
}

enum outlay_status axes_region(struct arena *arena, const struct axes *axes,
                               const struct region *region, struct region *out)
{
    if (region_copy(arena, region, out) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    for (size_t i = 0; i < out->polygon_count; i++) {
        for (size_t r = 0; r < out->polygons[i].ring_count; r++) {
            struct ring ring = out->polygons[i].rings[r];

            for (size_t k = 0; k < ring.count; k++)
                ring.points[k] = axes_to_local(axes, ring.points[k]);
        }
    }
    return OUTLAY_OK;
}

enum outlay_status axes_along_edge(struct arena *arena, const struct region *region,
                                   struct axes *out)
{
    struct point from, to;

    if (region_longest_edge(arena, region, &from, &to) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    *out = (struct axes){{0, 0}, {1, 0}};
    if (region->polygon_count > 0) {
        double length = point_distance(from, to);

        *out = (struct axes){from, {(to.x - from.x) / length, (to.y - from.y) / length}};
    }
    return OUTLAY_OK;
}

struct axes axes_along_bearing(const struct region *region, double bearing)
{
    struct axes axes = {{0, 0}, {cos(bearing), sin(bearing)}};
    struct point least = {INFINITY, INFINITY};

    for (size_t i = 0; i < region->polygon_count; i++) {
        struct ring shell = region->polygons[i].rings[0];

        for (size_t k = 0; k < shell.count; k++) {
            struct point p = axes_to_local(&axes, shell.points[k]);

            least.x = fmin(least.x, p.x);
            least.y = fmin(least.y, p.y);
        }
    }
    if (region->polygon_count > 0)
        axes.origin = axes_to_frame(&axes, least);
    return axes;
}

/* Whether a piece between an edge and the next line of the grid is a sliver.
 * @param gap  from the edge into the roof to the next line, m */
static bool is_sliver(double level, double shift, double step, double inward)
{
    double gap = fmod(inward * (shift - level), step);

    if (gap < 0)
        gap += step;
    return gap >= BOARD_FILLED && gap < sliver;
}

/* Length of edges square to an axis that leave slivers. */
static double sliver_length(const struct region *local, int axis, double shift,
                            double step)
{
    double length = 0;

    for (size_t i = 0; i < local->polygon_count; i++) {
        for (size_t r = 0; r < local->polygons[i].ring_count; r++) {
            struct ring ring = local->polygons[i].rings[r];

            for (size_t k = 0; k < ring.count; k++) {
                struct point a = ring.points[k];
                struct point b = ring.points[(k + 1) % ring.count];
                double run = axis == 0 ? b.y - a.y : b.x - a.x;
                double off = axis == 0 ? b.x - a.x : b.y - a.y;
                double level = axis == 0 ? (a.x + b.x) / 2 : (a.y + b.y) / 2;
                /* the inside is on the left */
                double inward = (axis == 0) == (run > 0) ? -1 : 1;

                if (fabs(off) > bend)
                    continue;
                if (is_sliver(level, shift, step, inward))
                    length += fabs(run);
            }
        }
    }
    return length;
}

static double least_shift(const struct region *local, int axis, double step, double board)
{
    double best = 0;
    double least = INFINITY;

    for (int i = 0; i < SHIFTS; i++) {
        double shift = -board * i / SHIFTS;
        double length = sliver_length(local, axis, shift, step);

        if (length < least - same_length) {
            least = length;
            best = shift;
        }
    }
    return best;
}

void grid_shift(struct board_grid *grid, const struct region *local)
{
    /* odd rows are shifted by half a board, so joints come at every half board */
    grid->shift_u = least_shift(local, 0, grid->length / 2, grid->length);
    grid->shift_v = least_shift(local, 1, grid->width, grid->width);
}
