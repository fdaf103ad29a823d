/* Base securement: what holds the sheet along the edges of a roof. */

#include <math.h>

#include "roof/edges.h"
#include "roof/fixtures.h"
#include "takeoff/seam_private.h"

/* Turns by more than about 150 degrees aren't followed: sine of half of it. */
static const double half_turn_most = 0.966;

static enum hold hold_of(const struct edge *edge)
{
    if (edge_is_metal(edge->kind))
        return HOLD_METAL;
    return edge->kind != EDGE_CONTINUOUS || edge->slope_change ? HOLD_SCREWS
                                                               : HOLD_NOTHING;
}

/* How much shorter a line inside a corner is than the edge, for 1 m that it is set in;
 * negative where the corner runs into the roof. */
static double shorter_by(const struct edge *before, const struct edge *after)
{
    double x = point_distance(before->from, before->to);
    double y = point_distance(after->from, after->to);
    struct point d = {(before->to.x - before->from.x) / x,
                      (before->to.y - before->from.y) / x};
    struct point e = {(after->to.x - after->from.x) / y,
                      (after->to.y - after->from.y) / y};
    double half = copysign(sqrt(fmax(0, (1 - dot(d, e)) / 2)), d.x * e.y - d.y * e.x);

    half = fmin(fmax(half, -half_turn_most), half_turn_most);
    return half / sqrt(1 - half * half);
}

/* A row along edge metal, set in from it; the edges of a ring stand from `first` on. */
static bool metal_row_add(struct seam_work *w, size_t first, size_t count, size_t k)
{
    const struct edge *edges = w->roof->edges + first;
    const struct edge *edge = &edges[k];
    double in = w->settings->edge_row;
    double length = point_distance(edge->from, edge->to);
    struct point u = {(edge->to.x - edge->from.x) / length,
                      (edge->to.y - edge->from.y) / length};
    double from = in * shorter_by(&edges[(k + count - 1) % count], edge);
    double to = length - in * shorter_by(edge, &edges[(k + 1) % count]);
    struct clip clip = {.edge = true};

    return !(to > from) || row_add(w,
                                   (struct point){edge->from.x + from * u.x - in * u.y,
                                                  edge->from.y + from * u.y + in * u.x},
                                   (struct point){edge->from.x + to * u.x - in * u.y,
                                                  edge->from.y + to * u.y + in * u.x},
                                   &clip);
}

/* The edges of one ring: `count` from `first` on. */
static bool ring_lay(struct seam_work *w, size_t first, size_t count)
{
    const struct edge *edges = w->roof->edges + first;
    struct ring ring = {arena_array(w->arena, count, sizeof *ring.points), count};
    enum hold *holds = arena_array(w->arena, count, sizeof *holds);
    struct clip clip = {.edge = true};

    if (!ring.points || !holds)
        return false;
    for (size_t k = 0; k < count; k++) {
        ring.points[k] = edges[k].from;
        holds[k] = hold_of(&edges[k]);
    }
    if (!ring_row_add(w, ring, holds, &clip))
        return false;
    for (size_t k = 0; k < count && w->settings->edge_row > 0; k++)
        if (holds[k] == HOLD_METAL && !metal_row_add(w, first, count, k))
            return false;
    return true;
}

enum outlay_status base_lay(struct seam_work *w)
{
    const struct roof *roof = w->roof;
    size_t end = 0;

    for (size_t first = 0; first < roof->edge_count; first = end) {
        while (end < roof->edge_count && roof->edges[end].ring == roof->edges[first].ring)
            end++;
        if (!ring_lay(w, first, end - first))
            return outlay_fail(w->err, OUTLAY_E_MEMORY, "laying base securement");
    }
    w->kept_rows = w->out->row_count;
    return OUTLAY_OK;
}

enum outlay_status curbs_lay(struct seam_work *w)
{
    struct clip clip = {.edge = true};

    for (size_t i = 0; i < w->roof->fixture_count; i++) {
        const struct fixture *fixture = &w->roof->fixtures[i];
        struct ring ring = fixture->footprint;
        struct ring around = {arena_array(w->arena, ring.count, sizeof *ring.points),
                              ring.count};

        if (!fixture_is_curbed(fixture->kind) || ring.count == 0)
            continue;
        for (size_t k = 0; around.points && k < ring.count; k++)
            around.points[k] = ring.points[ring.count - 1 - k]; /* the roof on the left */
        if (!around.points || !ring_row_add(w, around, NULL, &clip))
            return outlay_fail(w->err, OUTLAY_E_MEMORY, "laying base securement");
        w->out->base_length += fixture_girth(fixture);
    }
    return OUTLAY_OK;
}
