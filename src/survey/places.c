#include "survey/places.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "roof/edges.h"
#include "roof/fixtures.h"

/* Candidates for each place, and at least for all; cells of the grid at most. */
enum { PER_PLACE = 40, LEAST_TARGET = 900, MOST_TARGET = 8000, MOST_CELLS = 300000 };

/* Times that a grid is made finer until zones that are thin have candidates. */
enum { FINER_MOST = 6, PER_PLACE_LEAST = 4 };

/* Distances that differ by less are the same, so that rounding doesn't choose, m. */
static const double same_distance = 1e-6;

/* How far inside its zone a place is where there is room: lines are found on a roof to a
 * foot or so, m (ours). */
static const double inside_zone = 0.3;

/* How far inside the edge one stands to look at it, m (ours). */
static const double inside_edge = 0.5;

struct candidate {
    struct spot spot;
    double deep;  /* distance to the boundary of its zone, m */
    bool clear;   /* of edges and fixtures */
    double apart; /* from the nearest place chosen so far, m */
};

struct candidates {
    struct arena *arena;
    const struct roof *roof;
    struct candidate *items;
    size_t count, room;
};

/* ---- Zones ----------------------------------------------------------------------- */

static bool in_set(const struct zone *zone, unsigned zones)
{
    return zones & 1u << zone->role;
}

static const struct zone *zone_at(const struct roof *roof, unsigned zones, struct point p)
{
    for (size_t i = 0; i < roof->zone_count; i++)
        if (in_set(&roof->zones[i], zones) && region_holds(&roof->zones[i].region, p))
            return &roof->zones[i];
    return NULL;
}

static struct box box_of_zones(const struct roof *roof, unsigned zones, double *area)
{
    struct box box = box_empty();

    *area = 0;
    for (size_t i = 0; i < roof->zone_count; i++) {
        struct box other = region_box(&roof->zones[i].region);

        if (!in_set(&roof->zones[i], zones) || other.min_x > other.max_x)
            continue;
        box_add(&box, (struct point){other.min_x, other.min_y});
        box_add(&box, (struct point){other.max_x, other.max_y});
        *area += roof->zones[i].area;
    }
    return box;
}

/* An outline is the outside of its walls. */
static double wall_of(const struct roof *roof)
{
    double wall = 0;

    for (size_t i = 0; i < roof->edge_count; i++)
        if (roof->edges[i].thickness > wall)
            wall = roof->edges[i].thickness;
    return wall;
}

static double fixture_distance(const struct fixture *fixture, struct point p)
{
    double distance = INFINITY;

    if (fixture->footprint.count == 0)
        return point_distance(fixture->at, p);
    if (ring_holds(fixture->footprint, p))
        return 0;
    for (size_t i = 0; i < fixture->footprint.count; i++)
        distance = fmin(
            distance, segment_distance(
                          p, fixture->footprint.points[i],
                          fixture->footprint.points[(i + 1) % fixture->footprint.count]));
    return distance;
}

static bool clear_of_fixtures(const struct roof *roof, struct point p)
{
    for (size_t i = 0; i < roof->fixture_count; i++)
        if (fixture_distance(&roof->fixtures[i], p) < PLACE_CLEAR)
            return false;
    return true;
}

/* ---- The grid -------------------------------------------------------------------- */

/* To four digits, so that the last bits of an area move no grid. */
static double even_step(double step)
{
    double scale = pow(10, floor(log10(step)) - 3);

    return round(step / scale) * scale;
}

static void add(struct candidates *all, const struct zone *zone, struct point p,
                double wall)
{
    double edge = region_distance(&all->roof->outline, p) - wall;
    double deep = region_distance(&zone->region, p);
    struct candidate made = {.spot = {p, zone->role, edge < PLACE_CLEAR},
                             .deep = deep,
                             .clear = edge >= PLACE_CLEAR && deep >= inside_zone &&
                                      clear_of_fixtures(all->roof, p),
                             .apart = INFINITY};

    if (all->count < all->room)
        all->items[all->count++] = made;
}

