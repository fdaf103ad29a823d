#include "write/spread_table.h"

#include <math.h>

#include "base/plural.h"
#include "roof/cost.h"
#include "spread/inputs.h"

/* What it is, its P10, its P90. */
#define RANGE_COLUMNS(name, measure, decimals)         \
    NUMBER_COLUMN(name, measure, decimals),            \
        NUMBER_COLUMN(name "_p10", measure, decimals), \
        NUMBER_COLUMN(name "_p90", measure, decimals)

static const struct grid_column spread_columns[] = {
    TEXT_COLUMN("roof_id"),
    TEXT_COLUMN("name"),
    TEXT_COLUMN("building"),
    TEXT_COLUMN("zone"),
    TEXT_COLUMN("state"),
    NUMBER_COLUMN("share_met", MEASURE_NONE, 3),
    RANGE_COLUMNS("area", MEASURE_AREA, 1),
    RANGE_COLUMNS("uplift", MEASURE_PRESSURE, 1),
    RANGE_COLUMNS("fasteners", MEASURE_NONE, 0),
    RANGE_COLUMNS("force", MEASURE_FORCE, 0),
    MONEY_COLUMN("total"),
    MONEY_COLUMN("total_p10"),
    MONEY_COLUMN("total_p90"),
    RANGE_COLUMNS("height", MEASURE_LENGTH, 1),
    NUMBER_COLUMN("area_error_percent", MEASURE_NONE, 3),
};

const struct grid_sheet spread_sheet = {"spread", spread_columns,
                                        sizeof spread_columns / sizeof spread_columns[0]};

static const struct grid_column driver_columns[] = {
    TEXT_COLUMN("roof_id"),
    TEXT_COLUMN("name"),
    TEXT_COLUMN("building"),
    TEXT_COLUMN("driven"),
    TEXT_COLUMN("input"),
    TEXT_COLUMN("spread"),
    QUANTITY_COLUMN("moved"),
    TEXT_COLUMN("unit"),
    NUMBER_COLUMN("share_percent", MEASURE_NONE, 1),
    NUMBER_COLUMN("error_percent", MEASURE_NONE, 1),
    TEXT_COLUMN("check"),
};

const struct grid_sheet drivers_sheet = {
    "drivers", driver_columns, sizeof driver_columns / sizeof driver_columns[0]};

static const char spread_words[] =
    " P10 and P90 of draws of the inputs, beside what the inputs as given come to; "
    "fasteners by area. share_met is, of the draws in which there is such a zone, the "
    "share in which it is met: a spread of inputs, not a reliability.";

static const char drivers_words[] =
    " How much of the spread each input causes. moved: from the input's P10 to its P90, "
    "all others in the middle, of an exposure 2.56 standard deviations; share: of the "
    "variance, by that alone, or with error_percent Sobol's first-order index.";

static const char all_roofs[] = "all roofs";

/* ---- Words ---- */

const char *spread_check(enum spread_input input)
{
    static const char *const checks[SPREAD_INPUTS] = {
        [SPREAD_HEIGHT] = "measure the height",
        [SPREAD_TRACE] = "measure the outline",
        [SPREAD_WIND_SPEED] = "look the wind speed up for the site",
        [SPREAD_EXPOSURE] = "decide the exposure on site",
        [SPREAD_STOREY_HEIGHT] = "measure the height",
        [SPREAD_PRICE] = "get quotes",
        [SPREAD_CONDITION] = "inspect the roof",
        [SPREAD_SERVICE_LIFE] = "inspect the roof",
    };

    return checks[input];
}

void spread_print(struct text *out, enum spread_input input, double spread,
                  const struct unit_system *units)
{
    const struct spread_input_row *row = &spread_inputs[input];
    const struct unit *unit =
        row->quantity == QUANTITY_SPEED ? &units->speed : &units->length;

    if (row->form == SPREAD_UNIT) {
        text_number(out, spread / unit->factor, 2);
        text_printf(out, " %s", unit->label);
    } else if (row->form == SPREAD_SHARE) {
        text_number(out, 100 * spread, 2);
        text_puts(out, " %");
    } else {
        text_number(out, spread, 3);
    }
}

/* ---- spread ---- */

static void put_range(struct grid *grid, double plain, struct spread_range range)
{
    grid_number(grid, plain);
    grid_number(grid, range.low);
    grid_number(grid, range.high);
}

static void put_nothing(struct grid *grid)
{
    put_range(grid, NAN, (struct spread_range){NAN, NAN});
}

static void put_names(struct grid *grid, const struct roof *roof)
{
    grid_text(grid, roof ? roof->id : NULL);
    grid_text(grid, roof ? roof->name : all_roofs);
    grid_text(grid, roof ? roof->building : NULL);
}

/* The zone of the role; NULL: only some draws have one. */
static const struct zone *zone_of(const struct roof *roof, int role)
{
    for (size_t i = 0; i < roof->zone_count; i++)
        if (roof->zones[i].role == (enum zone_role)role)
            return &roof->zones[i];
    return NULL;
}

