#include "zoning/contacts.h"

#include <math.h>

#include "base/grow.h"
#include "roof/edges.h"
#include "roof/sections.h"

static const double shared_min = 1.0; /* m along which they must adjoin */
static const double crumb = CONTACT_CRUMB;

/* Edges that face each other are parallel within 30 degrees: cosine. */
static const double facing_least = 0.866;

/* A line of the layer of edges tells of edges as far from it, parallel within 15 degrees:
 * cosine. */
static const double line_reach = 1.0;
static const double line_cosine = 0.9659;

/* ---- Outlines as edges ---- */

bool sides_of(struct arena *arena, const struct region *outline, struct sides *out)
{
    size_t serial = 0;

    *out = (struct sides){
        .items = arena_array(arena, region_points(outline) + 1, sizeof *out->items),
        .box = region_box(outline)};
    if (!out->items)
        return false;
    for (size_t i = 0; i < outline->polygon_count; i++)
        for (size_t j = 0; j < outline->polygons[i].ring_count; j++, serial++) {
            struct ring ring = outline->polygons[i].rings[j];

            for (size_t k = 0; k < ring.count; k++) {
                struct point a = ring.points[k];
                struct point b = ring.points[k + 1 == ring.count ? 0 : k + 1];
                double length = point_distance(a, b);

                out->items[out->count++] = (struct side){
                    a, b, {(b.x - a.x) / length, (b.y - a.y) / length}, length, serial};
            }
        }
    return true;
}

/* ---- Where sections adjoin ---- */

/* How far along an edge a point lies, and how far to its right, m. */
static struct point seen_from(const struct side *side, struct point p)
{
    struct point d = {p.x - side->a.x, p.y - side->a.y};

    return (struct point){d.x * side->along.x + d.y * side->along.y,
                          d.x * side->along.y - d.y * side->along.x};
}

/* Keeps the part of a line, from p to q, on which y is from low to high; false: none. */
static bool clip_y(struct point *p, struct point *q, double low, double high)
{
    struct point *ends[] = {p, q};
    struct point from = *p;
    struct point to = *q;

    if (fmax(p->y, q->y) < low || fmin(p->y, q->y) > high)
        return false;
    for (int k = 0; k < 2; k++) {
        double y = fmin(fmax(ends[k]->y, low), high);

        if (y != ends[k]->y)
            *ends[k] = (struct point){
                from.x + (to.x - from.x) * (y - from.y) / (to.y - from.y), y};
    }
    return true;
}

/* The part of e along which f, of another section, runs the other way beside it. */
static bool adjoin(const struct side *e, const struct side *f, struct contact *out)
{
    struct point p = seen_from(e, f->b);
    struct point q = seen_from(e, f->a);

    if (!(e->along.x * f->along.x + e->along.y * f->along.y <= -facing_least) ||
        q.x <= 0 || p.x >= e->length || !clip_y(&p, &q, -SECTION_GAP, SECTION_GAP))
        return false;
    out->from = fmax(p.x, 0);
    out->to = fmin(q.x, e->length);
    return out->to - out->from > crumb;
}

static bool contact_add(struct arena *arena, struct contacts *contacts,
                        const struct contact *contact)
{
    struct contact *items = grow_in(arena, contacts->items, contacts->count, 1,
                                    &contacts->room, sizeof *items);

    if (!items)
        return false;
    contacts->items = items;
    items[contacts->count++] = *contact;
    return true;
}

bool contacts_with_section(struct arena *arena, const struct sides *sides,
                           const struct sides *theirs, size_t section, double rise,
                           struct contacts *out)
{
    size_t before = out->count;
    double length = 0;

