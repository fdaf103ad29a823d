#include "takeoff/group.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/grow.h"
#include "geo/joints.h"
#include "geo/overlap.h"
#include "roof/edges.h"
#include "roof/fixtures.h"
#include "roof/sections.h"
#include "takeoff/seam_private.h"

static const double gap_max = 0.3; /* m between sections, as zoning/ has it */
static const double beside = 0.01; /* m; a filling touches the sections at its sides */
static const double shred = 1e-6;  /* m2 of filling; less is rounding */
static const double crumb = 1e-3;  /* m; a stretch as short goes with the one before it */

/* An edge of a section gives its kind to what runs along it within 30 degrees: cosine. */
static const double along_least = 0.866;

/* ---- Where sections lie ---- */

static const struct roof *section_of(const struct group *g, size_t k)
{
    return &g->building->roofs[g->sections[k]];
}

static enum outlay_status no_memory(struct seam_work *w)
{
    return outlay_fail(w->err, OUTLAY_E_MEMORY, "joining sections");
}

static enum outlay_status outline_find(struct seam_work *w, struct group *g)
{
    struct region *sections = arena_array(w->arena, g->count, sizeof *sections);

    if (!sections)
        return no_memory(w);
    for (size_t k = 0; k < g->count; k++)
        sections[k] = section_of(g, k)->outline;
    return sections_join(w->ctx, w->arena, sections, g->count, gap_max, &g->outline,
                         w->err);
}

/* A section without what lies in those before it. */
static enum outlay_status part_find(struct seam_work *w, struct group *g, size_t index)
{
    struct layer_rings rings = {NULL, 0, 0};

    if (!layer_rings_add_region(w->arena, &rings, &section_of(g, index)->outline, 0) ||
        !layer_rings_add_region(w->arena, &rings, &g->outline, 1))
        return no_memory(w);
    for (size_t k = 0; k < index; k++)
        if (!layer_rings_add_region(w->arena, &rings, &section_of(g, k)->outline, 2))
            return no_memory(w);
    return layers_common(w, &rings, &g->parts[index]);
}

/* What closes a gap goes to the section along which most of it lies. */
static enum outlay_status filling_give(struct seam_work *w, struct group *g,
                                       struct polygon *filling)
{
    const struct region piece = {filling, 1};
    struct region *part = &g->parts[0];
    struct polygon *polygons = NULL;
    double most = -1;

    for (size_t k = 0; k < g->count; k++) {
        double length = 0;
        enum outlay_status status = shared_length(
            w->ctx, &piece, &section_of(g, k)->outline, beside, &length, w->err);

        if (status != OUTLAY_OK)
            return status;
        if (length > most)
            part = &g->parts[k];
        most = fmax(most, length);
    }
    polygons = arena_array(w->arena, part->polygon_count + 1, sizeof *polygons);
    if (!polygons)
        return no_memory(w);
    for (size_t i = 0; i < part->polygon_count; i++)
        polygons[i] = part->polygons[i];
    polygons[part->polygon_count++] = *filling;
    part->polygons = polygons;
    return OUTLAY_OK;
}

static enum outlay_status parts_find(struct seam_work *w, struct group *g)
{
    struct layer_rings rings = {NULL, 0, 0};
    struct region fillings = {NULL, 0};
    enum outlay_status status = OUTLAY_OK;

    g->parts = arena_array(w->arena, g->count, sizeof *g->parts);
    if (!g->parts || !layer_rings_add_region(w->arena, &rings, &g->outline, 0))
        return no_memory(w);
    for (size_t k = 0; k < g->count && status == OUTLAY_OK; k++) {
        status = part_find(w, g, k);
        if (!layer_rings_add_region(w->arena, &rings, &section_of(g, k)->outline, 1))
            return no_memory(w);
    }
    if (status == OUTLAY_OK)
        status = layers_rest(w, &rings, &fillings);
    for (size_t i = 0; i < fillings.polygon_count && status == OUTLAY_OK; i++) {
        const struct region piece = {fillings.polygons + i, 1};

        if (region_area(&piece) > shred)
            status = filling_give(w, g, &fillings.polygons[i]);
    }
    return status;
}

/* ---- Zones ---- */

static enum outlay_status zones_find(struct seam_work *w, struct group *g)
{
    const struct region *level = section_of(g, 0)->level.zones;
    enum outlay_status status = OUTLAY_OK;

