#include "takeoff/walkway.h"

#include <math.h>

#include "base/grow.h"
#include "base/units.h"
#include "roof/edges.h"
#include "roof/field.h"
#include "roof/fixtures.h"
#include "roof/sections.h"

static const double half_pad = 15 * M_PER_IN;
static const double rounding = 1e-6; /* m */

/* What a way keeps from free edges: the first that there is a way for. */
static const double from_edges[] = {6 * M_PER_FT, 3 * M_PER_FT, 15 * M_PER_IN};

enum { LEVELS = sizeof from_edges / sizeof from_edges[0] };

static const char not_counted[] = "its pads aren't counted: plan the way on the roof";

/* A roof with more corners gets no ways (ours): the work grows with their cube. */
enum { NODES_MOST = 1000 };

/* What a way keeps from, m: an edge of the roof, or a side of what stands on it. */
struct barrier {
    struct point a, b;
    double apart;
    const struct fixture *of; /* NULL: the roof's edge */
};

struct node {
    struct point at;
    const struct fixture *of; /* hatch or unit; NULL: a corner */
    double way;               /* from the hatch, m */
    size_t before;
    bool settled;
};

struct search {
    struct arena *arena;
    struct roof *roof;
    double edge; /* kept from free edges, m */
    struct barrier *barriers;
    size_t barrier_count;
    struct node *nodes;
    size_t node_count;
    size_t room; /* of roof->walkways */
};

/* ---- Distances ---- */

static double cross(struct point o, struct point a, struct point b)
{
    return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}

static double between_segments(struct point a, struct point b, struct point c,
                               struct point d)
{
    if ((cross(a, b, c) > 0) != (cross(a, b, d) > 0) &&
        (cross(c, d, a) > 0) != (cross(c, d, b) > 0))
        return 0;
    return fmin(fmin(segment_distance(a, c, d), segment_distance(b, c, d)),
                fmin(segment_distance(c, a, b), segment_distance(d, a, b)));
}

/* ---- What is in the way ---- */

static bool is_free(enum edge_kind kind)
{
    return edge_is_metal(kind) || kind == EDGE_PARAPET;
}

/* Drains and pipes can be stepped over. */
static bool blocks(const struct fixture *fixture)
{
    return fixture->footprint.count > 0 &&
           (fixture_is_curbed(fixture->kind) || fixture->kind == FIXTURE_SUPPORT);
}

static bool barriers_find(struct search *s)
{
    const struct roof *roof = s->roof;
    struct field field = roof_field(roof);
    size_t count = field.edge_count;

    for (size_t i = 0; i < roof->fixture_count; i++)
        count += roof->fixtures[i].footprint.count;
    s->barriers = arena_array(s->arena, count + 1, sizeof *s->barriers);
    for (size_t k = 0; s->barriers && k < field.edge_count; k++)
        s->barriers[s->barrier_count++] =
            (struct barrier){field.edges[k].from, field.edges[k].to,
                             is_free(field.edges[k].kind) ? s->edge : half_pad, NULL};
    for (size_t i = 0; s->barriers && i < roof->fixture_count; i++) {
        const struct fixture *fixture = &roof->fixtures[i];
        struct ring ring = fixture->footprint;

        for (size_t k = 0; blocks(fixture) && k < ring.count; k++)
            s->barriers[s->barrier_count++] = (struct barrier){
                ring.points[k], ring.points[(k + 1) % ring.count], half_pad, fixture};
    }
    return s->barriers != NULL;
}

/* How far a way must be from a barrier there: an end as near as it stands itself, and
 * from its own footprint not at all. */
static double needed(const struct barrier *barrier, const struct node *p,
                     const struct node *q)
{
    double apart = barrier->apart;

    if (barrier->of && (barrier->of == p->of || barrier->of == q->of))
        return -1;
    if (p->of)
        apart = fmin(apart, segment_distance(p->at, barrier->a, barrier->b));
    if (q->of)
        apart = fmin(apart, segment_distance(q->at, barrier->a, barrier->b));
    return apart - rounding;
}

