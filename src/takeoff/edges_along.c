/* The edges of an outline that was made from others. */

#include <math.h>

#include "base/grow.h"
#include "base/number.h"
#include "geo/joints.h"
#include "roof/sections.h"
#include "takeoff/field.h"

static const double crumb = 1e-3; /* m; a stretch as short goes with the one before it */

/* An edge gives its kind to what runs along it within 30 degrees: cosine. */
static const double along_least = 0.866;

struct follow {
    struct seam_work *w;
    const struct edge_list *edges;
    bool inner;
    double *ends; /* scratch */
    struct edge_list *out;
    size_t room;
};

static double set_in(const struct follow *f, const struct edge *edge)
{
    return f->inner ? edge_set_in(edge) : 0;
}

/* Cosine between two segments. */
static double turn_of(struct point a, struct point b, const struct edge *edge)
{
    struct point d = {b.x - a.x, b.y - a.y};
    struct point e = {edge->to.x - edge->from.x, edge->to.y - edge->from.y};

    return dot(d, e) / sqrt(dot(d, d) * dot(e, e));
}

/* Of the edges that run along a stretch the nearest to where it should be; where none
 * does, at the mouth of a gap or the end of a wall, the nearest of all. */
static const struct edge *edge_beside(const struct follow *f, struct point a,
                                      struct point b)
{
    const struct edge *best = NULL;
    double least = INFINITY;
    bool along = false;

    for (size_t i = 0; i < f->edges->count; i++) {
        const struct edge *edge = &f->edges->items[i];
        double off = segment_distance(point_between(a, b, 0.5), edge->from, edge->to) -
                     set_in(f, edge);
        bool is_along = fabs(off) < SECTION_GAP && turn_of(a, b, edge) > along_least;
        double distance = is_along ? fabs(off) : fmax(off, 0); /* 0: a wall's own end */

        if (is_along < along || (is_along == along && distance >= least))
            continue;
        best = edge;
        least = distance;
        along = is_along;
    }
    return best;
}

/* Where edges that run along a segment begin and end, as shares of it; 1 is the last. */
static size_t stretches_find(const struct follow *f, struct point a, struct point b)
{
    struct point d = {b.x - a.x, b.y - a.y};
    double length = sqrt(dot(d, d));
    size_t count = 0;

    for (size_t i = 0; i < f->edges->count; i++) {
        const struct edge *edge = &f->edges->items[i];
        const struct point at[] = {edge->from, edge->to};

        for (int k = 0; k < 2 && turn_of(a, b, edge) > along_least; k++) {
            struct point to = {at[k].x - a.x, at[k].y - a.y};
            double t = dot(to, d) / (length * length);

            if (t * length > crumb && (1 - t) * length > crumb &&
                segment_distance(at[k], a, b) < SECTION_GAP + set_in(f, edge))
                f->ends[count++] = t;
        }
    }
    f->ends[count++] = 1;
    numbers_sort(f->ends, count);
    return count;
}

static bool goes_on(const struct edge *a, const struct edge *b)
{
    return a->kind == b->kind && a->source == b->source && a->beside == b->beside &&
           a->slope_change == b->slope_change && same_number(a->height, b->height) &&
           same_number(a->thickness, b->thickness);
}

/* A segment of the outline, stretch by stretch. @return false when out of memory */
static bool segment_put(struct follow *f, struct point a, struct point b, size_t ring)
{
    struct edge_list *out = f->out;
    size_t count = stretches_find(f, a, b);
    double length = point_distance(a, b);
    size_t first = out->count;
    double from = 0;

    for (size_t k = 0; k < count; k++) {
        struct point p = point_between(a, b, from);
        struct point q = point_between(a, b, f->ends[k]);
        struct edge edge;

        if ((f->ends[k] - from) * length < crumb && count > 1)
            continue;
        edge = *edge_beside(f, p, q);
        edge.from = p;
        edge.to = q;
        edge.ring = ring;
        from = f->ends[k];
        if (out->count > first && goes_on(&out->items[out->count - 1], &edge)) {
            out->items[out->count - 1].to = q;
            continue;
        }
        out->items =
            grow_in(f->w->arena, out->items, out->count, 1, &f->room, sizeof edge);
        if (!out->items)
            return false;
        out->items[out->count++] = edge;
    }
    return true;
}

enum outlay_status edges_along(struct seam_work *w, const struct region *outline,
                               const struct edge_list *edges, bool inner,
                               struct edge_list *out)
{
    struct follow f = {.w = w, .edges = edges, .inner = inner, .out = out};
    bool done = true;
    size_t serial = 0;

    *out = (struct edge_list){NULL, 0};
    f.ends = arena_array(w->arena, 2 * edges->count + 1, sizeof *f.ends);
    done = f.ends != NULL;
    for (size_t i = 0; i < outline->polygon_count && edges->count > 0; i++)
        for (size_t j = 0; j < outline->polygons[i].ring_count; j++, serial++) {
            struct ring ring = outline->polygons[i].rings[j];

            for (size_t k = 0; k < ring.count && done; k++)
                done = segment_put(&f, ring.points[k], ring.points[(k + 1) % ring.count],
                                   serial);
        }
    return done ? OUTLAY_OK
                : outlay_fail(w->err, OUTLAY_E_MEMORY, "following the edges of a roof");
}