    for (int role = 0; role < ZONE_ROLES && status == OUTLAY_OK; role++) {
        struct layer_rings rings = {NULL, 0, 0};

        g->zones[role] = level[role];
        if (g->is_level || level[role].polygon_count == 0)
            continue;
        if (!layer_rings_add_region(w->arena, &rings, &level[role], 0) ||
            !layer_rings_add_region(w->arena, &rings, &g->outline, 1))
            return no_memory(w);
        status = layers_common(w, &rings, &g->zones[role]);
    }
    return status;
}

/* ---- Edges ---- */

/* Edges of the sections that don't lie between two of them. */
struct outer {
    struct edge *items;
    size_t count;
};

static bool outer_find(struct seam_work *w, const struct group *g, struct outer *out)
{
    size_t all = 0;

    for (size_t k = 0; k < g->count; k++)
        all += section_of(g, k)->edge_count;
    *out = (struct outer){arena_array(w->arena, all, sizeof *out->items), 0};
    if (!out->items)
        return false;
    for (size_t k = 0; k < g->count; k++) {
        const struct roof *roof = section_of(g, k);

        for (size_t i = 0; i < roof->edge_count; i++) {
            const struct edge *edge = &roof->edges[i];

            if (!edge_runs_on(g->building, roof, edge))
                out->items[out->count++] = *edge;
        }
    }
    return true;
}

/* Cosine between two segments. */
static double turn_of(struct point a, struct point b, const struct edge *edge)
{
    struct point d = {b.x - a.x, b.y - a.y};
    struct point e = {edge->to.x - edge->from.x, edge->to.y - edge->from.y};

    return dot(d, e) / sqrt(dot(d, d) * dot(e, e));
}

/* Of the edges that run along a stretch the nearest; where none does, at the mouth of a
 * gap, the nearest of all. */
static const struct edge *edge_along(const struct outer *outer, struct point a,
                                     struct point b)
{
    const struct edge *best = NULL;
    double least = INFINITY;
    bool along = false;

    for (size_t i = 0; i < outer->count; i++) {
        const struct edge *edge = &outer->items[i];
        double distance =
            segment_distance(point_between(a, b, 0.5), edge->from, edge->to);
        bool is_along = distance < gap_max && turn_of(a, b, edge) > along_least;

        if (is_along < along || (is_along == along && distance >= least))
            continue;
        best = edge;
        least = distance;
        along = is_along;
    }
    return best;
}

static int by_value(const void *a, const void *b)
{
    double x = *(const double *)a;
    double y = *(const double *)b;

    return (x > y) - (x < y);
}

/* Where edges that run along a segment begin and end, as shares of it; 1 is the last. */
static size_t stretches_find(const struct outer *outer, struct point a, struct point b,
                             double *ends)
{
    struct point d = {b.x - a.x, b.y - a.y};
    double length = sqrt(dot(d, d));
    size_t count = 0;

    for (size_t i = 0; i < outer->count; i++) {
        const struct edge *edge = &outer->items[i];
        const struct point at[] = {edge->from, edge->to};

        for (int k = 0; k < 2 && turn_of(a, b, edge) > along_least; k++) {
            struct point to = {at[k].x - a.x, at[k].y - a.y};
            double t = dot(to, d) / (length * length);

            if (t * length > crumb && (1 - t) * length > crumb &&
                segment_distance(at[k], a, b) < gap_max)
                ends[count++] = t;
        }
    }
    ends[count++] = 1;
    qsort(ends, count, sizeof *ends, by_value);
    return count;
}

