#include "taper/reach.h"

#include "base/grow.h"

/* Distances that differ by less are equal; narrower beams carry no light, m. */
static const double same = 1e-8;

/* What is nearer to a bound lies on it, m. */
static const double close_by = 1e-6;

/* What sees a place: the bound of a beam of light, a line x = at.x + slope (y - at.y). */
struct ray {
    struct point at; /* x infinite: no bound */
    double slope;
};

struct beam {
    struct ray left, right;
};

struct work {
    struct arena *arena;
    const struct slabs *slabs;
    struct sources *sources;
    struct pieces *lists; /* by cell */
    struct point *bends;  /* re-entrant vertices */
    double *weights;      /* of these so far; -INFINITY: a source already */
    size_t *roots;
    size_t bend_count;
};

/* ---- Beams ---- */

static double ray_x(struct ray ray, double y)
{
    return ray.at.x + ray.slope * (y - ray.at.y);
}

/* The ray of a source through a point of another level. */
static struct ray ray_through(const struct source *source, struct point p)
{
    double slope = source->line ? 0 : (p.x - source->at.x) / (p.y - source->at.y);

    return (struct ray){p, slope};
}

/* Above 0 to the right of a ray, in m from it. */
static struct plane right_of(struct ray ray)
{
    double length = sqrt(1 + ray.slope * ray.slope);

    return (struct plane){(ray.slope * ray.at.y - ray.at.x) / length, 1 / length,
                          -ray.slope / length};
}

/* ---- The lower envelope in one cell ---- */

/* Lets a source have what of a cell it is nearer to than those before it.
 * @param nearer  set where it is */
static enum outlay_status settle(struct work *w, struct pieces *list,
                                 const struct bounds *within, struct plane distance,
                                 size_t source, bool *nearer)
{
    size_t count = list->count; /* what is carved off now isn't looked at again */

    for (size_t i = 0; i < count; i++) {
        struct piece *piece = &list->items[i];
        struct plane gain = plane_minus(piece->distance, distance);
        struct bounds bounds = *within;
        struct ring part = piece->ring;

        if (piece->source == source && isfinite(gain.at))
            *nearer = true; /* what it lit before, on another way through the cell */
        if (plane_most(gain, part) <= same)
            continue;
        if (isfinite(gain.at) && (gain.x != 0 || gain.y != 0))
            bound(&bounds, gain);
        if (bounds_cut(w->arena, &bounds, &part) != OUTLAY_OK)
            return OUTLAY_E_MEMORY;
        if (part.count == 0 || plane_most(gain, part) <= same)
            continue;
        *nearer = true;
        if (pieces_carve(w->arena, list, i, &bounds) != OUTLAY_OK)
            return OUTLAY_E_MEMORY;
        list->items[i].distance = distance;
        list->items[i].source = source;
    }
    return OUTLAY_OK;
}

enum { UP = 1, DOWN = 3 };

/* The plane of a source in one of its four directions, and where it is the largest. */
static struct plane direction(const struct source *source, int k, struct bounds *within)
{
    static const struct point ways[] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
    struct point way = ways[k];
    struct point at = source->at;
    struct plane along = {-(way.x * at.x + way.y * at.y), way.x, way.y};
    struct plane across = {-(way.y * at.x - way.x * at.y), way.y, -way.x};

    if (!source->line) {
        bound(within, plane_minus(along, across));
        bound(within, plane_minus(along, plane_turned(across)));
    }
    along.at += source->weight;
    return along;
}

/* ---- Light ---- */

static double distance_to(const struct source *source, struct point p)
{
    double x = source->line ? 0 : fabs(p.x - source->at.x);

    return source->weight + fmax(x, fabs(p.y - source->at.y));
}

static bool in_cell(const struct cell *cell, struct point p, double reach)
{
    double share = (p.y - cell->y[BELOW]) / (cell->y[ABOVE] - cell->y[BELOW]);
    double left = cell->left[BELOW] + share * (cell->left[ABOVE] - cell->left[BELOW]);
    double right = cell->right[BELOW] + share * (cell->right[ABOVE] - cell->right[BELOW]);

    return p.y >= cell->y[BELOW] - reach && p.y <= cell->y[ABOVE] + reach &&
           p.x >= left - reach && p.x <= right + reach;
}

