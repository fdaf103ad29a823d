#include "zoning/zoning.h"

#include <math.h>
#include <string.h>

#include "base/units.h"
#include "geo/hull.h"
#include "geo/offset.h"
#include "geo/overlap.h"
#include "geo/round.h"
#include "zoning/dimension.h"
#include "zoning/edges.h"
#include "zoning/holes.h"
#include "zoning/legs.h"
#include "zoning/levels.h"

/* Layers of the overlay that cuts one roof into zones. */
enum { LAYER_ROOF, LAYER_PERIMETER_INSET, LAYER_FIELD_INSET, LAYER_CORNERS };

/* Zones with less area are rounding, m2 (ours): they go to the severer neighbour. */
static const double zone_area_min = 0.01;

/* Strips are measured from the outline less what can't be seen in the output, m. */
static const double strip_tolerance = 1e-3;

/* An outline with more points is thinned further before strips are made, since every
 * wiggle throws a spur as long as the strip is deep. */
enum { STRIP_POINTS_MAX = 1500 };

/* Free edges of two roofs of a level are told apart by this, m. */
static const double same_edge = 0.05;

struct zoning_settings zoning_defaults(void)
{
    return (struct zoning_settings){
        .standard = standards[0],
        .mid_rise = MID_RISE_TALL,
        .reentrant_corners = false,
        .jog_tolerance = 1.0,
        .opening_area = 30.0,
        .opening_width = 3.0,
    };
}

/* One level at work. */
struct zoning {
    struct building *building;
    const struct zoning_settings *settings;
    struct geo_ctx *ctx;
    const struct level_outline *level;
    struct zone_figure figure;
    struct layer_rings rings; /* insets and corner zones of the level */
    struct region *zones;     /* of the whole level, by role; NULL: it is one roof */
    struct region free;       /* polygons of the rings that are free edges */
    struct point *corners;
    size_t corner_count;
    struct rectangle *around;        /* each polygon of the level */
    const struct dimension *stepped; /* the building; NULL: it is one level */
    enum dimension_of whose;
    double least_dimension; /* that the zones go by */
    double short_side;
    double long_side;
    double bearing;    /* of the longest side, radians */
    bool irregular;    /* the level is no rectangle */
    double simplified; /* tolerance beyond the usual one, m; 0 */
    unsigned assumed;
};

static struct arena *arena_of(const struct zoning *z)
{
    return z->building->arena;
}

/* ---- The level as a whole -------------------------------------------------------- */

static enum outlay_status measure(struct zoning *z, struct outlay_error *err)
{
    size_t count = z->level->region.polygon_count;
    double area = 0;

    z->around = arena_array(arena_of(z), count, sizeof *z->around);
    if (!z->around)
        return outlay_fail(err, OUTLAY_E_MEMORY, "measuring a roof level");
    for (size_t i = 0; i < count; i++) {
        struct ring shell = z->level->region.polygons[i].rings[0];
        struct rectangle *around = &z->around[i];

        if (smallest_rectangle(arena_of(z), shell, around) != OUTLAY_OK)
            return outlay_fail(err, OUTLAY_E_MEMORY, "measuring a roof level");
        area += around->shorter * around->longer;
        z->short_side = fmax(z->short_side, around->shorter);
        if (around->longer > z->long_side)
            z->bearing = around->bearing;
        z->long_side = fmax(z->long_side, around->longer);
    }
    z->irregular = region_area(&z->level->region) < 0.98 * area;
    return OUTLAY_OK;
}

/* Whether the edge of a hole is a free edge. */
static enum outlay_status is_court(struct zoning *z, struct ring hole, bool *court)
{
    enum hole_kind kind = HOLES_NOT_GIVEN;
    enum outlay_status status =
        hole_judge(z->building, z->level, z->settings, hole, &kind, &z->assumed);

    *court = kind == HOLES_COURT;
    return status;
}