static bool same_number(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

static bool goes_on(const struct edge *a, const struct edge *b)
{
    return a->kind == b->kind && a->source == b->source && a->beside == b->beside &&
           a->slope_change == b->slope_change && same_number(a->height, b->height) &&
           same_number(a->thickness, b->thickness);
}

/* A segment of the outline, stretch by stretch. @return false when out of memory */
static bool segment_put(struct seam_work *w, struct group *g, const struct outer *outer,
                        struct point a, struct point b, size_t ring, double *ends,
                        size_t *room)
{
    size_t count = stretches_find(outer, a, b, ends);
    double length = point_distance(a, b);
    size_t first = g->edge_count;
    double from = 0;

    for (size_t k = 0; k < count; k++) {
        struct point p = point_between(a, b, from);
        struct point q = point_between(a, b, ends[k]);
        struct edge edge;

        if ((ends[k] - from) * length < crumb && count > 1)
            continue;
        edge = *edge_along(outer, p, q);
        edge.from = p;
        edge.to = q;
        edge.ring = ring;
        from = ends[k];
        if (g->edge_count > first && goes_on(&g->edges[g->edge_count - 1], &edge)) {
            g->edges[g->edge_count - 1].to = q;
            continue;
        }
        g->edges = grow_in(w->arena, g->edges, g->edge_count, 1, room, sizeof edge);
        if (!g->edges)
            return false;
        g->edges[g->edge_count++] = edge;
    }
    return true;
}

static enum outlay_status edges_find(struct seam_work *w, struct group *g)
{
    struct outer outer;
    double *ends = NULL;
    size_t room = 0;
    size_t serial = 0;

    if (!outer_find(w, g, &outer))
        return no_memory(w);
    ends = arena_array(w->arena, 2 * outer.count + 1, sizeof *ends);
    if (!ends)
        return no_memory(w);
    for (size_t i = 0; i < g->outline.polygon_count && outer.count > 0; i++)
        for (size_t j = 0; j < g->outline.polygons[i].ring_count; j++, serial++) {
            struct ring ring = g->outline.polygons[i].rings[j];

            for (size_t k = 0; k < ring.count; k++)
                if (!segment_put(w, g, &outer, ring.points[k],
                                 ring.points[(k + 1) % ring.count], serial, ends, &room))
                    return no_memory(w);
        }
    return OUTLAY_OK;
}

/* ---- The group ---- */

/* Seams keep clear of what stands on any of them. */
static enum outlay_status fixtures_gather(struct seam_work *w, struct group *g)
{
    size_t all = 0;

    for (size_t k = 0; k < g->count; k++)
        all += section_of(g, k)->fixture_count;
    g->fixtures = arena_array(w->arena, all, sizeof *g->fixtures);
    if (!g->fixtures)
        return no_memory(w);
    for (size_t k = 0; k < g->count; k++)
        for (size_t i = 0; i < section_of(g, k)->fixture_count; i++)
            g->fixtures[g->fixture_count++] = section_of(g, k)->fixtures[i];
    return OUTLAY_OK;
}

/* By their ids, whatever the order of the input. */
static void sections_sort(struct group *g)
{
    for (size_t k = 1; k < g->count; k++) {
        size_t section = g->sections[k];
        size_t at = k;

        for (; at > 0 && strcmp(g->building->roofs[g->sections[at - 1]].id,
                                g->building->roofs[section].id) > 0;
             at--)
            g->sections[at] = g->sections[at - 1];
        g->sections[at] = section;
    }
}

static bool sections_list(struct group *g, const struct roof *roof)
{
    const struct building *building = g->building;

    g->is_level = true;
    g->sections = arena_array(building->arena, building->roof_count, sizeof *g->sections);
    for (size_t k = 0; g->sections && k < building->roof_count; k++) {
        const struct roof *other = &building->roofs[k];

        if (sections_are_one(roof, other))
            g->sections[g->count++] = k;
        else if (other->zoned ? other->level.index == roof->level.index : other->whole)
            g->is_level = false; /* one that failed may have been of the level */
    }
    if (g->sections)
        sections_sort(g);
    return g->sections != NULL;
}

enum outlay_status group_make(struct building *building, const struct roof *roof,
                              struct geo_ctx *ctx, struct group *out,
                              struct outlay_error *err)
{
    struct seam_work w = {.arena = building->arena, .ctx = ctx, .err = err};
    enum outlay_status status = OUTLAY_OK;

    *out = (struct group){.building = building};
    if (!sections_list(out, roof))
        return no_memory(&w);
    status = outline_find(&w, out);
    if (status == OUTLAY_OK)
        status = parts_find(&w, out);
    if (status == OUTLAY_OK)
        status = zones_find(&w, out);
    if (status == OUTLAY_OK)
        status = edges_find(&w, out);
    return status == OUTLAY_OK ? fixtures_gather(&w, out) : status;
}

void group_roof(const struct group *group, size_t other, struct roof *out)
{
    sections_as_one(group->building, section_of(group, 0), other, out);
    out->outline = group->outline;
    out->edges = group->edges;
    out->edge_count = group->edge_count;
    out->fixtures = group->fixtures;
    out->fixture_count = group->fixture_count;
    if (group->is_level)
        out->level.outline = NULL;
    for (size_t i = 0; i < out->zone_count; i++)
        out->zones[i].region = group->zones[out->zones[i].role];
}
