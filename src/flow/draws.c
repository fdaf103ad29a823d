#include "flow/draws.h"

#include <math.h>

#include "flow/draw_once.h"
#include "options/selection.h"
#include "spread/drivers.h"
#include "spread/normal.h"
#include "spread/sums.h"

/* Where an input stands while it is moved alone: at its P10, then at its P90. */
static const double low_end = 0.1, high_end = 0.9;

/* What is kept of each draw of a roof, number by number. */
enum {
    KEPT_HEIGHT,
    KEPT_AREA,
    KEPT_FORCE,
    KEPT_FASTENERS,
    KEPT_COST,
    KEPT_ZONE_AREA,
    KEPT_UPLIFT = KEPT_ZONE_AREA + ZONE_ROLES,
    KEPT_ZONE_FASTENERS = KEPT_UPLIFT + ZONE_ROLES,
    KEPT = KEPT_ZONE_FASTENERS + ZONE_ROLES
};

/* One roof while its building is drawn. */
struct record {
    struct roof_spread *spread;
    uint32_t *scores;
    double *kept[KEPT];           /* of each draw */
    double *driven[DRIVEN_KINDS]; /* as drawn: what is kept is sorted in the end */
    double *other[DRIVEN_KINDS], *mixed[DRIVEN_KINDS]; /* for indices */
    size_t present[ZONE_ROLES], met[ZONE_ROLES], known[ZONE_ROLES];
};

struct draws {
    struct draw_building drawing;
    struct building *building;
    struct arena *arena; /* owned; gone with the building */
    size_t count;
    bool indices;
    struct record *records;
    struct drawn *drawn;
    struct drawn *low; /* while an input is moved alone: at its lower end */
    struct outlay_error *err;
};

static enum outlay_status no_memory(const struct draws *d)
{
    return outlay_fail(d->err, OUTLAY_E_MEMORY, "drawing a building's inputs");
}

/* ---- Making ready ---------------------------------------------------------------- */

static double *numbers(struct draws *d, bool *made)
{
    double *out = arena_room(d->arena, d->count, sizeof *out);

    *made = *made && out;
    return out;
}

static bool record_make(struct draws *d, size_t i)
{
    struct record *record = &d->records[i];
    bool made = true;

    record->spread = arena_array(d->building->arena, 1, sizeof *record->spread);
    record->scores = arena_array(d->building->arena, d->count, sizeof *record->scores);
    for (int what = 0; what < KEPT; what++)
        record->kept[what] = numbers(d, &made);
    for (int kind = 0; kind < DRIVEN_KINDS && d->indices; kind++) {
        record->driven[kind] = numbers(d, &made);
        record->other[kind] = numbers(d, &made);
        record->mixed[kind] = numbers(d, &made);
    }
    return made && record->spread && record->scores;
}

static enum outlay_status records_make(struct draws *d)
{
    d->records = arena_array(d->arena, d->building->roof_count, sizeof *d->records);
    d->drawn = arena_array(d->arena, d->building->roof_count, sizeof *d->drawn);
    d->low = arena_array(d->arena, d->building->roof_count, sizeof *d->low);
    if (!d->records || !d->drawn || !d->low)
        return no_memory(d);
    for (size_t i = 0; i < d->building->roof_count; i++)
        if (d->building->roofs[i].zoned && !record_make(d, i))
            return no_memory(d);
    return OUTLAY_OK;
}

/* ---- Draws ----------------------------------------------------------------------- */

static void keep_zones(struct record *record, const struct drawn *drawn, size_t draw)
{
    for (int role = 0; role < ZONE_ROLES; role++) {
        enum zone_state state = drawn->states[role];
        bool there = drawn->zone_area[role] > 0;

        record->kept[KEPT_ZONE_AREA + role][draw] = drawn->zone_area[role];
        record->kept[KEPT_UPLIFT + role][draw] = drawn->uplift[role];
        record->kept[KEPT_ZONE_FASTENERS + role][draw] = drawn->zone_fasteners[role];
        record->present[role] += there;
        record->known[role] += there && state != STATE_UNKNOWN;
        record->met[role] += there && (state == STATE_MET || state == STATE_MET_ASSUMED);
    }
}

static double driven(const struct drawn *drawn, int kind)
{
    if (kind == DRIVEN_SCORE)
        return drawn->score > 0 ? (drawn->score - 1) / 1000.0 : (double)NAN;
    return kind == DRIVEN_COST ? drawn->cost : drawn->force;
}