static void put_zone(struct grid *grid, const struct roof *roof, int role)
{
    const struct roof_spread *spread = roof->spread;
    const struct zone *zone = zone_of(roof, role);

    if (!zone && !(spread->zone_area[role].high > 0))
        return;
    put_names(grid, roof);
    grid_text(grid, zone_role_name(role));
    grid_text(grid, zone ? zone_state_name((int)zone->attachment.state) : NULL);
    grid_number(grid, spread->met[role]);
    put_range(grid, zone ? zone->area : 0, spread->zone_area[role]);
    put_range(grid, zone && zone->uplift.known ? zone->uplift.uplift : (double)NAN,
              spread->uplift[role]);
    put_range(grid, spread->plain_fasteners[role], spread->zone_fasteners[role]);
    for (int i = 0; i < 3; i++) /* force, total, height are the roof's */
        put_nothing(grid);
    grid_number(grid, NAN);
}

/* Sums over the zones of the roof as it is. */
struct sums {
    double area, force, fasteners;
};

static struct sums sums_of(const struct roof *roof)
{
    struct sums sums = {0, 0, 0};

    for (size_t i = 0; i < roof->zone_count; i++) {
        const struct zone *zone = &roof->zones[i];

        sums.area += zone->area;
        sums.force +=
            zone->area * (zone->uplift.known ? zone->uplift.uplift : (double)NAN);
        sums.fasteners += roof->spread->plain_fasteners[zone->role];
    }
    return sums;
}

static void put_roof(struct grid *grid, const struct roof *roof)
{
    const struct roof_spread *spread = roof->spread;
    struct sums sums = sums_of(roof);
    bool priced = roof->costs && roof->costs[0].known;

    put_names(grid, roof);
    grid_text(grid, "all");
    grid_text(grid, zone_state_name((int)roof->state));
    grid_number(grid, NAN);
    put_range(grid, sums.area, spread->area);
    put_nothing(grid);
    put_range(grid, sums.fasteners, spread->fasteners);
    put_range(grid, sums.force, spread->force);
    put_range(grid, priced ? (double)roof->costs[0].total : (double)NAN, spread->cost);
    put_range(grid, roof->level.height, spread->height);
    grid_number(grid, 100 * spread->area_error);
}

/* A sum that no roof tells is none. */
static void put_sum(struct grid *grid, const struct spread_sums *sums, int what)
{
    put_range(grid, sums->roofs[what] ? sums->plain[what] : (double)NAN,
              sums->ranges[what]);
}

static void put_total(struct grid *grid, const struct spread_sums *sums, int role)
{
    bool all = role == ZONE_ROLES;

    put_names(grid, NULL);
    grid_text(grid, all ? "all" : zone_role_name(role));
    grid_text(grid, NULL);
    grid_number(grid, NAN);
    put_sum(grid, sums, all ? (int)SUM_AREA : role);
    put_nothing(grid);
    for (int what = SUM_FASTENERS; all && what < SPREAD_SUMS; what++)
        put_sum(grid, sums, what);
    for (int i = all ? 3 : 0; i < 4; i++)
        put_nothing(grid);
    grid_number(grid, NAN);
}

/* ---- drivers ---- */

int drivers_sorted(const struct driver drivers[SPREAD_INPUTS], int order[SPREAD_INPUTS])
{
    int count = 0;

    for (int input = 0; input < SPREAD_INPUTS; input++) {
        int at = count;

        if (isnan(drivers[input].share) ||
            (drivers[input].share == 0 && !(fabs(drivers[input].moved) > 0)))
            continue;
        for (; at > 0 && drivers[order[at - 1]].share < drivers[input].share; at--)
            order[at] = order[at - 1];
        order[at] = input;
        count++;
    }
    return count;
}

static void put_moved(struct grid *grid, double moved, int kind,
                      const struct write_settings *set)
{
    const struct unit *force = &set->units->force;

    if (kind == DRIVEN_COST) {
        grid_quantity(grid, fabs(moved) / 100, 2);
        grid_text(grid, set->currency);
    } else if (kind == DRIVEN_SCORE) {
        grid_quantity(grid, fabs(moved), 3);
        grid_text(grid, NULL);
    } else {
        grid_quantity(grid, fabs(moved) / force->factor, 0);
        grid_text(grid, force->label);
    }
}

/* @param roof  NULL: all roofs @param of  their spreads; NULL likewise */
static void put_drivers(struct grid *grid, const struct roof *roof, const double *of,
                        const struct driver drivers[SPREAD_INPUTS], int kind,
                        const struct write_settings *set)
{
    int order[SPREAD_INPUTS];
    int count = drivers_sorted(drivers, order);

    for (int i = 0; i < count; i++) {
        enum spread_input input = (enum spread_input)order[i];
        struct text spread = TEXT_INIT;

        if (of)
            spread_print(&spread, input, of[input], set->units);
        put_names(grid, roof);
        grid_text(grid, driven_name(kind));
        grid_text(grid, spread_inputs[input].name);
        grid_made(grid, &spread);
        put_moved(grid, drivers[input].moved, kind, set);
        grid_number(grid, 100 * drivers[input].share);
        grid_number(grid, 100 * drivers[input].error);
        grid_text(grid, spread_check(input));
        text_release(&spread);
    }
}