/* Candidates of one step; a place never stands on a boundary of its grid's making. */
static enum outlay_status fill(struct candidates *all, unsigned zones,
                               const struct box *box, double step)
{
    double wall = wall_of(all->roof);
    double columns = ceil((box->max_x - box->min_x) / step) + 1;
    double rows = ceil((box->max_y - box->min_y) / step) + 1;
    double left = (floor(box->min_x / step) + 0.317) * step;
    double low = (floor(box->min_y / step) + 0.317) * step;

    all->count = 0;
    all->room = (size_t)(columns * rows);
    all->items = arena_room(all->arena, all->room, sizeof *all->items);
    if (!all->items)
        return OUTLAY_E_MEMORY;
    for (size_t j = 0; j < (size_t)rows; j++)
        for (size_t i = 0; i < (size_t)columns; i++) {
            struct point p = {left + (double)i * step, low + (double)j * step};
            const struct zone *zone = zone_at(all->roof, zones, p);

            if (zone)
                add(all, zone, p, wall);
        }
    return OUTLAY_OK;
}

static enum outlay_status fill_finely(struct candidates *all, unsigned zones,
                                      size_t count)
{
    double area = 0;
    struct box box = box_of_zones(all->roof, zones, &area);
    double cells = (box.max_x - box.min_x) * (box.max_y - box.min_y);
    double target = fmin(fmax(LEAST_TARGET, PER_PLACE * (double)count), MOST_TARGET);
    double least = sqrt(cells / MOST_CELLS);
    enum outlay_status status = OUTLAY_OK;

    if (!(area > 0) || !(cells > 0))
        return OUTLAY_OK;
    for (int finer = 0; finer < FINER_MOST && status == OUTLAY_OK; finer++) {
        double step = ldexp(sqrt(area / target), -finer);

        status = fill(all, zones, &box, even_step(fmax(step, least)));
        if (all->count >= PER_PLACE_LEAST * count + 16 || step <= least)
            break;
    }
    return status;
}

/* ---- Choosing -------------------------------------------------------------------- */

/* The deepest comes first, then always the one that is farthest from all before. */
static const struct candidate *next_of(struct candidates *all, const bool *taken,
                                       bool first)
{
    struct candidate *best = NULL;

    for (size_t i = 0; i < all->count; i++) {
        struct candidate *each = &all->items[i];
        double merit = first ? each->deep : each->apart;
        double beaten = !best ? -INFINITY : first ? best->deep : best->apart;

        if (taken[i] && merit > beaten + same_distance)
            best = each;
    }
    return best;
}

/* @param usable  of each candidate. @return the least distance between two of them */
static double choose(struct candidates *all, const bool *usable, size_t count,
                     struct spot *out, size_t *found)
{
    double least = INFINITY;

    for (size_t i = 0; i < all->count; i++)
        all->items[i].apart = INFINITY;
    for (*found = 0; *found < count; ++*found) {
        const struct candidate *best = next_of(all, usable, *found == 0);

        if (!best || (*found > 0 && best->apart <= same_distance))
            break;
        least = fmin(least, best->apart);
        out[*found] = best->spot;
        for (size_t i = 0; i < all->count; i++)
            all->items[i].apart =
                fmin(all->items[i].apart,
                     point_distance(all->items[i].spot.at, out[*found].at));
    }
    return least;
}

/* The usable candidate nearest to each middle of those that are nearest to a place. */
static void settle(const struct candidates *all, const bool *usable,
                   const struct point *middles, struct spot *spots, size_t count)
{
    for (size_t k = 0; k < count; k++) {
        const struct candidate *best = NULL;

        for (size_t i = 0; i < all->count; i++) {
            const struct candidate *each = &all->items[i];

            if (usable[i] &&
                (!best || point_distance(each->spot.at, middles[k]) + same_distance <
                              point_distance(best->spot.at, middles[k])))
                best = each;
        }
        if (best)
            spots[k] = best->spot;
    }
}

static size_t nearest_spot(const struct spot *spots, size_t count, struct point p)
{
    size_t best = 0;

    for (size_t k = 1; k < count; k++)
        if (point_distance(spots[k].at, p) + same_distance <
            point_distance(spots[best].at, p))
            best = k;
    return best;
}