/* Vertices that a source sees may be nearer by it than by those before it. */
static void reach_bends(struct work *w, size_t place, const struct cell *cell,
                        const struct beam *beam)
{
    const struct source *source = &w->sources->items[place];

    for (size_t i = 0; i < w->bend_count; i++) {
        struct point p = w->bends[i];
        double distance = distance_to(source, p);

        if (distance >= w->weights[i] || !in_cell(cell, p, close_by) ||
            p.x < ray_x(beam->left, p.y) - close_by ||
            p.x > ray_x(beam->right, p.y) + close_by)
            continue;
        w->weights[i] = distance;
        w->roots[i] = source->root;
    }
}

/* Lights one cell. @param side  where the light goes on to */
static enum outlay_status light(struct work *w, size_t place, size_t at,
                                const struct beam *beam, int side, bool *nearer)
{
    const struct source *source = &w->sources->items[place];
    enum outlay_status status = OUTLAY_OK;

    for (int k = 0; k < 4 && status == OUTLAY_OK; k++) {
        struct bounds within = {.count = 0};
        struct plane distance;

        if (source->line && k != (side == ABOVE ? UP : DOWN))
            continue;
        distance = direction(source, k, &within);
        if (isfinite(beam->left.at.x))
            bound(&within, right_of(beam->left));
        if (isfinite(beam->right.at.x))
            bound(&within, plane_turned(right_of(beam->right)));
        status = settle(w, &w->lists[at], &within, distance, place, nearer);
    }
    if (*nearer)
        reach_bends(w, place, &w->slabs->cells[at], beam);
    return status;
}

/* Follows a beam into a cell and on from there, up or down. */
static enum outlay_status shine(struct work *w, size_t place, size_t at,
                                const struct beam *beam, int side)
{
    const struct cell *cell = &w->slabs->cells[at];
    double y = cell->y[side];
    bool nearer = false;
    enum outlay_status status = light(w, place, at, beam, side, &nearer);

    for (size_t k = 0; nearer && k < cell->portal_counts[side] && status == OUTLAY_OK;
         k++) {
        struct portal portal = cell->portals[side][k];
        struct point left = {fmax(portal.from_x, ray_x(beam->left, y)), y};
        struct point right = {fmin(portal.to_x, ray_x(beam->right, y)), y};
        const struct source *source = &w->sources->items[place];
        struct beam on = {ray_through(source, left), ray_through(source, right)};

        if (right.x - left.x > same)
            status = shine(w, place, portal.to, &on, side);
    }
    return status;
}

/* From a cell in which a source lies it shines up and down, but for sides on which it
 * lies itself; a line goes from the cells that begin at it. */
static enum outlay_status shine_from(struct work *w, size_t place, size_t at)
{
    const struct source source = w->sources->items[place];
    const struct cell *cell = &w->slabs->cells[at];
    enum outlay_status status = OUTLAY_OK;

    for (int side = BELOW; side < SIDES && status == OUTLAY_OK; side++) {
        struct beam beam = {{{-INFINITY, 0}, 0}, {{INFINITY, 0}, 0}};
        bool before = side == ABOVE ? source.at.y < cell->y[ABOVE] - close_by
                                    : source.at.y > cell->y[BELOW] + close_by;

        if (source.line) {
            beam.left = (struct ray){source.at, 0};
            beam.right = (struct ray){{source.to_x, source.at.y}, 0};
            before = cell->y[ABOVE + BELOW - side] == source.at.y;
        }
        if (before)
            status = shine(w, place, at, &beam, side);
    }
    return status;
}

static enum outlay_status shine_all(struct work *w, size_t place)
{
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = 0; i < w->slabs->count && status == OUTLAY_OK; i++) {
        const struct source *source = &w->sources->items[place];
        const struct cell *cell = &w->slabs->cells[i];
        bool here = in_cell(cell, source->at, close_by);

        if (source->line)
            here = source->at.y >= cell->y[BELOW] && source->at.y <= cell->y[ABOVE];
        if (here)
            status = shine_from(w, place, i);
    }
    return status;
}

