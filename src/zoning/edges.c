#include "zoning/edges.h"

#include <math.h>
#include <stdlib.h>

#include "base/grow.h"
#include "base/units.h"
#include "roof/edges.h"
#include "zoning/holes.h"

static const double gap_max = 0.3;           /* m between sections */
static const double shared_min = 1.0;        /* m along which they must adjoin */
static const double flush_max = 0.3;         /* m of height within which a roof goes on */
static const double step_max = 3 * M_PER_FT; /* the same with a change of slope */
static const double crumb = 1e-3; /* m; a stretch as short goes with the one before it */

/* Edges that face each other are parallel within 30 degrees: cosine. */
static const double facing_least = 0.866;

/* A part of an edge along which another section lies: from and to along it, m. */
struct contact {
    size_t side; /* which edge of the roof, counted through its rings */
    double from, to;
    size_t beside; /* index of the other section */
    double rise;   /* of the other section, m; NAN: its height isn't known */
};

struct contacts {
    struct contact *items;
    size_t count, room;
};

/* An edge of an outline with what it needs again and again. */
struct side {
    struct point a, b;
    struct point along;
    double length;
    size_t ring;
};

struct sides {
    struct side *items;
    size_t count;
    struct box box;
};

/* One roof at work. */
struct finder {
    struct building *building;
    struct roof *roof;
    const struct zoning_settings *settings;
    const struct level_outline *level;
    const struct sides *sides;
    struct contacts contacts;
    struct edge own; /* where nothing else stands */
    double *cuts;    /* scratch: room for two a contact, and one */
    double stepped;  /* m beside sections that differ by a change of slope */
    size_t room;
};

/* ---- Outlines as edges ---- */

static bool sides_of(struct arena *arena, const struct region *outline, struct sides *out)
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
        q.x <= 0 || p.x >= e->length || !clip_y(&p, &q, -gap_max, gap_max))
        return false;
    out->from = fmax(p.x, 0);
    out->to = fmin(q.x, e->length);
    return out->to - out->from > crumb;
}

static bool contact_add(struct finder *f, const struct contact *contact)
{
    struct contact *items =
        grow_in(f->building->arena, f->contacts.items, f->contacts.count, 1,
                &f->contacts.room, sizeof *items);

    if (!items)
        return false;
    f->contacts.items = items;
    items[f->contacts.count++] = *contact;
    return true;
}

/* Adds where one other roof adjoins, unless that is over less than 1 m.
 * @return false when out of memory */
static bool contacts_with(struct finder *f, size_t index, const struct sides *theirs)
{
    const struct roof *other = &f->building->roofs[index];
    size_t before = f->contacts.count;
    double length = 0;

    for (size_t i = 0; i < f->sides->count; i++) {
        const struct side *side = &f->sides->items[i];
        struct box box = box_empty();

        box_add(&box, side->a);
        box_add(&box, side->b);
        if (!boxes_near(&box, &theirs->box, gap_max))
            continue;
        for (size_t k = 0; k < theirs->count; k++) {
            struct contact contact = {
                .side = i, .beside = index, .rise = other->height - f->roof->height};

            if (!adjoin(side, &theirs->items[k], &contact))
                continue;
            length += contact.to - contact.from;
            if (!contact_add(f, &contact))
                return false;
        }
    }
    if (length < shared_min)
        f->contacts.count = before;
    return true;
}

/* ---- Stretches ---- */

/* What another section is to the edge. */
static void beside_section(const struct finder *f, const struct contact *highest,
                           struct edge *edge)
{
    double rise = highest->rise;

    if (fabs(rise) <= step_max + 1e-9) {
        edge->kind = EDGE_CONTINUOUS;
        edge->slope_change = fabs(rise) > flush_max + 1e-9;
        edge->source = edge->slope_change ? EDGE_BY_HEIGHTS : EDGE_ASSUMED;
        edge->beside = highest->beside;
        edge->height = NAN;
        edge->thickness = NAN;
    } else if (rise > 0) {
        edge->kind = EDGE_WALL;
        edge->source = EDGE_BY_HEIGHTS;
        edge->height = rise;
        edge->thickness = NAN;
    } else {
        *edge = f->own;
    }
}

