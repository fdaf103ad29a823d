#include "flow/draw_zones.h"

#include <math.h>

/* What a parabola may be off: of a zone's area, or of the roof's (ours). */
static const double zone_error = 0.002;
static const double roof_error = 0.0002;

/* A range is halved so often before every height in it is cut for itself. */
enum { HALVINGS = 4, RANGES_MAX = 4 << HALVINGS };

/* Heights on both sides of a jump are so far from it, as a share of the reach. */
static const double beside_jump = 1e-9;

/* No roof is lower, m. */
static const double lowest = 1.0;

/* An exact cut: all roofs moved by the same share of their reach. */
struct node {
    double at;                   /* -1 to 1 */
    double (*areas)[ZONE_ROLES]; /* of each roof, m2 */
};

/* Between two cuts, with a third inside. */
struct range {
    struct node nodes[3];
    bool *exact; /* of each roof: no parabola holds here; NULL: all do */
};

struct draw_zones {
    const struct building *building;
    const struct zoning_settings *settings;
    const double *reach;
    struct geo_ctx *ctx;
    struct arena *arena;
    struct arena *cuts;        /* owned; of one cut */
    double *moved;             /* of each roof, for a node */
    double *errors;            /* of each roof */
    double (*cut)[ZONE_ROLES]; /* of a height that is cut for itself */
    bool *wanted;              /* the roofs that have to be */
    struct range ranges[RANGES_MAX];
    size_t range_count;
    struct outlay_error *err;
};

static enum outlay_status no_memory(struct outlay_error *err)
{
    return outlay_fail(err, OUTLAY_E_MEMORY, "zoning a roof in other heights");
}

static double height_at(const struct draw_zones *z, size_t roof, double moved)
{
    return fmax(z->building->roofs[roof].level.height + moved, lowest);
}

static void areas_of(const struct roof *roof, double areas[ZONE_ROLES])
{
    for (int role = 0; role < ZONE_ROLES; role++)
        areas[role] = 0;
    for (size_t i = 0; i < roof->zone_count; i++)
        areas[roof->zones[i].role] = roof->zones[i].area;
}

/* ---- Exact cuts ------------------------------------------------------------------ */

/* A roof that can't be cut keeps the zones that it has.
 * @param wanted  of each roof; NULL: all */
static enum outlay_status cut(struct draw_zones *z, const double *moved,
                              const bool *wanted, double (*areas)[ZONE_ROLES])
{
    struct building copy = *z->building;
    enum outlay_status status = OUTLAY_OK;

    arena_reset(z->cuts);
    copy.arena = z->cuts;
    copy.roofs = arena_room(z->cuts, copy.roof_count, sizeof *copy.roofs);
    if (!copy.roofs)
        return no_memory(z->err);
    for (size_t i = 0; i < copy.roof_count; i++) {
        struct roof *roof = &copy.roofs[i];

        *roof = z->building->roofs[i];
        roof->problems = NULL;
        roof->problems_end = NULL;
        roof->zoned = false;
        if (z->building->roofs[i].zoned)
            roof->height = fmax(roof->height + moved[i], lowest);
    }
    status = zoning_run_some(&copy, z->settings, wanted, z->ctx, z->err);
    for (size_t i = 0; i < copy.roof_count && status == OUTLAY_OK; i++)
        areas_of(copy.roofs[i].zoned ? &copy.roofs[i] : &z->building->roofs[i], areas[i]);
    return status;
}

static enum outlay_status node_make(struct draw_zones *z, double at, struct node *out)
{
    size_t count = z->building->roof_count;

    *out = (struct node){at, arena_room(z->arena, count, sizeof *out->areas)};
    if (!out->areas)
        return no_memory(z->err);
    for (size_t i = 0; i < count; i++) {
        z->moved[i] = at * z->reach[i];
        areas_of(&z->building->roofs[i], out->areas[i]);
    }
    return at == 0 ? OUTLAY_OK : cut(z, z->moved, NULL, out->areas);
}

/* ---- Parabolas ------------------------------------------------------------------- */

/* Lagrange's: at a node exactly its own value. */
static double parabola(const struct range *range, size_t roof, int role, double at)
{
    const struct node *n = range->nodes;
    double sum = 0;

    for (int i = 0; i < 3; i++) {
        double a = n[(i + 1) % 3].at, b = n[(i + 2) % 3].at;

        if (at == n[i].at)
            return n[i].areas[roof][role];
        sum += n[i].areas[roof][role] * ((at - a) * (at - b)) /
               ((n[i].at - a) * (n[i].at - b));
    }
    return fmax(sum, 0);
}

static double off_by(const struct range *range, const struct node *check, size_t roof,
                     int role)
{
    return fabs(parabola(range, roof, role, check->at) - check->areas[roof][role]);
}

/* Whether the roof's parabolas hold at a further cut. */
static bool holds(const struct draw_zones *z, const struct range *range,
                  const struct node *check, size_t roof)
{
    for (int role = 0; role < ZONE_ROLES; role++) {
        double off = off_by(range, check, roof, role);

        if (off > zone_error * check->areas[roof][role] &&
            off > roof_error * z->building->roofs[roof].area)
            return false;
    }
    return true;
}