static double least_distance(const struct spot *spots, size_t count)
{
    double least = INFINITY;

    for (size_t i = 0; i < count; i++)
        for (size_t k = i + 1; k < count; k++)
            least = fmin(least, point_distance(spots[i].at, spots[k].at));
    return least;
}

/* Rounds in which each place moves to the middle of what is nearest to it (Lloyd, "Least
 * squares quantization in PCM", 1982): the farthest places lie all around the rim. Kept
 * where places stay apart. */
enum { EVEN_ROUNDS = 6 };

static bool even_out(const struct candidates *all, const bool *usable, double least,
                     struct spot *spots, size_t count)
{
    struct spot *moved = arena_array(all->arena, count, sizeof *moved);
    struct point *sums = arena_array(all->arena, count, sizeof *sums);
    size_t *held = arena_array(all->arena, count, sizeof *held);

    if (!moved || !sums || !held)
        return false;
    memcpy(moved, spots, count * sizeof *moved);
    for (int round = 0; round < EVEN_ROUNDS; round++) {
        memset(sums, 0, count * sizeof *sums);
        memset(held, 0, count * sizeof *held);
        for (size_t i = 0; i < all->count; i++) {
            size_t k = nearest_spot(moved, count, all->items[i].spot.at);

            sums[k].x += all->items[i].spot.at.x;
            sums[k].y += all->items[i].spot.at.y;
            held[k]++;
        }
        for (size_t k = 0; k < count; k++)
            sums[k] = held[k] ? (struct point){sums[k].x / (double)held[k],
                                               sums[k].y / (double)held[k]}
                              : moved[k].at;
        settle(all, usable, sums, moved, count);
    }
    if (least_distance(moved, count) >= least)
        memcpy(spots, moved, count * sizeof *moved);
    return true;
}

/* A zone's middle line, where its strips are too narrow to keep clear (ours). */
static const double middle_share = 0.7;

static void mark_usable(const struct candidates *all, bool clear_alone, bool *usable)
{
    double deepest = 0;

    for (size_t i = 0; i < all->count; i++)
        deepest = fmax(deepest, all->items[i].deep);
    for (size_t i = 0; i < all->count; i++) {
        const struct candidate *each = &all->items[i];

        usable[i] = each->clear || (!clear_alone && each->deep >= middle_share * deepest);
    }
}

/* ---- A walk around the roof ---- */

struct walk_stop {
    struct spot spot;
    double angle, distance;
};

/* So far that the last bits decide no order. */
static double rounded(double value)
{
    return round(value * 1e6);
}

static int by_walk(const void *of_a, const void *of_b)
{
    const struct walk_stop *a = of_a, *b = of_b;

    if (a->angle != b->angle)
        return a->angle < b->angle ? -1 : 1;
    return (a->distance > b->distance) - (a->distance < b->distance);
}

static enum outlay_status sort_as_walk(struct arena *arena, const struct roof *roof,
                                       struct spot *spots, size_t count)
{
    struct walk_stop *stops = arena_array(arena, count, sizeof *stops);
    struct box box = region_box(&roof->outline);
    struct point middle = {(box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2};

