/* What of a roof lies inside the walls on its edge. */

#include "takeoff/field.h"

#include <math.h>

static const double turn_least = 1e-6; /* sine; below it is no corner */
static const double mitre_most = 4;    /* of a wall's thickness, from a sharp corner */

/* Walls begin so far outside: their ends needn't be vertices of the outline, m. */
static const double outside = 0.01;

static const double shred = 0.01; /* m2 (ours); what is left of a roof and as small */

double edge_set_in(const struct edge *edge)
{
    return edge->kind == EDGE_PARAPET ? parapet_thickness(edge->thickness) : 0;
}

static bool has_walls(const struct roof *roof)
{
    for (size_t k = 0; k < roof->edge_count; k++)
        if (edge_set_in(&roof->edges[k]) > 0)
            return true;
    return false;
}

/* ---- Where walls stand ---- */

/* A vector as long as a wall is thick, from the edge to its inner face. */
static struct point across(const struct edge *edge)
{
    double length = point_distance(edge->from, edge->to);
    double by = edge_set_in(edge) / length;

    return (struct point){-by * (edge->to.y - edge->from.y),
                          by * (edge->to.x - edge->from.x)};
}

/* Points from a corner of the roof. */
static bool wall_add(struct arena *arena, struct point corner, const struct point *points,
                     size_t count, struct layer_rings *rings)
{
    struct ring ring = {arena_array(arena, count, sizeof *ring.points), count};

    for (size_t k = 0; ring.points && k < count; k++)
        ring.points[k] = (struct point){corner.x + points[k].x, corner.y + points[k].y};
    return ring.points && layer_rings_add(arena, rings, ring, 1);
}

/* Where the inner face of a wall comes as far to one side of a corner as walls are thick:
 * from `across`, the wall's own vector, along it. */
static struct point cut_square(struct point across, struct point along, struct point side,
                               double depth)
{
    double by = (depth - dot(across, side)) / dot(along, side);

    return (struct point){across.x + by * along.x, across.y + by * along.y};
}

/* Between two walls, where the corner runs into the roof: to where their inner faces
 * meet; at a sharp one to a square cut as far from it as the walls are thick. */
static bool mitre_add(struct arena *arena, const struct edge *edge,
                      const struct edge *next, struct layer_rings *rings)
{
    const struct point none = {0, 0};
    struct point a = across(edge), b = across(next), meet;
    double aa = dot(a, a), bb = dot(b, b), cross = a.x * b.y - a.y * b.x;
    double thick = sqrt(fmax(aa, bb)), far = 0;

    if (!(cross < -turn_least * sqrt(aa * bb)))
        return true;
    meet = (struct point){(aa * b.y - bb * a.y) / cross, (bb * a.x - aa * b.x) / cross};
    far = sqrt(dot(meet, meet));
    if (far > mitre_most * thick) {
        struct point side = {meet.x / far, meet.y / far};

        return wall_add(
            arena, edge->to,
            (struct point[]){none, b,
                             cut_square(b, (struct point){-b.y, b.x}, side, thick),
                             cut_square(a, (struct point){a.y, -a.x}, side, thick), a},
            5, rings);
    }
    return wall_add(arena, edge->to, (struct point[]){none, b, meet, a}, 4, rings);
}

/* How far a wall goes on past a corner with a side that has none, up to which it runs; it
 * ends square where that side goes on almost straight or turns away.
 * @param ahead, side  the wall's direction towards the corner, and that side's away from
 *                     it, which is on the left of the wall's where `left` */
static double past_corner(struct point ahead, struct point side, bool left, double thick)
{
    double turn = (left ? 1 : -1) * (ahead.x * side.y - ahead.y * side.x);
    double further = thick * dot(ahead, side) / turn;

    if (turn <= turn_least * sqrt(dot(ahead, ahead) * dot(side, side)) ||
        further > mitre_most * thick)
        return 0;
    return fmax(further, 0) + outside;
}

static struct point vector_of(const struct edge *edge)
{
    return (struct point){edge->to.x - edge->from.x, edge->to.y - edge->from.y};
}

static struct point opposite(struct point vector)
{
    return (struct point){-vector.x, -vector.y};
}

/* The ground plan of a wall along an edge. */
static bool straight_add(struct arena *arena, const struct edge *before,
                         const struct edge *edge, const struct edge *next,
                         struct layer_rings *rings)
{
    struct point in = across(edge), along = vector_of(edge);
    double thick = edge_set_in(edge), length = point_distance(edge->from, edge->to);
    struct point out = {-outside / thick * in.x, -outside / thick * in.y};
    double ahead = edge_set_in(next) > 0
                       ? 0
                       : past_corner(along, vector_of(next), true, thick) / length;
    double behind =
        edge_set_in(before) > 0
            ? 0
            : past_corner(opposite(along), opposite(vector_of(before)), false, thick) /
                  length;
    struct point end = {(1 + ahead) * along.x, (1 + ahead) * along.y};
    struct point start = {-behind * along.x, -behind * along.y};

