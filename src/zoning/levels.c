#include "zoning/levels.h"

#include <math.h>

#include "base/plural.h"
#include "base/units.h"
#include "geo/joints.h"
#include "geo/overlap.h"
#include "roof/sections.h"

static const double shared_min = 1.0; /* m along which they must adjoin */
static const double step_max = 3 * M_PER_FT;

static bool has_place(const struct roof *roof)
{
    return roof->whole && isfinite(roof->height);
}

/* ---- Which roofs are one level -------------------------------------------------- */

/* Group of each roof: the lowest index of those it is joined with. */
static size_t group_of(const size_t *group, size_t k)
{
    while (group[k] != k)
        k = group[k];
    return k;
}

static void group_join(size_t *group, size_t a, size_t b)
{
    a = group_of(group, a);
    b = group_of(group, b);
    group[a > b ? a : b] = a > b ? b : a;
}

struct grouping {
    size_t *group;
    bool *step; /* a roof of another level, or of unknown height, adjoins */
    struct box *boxes;
};

static enum outlay_status compare(struct building *building, struct geo_ctx *ctx,
                                  struct grouping *g, size_t a, size_t b,
                                  struct outlay_error *err)
{
    const struct roof *first = &building->roofs[a];
    const struct roof *second = &building->roofs[b];
    double shared = 0;
    enum outlay_status status = OUTLAY_OK;

    if (!first->whole || !second->whole ||
        !boxes_near(&g->boxes[a], &g->boxes[b], SECTION_GAP))
        return OUTLAY_OK;
    status =
        shared_length(ctx, &first->outline, &second->outline, SECTION_GAP, &shared, err);
    if (status != OUTLAY_OK || shared < shared_min)
        return status;
    if (fabs(first->height - second->height) <= step_max + 1e-9)
        group_join(g->group, a, b);
    else /* a height that isn't known may be any */
        g->step[a] = g->step[b] = true;
    return OUTLAY_OK;
}

static enum outlay_status grouping_find(struct building *building, struct geo_ctx *ctx,
                                        struct grouping *g, struct outlay_error *err)
{
    size_t n = building->roof_count;
    enum outlay_status status = OUTLAY_OK;

    g->group = arena_array(building->arena, n, sizeof *g->group);
    g->step = arena_array(building->arena, n, sizeof *g->step);
    g->boxes = arena_array(building->arena, n, sizeof *g->boxes);
    if (!g->group || !g->step || !g->boxes)
        return outlay_fail(err, OUTLAY_E_MEMORY, "grouping %zu roof%s into levels", n,
                           PLURAL(n));
    for (size_t k = 0; k < n; k++) {
        g->group[k] = k;
        g->boxes[k] = region_box(&building->roofs[k].outline);
    }
    for (size_t a = 0; a < n; a++)
        for (size_t b = a + 1; b < n && status == OUTLAY_OK; b++)
            status = compare(building, ctx, g, a, b, err);
    return status;
}

/* ---- Joining outlines ------------------------------------------------------------ */

static enum outlay_status join_outlines(struct building *building, struct geo_ctx *ctx,
                                        struct level_outline *level,
                                        struct outlay_error *err)
{
    struct region *sections =
        arena_array(building->arena, level->roof_count, sizeof *sections);

    if (!sections)
        return outlay_fail(err, OUTLAY_E_MEMORY, "joining roof sections");
    for (size_t k = 0; k < level->roof_count; k++)
        sections[k] = building->roofs[level->roofs[k]].outline;
    return sections_join(ctx, building->arena, sections, level->roof_count, SECTION_GAP,
                         &level->region, err);
}

static bool level_fill(struct building *building, const struct grouping *g, size_t first,
                       struct level_outline *level)
{
    size_t n = building->roof_count;

    level->roofs = arena_array(building->arena, n, sizeof *level->roofs);
    if (!level->roofs)
        return false;
    for (size_t k = first; k < n; k++) {
        if (!has_place(&building->roofs[k]) || group_of(g->group, k) != first)
            continue;
        level->roofs[level->roof_count++] = k;
        level->height = fmax(level->height, building->roofs[k].height);
        level->step = level->step || g->step[k];
    }
    return true;
}

enum outlay_status levels_find(struct building *building, struct geo_ctx *ctx,
                               struct level_outline **levels, size_t *count,
                               struct outlay_error *err)
{
    struct grouping g = {NULL, NULL, NULL};
    size_t n = building->roof_count;
    enum outlay_status status = grouping_find(building, ctx, &g, err);

    *count = 0;
    *levels = NULL;
    if (status != OUTLAY_OK)
        return status;
    *levels = arena_array(building->arena, n + 1, sizeof **levels);
    if (!*levels)
        return outlay_fail(err, OUTLAY_E_MEMORY, "grouping %zu roof%s into levels", n,
                           PLURAL(n));
    for (size_t k = 0; k < n && status == OUTLAY_OK; k++) {
        if (!has_place(&building->roofs[k]) || group_of(g.group, k) != k)
            continue;
        if (!level_fill(building, &g, k, &(*levels)[*count]))
            return outlay_fail(err, OUTLAY_E_MEMORY, "grouping %zu roof%s into levels", n,
                               PLURAL(n));
        status = join_outlines(building, ctx, &(*levels)[(*count)++], err);
    }
    return status;
}