/* ---- Sources ---- */

enum outlay_status sources_add(struct arena *arena, struct sources *sources,
                               struct source source)
{
    struct source *items = grow_in(arena, sources->items, sources->count, 1,
                                   &sources->capacity, sizeof *items);

    if (!items)
        return OUTLAY_E_MEMORY;
    sources->items = items;
    sources->items[sources->count++] = source;
    return OUTLAY_OK;
}

/* The vertex of the least weight from which no light went on yet becomes a source. */
static enum outlay_status next_bend(struct work *w, bool *found)
{
    struct source source = {.weight = INFINITY};
    size_t best = 0;

    for (size_t i = 0; i < w->bend_count; i++)
        if (isfinite(w->weights[i]) && w->weights[i] < source.weight) {
            source = (struct source){
                .at = w->bends[i], .weight = w->weights[i], .root = w->roots[i]};
            best = i;
        }
    *found = isfinite(source.weight);
    if (!*found)
        return OUTLAY_OK;
    w->weights[best] = -INFINITY;
    if (sources_add(w->arena, w->sources, source) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    return shine_all(w, w->sources->count - 1);
}

static bool bends_back(struct point a, struct point b, struct point c)
{
    double cross = (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x);

    return cross < -1e-9 * point_distance(a, b) * point_distance(b, c);
}

static void find_bends(struct work *w, struct ring ring)
{
    for (size_t k = 0; k < ring.count; k++) {
        struct point before = ring.points[(k + ring.count - 1) % ring.count];
        struct point after = ring.points[(k + 1) % ring.count];

        if (!bends_back(before, ring.points[k], after))
            continue;
        w->weights[w->bend_count] = INFINITY;
        w->bends[w->bend_count++] = ring.points[k];
    }
}

/* All of the roof, as far from drains as can be. */
static enum outlay_status begin(struct work *w, const struct region *region)
{
    size_t most = region_points(region);
    enum outlay_status status = OUTLAY_OK;

    w->bends = arena_array(w->arena, most, sizeof *w->bends);
    w->weights = arena_array(w->arena, most, sizeof *w->weights);
    w->roots = arena_array(w->arena, most, sizeof *w->roots);
    w->lists = arena_array(w->arena, w->slabs->count, sizeof *w->lists);
    if (!w->bends || !w->weights || !w->roots || !w->lists)
        return OUTLAY_E_MEMORY;
    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t r = 0; r < region->polygons[i].ring_count; r++)
            find_bends(w, region->polygons[i].rings[r]);
    for (size_t i = 0; i < w->slabs->count && status == OUTLAY_OK; i++)
        status = pieces_put(w->arena, &w->lists[i],
                            (struct piece){.ring = w->slabs->cells[i].ring,
                                           .distance = {INFINITY, 0, 0}});
    return status;
}

/* Light that only grazes a side may leave one dark along it. */
static bool is_needle(struct ring ring)
{
    return fabs(ring_area(ring)) < close_by * ring_length(ring) / 2;
}

enum outlay_status reach_find(struct arena *arena, const struct region *region,
                              const struct slabs *slabs, struct sources *sources,
                              struct pieces *out)
{
    struct work w = {.arena = arena, .slabs = slabs, .sources = sources};
    size_t given = sources->count;
    enum outlay_status status = begin(&w, region);
    bool found = true;

    *out = (struct pieces){NULL, 0, 0};
    for (size_t i = 0; i < given && status == OUTLAY_OK; i++)
        status = shine_all(&w, i);
    while (found && status == OUTLAY_OK)
        status = next_bend(&w, &found);
    for (size_t i = 0; i < slabs->count && status == OUTLAY_OK; i++)
        for (size_t k = 0; k < w.lists[i].count && status == OUTLAY_OK; k++)
            if (!is_needle(w.lists[i].items[k].ring))
                status = pieces_put(arena, out, w.lists[i].items[k]);
    return status;
}