static bool is_open(const struct search *s, const struct node *p, const struct node *q)
{
    for (size_t i = 0; i < s->barrier_count; i++) {
        const struct barrier *barrier = &s->barriers[i];

        if (between_segments(p->at, q->at, barrier->a, barrier->b) <
            needed(barrier, p, q))
            return false;
    }
    return true;
}

/* ---- Nodes ---- */

static void node_add(struct search *s, struct point at, const struct fixture *of)
{
    struct node node = {.at = at, .of = of};

    if (of || is_open(s, &node, &node))
        s->nodes[s->node_count++] = node;
}

/* Three nodes around a corner b between a and c that is passed on its outer side: they
 * lie about the arc that keeps away from it. left: the way is on the left of a to b. */
static void corner_add(struct search *s, struct point a, struct point b, struct point c,
                       double apart, bool left)
{
    double side = left ? 1 : -1;
    double from = atan2(b.y - a.y, b.x - a.x) + side * acos(-1) / 2;
    double turn = atan2((b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x),
                        (b.x - a.x) * (c.x - b.x) + (b.y - a.y) * (c.y - b.y));
    double radius = (apart + 2 * rounding) / cos(turn / 6);

    if (turn * side > -1e-3)
        return; /* a way doesn't turn about it */
    for (int k = 1; k < 6; k += 2)
        node_add(s,
                 (struct point){b.x + radius * cos(from + turn * k / 6),
                                b.y + radius * sin(from + turn * k / 6)},
                 NULL);
}

static bool nodes_find(struct search *s)
{
    const struct roof *roof = s->roof;

    s->nodes = arena_array(s->arena, 6 * s->barrier_count + roof->fixture_count + 1,
                           sizeof *s->nodes);
    for (size_t k = 0, first = 0; s->nodes && k < s->barrier_count; k++) {
        const struct barrier *barrier = &s->barriers[k];
        const struct barrier *next = barrier + 1;

        /* the ring goes on, or begins again */
        if (k + 1 == s->barrier_count || next->a.x != barrier->b.x ||
            next->a.y != barrier->b.y || next->of != barrier->of) {
            next = &s->barriers[first];
            first = k + 1;
        }
        corner_add(s, barrier->a, barrier->b, next->b, fmax(barrier->apart, next->apart),
                   !barrier->of);
        if (barrier->apart < next->apart || next->apart < barrier->apart)
            corner_add(s, barrier->a, barrier->b, next->b,
                       fmin(barrier->apart, next->apart), !barrier->of);
    }
    for (size_t i = 0; s->nodes && i < roof->fixture_count; i++)
        if (roof->fixtures[i].kind == FIXTURE_HATCH ||
            roof->fixtures[i].kind == FIXTURE_UNIT)
            node_add(s, roof->fixtures[i].at, &roof->fixtures[i]);
    return s->nodes != NULL;
}

/* ---- Ways ---- */

/* Dijkstra's shortest ways from a hatch; a way doesn't lead through another end. */
static void ways_find(struct search *s, size_t hatch)
{
    for (size_t i = 0; i < s->node_count; i++) {
        s->nodes[i].way = i == hatch ? 0 : (double)INFINITY;
        s->nodes[i].settled = false;
    }
    for (;;) {
        struct node *nearest = NULL;

        for (size_t i = 0; i < s->node_count; i++)
            if (!s->nodes[i].settled && isfinite(s->nodes[i].way) &&
                (!nearest || s->nodes[i].way < nearest->way))
                nearest = &s->nodes[i];
        if (!nearest)
            return;
        nearest->settled = true;
        for (size_t i = 0; i < s->node_count; i++) {
            struct node *node = &s->nodes[i];
            double way = nearest->way + point_distance(nearest->at, node->at);

            if (node->settled || way >= node->way || !is_open(s, nearest, node) ||
                (nearest->of && nearest != &s->nodes[hatch]))
                continue;
            node->way = way;
            node->before = (size_t)(nearest - s->nodes);
        }
    }
}

/* Where a straight part that begins in a footprint leaves it. */
static struct point leave(const struct fixture *of, struct point from, struct point to)
{
    struct ring ring = of ? of->footprint : (struct ring){NULL, 0};
    double last = 0;