    if (!stops)
        return OUTLAY_E_MEMORY;
    for (size_t i = 0; i < count; i++)
        stops[i] = (struct walk_stop){
            spots[i], rounded(atan2(spots[i].at.y - middle.y, spots[i].at.x - middle.x)),
            rounded(point_distance(spots[i].at, middle))};
    qsort(stops, count, sizeof *stops, by_walk);
    for (size_t i = 0; i < count; i++)
        spots[i] = stops[i].spot;
    return OUTLAY_OK;
}

enum outlay_status spots_in_zones(struct arena *arena, const struct roof *roof,
                                  unsigned zones, size_t count, struct spot *out,
                                  size_t *found)
{
    struct candidates all = {.arena = arena, .roof = roof};
    enum outlay_status status = count > 0 ? fill_finely(&all, zones, count) : OUTLAY_OK;
    bool *usable = arena_array(arena, all.count + 1, sizeof *usable);
    double area = 0, spread = 0;

    *found = 0;
    if (status != OUTLAY_OK || !usable)
        return OUTLAY_E_MEMORY;
    box_of_zones(roof, zones, &area);
    mark_usable(&all, true, usable);
    spread = choose(&all, usable, count, out, found);
    if (*found < count || spread < 0.5 * sqrt(area / (double)count)) {
        mark_usable(&all, false, usable);
        spread = choose(&all, usable, count, out, found);
    }
    if (!even_out(&all, usable, fmin(spread, 0.55 * sqrt(area / (double)count)), out,
                  *found))
        return OUTLAY_E_MEMORY;
    return sort_as_walk(arena, roof, out, *found);
}

/* ---- Along the edge -------------------------------------------------------------- */

static bool is_own(const struct edge *edge)
{
    return edge->kind == EDGE_NOT_GIVEN || edge->kind == EDGE_METAL ||
           edge->kind == EDGE_GUTTER || edge->kind == EDGE_PARAPET;
}

static double edge_length(const struct edge *edge)
{
    return point_distance(edge->from, edge->to);
}

/* A place that looks at a point of an edge, inside the roof. */
static void add_beside(struct candidates *all, const struct edge *edge, double along)
{
    double length = edge_length(edge);
    struct point on = point_between(edge->from, edge->to, along / length);
    struct point inward = {-(edge->to.y - edge->from.y) / length,
                           (edge->to.x - edge->from.x) / length};

    for (int nearer = 0; nearer < 4; nearer++) {
        double step = inside_edge / pow(3, nearer);
        struct point p = {on.x + step * inward.x, on.y + step * inward.y};
        const struct zone *zone = zone_at(all->roof, ~0u, p);

        if (!zone || all->count == all->room)
            continue;
        all->items[all->count++] =
            (struct candidate){{p, zone->role, true}, 0, true, INFINITY};
        return;
    }
}

/* From the middle of an edge to both sides, so that its direction doesn't matter. */
static void add_edge(struct candidates *all, const struct edge *edge, double step)
{
    double length = edge_length(edge);
    int half = (int)floor(length / 2 / step);

    if (!(length > 2 * same_distance))
        return;
    for (int i = -half; i <= half; i++)
        add_beside(all, edge, fmin(fmax(length / 2 + i * step, 0), length));
}

static enum outlay_status fill_edges(struct candidates *all)
{
    enum { ALONG = 600 };
    const struct roof *roof = all->roof;
    double own = 0, total = 0;

    for (size_t i = 0; i < roof->edge_count; i++) {
        total += edge_length(&roof->edges[i]);
        own += is_own(&roof->edges[i]) ? edge_length(&roof->edges[i]) : 0;
    }
    all->room = 2 * ALONG + 2 * roof->edge_count;
    all->items = arena_room(all->arena, all->room, sizeof *all->items);
    if (!all->items)
        return OUTLAY_E_MEMORY;
    for (size_t i = 0; i < roof->edge_count; i++)
        if (!(own > 0) || is_own(&roof->edges[i]))
            add_edge(all, &roof->edges[i],
                     even_step(fmax((own > 0 ? own : total) / ALONG, 0.5)));
    return OUTLAY_OK;
}

static int by_place(const void *of_a, const void *of_b)
{
    const struct candidate *a = of_a, *b = of_b;

    double up = rounded(a->spot.at.y) - rounded(b->spot.at.y);
    double right = rounded(a->spot.at.x) - rounded(b->spot.at.x);

    return up != 0 ? (up > 0) - (up < 0) : (right > 0) - (right < 0);
}

enum outlay_status spots_along_edge(struct arena *arena, const struct roof *roof,
                                    size_t count, struct spot *out, size_t *found)
{
    struct candidates all = {.arena = arena, .roof = roof};
    enum outlay_status status = fill_edges(&all);
    bool *usable = arena_array(arena, all.count + 1, sizeof *usable);
    struct box box = region_box(&roof->outline);
    struct point middle = {(box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2};

    *found = 0;
    if (status != OUTLAY_OK || !usable)
        return OUTLAY_E_MEMORY;
    /* rings may begin anywhere */
    qsort(all.items, all.count, sizeof *all.items, by_place);
    for (size_t i = 0; i < all.count; i++) {
        usable[i] = true;
        all.items[i].deep = point_distance(all.items[i].spot.at, middle);
    }
    choose(&all, usable, count, out, found);
    return sort_as_walk(arena, roof, out, *found);
}