static void keep(struct draws *d, size_t i, size_t draw)
{
    const struct drawn *drawn = &d->drawn[i];
    struct record *record = &d->records[i];

    record->kept[KEPT_HEIGHT][draw] = drawn->height;
    record->kept[KEPT_AREA][draw] = drawn->area;
    record->kept[KEPT_FORCE][draw] = drawn->force;
    record->kept[KEPT_FASTENERS][draw] = drawn->fasteners;
    record->kept[KEPT_COST][draw] = drawn->cost;
    record->scores[draw] = drawn->score;
    keep_zones(record, drawn, draw);
    for (int kind = 0; d->indices && kind < DRIVEN_KINDS; kind++)
        record->driven[kind][draw] = driven(drawn, kind);
}

static double known_or_0(double value)
{
    return isnan(value) ? 0 : value;
}

static void add_to_sums(struct draws *d, size_t i, size_t draw)
{
    struct spread_sums *sums = d->building->sums;
    const struct drawn *drawn = &d->drawn[i];

    if (!sums)
        return;
    for (int role = 0; role < ZONE_ROLES; role++)
        sums->values[role][draw] += drawn->zone_area[role];
    sums->values[SUM_AREA][draw] += drawn->area;
    sums->values[SUM_FORCE][draw] += known_or_0(drawn->force);
    sums->values[SUM_FASTENERS][draw] += known_or_0(drawn->fasteners);
    sums->values[SUM_COST][draw] += known_or_0(drawn->cost);
}

static enum outlay_status draw_all(struct draws *d)
{
    for (size_t draw = 0; draw < d->count; draw++) {
        const struct draw_source source = {.draw = draw, .input = -1, .alone = NAN};
        enum outlay_status status = draw_once(&d->drawing, &source, d->drawn, d->err);

        if (status != OUTLAY_OK)
            return status;
        for (size_t i = 0; i < d->building->roof_count; i++)
            if (d->building->roofs[i].zoned) {
                keep(d, i, draw);
                add_to_sums(d, i, draw);
            }
    }
    return OUTLAY_OK;
}

/* What the roofs come to as they are given, and how many tell it. */
static void add_plain(struct draws *d, size_t i)
{
    const struct drawn *drawn = &d->drawing.plain[i];
    struct spread_sums *sums = d->building->sums;
    double values[SPREAD_SUMS];

    for (int role = 0; role < ZONE_ROLES; role++)
        values[role] = drawn->zone_area[role];
    values[SUM_AREA] = drawn->area;
    values[SUM_FORCE] = drawn->force;
    values[SUM_FASTENERS] = drawn->fasteners;
    values[SUM_COST] = drawn->cost;
    for (int what = 0; what < SPREAD_SUMS; what++) {
        sums->plain[what] += known_or_0(values[what]);
        sums->roofs[what] += !isnan(values[what]);
    }
}

/* ---- What drives them ------------------------------------------------------------ */

static bool acts(const struct draws *d, int input)
{
    for (size_t i = 0; i < d->building->roof_count; i++)
        if (d->building->roofs[i].zoned && d->drawing.of[i][input] > 0)
            return true;
    return false;
}

/* From P10 to P90 of a normal distribution with the variance of three values, of which
 * the outer ones have that chance each: a step that nine draws in ten don't take has no
 * P10 of its own that tells. */
static double chance_moved(double low, double middle, double high, double chance)
{
    double mean = middle + chance * (low - middle) + chance * (high - middle);
    double variance = chance * (low - mean) * (low - mean) +
                      chance * (high - mean) * (high - mean) +
                      (1 - 2 * chance) * (middle - mean) * (middle - mean);

    return copysign(NORMAL_P10_TO_P90 * sqrt(variance), high - low);
}

/* What rounding alone moves is no cause. */
static double moved_of(const struct draws *d, size_t i, int input, int kind)
{
    double low = driven(&d->low[i], kind), high = driven(&d->drawn[i], kind);
    double middle = driven(&d->drawing.plain[i], kind);
    double moved = spread_inputs[input].form == SPREAD_CHANCE
                       ? chance_moved(low, middle, high, d->drawing.of[i][input])
                       : high - low;

    return fabs(moved) <= 1e-9 * fabs(middle) ? 0 : moved;
}