    return wall_add(arena, edge->from,
                    (struct point[]){{start.x + out.x, start.y + out.y},
                                     {end.x + out.x, end.y + out.y},
                                     {end.x + in.x, end.y + in.y},
                                     {start.x + in.x, start.y + in.y}},
                    4, rings);
}

/* Past the edges of the ring that begins at `first`. */
static size_t ring_end(const struct roof *roof, size_t first)
{
    size_t end = first + 1;

    while (end < roof->edge_count && roof->edges[end].ring == roof->edges[first].ring)
        end++;
    return end;
}

/* The ground plans of all walls, as layer 1. @return false when out of memory */
static bool walls_add(struct arena *arena, const struct roof *roof,
                      struct layer_rings *rings)
{
    for (size_t first = 0, end; first < roof->edge_count; first = end) {
        const struct edge *edges = &roof->edges[first];

        end = ring_end(roof, first);
        for (size_t k = 0, count = end - first; k < count; k++) {
            const struct edge *next = &edges[(k + 1) % count];

            if (edge_set_in(&edges[k]) > 0 &&
                (!straight_add(arena, &edges[(k + count - 1) % count], &edges[k], next,
                               rings) ||
                 !mitre_add(arena, &edges[k], next, rings)))
                return false;
        }
    }
    return true;
}

/* ---- The field ---- */

static enum outlay_status no_memory(struct seam_work *w)
{
    return outlay_fail(w->err, OUTLAY_E_MEMORY, "taking walls off a roof");
}

static void shreds_drop(struct region *region)
{
    size_t kept = 0;

    for (size_t i = 0; i < region->polygon_count; i++) {
        const struct region piece = {&region->polygons[i], 1};

        if (region_area(&piece) > shred)
            region->polygons[kept++] = region->polygons[i];
    }
    region->polygon_count = kept;
}

static enum outlay_status walls_off(struct seam_work *w, const struct region *region,
                                    struct region *out)
{
    struct layer_rings rings = {NULL, 0, 0};
    enum outlay_status status = OUTLAY_OK;

    if (!layer_rings_add_region(w->arena, &rings, region, 0) ||
        !walls_add(w->arena, w->roof, &rings))
        return no_memory(w);
    status = layers_rest(w, &rings, out);
    shreds_drop(out);
    return status;
}

static enum outlay_status zones_cut(struct seam_work *w, struct field *field)
{
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = 0; i < w->roof->zone_count && status == OUTLAY_OK; i++) {
        const struct zone *zone = &w->roof->zones[i];

        if (zone->region.polygon_count > 0)
            status = regions_common(w, &zone->region, &field->outline,
                                    &field->zones[zone->role]);
    }
    return status;
}

static enum outlay_status fill(struct seam_work *w, const struct region *within,
                               struct field *field)
{
    const struct roof *roof = w->roof;
    struct edge_list edges = {roof->edges, roof->edge_count};
    struct edge_list along = {NULL, 0};
    enum outlay_status status = OUTLAY_OK;

    if (within)
        field->outline = *within;
    else
        status = walls_off(w, &roof->outline, &field->outline);
    if (status == OUTLAY_OK)
        status = zones_cut(w, field);
    if (status == OUTLAY_OK && roof->level.outline)
        status = walls_off(w, roof->level.outline, &field->level);
    if (status == OUTLAY_OK)
        status = edges_along(w, &field->outline, &edges, true, &along);
    field->area = region_area(&field->outline);
    field->edges = along.items;
    field->edge_count = along.count;
    return status;
}

enum outlay_status field_find(struct seam_work *w, const struct roof *roof,
                              const struct region *within, struct field **out)
{
    struct seam_work of_roof = *w;

    *out = NULL;
    if (!within && !has_walls(roof))
        return OUTLAY_OK;
    *out = arena_alloc(w->arena, sizeof **out);
    if (!*out)
        return no_memory(w);
    **out = (struct field){.area = 0};
    of_roof.roof = roof;
    return fill(&of_roof, within, *out);
}

enum outlay_status fields_find(struct seam_work *w, struct roof *roof,
                               const struct region *within)
{
    enum outlay_status status = field_find(w, roof, within, &roof->field);

    for (size_t k = 0; k < roof->other_count; k++)
        roof->others[k].field = roof->field;
    return status;
}