    for (size_t i = 0; i < sides->count; i++) {
        const struct side *side = &sides->items[i];
        struct box box = box_empty();

        box_add(&box, side->a);
        box_add(&box, side->b);
        if (!boxes_near(&box, &theirs->box, SECTION_GAP))
            continue;
        for (size_t k = 0; k < theirs->count; k++) {
            struct contact contact = {.side = i, .beside = section, .rise = rise};

            if (!adjoin(side, &theirs->items[k], &contact))
                continue;
            length += contact.to - contact.from;
            if (!contact_add(arena, out, &contact))
                return false;
        }
    }
    if (length < shared_min)
        out->count = before;
    return true;
}

/* ---- Along which lines run ---- */

/* Drawn beside the edge, a line ends short of a corner: where its end is as near to it as
 * the line may be, it reaches the corner. */
static void reach_corners(const struct side *side, const struct point *p,
                          const struct point *q, struct contact *out)
{
    if (hypot(p->x, p->y) <= line_reach)
        out->from = 0;
    if (hypot(q->x - side->length, q->y) <= line_reach)
        out->to = side->length;
}

/* A jog that is too short to have a direction goes with the line that passes it. */
static bool passes_jog(const struct side *side, const struct edge_line *line)
{
    struct side along = {
        .a = line->from, .b = line->to, .length = point_distance(line->from, line->to)};
    struct point p, q;

    if (side->length > SECTION_GAP || !(along.length > 0))
        return false;
    along.along = (struct point){(along.b.x - along.a.x) / along.length,
                                 (along.b.y - along.a.y) / along.length};
    p = seen_from(&along, side->a);
    q = seen_from(&along, side->b);
    return fmin(p.x, q.x) >= 0 && fmax(p.x, q.x) <= along.length &&
           fmax(fabs(p.y), fabs(q.y)) <= line_reach;
}

/* A line drawn past a corner isn't meant for the next edge: it must run along an edge for
 * 1 m, or be as short itself (ours). */
static double least_along(const struct side *side, const struct edge_line *line)
{
    double shorter = fmin(side->length, point_distance(line->from, line->to));

    return fmin(shared_min, fmax(0.9 * shorter, crumb));
}

/* The part of an edge that a line tells of. */
static bool runs_along(const struct side *side, const struct edge_line *line,
                       struct contact *out)
{
    struct point p = seen_from(side, line->from);
    struct point q = seen_from(side, line->to);
    double cosine = (q.x - p.x) / point_distance(p, q);

    if (passes_jog(side, line)) {
        out->from = 0;
        out->to = side->length;
        out->apart[0] = out->apart[1] = line_reach;
        return true;
    }
    if (!(fabs(cosine) >= line_cosine))
        return false;
    if (cosine < 0) {
        struct point swap = p;
        p = q;
        q = swap;
    }
    if (!clip_y(&p, &q, -line_reach, line_reach))
        return false;
    out->from = fmax(p.x, 0);
    out->to = fmin(q.x, side->length);
    out->apart[0] = fabs(p.y);
    out->apart[1] = fabs(q.y);
    if (out->to - out->from < least_along(side, line))
        return false;
    reach_corners(side, &p, &q, out);
    return true;
}

bool contacts_with_lines(const struct building *building, const struct sides *sides,
                         struct contacts *out)
{
    struct arena *arena = building->arena;

    for (size_t k = 0; k < building->line_count; k++) {
        struct edge_line *line = &building->lines[k];
        struct box box = box_empty();

        box_add(&box, line->from);
        box_add(&box, line->to);
        if (!boxes_near(&box, &sides->box, line_reach))
            continue;
        for (size_t i = 0; i < sides->count; i++) {
            struct contact contact = {.side = i, .rise = NAN, .line = line};

            if (runs_along(&sides->items[i], line, &contact) &&
                !contact_add(arena, out, &contact))
                return false;
        }
    }
    return true;
}

double contact_apart(const struct contact *contact, double at)
{
    double share = (at - contact->from) / (contact->to - contact->from);

    return contact->apart[0] + share * (contact->apart[1] - contact->apart[0]);
}
