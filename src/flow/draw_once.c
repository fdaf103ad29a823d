#include "flow/draw_once.h"

#include <math.h>

#include "flow/draw_spreads.h"
#include "portfolio/portfolio.h"
#include "spread/draw.h"
#include "spread/normal.h"

static enum outlay_status no_memory(struct outlay_error *err)
{
    return outlay_fail(err, OUTLAY_E_MEMORY, "drawing a roof's inputs");
}

/* ---- Making ready ---------------------------------------------------------------- */

/* Sections of a level move together, as far as any of them may. */
static void share_levels(struct draw_building *d)
{
    size_t count = d->building->roof_count;

    for (size_t i = 0; i < count; i++)
        for (size_t k = 0; k < count; k++) {
            const struct roof *a = &d->building->roofs[i], *b = &d->building->roofs[k];

            if (a->zoned && b->zoned && a->level.index == b->level.index)
                d->reach[i] = fmax(d->reach[i], draw_reach(b, d->of[k]));
        }
}

/* The name of a scope: a roof that is a building of its own goes by its id. */
static const char *scope_of(const struct building *building, size_t roof, int input)
{
    const char *id = building->roofs[roof].id;

    if (spread_inputs[input].scope == SPREAD_BUILDING && building->name)
        return building->name;
    return id;
}

static void prepare_roof(struct draw_building *d, size_t i)
{
    const struct roof *roof = &d->building->roofs[i];
    const struct settings *settings = d->settings;

    draw_spreads_of(roof, &settings->spread.values, d->of[i]);
    for (int input = 0; input < SPREAD_INPUTS; input++)
        d->keys[i][input] =
            draw_key((uint64_t)settings->spread.seed, (enum spread_input)input,
                     scope_of(d->building, i, input));
    if (roof->costs && roof->costs[0].known)
        d->shares[i] = price_shares(roof, &settings->price);
}

enum outlay_status draw_building_open(struct draw_building *out,
                                      const struct building *building,
                                      const struct settings *settings,
                                      struct geo_ctx *ctx, struct arena *arena,
                                      struct outlay_error *err)
{
    const struct draw_source as_given = {.input = -1, .alone = 0.5};
    size_t count = building->roof_count;
    enum outlay_status status = OUTLAY_OK;

    *out = (struct draw_building){.building = building,
                                  .settings = settings,
                                  .uplift = settings->uplift,
                                  .attach = settings->attach,
                                  .copy = *building};
    out->attach.methods = 0;
    out->scratch = arena_new();
    out->of = arena_array(arena, count, sizeof *out->of);
    out->keys = arena_array(arena, count, sizeof *out->keys);
    out->reach = arena_array(arena, count, sizeof *out->reach);
    out->moved = arena_array(arena, count, sizeof *out->moved);
    out->shares = arena_array(arena, count, sizeof *out->shares);
    out->copy.roofs = arena_array(arena, count, sizeof *out->copy.roofs);
    out->plain = arena_array(arena, count, sizeof *out->plain);
    out->copy.arena = out->scratch;
    if (!out->plain || !out->scratch || !out->of || !out->keys || !out->reach ||
        !out->moved || !out->shares || !out->copy.roofs)
        return no_memory(err);
    for (size_t i = 0; i < count; i++)
        prepare_roof(out, i);
    share_levels(out);
    status = draw_zones_make(building, &settings->zoning, out->reach, ctx, arena,
                             &out->zones, err);
    return status == OUTLAY_OK ? draw_once(out, &as_given, out->plain, err) : status;
}

void draw_building_close(struct draw_building *drawing)
{
    draw_zones_close(drawing->zones);
    arena_free(drawing->scratch);
}

/* ---- Deviates -------------------------------------------------------------------- */

static double probability(const struct draw_building *d, const struct draw_source *source,
                          size_t roof, int input)
{
    if (!isnan(source->alone))
        return input == source->input ? source->alone : 0.5;
    return draw_uniform(d->keys[roof][input],
                        input == source->input ? source->other : source->draw);
}

/* How far an input is off; exactly 0 without a spread. */
static double off_by(const struct draw_building *d, const struct draw_source *source,
                     size_t roof, enum spread_input input)
{
    double spread = d->of[roof][input];

    if (!(spread > 0))
        return 0;
    return spread * normal_cut_quantile(probability(d, source, roof, (int)input));
}

static int exposure_step(const struct draw_building *d, const struct draw_source *source,
                         size_t roof)
{
    double chance = d->of[roof][SPREAD_EXPOSURE];
    double p = chance > 0 ? probability(d, source, roof, SPREAD_EXPOSURE) : 0.5;

    return p < chance ? -1 : p > 1 - chance ? 1 : 0;
}

/* A level moves as the one of its roofs that moves farthest, and never beyond reach. */
static void move_heights(struct draw_building *d, const struct draw_source *source)
{
    for (size_t i = 0; i < d->building->roof_count; i++)
        d->moved[i] = 0;
    for (size_t i = 0; i < d->building->roof_count; i++) {
        const struct roof *roof = &d->building->roofs[i];
        double moved = off_by(d, source, i, SPREAD_HEIGHT), storeys;

        storeys = off_by(d, source, i, SPREAD_STOREY_HEIGHT);
        if (storeys != 0)
            moved += roof->given.storeys * storeys;
        for (size_t k = 0; k < d->building->roof_count && roof->zoned; k++)
            if (d->building->roofs[k].zoned &&
                d->building->roofs[k].level.index == roof->level.index &&
                fabs(moved) > fabs(d->moved[k]))
                d->moved[k] = moved;
    }
    for (size_t i = 0; i < d->building->roof_count; i++)
        d->moved[i] = fmin(fmax(d->moved[i], -d->reach[i]), d->reach[i]);
}

