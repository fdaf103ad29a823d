#include "takeoff/group.h"

#include <math.h>
#include <string.h>

#include "geo/joints.h"
#include "geo/overlap.h"
#include "roof/edges.h"
#include "roof/fixtures.h"
#include "roof/sections.h"
#include "takeoff/field.h"

static const double beside = 0.01; /* m; a filling touches the sections at its sides */
static const double shred = 1e-6;  /* m2 of filling; less is rounding */

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
    return sections_join(w->ctx, w->arena, sections, g->count, SECTION_GAP, &g->outline,
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
        g->zones[role] = level[role];
        if (!g->is_level && level[role].polygon_count > 0)
            status = regions_common(w, &level[role], &g->outline, &g->zones[role]);
    }
    return status;
}

/* ---- Edges ---- */

/* Edges of the sections that don't lie between two of them, along the outline of all. */
static enum outlay_status edges_find(struct seam_work *w, struct group *g)
{
    size_t all = 0;
    struct edge_list outer = {NULL, 0};
    struct edge_list along = {NULL, 0};
    enum outlay_status status = OUTLAY_OK;

    for (size_t k = 0; k < g->count; k++)
        all += section_of(g, k)->edge_count;
    outer.items = arena_array(w->arena, all, sizeof *outer.items);
    if (!outer.items)
        return no_memory(w);
    for (size_t k = 0; k < g->count; k++) {
        const struct roof *roof = section_of(g, k);

        for (size_t i = 0; i < roof->edge_count; i++)
            if (!edge_runs_on(g->building, roof, &roof->edges[i]))
                outer.items[outer.count++] = roof->edges[i];
    }
    status = edges_along(w, &g->outline, &outer, false, &along);
    g->edges = along.items;
    g->edge_count = along.count;
    return status;
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

/* What lies inside the walls around all sections, and around each. */
static enum outlay_status covered_find(struct seam_work *w, struct group *g)
{
    struct roof whole;
    enum outlay_status status = OUTLAY_OK;

    group_roof(g, SIZE_MAX, &whole);
    status = field_find(w, &whole, NULL, &g->field);
    g->covered = g->field ? g->field->outline : g->outline;
    for (size_t k = 0; k < g->count && g->field && status == OUTLAY_OK; k++) {
        if (g->parts[k].polygon_count == 0) /* it lies in others: no walls take it */
            continue;
        status = regions_common(w, &g->parts[k], &g->covered, &g->parts[k]);
        if (status == OUTLAY_OK)
            status = fields_find(w, &g->building->roofs[g->sections[k]], &g->parts[k]);
    }
    return status;
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
    if (status == OUTLAY_OK)
        status = fixtures_gather(&w, out);
    return status == OUTLAY_OK ? covered_find(&w, out) : status;
}

void group_roof(const struct group *group, size_t other, struct roof *out)
{
    sections_as_one(group->building, section_of(group, 0), other, out);
    out->outline = group->outline;
    out->edges = group->edges;
    out->edge_count = group->edge_count;
    out->fixtures = group->fixtures;
    out->fixture_count = group->fixture_count;
    out->field = group->field;
    if (group->is_level)
        out->level.outline = NULL;
    for (size_t i = 0; i < out->zone_count; i++)
        out->zones[i].region = group->zones[out->zones[i].role];
}