/* Fewer points, as few as strips can bear. */
static enum outlay_status thin_for_strips(struct zoning *z, struct ring ring,
                                          struct thin_ring *out)
{
    double tolerance = strip_tolerance;
    enum outlay_status status = ring_thin(arena_of(z), ring, tolerance, out);

    while (status == OUTLAY_OK && out->ring.count > STRIP_POINTS_MAX) {
        tolerance *= 2;
        z->simplified = fmax(z->simplified, tolerance);
        status = ring_thin(arena_of(z), out->ring, tolerance, out);
    }
    return status;
}

static enum outlay_status add_inset(struct zoning *z, struct ring ring, double depth,
                                    int layer)
{
    struct ring inset = {NULL, 0};

    if (ring_inset(arena_of(z), ring, depth, &inset) != OUTLAY_OK ||
        !layer_rings_add(arena_of(z), &z->rings, inset, layer))
        return OUTLAY_E_MEMORY;
    return OUTLAY_OK;
}

static enum outlay_status add_corners(struct zoning *z, struct ring ring)
{
    double tolerance = fmin(z->settings->jog_tolerance, 0.1 * z->short_side);
    struct thin_ring thin;
    struct leg_ring legs = {&thin, NULL, z->settings->reentrant_corners};

    if (ring_thin(arena_of(z), ring, tolerance, &thin) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    legs.kinds = ring_classify(arena_of(z), ring, &thin, tolerance, z->short_side);
    if (!legs.kinds)
        return OUTLAY_E_MEMORY;
    for (size_t k = 0; k < thin.ring.count; k++) {
        if (is_corner_vertex(&legs, k))
            z->corners[z->corner_count++] = thin.ring.points[k];
        if (legs.kinds[k] == VERTEX_REENTRANT && !z->settings->reentrant_corners)
            z->assumed |= ASSUMPTION_BIT(ASSUME_REENTRANT);
    }
    return legs_add(arena_of(z), &legs, &z->figure, &z->rings, LAYER_CORNERS);
}

/* Strips and corners of one free ring of a polygon that is `width` wide at most: where
 * the strips from both sides meet, nothing is left for an inset. */
static enum outlay_status add_free_ring(struct zoning *z, struct ring ring, double width)
{
    struct thin_ring thin;
    double depths[] = {z->figure.perimeter_depth, z->figure.field_depth};

    if (thin_for_strips(z, ring, &thin) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    for (int k = 0; k < 2; k++)
        if (2 * depths[k] < width &&
            add_inset(z, thin.ring, depths[k], LAYER_PERIMETER_INSET + k) != OUTLAY_OK)
            return OUTLAY_E_MEMORY;
    return add_corners(z, thin.ring);
}

/* Strips and corner zones of one polygon of the level; its free rings are kept. */
static enum outlay_status add_polygon(struct zoning *z, size_t index)
{
    const struct polygon *polygon = &z->level->region.polygons[index];
    struct polygon *free = &z->free.polygons[z->free.polygon_count++];