/* @param exact  gets the roofs whose parabolas don't hold @return whether there is one */
static bool any_fails(const struct draw_zones *z, const struct range *range,
                      const struct node checks[2], bool *exact)
{
    bool any = false;

    for (size_t i = 0; i < z->building->roof_count; i++) {
        exact[i] = !holds(z, range, &checks[0], i) || !holds(z, range, &checks[1], i);
        any = any || exact[i];
    }
    return any;
}

/* Whether the roof goes by parabolas in this range. */
static bool by_parabola(const struct draw_zones *z, const struct range *range,
                        size_t roof)
{
    return z->building->roofs[roof].zoned && !(range->exact && range->exact[roof]);
}

static void errors_note(const struct draw_zones *z, const struct range *range,
                        const struct node *check)
{
    for (size_t i = 0; i < z->building->roof_count; i++)
        for (int role = 0; by_parabola(z, range, i) && role < ZONE_ROLES; role++)
            z->errors[i] = fmax(z->errors[i], off_by(range, check, i, role) /
                                                  z->building->roofs[i].area);
}

static enum outlay_status range_add(struct draw_zones *z, struct range range,
                                    int halvings)
{
    const struct node *n = range.nodes;
    struct node quarters[2];
    bool *exact = NULL;
    enum outlay_status status = node_make(z, (n[0].at + n[1].at) / 2, &quarters[0]);

    if (status == OUTLAY_OK)
        status = node_make(z, (n[1].at + n[2].at) / 2, &quarters[1]);
    if (status != OUTLAY_OK)
        return status;
    exact = arena_array(z->arena, z->building->roof_count, sizeof *exact);
    if (!exact)
        return no_memory(z->err);
    if (any_fails(z, &range, quarters, exact))
        range.exact = exact;
    if (!range.exact || halvings == 0) {
        for (int i = 0; i < 2; i++)
            errors_note(z, &range, &quarters[i]);
        z->ranges[z->range_count++] = range;
        return OUTLAY_OK;
    }
    status = range_add(z, (struct range){{n[0], quarters[0], n[1]}, NULL}, halvings - 1);
    return status != OUTLAY_OK
               ? status
               : range_add(z, (struct range){{n[1], quarters[1], n[2]}, NULL},
                           halvings - 1);
}

/* The given height is a node wherever the range has it. */
static enum outlay_status range_start(struct draw_zones *z, double from, double to)
{
    double middle = from < 0 && to > 0 ? 0 : (from + to) / 2;
    struct range range = {.exact = NULL};
    enum outlay_status status = node_make(z, from, &range.nodes[0]);

    if (status == OUTLAY_OK)
        status = node_make(z, middle, &range.nodes[1]);
    if (status == OUTLAY_OK)
        status = node_make(z, to, &range.nodes[2]);
    return status == OUTLAY_OK ? range_add(z, range, HALVINGS) : status;
}

/* ---- The rules at other heights -------------------------------------------------- */

static struct zone_figure figure_at(const struct draw_zones *z, size_t roof, double moved)
{
    struct figure_input input = {.height = height_at(z, roof, moved),
                                 .least_dimension =
                                     z->building->roofs[roof].level.least_dimension,
                                 .mid_rise = z->settings->mid_rise};
    struct zone_figure figure = {.tall = false};

    z->settings->standard->figure(&input, &figure);
    return figure;
}

/* Where a roof becomes a tall one: the last height below and the first above, as shares
 * of its reach. */
struct jump {
    double below, above;
};

/* @return false where it never does */
static bool jump_find(const struct draw_zones *z, size_t roof, struct jump *out)
{
    double reach = z->reach[roof];
    struct jump jump = {-1, 1};

    if (!z->building->roofs[roof].zoned || !(reach > 0) ||
        figure_at(z, roof, -reach).tall == figure_at(z, roof, reach).tall)
        return false;
    while (jump.above - jump.below > beside_jump) {
        double middle = (jump.below + jump.above) / 2;

        if (figure_at(z, roof, middle * reach).tall)
            jump.above = middle;
        else
            jump.below = middle;
    }
    /* the given height stays a cut of its own, on its side */
    if (jump.below <= 0 && jump.above >= 0 && z->building->roofs[roof].level.tall)
        jump = (struct jump){jump.below - beside_jump, 0};
    else if (jump.below <= 0 && jump.above >= 0)
        jump = (struct jump){0, jump.above + beside_jump};
    *out = jump;
    return true;
}

/* From there on every roof is cut for itself. */
static enum outlay_status range_cut(struct draw_zones *z, double from)
{
    bool *exact = arena_array(z->arena, z->building->roof_count, sizeof *exact);

    if (!exact)
        return no_memory(z->err);
    for (size_t i = 0; i < z->building->roof_count; i++)
        exact[i] = true;
    z->ranges[z->range_count++] =
        (struct range){{{from, NULL}, {from, NULL}, {1, NULL}}, exact};
    return OUTLAY_OK;
}

