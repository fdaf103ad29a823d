/* Lines of equal thickness, each plane's joined across the pieces that it fell into. */

#include <stdlib.h>

#include "base/grow.h"
#include "taper/taper_private.h"

/* Ends that are nearer to one another meet, m. */
static const double meets = 1e-4;

/* Levels that a piece only touches, with an edge or corner, aren't drawn, m. */
static const double touches = 1e-6;

/* A line of a plane at one level within one piece. */
struct stretch {
    struct plane plane;
    long level;        /* in steps */
    double from, to;   /* along the line, m; from <= to */
    struct point a, b; /* its ends */
};

struct stretches {
    struct stretch *items;
    size_t count, capacity;
};

/* Where a level line crosses an edge of a ring. @return false: it doesn't */
static bool crosses(struct plane plane, double level, struct point a, struct point b,
                    struct point *out)
{
    double from = plane_at(plane, a) - level;
    double to = plane_at(plane, b) - level;
    double share = from / (from - to);

    if ((from < 0) == (to < 0))
        return false;
    *out = (struct point){a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
    return true;
}

static enum outlay_status add_stretch(struct taper_work *w, struct stretches *list,
                                      const struct piece *piece, struct plane plane,
                                      long level)
{
    double value = (double)level * w->settings->contour;
    struct point ends[2];
    size_t found = 0;
    struct stretch *items =
        grow_in(w->arena, list->items, list->count, 1, &list->capacity, sizeof *items);
    struct stretch stretch = {.plane = plane, .level = level};

    if (!items)
        return OUTLAY_E_MEMORY;
    list->items = items;
    for (size_t i = 0; i < piece->ring.count && found < 2; i++)
        found += crosses(plane, value, piece->ring.points[i],
                         piece->ring.points[(i + 1) % piece->ring.count], &ends[found]);
    if (found < 2)
        return OUTLAY_OK;
    /* along the line is square to the rise */
    stretch.from = plane.x * ends[0].y - plane.y * ends[0].x;
    stretch.to = plane.x * ends[1].y - plane.y * ends[1].x;
    stretch.a = ends[stretch.from > stretch.to];
    stretch.b = ends[stretch.from <= stretch.to];
    if (stretch.from > stretch.to) {
        double swap = stretch.from;

        stretch.from = stretch.to;
        stretch.to = swap;
    }
    list->items[list->count++] = stretch;
    return OUTLAY_OK;
}

static int compare(double a, double b)
{
    return (a > b) - (a < b);
}

/* Planes that differ by rounding only are one. */
static int by_line(const struct stretch *p, const struct stretch *q)
{
    int order = compare(round(p->plane.x / 1e-9), round(q->plane.x / 1e-9));

    if (order == 0)
        order = compare(round(p->plane.y / 1e-9), round(q->plane.y / 1e-9));
    if (order == 0)
        order = compare(round(p->plane.at / 1e-6), round(q->plane.at / 1e-6));
    return order ? order : (p->level > q->level) - (p->level < q->level);
}

static int by_place(const void *a, const void *b)
{
    const struct stretch *p = a;
    const struct stretch *q = b;
    int order = by_line(p, q);

    return order ? order : compare(p->from, q->from);
}

static void join_stretches(struct stretches *list, double rise)
{
    size_t kept = 0;

    if (list->count > 0)
        qsort(list->items, list->count, sizeof *list->items, by_place);
    for (size_t i = 0; i < list->count; i++) {
        struct stretch *last = kept > 0 ? &list->items[kept - 1] : NULL;

        if (last && by_line(last, &list->items[i]) == 0 &&
            list->items[i].from <= last->to + meets * rise) {
            if (list->items[i].to > last->to) {
                last->to = list->items[i].to;
                last->b = list->items[i].b;
            }
        } else {
            list->items[kept++] = list->items[i];
        }
    }
    list->count = kept;
}

enum outlay_status contours_draw(struct taper_work *w)
{
    double step = w->settings->contour;
    struct stretches list = {NULL, 0, 0};
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = 0; i < w->pieces.count; i++) {
        const struct piece *piece = &w->pieces.items[i];
        struct plane plane = taper_thickness(w, piece);
        double most = plane_most(plane, piece->ring) - touches;
        double least = touches - plane_most(plane_turned(plane), piece->ring);

        if (!isfinite(plane.at)) /* no drain reaches it */
            continue;
        for (long level = (long)ceil(least / step);
             (double)level * step <= most && status == OUTLAY_OK; level++)
            status = add_stretch(w, &list, piece, plane, level);
    }
    if (status != OUTLAY_OK)
        return status;
    join_stretches(&list, w->out->slope);
    w->out->contours = arena_array(w->arena, list.count, sizeof *w->out->contours);
    if (!w->out->contours)
        return OUTLAY_E_MEMORY;
    for (size_t i = 0; i < list.count; i++)
        w->out->contours[w->out->contour_count++] = (struct taper_contour){
            taper_to_frame(w, list.items[i].a), taper_to_frame(w, list.items[i].b),
            (double)list.items[i].level * step};
    return OUTLAY_OK;
}
