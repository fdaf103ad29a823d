#include "zoning/edges.h"

#include <math.h>

#include "base/grow.h"
#include "base/number.h"
#include "base/units.h"
#include "roof/edges.h"
#include "zoning/contacts.h"
#include "zoning/holes.h"

static const double flush_max = 0.3;         /* m of height within which a roof goes on */
static const double step_max = 3 * M_PER_FT; /* the same with a change of slope */
static const double crumb = CONTACT_CRUMB;

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
    double alone;    /* m of joints with no section beside them */
    size_t room;
};

/* ---- Stretches ---- */

static struct point point_at(const struct side *side, double t)
{
    if (t >= side->length)
        return side->b;
    return (struct point){side->a.x + t * side->along.x, side->a.y + t * side->along.y};
}

/* How far along a line a point lies, m. */
static double place_on(const struct edge_line *line, struct point p)
{
    double length = point_distance(line->from, line->to);
    double x = (p.x - line->from.x) * (line->to.x - line->from.x);
    double y = (p.y - line->from.y) * (line->to.y - line->from.y);

    return fmin(fmax((x + y) / length, 0), length);
}

/* Notes that an edge has a line's kind from a to b. */
static void line_use(struct arena *arena, struct edge_line *line, struct point a,
                     struct point b)
{
    struct line_stretch *stretch = arena_alloc(arena, sizeof *stretch);
    double p = place_on(line, a);
    double q = place_on(line, b);

    if (!stretch)
        return; /* the arena remembers */
    *stretch = (struct line_stretch){line->start + fmin(p, q), line->start + fmax(p, q),
                                     line->used};
    line->used = stretch;
}

/* What the line says; what it leaves open of a parapet the roof may say. */
static void by_line(const struct finder *f, const struct edge_line *line,
                    struct edge *edge)
{
    const struct attributes *given = &f->roof->given;
    bool parapet = line->kind == EDGE_PARAPET;

    *edge = (struct edge){.kind = line->kind,
                          .source = EDGE_BY_LAYER,
                          .height = line->height,
                          .thickness = parapet ? line->thickness : (double)NAN};
    if (parapet && isnan(edge->height))
        edge->height = given->parapet;
    if (parapet && isnan(edge->thickness))
        edge->thickness = given->parapet_thickness;
}

/* Whether sections of such a difference are of two levels, one above the other. */
static bool is_step(double rise)
{
    return fabs(rise) > step_max + 1e-9;
}

/* What another section is to the edge. */
static void beside_section(const struct finder *f, const struct contact *highest,
                           struct edge *edge)
{
    double rise = highest->rise;