    free->rings = arena_array(arena_of(z), polygon->ring_count, sizeof *free->rings);
    if (!free->rings)
        return OUTLAY_E_MEMORY;
    for (size_t j = 0; j < polygon->ring_count; j++) {
        bool is_free = true;

        if (j > 0 && is_court(z, polygon->rings[j], &is_free) != OUTLAY_OK)
            return OUTLAY_E_MEMORY;
        if (!is_free)
            continue;
        free->rings[free->ring_count++] = polygon->rings[j];
        if (add_free_ring(z, polygon->rings[j], z->around[index].shorter) != OUTLAY_OK)
            return OUTLAY_E_MEMORY;
    }
    return OUTLAY_OK;
}

static void note_assumptions(struct zoning *z)
{
    bool by_least_dimension = z->figure.tall || z->figure.corner_shape == CORNER_CROSSED;

    if (z->irregular && by_least_dimension)
        z->assumed |= ASSUMPTION_BIT(ASSUME_LEAST_DIMENSION);
    if (z->figure.mid_rise_choice)
        z->assumed |= ASSUMPTION_BIT(ASSUME_MID_RISE);
    if (z->level->step)
        z->assumed |= ASSUMPTION_BIT(ASSUME_STEP);
    for (size_t k = 0; z->level->roof_count > 1 && k < z->level->roof_count; k++)
        if (z->building->roofs[z->level->roofs[k]].estimated & 1u << ESTIMATE_HEIGHT)
            z->assumed |= ASSUMPTION_BIT(ASSUME_LEVEL_HEIGHT);
}

static struct zone_figure figure_by(const struct zoning *z, double least_dimension)
{
    struct figure_input input = {.height = z->level->height,
                                 .least_dimension = least_dimension,
                                 .mid_rise = z->settings->mid_rise};
    struct zone_figure figure = {.tall = false};

    z->settings->standard->figure(&input, &figure);
    return figure;
}

/* The figures mean the building's least dimension; the level's is milder. */
static void choose_figure(struct zoning *z)
{
    struct zone_figure by_building;

    z->least_dimension = z->short_side;
    z->figure = figure_by(z, z->short_side);
    if (!z->stepped)
        return;
    by_building = figure_by(z, z->stepped->least);
    if (z->settings->least_dimension != DIMENSION_BUILDING &&
        (by_building.tall != z->figure.tall ||
         by_building.perimeter_depth > z->figure.perimeter_depth))
        z->assumed |= ASSUMPTION_BIT(ASSUME_STEPPED);
    z->whose = z->settings->least_dimension;
    if (z->whose == DIMENSION_LEVEL)
        return;
    z->whose = DIMENSION_BUILDING;
    z->least_dimension = z->stepped->least;
    z->irregular = z->stepped->irregular;
    z->figure = by_building;
}

static enum outlay_status level_figure(struct zoning *z, struct outlay_error *err)
{
    const struct region *region = &z->level->region;
    enum outlay_status status = measure(z, err);

    if (status != OUTLAY_OK)
        return status;
    choose_figure(z);
    note_assumptions(z);
    z->corners = arena_array(arena_of(z), region_points(region) + 1, sizeof *z->corners);
    z->free.polygons =
        arena_array(arena_of(z), region->polygon_count + 1, sizeof *z->free.polygons);
    if (!z->corners || !z->free.polygons)
        return outlay_fail(err, OUTLAY_E_MEMORY, "zoning a roof level");
    for (size_t i = 0; i < region->polygon_count; i++)
        if (add_polygon(z, i) != OUTLAY_OK)
            return outlay_fail(err, OUTLAY_E_MEMORY, "zoning a roof level");
    return OUTLAY_OK;
}

/* ---- The cut --------------------------------------------------------------------- */

/* Roles that a face may get; a role that is taken away goes to the next severer one. */
struct roles {
    bool interior; /* the standard has one */
    bool allowed[ZONE_ROLES];
};

static int zone_label(const int winding[ARRANGE_LAYERS], const void *user)
{
    const struct roles *roles = user;
    int role = ZONE_FIELD;

    if (winding[LAYER_ROOF] <= 0)
        return -1;
    if (winding[LAYER_CORNERS] > 0)
        role = ZONE_CORNER;
    else if (winding[LAYER_PERIMETER_INSET] <= 0)
        role = ZONE_PERIMETER;
    else if (roles->interior && winding[LAYER_FIELD_INSET] > 0)
        role = ZONE_INTERIOR;
    while (role > ZONE_CORNER && !roles->allowed[role])
        role--;
    return roles->allowed[role] ? role : ZONE_PERIMETER;
}

/* Zones as regions, by role. */
struct pieces {
    struct region of[ZONE_ROLES];
    bool clear; /* may be rounded as they are */
};

static enum outlay_status cut_once(struct zoning *z, const struct region *outline,
                                   const struct roles *roles, struct pieces *pieces,
                                   struct outlay_error *err)
{
    struct layer_rings rings = {NULL, 0, 0};
    struct overlay overlay = {.rings = &rings,
                              .label = zone_label,
                              .user = roles,
                              .label_count = ZONE_ROLES,
                              .clearance = ROUNDING_CLEARANCE};
    enum outlay_status status = OUTLAY_OK;

