/* Segments against zones. */

#include <stdlib.h>
#include <string.h>

#include "base/grow.h"
#include "takeoff/seam_private.h"

/* The roof's own edges are looked up this far inside, m. */
static const double inside = 1e-3;
/* No edge with ends farther from a line runs along it, m. */
static const double near_edge = 0.05;
/* "Role" of the region that a clip is limited to. */
enum { WITHIN = ZONE_ROLES };
enum { FEW = 32 }; /* cuts that are sorted at once, as numbers_sort() does */
/* Parameters closer than this, times the length, are one, m. */
static const double same_place = 1e-6;
/* Rows within 20 degrees run along each other; one that is nearer than ROW_APART is
 * nearer than this to the other's line. */
static const double beside_cosine = 0.94;
static const double beside_most = 1.1 * ROW_APART;

bool zone_rings_list(struct seam_work *w)
{
    size_t count = 0;

    for (size_t i = 0; i < w->roof->zone_count; i++)
        for (size_t j = 0; j < w->roof->zones[i].region.polygon_count; j++)
            count += w->roof->zones[i].region.polygons[j].ring_count;
    w->rings = arena_array(w->arena, count, sizeof *w->rings);
    if (!w->rings)
        return false;
    for (size_t i = 0; i < w->roof->zone_count; i++) {
        const struct zone *zone = &w->roof->zones[i];

        for (size_t j = 0; j < zone->region.polygon_count; j++)
            for (size_t k = 0; k < zone->region.polygons[j].ring_count; k++) {
                struct ring ring = zone->region.polygons[j].rings[k];

                w->rings[w->ring_count++] =
                    (struct zone_ring){ring, ring_box(ring), (int)zone->role};
            }
    }
    return true;
}

/* A point is in the zone of which it is in an odd number of rings. */
int role_at(const struct seam_work *w, struct point p)
{
    bool odd[ZONE_ROLES] = {false};

    for (size_t i = 0; i < w->ring_count; i++) {
        const struct zone_ring *r = &w->rings[i];

        if (p.x < r->box.min_x || p.x > r->box.max_x || p.y < r->box.min_y ||
            p.y > r->box.max_y)
            continue;
        odd[r->role] ^= ring_holds(r->ring, p);
    }
    for (int role = 0; role < ZONE_ROLES; role++)
        if (odd[role])
            return role;
    return -1;
}

static bool cut_at(struct seam_work *w, double t, int role)
{
    struct cut *cuts = NULL;

    if (!(t > 0 && t < 1))
        return true;
    cuts = grow_in(w->arena, w->cuts, w->cut_count, 1, &w->cut_capacity, sizeof *cuts);
    if (!cuts)
        return false;
    w->cuts = cuts;
    w->cuts[w->cut_count++] = (struct cut){t, role};
    return true;
}

/* Where the segment from a along d crosses the edges of a ring; role: of the zone that
 * begins or ends there. Notes whether an edge may run along the segment. */
static bool cut_by_ring(struct seam_work *w, struct point a, struct point d,
                        struct ring ring, int role)
{
    struct point previous = ring.points[ring.count - 1];
    double side = d.x * (previous.y - a.y) - d.y * (previous.x - a.x);
    double least = INFINITY;

    for (size_t k = 0; k < ring.count; k++) {
        struct point p = ring.points[k];
        double other = d.x * (p.y - a.y) - d.y * (p.x - a.x);

        least = fabs(other) < least ? fabs(other) : least;
        if ((side > 0) != (other > 0)) {
            struct point at = point_between(previous, p, side / (side - other));
            struct point to = {at.x - a.x, at.y - a.y};

            if (!cut_at(w, dot(to, d) / dot(d, d), role))
                return false;
        }
        previous = p;
        side = other;
    }
    w->along_edge = w->along_edge || least <= near_edge * sqrt(dot(d, d));
    return true;
}

static bool cut_by_region(struct seam_work *w, struct point a, struct point d,
                          const struct region *region, int role)
{
    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++)
            if (!cut_by_ring(w, a, d, region->polygons[i].rings[j], role))
                return false;
    return true;
}

/* A laid row seen from a line: where it begins, its direction and its length. */
struct beside {
    struct point from, along;
    double length;
};