/* The kind of a part of an edge: of the highest of the sections there. */
static void part_judge(const struct finder *f, size_t side, double at, struct edge *edge)
{
    const struct contact *highest = NULL;

    for (size_t k = 0; k < f->contacts.count; k++) {
        const struct contact *contact = &f->contacts.items[k];

        if (contact->side == side && contact->from <= at && at <= contact->to &&
            !isnan(contact->rise) && (!highest || contact->rise > highest->rise))
            highest = contact;
    }
    if (highest)
        beside_section(f, highest, edge);
}

static bool alike(const struct edge *a, const struct edge *b)
{
    return a->kind == b->kind && a->source == b->source &&
           a->slope_change == b->slope_change && a->beside == b->beside &&
           (a->height == b->height || (isnan(a->height) && isnan(b->height)));
}

/* Adds a part of an edge; one that goes on with the part before it lengthens that. */
static bool edge_put(struct finder *f, const struct edge *edge, bool goes_on)
{
    struct roof *roof = f->roof;
    struct edge *items = NULL;

    if (edge->slope_change)
        f->stepped += point_distance(edge->from, edge->to);
    if (goes_on && alike(&roof->edges[roof->edge_count - 1], edge)) {
        roof->edges[roof->edge_count - 1].to = edge->to;
        return true;
    }
    items = grow_in(f->building->arena, roof->edges, roof->edge_count, 1, &f->room,
                    sizeof *items);
    if (!items)
        return false;
    roof->edges = items;
    items[roof->edge_count++] = *edge;
    return true;
}

static int by_value(const void *a, const void *b)
{
    double x = *(const double *)a;
    double y = *(const double *)b;

    return (x > y) - (x < y);
}

static struct point point_at(const struct side *side, double t)
{
    if (t >= side->length)
        return side->b;
    return (struct point){side->a.x + t * side->along.x, side->a.y + t * side->along.y};
}

/* Cuts an edge where sections begin and end, and puts its parts. */
static bool side_put(struct finder *f, size_t index, const struct edge *bare)
{
    const struct side *side = &f->sides->items[index];
    double *cuts = f->cuts;
    size_t count = 0;
    double from = 0;

    for (size_t k = 0; k < f->contacts.count; k++) {
        if (f->contacts.items[k].side != index)
            continue;
        cuts[count++] = f->contacts.items[k].from;
        cuts[count++] = f->contacts.items[k].to;
    }
    cuts[count++] = side->length;
    qsort(cuts, count, sizeof *cuts, by_value);
    for (size_t k = 0; k < count; k++) {
        double to = side->length - cuts[k] < crumb ? side->length : cuts[k];
        struct edge edge = *bare;

        if (to - from < crumb && !(to == side->length && from == 0))
            continue;
        part_judge(f, index, (from + to) / 2, &edge);
        edge.from = point_at(side, from);
        edge.to = point_at(side, to);
        edge.ring = side->ring;
        if (!edge_put(f, &edge, from > 0))
            return false;
        from = to;
    }
    return true;
}

/* ---- Roofs ---- */

/* The roof's own kind of edge, and what is there to know about it. */
static struct edge own_edge(const struct roof *roof)
{
    struct edge own = {.height = NAN, .thickness = NAN};

    own.kind = edge_own_kind(roof, &own.source);
    if (own.kind == EDGE_PARAPET) {
        own.height = roof->given.parapet;
        own.thickness = roof->given.parapet_thickness;
    }
    return own;
}

/* What stands along a ring where no section adjoins. */
static enum outlay_status ring_judge(struct finder *f, struct ring ring, bool hole,
                                     struct edge *bare)
{
    enum hole_kind kind = HOLES_COURT;
    unsigned assumed = 0;