    for (size_t k = 0; k < ring.count; k++) {
        struct point a = ring.points[k];
        struct point b = ring.points[(k + 1) % ring.count];
        double left = cross(from, to, a), right = cross(from, to, b);
        double across = cross(a, b, from) - cross(a, b, to);
        double t = cross(a, b, from) / across;

        if ((left > 0) != (right > 0) && t > last && t <= 1)
            last = t;
    }
    return point_between(from, to, last);
}

/* Where a part lies along another one, as shares of it, sorted; false: they have no
 * stretch in common. */
static bool lies_along(const struct walkway *part, const struct walkway *other,
                       double *from, double *to)
{
    struct point d = {part->to.x - part->from.x, part->to.y - part->from.y};
    double length2 = d.x * d.x + d.y * d.y;
    double p =
        ((other->from.x - part->from.x) * d.x + (other->from.y - part->from.y) * d.y) /
        length2;
    double q = ((other->to.x - part->from.x) * d.x + (other->to.y - part->from.y) * d.y) /
               length2;
    double off = fmax(fabs(cross(part->from, part->to, other->from)),
                      fabs(cross(part->from, part->to, other->to))) /
                 sqrt(length2);

    *from = fmax(fmin(p, q), 0);
    *to = fmin(fmax(p, q), 1);
    return off < rounding && (*to - *from) * sqrt(length2) > rounding;
}

/* Adds what no other way has of a straight part; `first` on are still to be compared. */
static bool part_add(struct search *s, struct walkway part, size_t first)
{
    struct roof *roof = s->roof;
    struct walkway *walkways = NULL;
    double from, to;

    if (point_distance(part.from, part.to) < rounding)
        return true;
    for (size_t i = first; i < roof->walkway_count; i++)
        if (lies_along(&part, &roof->walkways[i], &from, &to)) {
            struct walkway before = {part.from, point_between(part.from, part.to, from)};
            struct walkway after = {point_between(part.from, part.to, to), part.to};

            return part_add(s, before, i + 1) && part_add(s, after, i + 1);
        }
    walkways = grow_in(s->arena, roof->walkways, roof->walkway_count, 1, &s->room,
                       sizeof *walkways);
    if (!walkways)
        return false;
    roof->walkways = walkways;
    roof->walkways[roof->walkway_count++] = part;
    return true;
}

static bool way_add(struct search *s, size_t hatch, size_t unit)
{
    bool fine = true;

    for (size_t i = unit; i != hatch && fine; i = s->nodes[i].before) {
        const struct node *to = &s->nodes[i];
        const struct node *from = &s->nodes[to->before];

        fine = part_add(s,
                        (struct walkway){leave(from->of, from->at, to->at),
                                         leave(to->of, to->at, from->at)},
                        0);
    }
    return fine;
}

static void say_near(struct search *s, const struct fixture *hatch,
                     const struct fixture *unit)
{
    roof_problem(s->arena, s->roof, PROBLEM_WALKWAY,
                 "guard the edge there, or lead the way elsewhere",
                 "the way from hatch %s to unit %s comes nearer to a free edge than 6 ft "
                 "(1.8 m)",
                 hatch->id, unit->id);
}

static void say_none(struct search *s, const struct fixture *hatch,
                     const struct fixture *unit, bool crowded)
{
    roof_problem(s->arena, s->roof, PROBLEM_WALKWAY, not_counted,
                 crowded ? "no way was looked for from hatch %s to unit %s: the roof has "
                           "too many corners for it"
                         : "no way was found from hatch %s to unit %s",
                 hatch->id, unit->id);
}

/* The graph for one distance from free edges. */
static bool graph_make(struct search *s, int level)
{
    s->edge = from_edges[level];
    s->barrier_count = 0;
    s->node_count = 0;
    return barriers_find(s) && nodes_find(s);
}

/* Whether an end stands nearer to a free edge than ways keep. */
static bool stands_near(const struct search *s, const struct fixture *end)
{
    struct field field = roof_field(s->roof);

    for (size_t k = 0; k < field.edge_count; k++)
        if (is_free(field.edges[k].kind) &&
            segment_distance(end->at, field.edges[k].from, field.edges[k].to) <
                from_edges[0] - rounding)
            return true;
    return false;
}