/* A step of the exposure goes from one end to the other, however unlikely. */
static enum outlay_status move_alone(struct draws *d, int input)
{
    bool steps = spread_inputs[input].form == SPREAD_CHANCE;
    const struct draw_source low = {.input = input, .alone = steps ? 0 : low_end};
    const struct draw_source high = {.input = input, .alone = steps ? 1 : high_end};
    enum outlay_status status = draw_once(&d->drawing, &low, d->low, d->err);

    if (status == OUTLAY_OK)
        status = draw_once(&d->drawing, &high, d->drawn, d->err);
    for (size_t i = 0; i < d->building->roof_count && status == OUTLAY_OK; i++)
        for (int kind = 0; kind < DRIVEN_KINDS && d->building->roofs[i].zoned; kind++)
            d->records[i].spread->drivers[kind][input].moved =
                moved_of(d, i, input, kind);
    return status;
}

/* Roofs of a building share what moves all of it. */
static void add_moved(struct draws *d, int input)
{
    struct spread_sums *sums = d->building->sums;

    for (int kind = 0; kind < DRIVEN_KINDS; kind++) {
        double together = 0;

        for (size_t i = 0; i < d->building->roof_count; i++) {
            double moved = d->building->roofs[i].zoned
                               ? d->records[i].spread->drivers[kind][input].moved
                               : 0;

            if (spread_inputs[input].scope == SPREAD_ROOF)
                spread_sums_moved(sums, (enum driven)kind, (enum spread_input)input,
                                  known_or_0(moved));
            else
                together += known_or_0(moved);
        }
        spread_sums_moved(sums, (enum driven)kind, (enum spread_input)input, together);
    }
}

static enum outlay_status one_at_a_time(struct draws *d)
{
    for (int input = 0; input < SPREAD_INPUTS; input++) {
        enum outlay_status status = OUTLAY_OK;

        if (!acts(d, input))
            continue;
        status = move_alone(d, input);
        if (status != OUTLAY_OK)
            return status;
        if (!d->building->sums)
            continue;
        d->building->sums->acts[input] = true;
        add_moved(d, input);
    }
    return OUTLAY_OK;
}

static void share_out(struct draws *d, size_t i)
{
    for (int kind = 0; kind < DRIVEN_KINDS; kind++) {
        struct driver *drivers = d->records[i].spread->drivers[kind];
        double moved[SPREAD_INPUTS], shares[SPREAD_INPUTS];

        for (int input = 0; input < SPREAD_INPUTS; input++)
            moved[input] = known_or_0(drivers[input].moved);
        shares_one_at_a_time(moved, SPREAD_INPUTS, shares);
        for (int input = 0; input < SPREAD_INPUTS; input++) {
            drivers[input].share =
                d->drawing.of[i][input] > 0 ? shares[input] : (double)NAN;
            drivers[input].error = NAN;
        }
    }
}

/* ---- Indices --------------------------------------------------------------------- */

/* A set of draws of its own, or the first with one input from that.
 * @param input  -1: all of them */
static enum outlay_status draw_other(struct draws *d, int input)
{
    struct spread_sums *sums = d->building->sums;

    for (size_t draw = 0; draw < d->count; draw++) {
        const struct draw_source source = {.draw = input < 0 ? d->count + draw : draw,
                                           .input = input,
                                           .other = d->count + draw,
                                           .alone = NAN};
        enum outlay_status status = draw_once(&d->drawing, &source, d->drawn, d->err);

        if (status != OUTLAY_OK)
            return status;
        for (size_t i = 0; i < d->building->roof_count; i++)
            for (int kind = 0; kind < DRIVEN_KINDS && d->building->roofs[i].zoned;
                 kind++) {
                struct record *record = &d->records[i];
                double value = driven(&d->drawn[i], kind);

                (input < 0 ? record->other : record->mixed)[kind][draw] = value;
                if (sums)
                    (input < 0 ? sums->other[kind] : sums->mixed[kind][input])[draw] +=
                        known_or_0(value);
            }
    }
    return OUTLAY_OK;
}

static void indices_note(struct draws *d, int input)
{
    for (size_t i = 0; i < d->building->roof_count; i++)
        for (int kind = 0; kind < DRIVEN_KINDS && d->building->roofs[i].zoned; kind++) {
            const struct record *record = &d->records[i];
            struct driver *driver = &record->spread->drivers[kind][input];
            struct first_order index = first_order_index(
                record->driven[kind], record->other[kind], record->mixed[kind], d->count);

            if (!(d->drawing.of[i][input] > 0))
                continue;
            driver->share = index.index;
            driver->error = index.error;
        }
}