    if (!layer_rings_add_region(arena_of(z), &rings, outline, LAYER_ROOF))
        return outlay_fail(err, OUTLAY_E_MEMORY, "cutting a roof into zones");
    for (size_t i = 0; i < z->rings.count; i++)
        if (!layer_rings_add(arena_of(z), &rings, z->rings.items[i].ring,
                             z->rings.items[i].layer))
            return outlay_fail(err, OUTLAY_E_MEMORY, "cutting a roof into zones");
    overlay.grid = grid_for(&rings, z->bearing);
    status = arrange(z->ctx, arena_of(z), &overlay, pieces->of, err);
    pieces->clear = overlay.clear;
    return status;
}

/* Cuts, and once more where a zone came out as a sliver of rounding. */
static enum outlay_status cut(struct zoning *z, const struct region *outline,
                              struct pieces *pieces, struct outlay_error *err)
{
    struct roles roles = {isfinite(z->figure.field_depth), {true, true, true, true}};
    bool slivers = false;
    enum outlay_status status = cut_once(z, outline, &roles, pieces, err);

    for (int role = 0; role < ZONE_ROLES && status == OUTLAY_OK; role++) {
        double area = region_area(&pieces->of[role]);

        roles.allowed[role] = !(area > 0 && area < zone_area_min);
        slivers = slivers || !roles.allowed[role];
    }
    if (slivers && status == OUTLAY_OK)
        status = cut_once(z, outline, &roles, pieces, err);
    return status;
}

/* Sections that run on into one another are laid out as one roof: with the zones of the
 * level, which gaps between sections have too. */
static enum outlay_status cut_level(struct zoning *z, struct outlay_error *err)
{
    struct pieces pieces;
    enum outlay_status status = OUTLAY_OK;

    if (z->level->roof_count == 1)
        return OUTLAY_OK;
    z->zones = arena_array(arena_of(z), ZONE_ROLES, sizeof *z->zones);
    if (!z->zones)
        return outlay_fail(err, OUTLAY_E_MEMORY, "cutting a roof level into zones");
    status = cut(z, &z->level->region, &pieces, err);
    for (int role = 0; role < ZONE_ROLES && status == OUTLAY_OK; role++)
        z->zones[role] = pieces.of[role];
    return status;
}

/* ---- One roof -------------------------------------------------------------------- */

static double rings_length(const struct region *region)
{
    double sum = 0;

    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++)
            sum += ring_length(region->polygons[i].rings[j]);
    return sum;
}

/* Free and inner edge of one roof; sections of a level share out the level's edge. */
static enum outlay_status measure_edges(struct zoning *z, struct roof *roof,
                                        struct outlay_error *err)
{
    double holes = 0;