/* All ways from one hatch that keep so far from free edges, of those not yet found. */
static bool hatch_serve(struct search *s, const struct fixture *hatch, int level,
                        bool *found)
{
    size_t start = 0;

    while (s->nodes[start].of != hatch)
        start++;
    ways_find(s, start);
    for (size_t i = 0; i < s->node_count; i++) {
        const struct fixture *unit = s->nodes[i].of;
        size_t index = unit ? (size_t)(unit - s->roof->fixtures) : 0;

        if (!unit || unit->kind != FIXTURE_UNIT || found[index] ||
            !isfinite(s->nodes[i].way))
            continue;
        found[index] = true;
        if (level > 0 || stands_near(s, hatch) || stands_near(s, unit))
            say_near(s, hatch, unit);
        if (!way_add(s, start, i))
            return false;
    }
    return true;
}

static bool all_found(const struct roof *roof, const bool *found)
{
    for (size_t i = 0; i < roof->fixture_count; i++)
        if (roof->fixtures[i].kind == FIXTURE_UNIT && !found[i])
            return false;
    return true;
}

/* @return false when out of memory */
static bool hatch_lead(struct search *s, const struct fixture *hatch)
{
    const struct roof *roof = s->roof;
    bool *found = arena_array(s->arena, roof->fixture_count, sizeof *found);
    bool crowded = false;

    /* nearer to edges, corners are no fewer */
    for (int level = 0; found && !crowded && level < LEVELS && !all_found(roof, found);
         level++) {
        if (!graph_make(s, level))
            return false;
        crowded = s->node_count > NODES_MOST;
        if (!crowded && !hatch_serve(s, hatch, level, found))
            return false;
    }
    for (size_t i = 0; found && i < roof->fixture_count; i++)
        if (roof->fixtures[i].kind == FIXTURE_UNIT && !found[i])
            say_none(s, hatch, &roof->fixtures[i], crowded);
    return found != NULL;
}

static const struct fixture *first_of(const struct roof *roof, enum fixture_kind kind)
{
    for (size_t i = 0; i < roof->fixture_count; i++)
        if (roof->fixtures[i].kind == kind)
            return &roof->fixtures[i];
    return NULL;
}

/* Units of a roof without a hatch, which another section of it may have. */
static void say_cut_off(struct building *building, struct roof *roof)
{
    const struct fixture *unit = first_of(roof, FIXTURE_UNIT);
    const char *others =
        unit && fixtures_count(roof, FIXTURE_UNIT) > 1 ? ", nor to the other units" : "";

    if (!unit || first_of(roof, FIXTURE_HATCH))
        return;
    for (size_t k = 0; k < building->roof_count; k++) {
        const struct roof *other = &building->roofs[k];
        const struct fixture *hatch = first_of(other, FIXTURE_HATCH);

        if (other == roof || !hatch || !sections_are_one(roof, other))
            continue;
        roof_problem(building->arena, roof, PROBLEM_WALKWAY, not_counted,
                     "walkways end where sections meet: none leads from hatch %s of "
                     "section %s to unit %s%s",
                     hatch->id, other->id, unit->id, others);
        return;
    }
    roof_problem(building->arena, roof, PROBLEM_WALKWAY, not_counted,
                 "there is no hatch on the roof: no walkway leads to unit %s%s", unit->id,
                 others);
}

static bool roof_serve(struct building *building, struct roof *roof)
{
    struct search search = {.arena = building->arena, .roof = roof};

    say_cut_off(building, roof);
    for (size_t h = 0; h < roof->fixture_count && first_of(roof, FIXTURE_UNIT); h++)
        if (roof->fixtures[h].kind == FIXTURE_HATCH &&
            !hatch_lead(&search, &roof->fixtures[h]))
            return false;
    return true;
}

enum outlay_status walkways_run(struct building *building, struct outlay_error *err)
{
    for (size_t i = 0; i < building->roof_count; i++)
        if (building->roofs[i].zoned && !roof_serve(building, &building->roofs[i]))
            return outlay_fail(err, OUTLAY_E_MEMORY, "looking for walkways");
    return OUTLAY_OK;
}