/* An input without a spread in this building leaves its sums as they are drawn. */
static void add_unmixed(struct draws *d, int input)
{
    struct spread_sums *sums = d->building->sums;

    for (size_t i = 0; i < d->building->roof_count && sums; i++)
        for (int kind = 0; kind < DRIVEN_KINDS && d->building->roofs[i].zoned; kind++)
            for (size_t draw = 0; draw < d->count; draw++)
                sums->mixed[kind][input][draw] +=
                    known_or_0(d->records[i].driven[kind][draw]);
}

static enum outlay_status find_indices(struct draws *d)
{
    enum outlay_status status = draw_other(d, -1);

    for (int input = 0; input < SPREAD_INPUTS && status == OUTLAY_OK; input++) {
        if (!acts(d, input)) {
            add_unmixed(d, input);
            continue;
        }
        status = draw_other(d, input);
        if (status == OUTLAY_OK)
            indices_note(d, input);
    }
    return status;
}

/* ---- What it comes to ------------------------------------------------------------ */

static void settle(struct draws *d, size_t i)
{
    struct record *record = &d->records[i];
    struct roof_spread *out = record->spread;
    struct spread_range ranges[KEPT];

    for (int what = 0; what < KEPT; what++)
        ranges[what] = spread_range_of(record->kept[what], d->count);
    for (int input = 0; input < SPREAD_INPUTS; input++)
        out->of[input] = d->drawing.of[i][input];
    out->draws = d->count;
    out->height = ranges[KEPT_HEIGHT];
    out->area = ranges[KEPT_AREA];
    out->force = ranges[KEPT_FORCE];
    out->fasteners = ranges[KEPT_FASTENERS];
    out->cost = ranges[KEPT_COST];
    for (int role = 0; role < ZONE_ROLES; role++) {
        out->zone_area[role] = ranges[KEPT_ZONE_AREA + role];
        out->uplift[role] = ranges[KEPT_UPLIFT + role];
        out->zone_fasteners[role] = ranges[KEPT_ZONE_FASTENERS + role];
        out->plain_fasteners[role] = d->drawing.plain[i].zone_fasteners[role];
        out->met[role] =
            record->present[role] > 0 && record->known[role] == record->present[role]
                ? (double)record->met[role] / (double)record->present[role]
                : (double)NAN;
    }
    out->area_error = draw_zones_error(d->drawing.zones, i);
    out->scores = record->scores;
    d->building->roofs[i].spread = out;
}

static bool any_zoned(const struct building *building)
{
    for (size_t i = 0; i < building->roof_count; i++)
        if (building->roofs[i].zoned)
            return true;
    return false;
}

enum outlay_status draws_run(struct building *building, const struct settings *settings,
                             struct geo_ctx *ctx, struct outlay_error *err)
{
    struct draws d = {.building = building,
                      .count = (size_t)settings->spread.draws,
                      .indices = settings->spread.draws >= SPREAD_INDEX_DRAWS,
                      .err = err};
    enum outlay_status status = OUTLAY_OK;

    if (d.count == 0 || !any_zoned(building) || !selection_meets(settings, building))
        return OUTLAY_OK;
    d.arena = arena_new();
    if (!d.arena)
        return no_memory(&d);
    status = draw_building_open(&d.drawing, building, settings, ctx, d.arena, err);
    if (status == OUTLAY_OK)
        status = records_make(&d);
    if (status == OUTLAY_OK)
        status = draw_all(&d);
    if (status == OUTLAY_OK)
        status = one_at_a_time(&d);
    for (size_t i = 0; i < building->roof_count && status == OUTLAY_OK; i++)
        if (building->roofs[i].zoned)
            share_out(&d, i);
    if (status == OUTLAY_OK && d.indices)
        status = find_indices(&d);
    for (size_t i = 0; i < building->roof_count && status == OUTLAY_OK; i++)
        if (building->roofs[i].zoned) {
            settle(&d, i);
            if (building->sums)
                add_plain(&d, i);
        }
    draw_building_close(&d.drawing);
    arena_free(d.arena);
    return status;
}