/* Whether a row runs along the direction d (of unit length), within 20 degrees, and
 * comes nearer than ROW_APART to the line through a. */
static bool row_beside(const struct row_piece *row, struct point a, struct point d,
                       struct beside *out)
{
    struct point e = {row->to.x - row->from.x, row->to.y - row->from.y};
    struct point to = {row->from.x - a.x, row->from.y - a.y};
    double v = d.x * to.y - d.y * to.x;
    double w = v + d.x * e.y - d.y * e.x;

    if ((v > beside_most && w > beside_most) || (v < -beside_most && w < -beside_most))
        return false;
    out->length = sqrt(dot(e, e));
    out->from = row->from;
    out->along = (struct point){e.x / out->length, e.y / out->length};
    return fabs(dot(out->along, d)) > beside_cosine;
}

/* Where the rows laid before begin and cease to be nearer than ROW_APART. */
static bool cut_by_rows(struct seam_work *w, struct point a, struct point d)
{
    double length = sqrt(dot(d, d));
    struct point unit = {d.x / length, d.y / length};

    for (size_t k = 0; k < w->kept_rows; k++) {
        struct beside row;
        struct point to;
        double s;
        double v;
        double along;
        double off;

        if (!row_beside(&w->out->rows[k], a, unit, &row))
            continue;
        w->along_row = true;
        to = (struct point){a.x - row.from.x, a.y - row.from.y};
        s = dot(to, row.along);
        v = row.along.x * to.y - row.along.y * to.x;
        along = dot(d, row.along);
        off = row.along.x * d.y - row.along.y * d.x;
        if (!cut_at(w, -s / along, -1) || !cut_at(w, (row.length - s) / along, -1) ||
            (fabs(off) > 1e-12 * length && (!cut_at(w, (ROW_APART - v) / off, -1) ||
                                            !cut_at(w, (-ROW_APART - v) / off, -1))))
            return false;
    }
    return true;
}

/* Whether a row laid before runs along d nearer than ROW_APART to a point. */
static bool follows_row(const struct seam_work *w, struct point d, struct point at)
{
    double length = sqrt(dot(d, d));
    struct point unit = {d.x / length, d.y / length};

    for (size_t k = 0; k < w->kept_rows; k++) {
        struct beside row;
        struct point to;
        double s;

        if (!row_beside(&w->out->rows[k], at, unit, &row))
            continue;
        to = (struct point){at.x - row.from.x, at.y - row.from.y};
        s = dot(to, row.along);
        if (s >= 0 && s <= row.length &&
            fabs(row.along.x * to.y - row.along.y * to.x) < ROW_APART)
            return true;
    }
    return false;
}

/* There are few, mostly in order: no library sort is as fast. */
static void cuts_sort_few(struct cut *cuts, size_t count)
{
    for (size_t k = 1; k < count; k++) {
        struct cut cut = cuts[k];
        size_t at = k;

        for (; at > 0 && cuts[at - 1].t > cut.t; at--)
            cuts[at] = cuts[at - 1];
        cuts[at] = cut;
    }
}

static int cut_compare(const void *a, const void *b)
{
    double x = ((const struct cut *)a)->t;
    double y = ((const struct cut *)b)->t;

    return (x > y) - (x < y);
}

/* Whether the segment from a along d comes near a box, by its own box and its line. */
static bool box_meets(const struct box *box, struct point a, struct point d)
{
    struct point half = {(box->max_x - box->min_x) / 2 + near_edge,
                         (box->max_y - box->min_y) / 2 + near_edge};
    struct point to = {(box->min_x + box->max_x) / 2 - a.x,
                       (box->min_y + box->max_y) / 2 - a.y};

    return fabs(to.x - d.x / 2) <= half.x + fabs(d.x) / 2 &&
           fabs(to.y - d.y / 2) <= half.y + fabs(d.y) / 2 &&
           fabs(d.x * to.y - d.y * to.x) <= fabs(d.x) * half.y + fabs(d.y) * half.x;
}

/* A point beside the line along d, to its left. */
static struct point beside_line(struct point p, struct point d, double left)
{
    double scale = left / sqrt(dot(d, d));

    return (struct point){p.x - d.y * scale, p.y + d.x * scale};
}