/* From one jump to the next. Where many roofs jump, the rest of the way is cut. */
static enum outlay_status ranges_find(struct draw_zones *z)
{
    double from = -1;
    enum outlay_status status = OUTLAY_OK;

    while (from < 1 && status == OUTLAY_OK) {
        struct jump first = {1, 1}, jump;

        if (z->range_count + (2 << HALVINGS) > RANGES_MAX)
            return range_cut(z, from);
        for (size_t i = 0; i < z->building->roof_count; i++)
            if (jump_find(z, i, &jump) && jump.below > from && jump.below < first.below)
                first = jump;
        status = range_start(z, from, first.below);
        from = first.above;
    }
    return status;
}

/* ---- The whole ------------------------------------------------------------------- */

enum outlay_status draw_zones_make(const struct building *building,
                                   const struct zoning_settings *settings,
                                   const double *reach, struct geo_ctx *ctx,
                                   struct arena *arena, struct draw_zones **out,
                                   struct outlay_error *err)
{
    struct draw_zones *z = *out = arena_array(arena, 1, sizeof *z);
    bool moves = false;

    if (!z)
        return no_memory(err);
    z->building = building;
    z->settings = settings;
    z->reach = reach;
    z->ctx = ctx;
    z->arena = arena;
    z->err = err;
    z->cuts = arena_new();
    z->moved = arena_array(arena, building->roof_count, sizeof *z->moved);
    z->errors = arena_array(arena, building->roof_count, sizeof *z->errors);
    z->cut = arena_array(arena, building->roof_count, sizeof *z->cut);
    z->wanted = arena_array(arena, building->roof_count, sizeof *z->wanted);
    if (!z->cuts || !z->moved || !z->errors || !z->cut || !z->wanted)
        return no_memory(err);
    for (size_t i = 0; i < building->roof_count; i++)
        moves = moves || reach[i] > 0;
    return moves ? ranges_find(z) : OUTLAY_OK;
}

void draw_zones_close(struct draw_zones *zones)
{
    if (zones)
        arena_free(zones->cuts);
}

double draw_zones_error(const struct draw_zones *zones, size_t roof)
{
    return zones->errors[roof];
}

static const struct range *range_of(const struct draw_zones *z, double at)
{
    size_t i = 0;

    while (i + 1 < z->range_count && at > z->ranges[i].nodes[2].at)
        i++;
    return &z->ranges[i];
}

/* Role by role; a zone of less than a hundredth of a m2 is none. */
static void zones_fill(struct roof *roof, const double areas[ZONE_ROLES],
                       const struct zone_figure *figure)
{
    roof->zone_count = 0;
    for (int role = 0; role < ZONE_ROLES; role++) {
        struct zone *zone = &roof->zones[roof->zone_count];

        if (!(areas[role] >= 0.01))
            continue;
        *zone = (struct zone){.role = (enum zone_role)role,
                              .label = figure->labels[role] ? figure->labels[role] : "",
                              .area = areas[role]};
        roof->zone_count++;
    }
}

static void level_fill(struct roof *roof, const struct zone_figure *figure, double height)
{
    roof->height += height - roof->level.height;
    roof->level.height = height;
    roof->level.tall = figure->tall;
    roof->level.perimeter_depth = figure->perimeter_depth;
    roof->level.field_depth = figure->field_depth;
    roof->level.leg_length = figure->leg_length;
    roof->level.leg_depth = figure->leg_depth;
}

/* NULL: the roof is at its given height. */
static const struct range *range_at(const struct draw_zones *z, size_t roof, double moved)
{
    return moved == 0 ? NULL : range_of(z, moved / z->reach[roof]);
}

/* Cuts the roofs that have to be. */
static enum outlay_status cut_if_needed(struct draw_zones *z, const double *moved)
{
    bool any = false;

    for (size_t i = 0; i < z->building->roof_count; i++) {
        const struct range *range = range_at(z, i, moved[i]);

        z->wanted[i] = range && z->building->roofs[i].zoned && !by_parabola(z, range, i);
        any = any || z->wanted[i];
    }
    return any ? cut(z, moved, z->wanted, z->cut) : OUTLAY_OK;
}

enum outlay_status draw_zones_at(struct draw_zones *zones, const double *moved,
                                 struct roof *copies, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    zones->err = err;
    status = cut_if_needed(zones, moved);
    for (size_t i = 0; i < zones->building->roof_count && status == OUTLAY_OK; i++) {
        const struct range *range = range_at(zones, i, moved[i]);
        struct zone_figure figure;
        double areas[ZONE_ROLES];

        if (!copies[i].zoned)
            continue;
        areas_of(&zones->building->roofs[i], areas);
        for (int role = 0; range && role < ZONE_ROLES; role++)
            areas[role] = zones->wanted[i]
                              ? zones->cut[i][role]
                              : parabola(range, i, role, moved[i] / zones->reach[i]);
        figure = figure_at(zones, i, moved[i]);
        zones_fill(&copies[i], areas, &figure);
        level_fill(&copies[i], &figure, height_at(zones, i, moved[i]));
    }
    return status;
}