    if (z->level->roof_count == 1) {
        roof->edge_length = rings_length(&z->free);
        roof->inner_length = rings_length(&roof->outline) - roof->edge_length;
        return OUTLAY_OK;
    }
    for (size_t i = 0; i < roof->outline.polygon_count; i++)
        for (size_t j = 1; j < roof->outline.polygons[i].ring_count; j++) {
            bool court = true;

            if (is_court(z, roof->outline.polygons[i].rings[j], &court) != OUTLAY_OK)
                return outlay_fail(err, OUTLAY_E_MEMORY, "measuring edges");
            holes += court ? 0 : ring_length(roof->outline.polygons[i].rings[j]);
        }
    roof->inner_length = holes;
    return shared_length(z->ctx, &z->free, &roof->outline, same_edge, &roof->edge_length,
                         err);
}

/* Each corner of the level belongs to the roof that it is nearest to. */
static void share_corners(struct zoning *z)
{
    for (size_t c = 0; c < z->corner_count; c++) {
        struct roof *nearest = NULL;
        double least = INFINITY;

        for (size_t k = 0; k < z->level->roof_count; k++) {
            struct roof *roof = &z->building->roofs[z->level->roofs[k]];
            double distance = z->level->roof_count == 1
                                  ? 0
                                  : region_distance(&roof->outline, z->corners[c]);

            if (distance < least) {
                least = distance;
                nearest = roof;
            }
        }
        if (nearest)
            nearest->corners++;
    }
}

/* A parapet shelters a level that it goes around, whoever's it is: the weakest counts. */
static void fill_parapet(const struct zoning *z, struct level *level)
{
    level->step = z->level->step;
    level->parapet = INFINITY;
    level->parapet_around = true;
    for (size_t k = 0; k < z->level->roof_count; k++) {
        const struct attributes *given = &z->building->roofs[z->level->roofs[k]].given;
        bool low = given->edge == EDGE_METAL || given->edge == EDGE_GUTTER;
        double parapet = low ? 0 : given->parapet;

        if (isnan(parapet) || parapet < level->parapet)
            level->parapet = parapet;
        if (given->edge != EDGE_PARAPET)
            level->parapet_around = false;
    }
}

static void fill_level(struct zoning *z, struct roof *roof, size_t index)
{
    roof->level = (struct level){
        .index = (int)index,
        .height = z->level->height,
        .least_dimension = z->least_dimension,
        .whose = z->whose,
        .short_side = z->short_side,
        .long_side = z->long_side,
        .tall = z->figure.tall,
        .perimeter_depth = z->figure.perimeter_depth,
        .field_depth = z->figure.field_depth,
        .leg_length = z->figure.leg_length,
        .leg_depth = z->figure.leg_depth,
        .outline = z->level->roof_count > 1 ? &z->level->region : NULL,
        .zones = z->zones,
    };
    fill_parapet(z, &roof->level);
    roof_assume_all(roof, z->assumed);
}

/* Zones that exist, with what is written of them. */
static enum outlay_status fill_zones(struct zoning *z, struct roof *roof,
                                     const struct pieces *pieces,
                                     struct outlay_error *err)
{
    struct region kept[ZONE_ROLES];
    struct region lonlat[ZONE_ROLES];
    size_t count = 0;
    enum outlay_status status = OUTLAY_OK;

    for (int role = 0; role < ZONE_ROLES; role++) {
        struct zone *zone = &roof->zones[count];

        if (pieces->of[role].polygon_count == 0)
            continue;
        kept[count++] = pieces->of[role];
        zone->role = (enum zone_role)role;
        zone->label = z->figure.labels[role];
        zone->region = pieces->of[role];
        zone->area = region_area(&pieces->of[role]);
    }
    status = regions_to_lonlat(z->ctx, arena_of(z), &z->building->frame, kept, count,
                               pieces->clear, lonlat, err);
    for (size_t i = 0; i < count && status == OUTLAY_OK; i++) {
        roof->zones[i].lonlat = lonlat[i];
        if (lonlat[i].polygon_count == 0)
            roof_problem(arena_of(z), roof, PROBLEM_ROUNDED_AWAY,
                         "zone kept in all tables, without a shape",
                         "the %s zone, %.2f ft2 (%.3f m2), is thinner than written "
                         "coordinates",
                         zone_role_name(roof->zones[i].role),
                         roof->zones[i].area / M2_PER_FT2, roof->zones[i].area);
    }
    roof->zone_count = status == OUTLAY_OK ? count : 0;
    roof->zoned = status == OUTLAY_OK;
    return status;
}

static enum outlay_status zone_roof(struct zoning *z, struct roof *roof, size_t index,
                                    struct outlay_error *err)
{
    struct pieces pieces;
    enum outlay_status status = cut(z, &roof->outline, &pieces, err);

