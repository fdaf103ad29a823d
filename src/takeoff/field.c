/* What of a roof lies inside the walls on its edge. */

#include "takeoff/field.h"

#include <math.h>

static const double turn_least = 1e-6; /* sine; below it is no corner */
static const double mitre_most = 4;    /* of a wall's thickness, from a sharp corner */

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

static bool wall_add(struct arena *arena, const struct point points[4],
                     struct layer_rings *rings)
{
    struct ring ring = {arena_array(arena, 4, sizeof *ring.points), 4};

    for (size_t k = 0; ring.points && k < 4; k++)
        ring.points[k] = points[k];
    return ring.points && layer_rings_add(arena, rings, ring, 1);
}

/* Between two walls, where the corner runs into the roof: to where their inner faces
 * meet. */
static bool mitre_add(struct arena *arena, const struct edge *edge,
                      const struct edge *next, struct layer_rings *rings)
{
    struct point a = across(edge), b = across(next), v = edge->to;
    double aa = dot(a, a), bb = dot(b, b), cross = a.x * b.y - a.y * b.x;
    struct point meet;

    if (!(cross < -turn_least * sqrt(aa * bb)))
        return true;
    meet = (struct point){(aa * b.y - bb * a.y) / cross, (bb * a.x - aa * b.x) / cross};
    if (dot(meet, meet) > mitre_most * mitre_most * fmax(aa, bb))
        meet = (struct point){a.x + b.x, a.y + b.y};
    return wall_add(arena,
                    (struct point[]){v,
                                     {v.x + b.x, v.y + b.y},
                                     {v.x + meet.x, v.y + meet.y},
                                     {v.x + a.x, v.y + a.y}},
                    rings);
}

/* The ground plans of all walls, as layer 1. @return false when out of memory */
static bool walls_add(struct arena *arena, const struct roof *roof,
                      struct layer_rings *rings)
{
    size_t first = 0;

    for (size_t k = 0; k < roof->edge_count; k++) {
        const struct edge *edge = &roof->edges[k];
        struct point a = across(edge), p = edge->from, q = edge->to;
        const struct point wall[] = {
            p, q, {q.x + a.x, q.y + a.y}, {p.x + a.x, p.y + a.y}};
        bool last = k + 1 == roof->edge_count || edge[1].ring != edge->ring;

        if (edge->ring != roof->edges[first].ring)
            first = k;
        if (edge_set_in(edge) > 0 &&
            (!wall_add(arena, wall, rings) ||
             !mitre_add(arena, edge, last ? &roof->edges[first] : edge + 1, rings)))
            return false;
    }
    return true;
}

/* ---- The field ---- */

static enum outlay_status no_memory(struct seam_work *w)
{
    return outlay_fail(w->err, OUTLAY_E_MEMORY, "taking walls off a roof");
}

static enum outlay_status walls_off(struct seam_work *w, const struct region *region,
                                    struct region *out)
{
    struct layer_rings rings = {NULL, 0, 0};

    if (!layer_rings_add_region(w->arena, &rings, region, 0) ||
        !walls_add(w->arena, w->roof, &rings))
        return no_memory(w);
    return layers_rest(w, &rings, out);
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