/* ---- One roof -------------------------------------------------------------------- */

static void move_inputs(struct draw_building *d, const struct draw_source *source,
                        size_t i)
{
    const struct roof *plain = &d->building->roofs[i];
    struct roof *roof = &d->copy.roofs[i];
    int exposure = (int)plain->velocity.exposure + exposure_step(d, source, i);

    *roof = *plain;
    roof->problems = NULL;
    roof->problems_end = NULL;
    if (plain->velocity.known) {
        roof->given.wind_speed =
            fmax(plain->velocity.speed + off_by(d, source, i, SPREAD_WIND_SPEED), 0);
        roof->given.exposure = exposure < EXPOSURE_B   ? EXPOSURE_B
                               : exposure > EXPOSURE_D ? EXPOSURE_D
                                                       : (enum exposure)exposure;
    }
    roof->given.condition += off_by(d, source, i, SPREAD_CONDITION);
    roof->given.condition = isnan(roof->given.condition)
                                ? (double)NAN
                                : fmin(fmax(roof->given.condition, 0), 100);
}

/* The innermost zone takes what the outline gains or loses; where it is used up, the next
 * one outward loses the rest. */
static void move_trace(struct draw_building *d, const struct draw_source *source,
                       size_t i)
{
    struct roof *roof = &d->copy.roofs[i];
    double left = roof->edge_length * off_by(d, source, i, SPREAD_TRACE);

    if (!roof->zoned)
        return;
    for (size_t k = roof->zone_count; k-- > 0 && left != 0;) {
        double moved = fmax(left, -roof->zones[k].area);

        roof->zones[k].area += moved;
        roof->area += moved;
        left -= moved;
    }
}

static double sum_of_areas(const struct roof *roof)
{
    double sum = 0;

    for (size_t i = 0; i < roof->zone_count; i++)
        sum += roof->zones[i].area;
    return sum;
}

static double sum_of_fasteners(const struct roof *roof)
{
    double sum = 0;

    for (size_t i = 0; i < roof->zone_count; i++)
        sum += roof->zones[i].attachment.fasteners;
    return sum;
}

static double cost_of(const struct draw_building *d, const struct draw_source *source,
                      size_t i, const struct drawn *drawn)
{
    const struct roof *plain = &d->building->roofs[i];
    const struct drawn *as_given = &d->plain[i];
    struct cost_shares shares = d->shares[i];
    double grown = 1;

    if (!plain->costs || !plain->costs[0].known)
        return NAN;
    if (plain->costs[0].basis == PRICE_BUILT_UP && as_given->area > 0) {
        grown +=
            (1 - shares.fasteners - shares.fixed) * (drawn->area / as_given->area - 1);
        if (as_given->fasteners > 0 && isfinite(drawn->fasteners))
            grown += shares.fasteners * (drawn->fasteners / as_given->fasteners - 1);
    }
    return (double)plain->costs[0].total * grown *
           fmax(1 + off_by(d, source, i, SPREAD_PRICE), 0);
}

static uint32_t score_of(const struct draw_building *d, const struct draw_source *source,
                         size_t i)
{
    struct portfolio_roof record = portfolio_record(&d->copy.roofs[i]);
    struct rank_settings settings = d->settings->rank;
    struct ranked ranked;

    settings.service_life =
        fmax(settings.service_life + off_by(d, source, i, SPREAD_SERVICE_LIFE), 1);
    ranked = ranked_of(&record, &settings);
    if (ranked.group != RANK_RATED && ranked.group != RANK_EXPOSED)
        return 0;
    return ranked.score == UINT32_MAX ? ranked.score : ranked.score + 1;
}

static struct drawn drawn_of(const struct draw_building *d,
                             const struct draw_source *source, size_t i)
{
    const struct roof *roof = &d->copy.roofs[i];
    struct drawn drawn = {.height = roof->level.height,
                          .area = sum_of_areas(roof),
                          .fasteners = sum_of_fasteners(roof)};

    for (int role = 0; role < ZONE_ROLES; role++)
        drawn.uplift[role] = NAN;
    for (size_t k = 0; k < roof->zone_count; k++) {
        const struct zone *zone = &roof->zones[k];

        drawn.zone_area[zone->role] = zone->area;
        drawn.zone_fasteners[zone->role] = zone->attachment.fasteners;
        drawn.states[zone->role] = zone->attachment.state;
        if (zone->uplift.known)
            drawn.uplift[zone->role] = zone->uplift.uplift;
        drawn.force +=
            zone->area * (zone->uplift.known ? zone->uplift.uplift : (double)NAN);
    }
    drawn.cost = cost_of(d, source, i, &drawn);
    drawn.score = score_of(d, source, i);
    return drawn;
}

enum outlay_status draw_once(struct draw_building *drawing,
                             const struct draw_source *source, struct drawn *out,
                             struct outlay_error *err)
{
    struct draw_building *d = drawing;
    enum outlay_status status = OUTLAY_OK;

    arena_reset(d->scratch);
    move_heights(d, source);
    for (size_t i = 0; i < d->building->roof_count; i++)
        move_inputs(d, source, i);
    status = draw_zones_at(d->zones, d->moved, d->copy.roofs, err);
    for (size_t i = 0; i < d->building->roof_count && status == OUTLAY_OK; i++)
        move_trace(d, source, i);
    if (status == OUTLAY_OK) {
        uplift_run(&d->copy, &d->uplift);
        status = attach_run(&d->copy, &d->attach, err);
    }
    for (size_t i = 0; i < d->building->roof_count && status == OUTLAY_OK; i++)
        if (d->copy.roofs[i].zoned)
            out[i] = drawn_of(d, source, i);
    return status;
}