static void put_roof_drivers(struct grid *grid, const struct roof *roof,
                             const struct write_settings *set)
{
    const struct roof_spread *spread = roof->spread;

    for (int kind = 0; kind < DRIVEN_KINDS; kind++)
        put_drivers(grid, roof, spread->of, spread->drivers[kind], kind, set);
}

/* ---- For a terminal ---- */

static void print_drivers(struct text *out, const struct driver drivers[SPREAD_INPUTS])
{
    int order[SPREAD_INPUTS];
    int count = drivers_sorted(drivers, order);
    const char *before = "; moved by ";

    for (int i = 0; i < count && drivers[order[i]].share >= 0.005; i++) {
        text_printf(out, "%s%s ", before, spread_inputs[order[i]].name);
        text_fixed(out, 100 * drivers[order[i]].share, 0);
        text_puts(out, " %");
        if (i == 0)
            text_printf(out, " (%s)", spread_check((enum spread_input)order[0]));
        before = ", ";
    }
}

static void print_sum(struct text *out, const struct spread_sums *sums, int what,
                      const char *unit, double factor)
{
    if (sums->roofs[what] == 0)
        return;
    text_grouped(out, sums->plain[what] / factor, 0);
    text_printf(out, " %s, P10 to P90 ", unit);
    text_grouped(out, sums->ranges[what].low / factor, 0);
    text_puts(out, " to ");
    text_grouped(out, sums->ranges[what].high / factor, 0);
}

void spread_table_print(struct text *out, const struct spread_sums *sums,
                        const struct write_settings *set)
{
    const struct unit *force = &set->units->force;
    struct text words = TEXT_INIT;

    text_printf(&words, "%zu draw%s of the inputs: a spread of inputs, not a reliability",
                sums->draws, PLURAL(sums->draws));
    text_labelled(out, "how sure", &words);
    print_sum(&words, sums, SUM_COST, set->currency, 100);
    if (words.length)
        print_drivers(&words, sums->drivers[DRIVEN_COST]);
    text_labelled(out, "cost", &words);
    print_sum(&words, sums, SUM_FORCE, force->label, force->factor);
    if (words.length)
        print_drivers(&words, sums->drivers[DRIVEN_FORCE]);
    text_labelled(out, "uplift", &words);
    text_putc(out, '\n');
    text_release(&words);
}

/* ---- CSV ---- */

static void put_header(struct text *out, const struct grid_sheet *sheet,
                       const char *words, const struct write_settings *set)
{
    struct grid *grid = grid_new(sheet, set);
    struct text caution = TEXT_INIT;

    grid_caution(&caution, set, false);
    text_puts(&caution, words);
    if (grid)
        grid_csv_header(out, grid, caution.data);
    out->failed = out->failed || !grid || caution.failed;
    text_release(&caution);
    grid_free(grid);
}

static void put_csv(struct text *out, struct grid *grid)
{
    if (grid)
        grid_csv_rows(out, grid);
    out->failed = out->failed || !grid;
    grid_free(grid);
}

void spread_header(struct text *out, const struct write_settings *set)
{
    put_header(out, &spread_sheet, spread_words, set);
}

void spread_rows(struct text *out, const struct building *building,
                 const struct write_settings *set)
{
    struct grid *grid = grid_new(&spread_sheet, set);

    for (size_t i = 0; grid && i < building->roof_count; i++) {
        const struct roof *roof = &building->roofs[i];

        for (int role = 0; roof->spread && role < ZONE_ROLES; role++)
            put_zone(grid, roof, role);
        if (roof->spread)
            put_roof(grid, roof);
    }
    put_csv(out, grid);
}

void spread_totals(struct text *out, const struct spread_sums *sums,
                   const struct write_settings *set)
{
    struct grid *grid = grid_new(&spread_sheet, set);

    for (int role = 0; grid && sums && role <= ZONE_ROLES; role++)
        put_total(grid, sums, role);
    put_csv(out, grid);
}

void drivers_header(struct text *out, const struct write_settings *set)
{
    put_header(out, &drivers_sheet, drivers_words, set);
}

void drivers_rows(struct text *out, const struct building *building,
                  const struct write_settings *set)
{
    struct grid *grid = grid_new(&drivers_sheet, set);

    for (size_t i = 0; grid && i < building->roof_count; i++)
        if (building->roofs[i].spread)
            put_roof_drivers(grid, &building->roofs[i], set);
    put_csv(out, grid);
}

void drivers_totals(struct text *out, const struct spread_sums *sums,
                    const struct write_settings *set)
{
    struct grid *grid = grid_new(&drivers_sheet, set);

    if (grid && sums && sums->roofs[SUM_COST] > 0)
        put_drivers(grid, NULL, NULL, sums->drivers[DRIVEN_COST], DRIVEN_COST, set);
    if (grid && sums && sums->roofs[SUM_FORCE] > 0)
        put_drivers(grid, NULL, NULL, sums->drivers[DRIVEN_FORCE], DRIVEN_FORCE, set);
    put_csv(out, grid);
}