    *bare = f->own;
    if (hole && hole_judge(f->building, f->level, f->settings, ring, &kind, &assumed) !=
                    OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    if (kind == HOLES_COURT)
        return OUTLAY_OK;
    *bare = (struct edge){.kind = kind == HOLES_PENTHOUSE ? EDGE_WALL : EDGE_CURB,
                          .source = assumed ? EDGE_ASSUMED : EDGE_BY_COLUMN,
                          .height = NAN,
                          .thickness = NAN};
    return OUTLAY_OK;
}

static enum outlay_status rings_put(struct finder *f)
{
    const struct region *outline = &f->roof->outline;
    size_t index = 0;

    for (size_t i = 0; i < outline->polygon_count; i++)
        for (size_t j = 0; j < outline->polygons[i].ring_count; j++) {
            struct ring ring = outline->polygons[i].rings[j];
            struct edge bare;

            if (ring_judge(f, ring, j > 0, &bare) != OUTLAY_OK)
                return OUTLAY_E_MEMORY;
            for (size_t k = 0; k < ring.count; k++)
                if (!side_put(f, index++, &bare))
                    return OUTLAY_E_MEMORY;
        }
    return OUTLAY_OK;
}

/* What reaches the user of how the edges were found. */
static void edges_tell(struct finder *f)
{
    struct roof *roof = f->roof;

    for (size_t k = 0; k < roof->edge_sum_count; k++) {
        const struct edge_sum *sum = &roof->edge_sums[k];

        if (sum->source == EDGE_ASSUMED && sum->length > 0 && sum->kind != EDGE_CURB)
            roof_assume(roof, ASSUME_EDGE);
        if (sum->kind == EDGE_PARAPET && isnan(sum->thickness) && sum->length > 0)
            roof_assume(roof, ASSUME_PARAPET_THICKNESS);
    }
    if (f->stepped > 0)
        roof_problem(f->building->arena, roof, PROBLEM_SLOPE_CHANGE,
                     "the roof goes on there with a change of slope; check the heights",
                     "%.0f ft (%.0f m) of edge adjoin a section that stands 1 to 3 ft "
                     "(0.3 to 0.9 m) higher or lower",
                     f->stepped / M_PER_FT, f->stepped);
}

static enum outlay_status roof_edges(struct building *building, const struct sides *sides,
                                     size_t index, const struct level_outline *level,
                                     const struct zoning_settings *settings)
{
    struct roof *roof = &building->roofs[index];
    struct finder f = {.building = building,
                       .roof = roof,
                       .settings = settings,
                       .level = level,
                       .sides = &sides[index],
                       .own = own_edge(roof)};

    for (size_t k = 0; k < building->roof_count; k++)
        if (k != index && building->roofs[k].whole &&
            boxes_near(&sides[index].box, &sides[k].box, gap_max) &&
            !contacts_with(&f, k, &sides[k]))
            return OUTLAY_E_MEMORY;
    f.cuts = arena_array(building->arena, 2 * f.contacts.count + 1, sizeof *f.cuts);
    if (!f.cuts || rings_put(&f) != OUTLAY_OK ||
        edges_sum(building->arena, roof) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    edges_tell(&f);
    return OUTLAY_OK;
}

enum outlay_status edges_find(struct building *building,
                              const struct level_outline *levels, size_t level_count,
                              const struct zoning_settings *settings)
{
    struct sides *sides =
        arena_array(building->arena, building->roof_count + 1, sizeof *sides);

    if (!sides)
        return OUTLAY_E_MEMORY;
    for (size_t k = 0; k < building->roof_count; k++)
        if (building->roofs[k].whole &&
            !sides_of(building->arena, &building->roofs[k].outline, &sides[k]))
            return OUTLAY_E_MEMORY;
    for (size_t l = 0; l < level_count; l++)
        for (size_t k = 0; k < levels[l].roof_count; k++) {
            size_t index = levels[l].roofs[k];

            if (building->roofs[index].zoned &&
                roof_edges(building, sides, index, &levels[l], settings) != OUTLAY_OK)
                return OUTLAY_E_MEMORY;
        }
    return OUTLAY_OK;
}