static bool cuts_collect(struct seam_work *w, struct point a, struct point d,
                         const struct clip *clip)
{
    w->cut_count = 0;
    w->along_edge = w->along_row = false;
    for (size_t i = 0; i < w->ring_count; i++)
        if (box_meets(&w->rings[i].box, a, d) &&
            !cut_by_ring(w, a, d, w->rings[i].ring, w->rings[i].role))
            return false;
    if (clip->within && !cut_by_region(w, a, d, clip->within, WITHIN))
        return false;
    if (!clip->edge && !clip->rough && !cut_by_rows(w, a, d))
        return false;
    if (w->cut_count <= FEW)
        cuts_sort_few(w->cuts, w->cut_count);
    else
        qsort(w->cuts, w->cut_count, sizeof *w->cuts, cut_compare);
    return true;
}

static bool spans_reserve(struct seam_work *w)
{
    if (w->cut_count + 1 <= w->span_capacity)
        return true;
    w->span_capacity = 2 * w->cut_count + 16;
    w->spans = arena_array(w->arena, w->span_capacity, sizeof *w->spans);
    return w->spans != NULL;
}

/* The severer of the roles on either side of a point of a line along d, which differ
 * only where an edge of a zone runs along it. */
static int role_beside(const struct seam_work *w, struct point at, struct point d)
{
    int left = role_at(w, w->along_edge ? beside_line(at, d, inside) : at);
    int right = w->along_edge ? role_at(w, beside_line(at, d, -inside)) : left;

    return left < 0 || right < 0 ? -1 : left < right ? left : right;
}

/* Role of a part of an edge. */
static int role_of_edge(const struct seam_work *w, struct point at, int previous)
{
    int role = role_at(w, at);

    return role >= 0 ? role : previous >= 0 ? previous : ZONE_PERIMETER;
}

/* Role at the middle of a part, -1 where no row is wanted. */
static int role_of_part(const struct seam_work *w, struct point at, struct point d,
                        const struct clip *clip, int previous)
{
    int role;

    if (clip->edge)
        return role_of_edge(w, at, previous);
    role = role_beside(w, at, d);
    if (role < 0 || (clip->within && !region_holds(clip->within, at)) ||
        (w->along_row && follows_row(w, d, at)))
        return -1;
    return role;
}

/* In which zones a segment is that began outside the roof. */
struct passage {
    bool in[ZONE_ROLES + 1]; /* the last: within */
};

static int role_of_passage(const struct passage *passage, const struct clip *clip)
{
    if (clip->within && !passage->in[WITHIN])
        return -1;
    for (int role = 0; role < ZONE_ROLES; role++)
        if (passage->in[role])
            return role;
    return -1;
}

/* Adds a part to the spans; what follows in the same zone goes on with it. */
static void span_put(struct seam_work *w, double from, double to, int role, size_t *count)
{
    if (role < 0)
        return;
    if (*count > 0 && w->spans[*count - 1].role == role &&
        w->spans[*count - 1].to == from)
        w->spans[*count - 1].to = to;
    else
        w->spans[(*count)++] = (struct span){from, to, role};
}

bool clip_segment(struct seam_work *w, struct point a, struct point b,
                  const struct clip *clip, size_t *count)
{
    struct point d = {b.x - a.x, b.y - a.y};
    double length = sqrt(dot(d, d));
    struct passage passage = {{false}};
    double from = 0;
    int previous = -1;

    *count = 0;
    if (!(length > same_place))
        return true;
    if (clip->edge)
        a = beside_line(a, d, inside);
    if (!cuts_collect(w, a, d, clip) || !spans_reserve(w))
        return false;
    for (size_t k = 0; k <= w->cut_count; k++) {
        double to = k < w->cut_count ? w->cuts[k].t : 1;

        if ((to - from) * length >= same_place) {
            struct point at = {a.x + d.x * (from + to) / 2, a.y + d.y * (from + to) / 2};

            previous = clip->rough ? role_of_passage(&passage, clip)
                                   : role_of_part(w, at, d, clip, previous);
            span_put(w, from, to, previous, count);
            from = to;
        }
        if (k < w->cut_count && w->cuts[k].role >= 0)
            passage.in[w->cuts[k].role] ^= true;
    }
    /* a rest too short for a part goes with the last one */
    if (*count > 0 && w->spans[*count - 1].to == from)
        w->spans[*count - 1].to = 1;
    return true;
}