    if (status == OUTLAY_OK)
        status = measure_edges(z, roof, err);
    if (status == OUTLAY_OK)
        status = fill_zones(z, roof, &pieces, err);
    if (status == OUTLAY_OK)
        fill_level(z, roof, index);
    if (z->simplified > 0)
        roof_problem(
            arena_of(z), roof, PROBLEM_SIMPLIFIED,
            "strips measured from the thinned outline, areas from the whole one",
            "outline of over %d points thinned by less than %.3f ft (%.3f m) for strips",
            STRIP_POINTS_MAX, z->simplified / M_PER_FT, z->simplified);
    return status;
}

static void fail_roof(struct building *building, struct roof *roof,
                      const struct outlay_error *failure)
{
    roof_problem(building->arena, roof, PROBLEM_GEOMETRY_FAILED, "roof not zoned", "%s",
                 failure->what);
}

/* Zones the roofs of one level; a failure of geometry is theirs alone. */
static enum outlay_status zone_level(struct building *building,
                                     const struct zoning_settings *settings,
                                     struct geo_ctx *ctx, const struct dimension *stepped,
                                     const struct level_outline *level, size_t index)
{
    struct zoning z = {.building = building,
                       .settings = settings,
                       .ctx = ctx,
                       .level = level,
                       .stepped = stepped};
    struct outlay_error failure;
    enum outlay_status ready = level_figure(&z, &failure);

    if (ready == OUTLAY_OK)
        ready = cut_level(&z, &failure);
    for (size_t k = 0; k < level->roof_count; k++) {
        struct roof *roof = &building->roofs[level->roofs[k]];
        enum outlay_status status =
            ready == OUTLAY_OK ? zone_roof(&z, roof, index, &failure) : ready;

        if (status == OUTLAY_E_MEMORY)
            return status;
        if (status != OUTLAY_OK)
            fail_roof(building, roof, &failure);
    }
    share_corners(&z);
    return OUTLAY_OK;
}

static bool level_wanted(const struct level_outline *level, const bool *wanted)
{
    for (size_t k = 0; wanted && k < level->roof_count; k++)
        if (wanted[level->roofs[k]])
            return true;
    return !wanted;
}

enum outlay_status zoning_run(struct building *building,
                              const struct zoning_settings *settings, struct geo_ctx *ctx,
                              struct outlay_error *err)
{
    return zoning_run_some(building, settings, NULL, ctx, err);
}

enum outlay_status zoning_run_some(struct building *building,
                                   const struct zoning_settings *settings,
                                   const bool *wanted, struct geo_ctx *ctx,
                                   struct outlay_error *err)
{
    struct level_outline *levels = NULL;
    struct dimension dimension;
    struct outlay_error failure;
    size_t count = 0;
    enum outlay_status status = levels_find(building, ctx, &levels, &count, &failure);

    if (status == OUTLAY_OK && count > 1)
        status = building_measure(building, ctx, &dimension, &failure);

    for (size_t r = 0; status == OUTLAY_E_GEOMETRY && r < building->roof_count; r++)
        fail_roof(building, &building->roofs[r], &failure);
    if (status == OUTLAY_E_GEOMETRY)
        return OUTLAY_OK;
    for (size_t k = 0; k < count && status == OUTLAY_OK; k++)
        if (level_wanted(&levels[k], wanted))
            status = zone_level(building, settings, ctx, count > 1 ? &dimension : NULL,
                                &levels[k], k);
    if (status == OUTLAY_OK)
        status = edges_find(building, levels, count, settings);
    if (status != OUTLAY_OK)
        outlay_fail(err, status, "zoning a building (roofs: %zu)", building->roof_count);
    return status;
}