    if (!is_step(rise)) {
        edge->kind = EDGE_CONTINUOUS;
        edge->slope_change = fabs(rise) > flush_max + 1e-9;
        edge->source = edge->slope_change ? EDGE_BY_HEIGHTS : EDGE_ASSUMED;
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

/* A line along a step lies at two edges. A wall is the lower section's, which has one
 * there in any case; what the roof ends with is the higher one's. */
static bool fits_step(enum edge_kind kind, const struct contact *highest)
{
    if (!highest || !is_step(highest->rise) || kind == EDGE_JOINT)
        return true;
    return (kind == EDGE_WALL) == (highest->rise > 0);
}

static bool is_there(const struct contact *contact, size_t side, double at)
{
    return contact->side == side && contact->from <= at && at <= contact->to;
}

/* The nearest of the lines there that fit. */
static const struct contact *line_at(const struct finder *f, size_t side, double at,
                                     const struct contact *highest)
{
    const struct contact *nearest = NULL;

    for (size_t k = 0; k < f->contacts.count; k++) {
        const struct contact *contact = &f->contacts.items[k];

        if (is_there(contact, side, at) && contact->line &&
            fits_step(contact->line->kind, highest) &&
            (!nearest || contact_apart(contact, at) < contact_apart(nearest, at)))
            nearest = contact;
    }
    return nearest;
}

/* The kind of a part of an edge: of the nearest line, else of the highest of the sections
 * there. @return whether a section is there */
static bool part_judge(const struct finder *f, size_t side, double from, double to,
                       struct edge *edge)
{
    const struct side *along = &f->sides->items[side];
    const struct contact *nearest = NULL;
    const struct contact *highest = NULL;
    double at = (from + to) / 2;
    bool beside = false;

    for (size_t k = 0; k < f->contacts.count; k++) {
        const struct contact *contact = &f->contacts.items[k];

        if (contact->line || !is_there(contact, side, at))
            continue;
        if (!isnan(contact->rise) && (!highest || contact->rise > highest->rise))
            highest = contact;
        beside = true;
    }
    nearest = line_at(f, side, at, highest);
    if (nearest) {
        by_line(f, nearest->line, edge);
        line_use(f->building->arena, nearest->line, point_at(along, from),
                 point_at(along, to));
    } else if (highest) {
        beside_section(f, highest, edge);
    }
    edge->beside = NO_SECTION;
    if (highest && (edge->kind == EDGE_CONTINUOUS || edge->kind == EDGE_JOINT))
        edge->beside = highest->beside;
    edge->from = point_at(along, from);
    edge->to = point_at(along, to);
    edge->ring = along->ring;
    return beside;
}

static bool alike(const struct edge *a, const struct edge *b)
{
    return a->kind == b->kind && a->source == b->source &&
           a->slope_change == b->slope_change && a->beside == b->beside &&
           same_number(a->height, b->height) && same_number(a->thickness, b->thickness);
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
    numbers_sort(cuts, count);
    for (size_t k = 0; k < count; k++) {
        double to = side->length - cuts[k] < crumb ? side->length : cuts[k];
        struct edge edge = *bare;

        if (to - from < crumb && !(to == side->length && from == 0))
            continue;
        if (!part_judge(f, index, from, to, &edge) && edge.kind == EDGE_JOINT)
            f->alone += to - from;
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
    if (f->alone > 0.5)
        roof_problem(
            f->building->arena, roof, PROBLEM_JOINT_ALONE,
            "half of its cover is counted, as of every joint: trace the section "
            "on its other side too, or order the rest",
            "%.0f ft (%.0f m) of joint have no other section within 1 ft (0.3 m)",
            f->alone / M_PER_FT, f->alone);
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
            boxes_near(&sides[index].box, &sides[k].box, 1) &&
            !contacts_with_section(building->arena, f.sides, &sides[k], k,
                                   building->roofs[k].height - roof->height, &f.contacts))
            return OUTLAY_E_MEMORY;
    if (!contacts_with_lines(building, f.sides, &f.contacts))
        return OUTLAY_E_MEMORY;
    f.cuts = arena_array(building->arena, 2 * f.contacts.count + 1, sizeof *f.cuts);
    if (!f.cuts || rings_put(&f) != OUTLAY_OK ||
        edges_sum(building->arena, roof) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    edges_tell(&f);
    return OUTLAY_OK;
}

/* A parapet that lines lower or leave out somewhere shelters the level that much less. */
static void lower_parapets(struct building *building, const struct level_outline *level)
{
    double least = INFINITY;

    for (size_t i = 0; i < level->roof_count; i++) {
        const struct roof *roof = &building->roofs[level->roofs[i]];

        for (size_t k = 0; k < roof->edge_count; k++)
            if (roof->edges[k].source == EDGE_BY_LAYER &&
                roof->edges[k].kind <= EDGE_PARAPET)
                least =
                    fmin(least,
                         edge_is_metal(roof->edges[k].kind) ? 0 : roof->edges[k].height);
    }
    for (size_t i = 0; i < level->roof_count; i++) {
        struct level *of = &building->roofs[level->roofs[i]].level;

        if (of->parapet > least)
            of->parapet = least;
    }
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
    for (size_t l = 0; l < level_count; l++)
        lower_parapets(building, &levels[l]);
    return OUTLAY_OK;
}
