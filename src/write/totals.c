#include <math.h>
#include <stdio.h>

#include "roof/layout.h"
#include "write/cells.h"
#include "write/columns.h"
#include "write/tables.h"

static void add_weak(struct totals *totals, const struct roof *roof)
{
    totals->estimated += roof->estimated != 0;
    totals->assumed += roof->assumed != 0;
    for (unsigned i = 0; i < ESTIMATES; i++)
        totals->estimates[i] += roof->estimated >> i & 1u;
    for (unsigned i = 0; i < ASSUMPTIONS; i++)
        totals->assumptions[i] += roof->assumed >> i & 1u;
    for (const struct problem *p = roof->problems; p; p = p->next) {
        totals->problems[problem_severity(p->code)]++;
        totals->problem_codes[p->code]++;
    }
}

static void add_counts(struct totals *totals, const struct roof *roof)
{
    double fasteners = roof_fasteners(roof);
    double board_fasteners = roof_board_fasteners(roof);

    if (!isfinite(fasteners)) {
        totals->uncounted++;
        return;
    }
    totals->laid_out += roof_laid_out(roof);
    totals->fasteners[roof->method] += fasteners;
    if (isfinite(board_fasteners))
        totals->board_fasteners[roof->method] += board_fasteners;
}

static void add_roof(struct totals *totals, const struct roof *roof, double step)
{
    totals->roofs++;
    totals->states[roof->state]++;
    add_weak(totals, roof);
    if (roof->whole && isfinite(roof->area))
        totals->area += round(roof->area / step) * step;
    if (!roof->zoned)
        return;
    totals->zoned++;
    totals->edge_length += roof->edge_length;
    for (size_t z = 0; z < roof->zone_count; z++)
        totals->zone_area[roof->zones[z].role] += roof->zones[z].area;
    add_counts(totals, roof);
}

/* Tenths of ft2, hundredths of m2: as in roof_columns. */
double roof_area_step(const struct write_settings *set)
{
    return set->units->area.factor / (columns_units(set) == UNITS_SI ? 100 : 10);
}

void totals_add(struct totals *totals, const struct building *building,
                const struct write_settings *set)
{
    totals->buildings++;
    for (size_t i = 0; i < building->roof_count; i++)
        add_roof(totals, &building->roofs[i], roof_area_step(set));
}

static const struct grid_column columns[] = {
    {"quantity", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"of", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"value", GRID_QUANTITY, MEASURE_NONE, {0, 0}, false},
};

const struct grid_sheet totals_sheet = {"totals", columns,
                                        sizeof columns / sizeof columns[0]};

static void put_count(struct grid *grid, const char *quantity, const char *of,
                      size_t count)
{
    grid_text(grid, quantity);
    grid_text(grid, of);
    grid_quantity(grid, (double)count, 0);
}

/* value: SI; NAN leaves the cell empty. */
static void put_sum(struct grid *grid, const char *quantity, enum measure measure,
                    const char *of, double value, const struct write_settings *set)
{
    bool si = columns_units(set) == UNITS_SI;
    char name[64];

    if (measure == MEASURE_NONE)
        snprintf(name, sizeof name, "%s", quantity);
    else
        snprintf(name, sizeof name, "%s_%s", quantity,
                 measure_suffix(measure, set->units));
    grid_text(grid, name);
    grid_text(grid, of);
    grid_quantity(grid, value / measure_factor(measure, set->units),
                  measure == MEASURE_NONE ? 0
                  : si                    ? 2
                                          : 1);
}

static void put_roofs(struct grid *grid, const struct totals *totals)
{
    put_count(grid, "buildings", "all", totals->buildings);
    put_count(grid, "roofs", "all", totals->roofs);
    put_count(grid, "roofs", "zoned", totals->zoned);
    put_count(grid, "roofs", "left out", totals->roofs - totals->zoned);
    for (int state = STATE_UNKNOWN; state <= STATE_NOT_MET; state++)
        put_count(grid, "roofs", zone_state_name(state), totals->states[state]);
    put_count(grid, "roofs", "without a fastener count", totals->uncounted);
    put_count(grid, "roofs", "estimated", totals->estimated);
    put_count(grid, "roofs", "assumed", totals->assumed);
}

/* counts: by method. Where not one roof was counted, the sums are unknown, not 0. */
static void put_methods(struct grid *grid, const char *quantity,
                        const double counts[METHOD_KINDS], bool counted,
                        const struct write_settings *set)
{
    double all = 0;

    for (int method = METHOD_NOT_GIVEN; method < METHOD_KINDS; method++)
        all += counts[method];
    put_sum(grid, quantity, MEASURE_NONE, "all", counted ? fasteners_whole(all) : NAN,
            set);
    for (int method = METHOD_NOT_GIVEN + 1; method < METHOD_KINDS; method++)
        put_sum(grid, quantity, MEASURE_NONE, method_name(method),
                counted ? fasteners_whole(counts[method]) : NAN, set);
}

static void put_quantities(struct grid *grid, const struct totals *totals,
                           const struct write_settings *set)
{
    bool counted = totals->uncounted < totals->zoned;

    put_sum(grid, "area", MEASURE_AREA, "all", totals->area, set);
    for (int role = 0; role < ZONE_ROLES; role++)
        put_sum(grid, "area", MEASURE_AREA, zone_role_name(role), totals->zone_area[role],
                set);
    put_sum(grid, "edge_length", MEASURE_LENGTH, "all", totals->edge_length, set);
    put_methods(grid, "fasteners", totals->fasteners, counted, set);
    put_methods(grid, "board_fasteners", totals->board_fasteners, counted, set);
}

static void put_weak(struct grid *grid, const struct totals *totals)
{
    for (int i = 0; i < ESTIMATES; i++)
        put_count(grid, "roofs_estimated", estimate_name(i), totals->estimates[i]);
    for (int i = 0; i < ASSUMPTIONS; i++)
        put_count(grid, "roofs_assumed", assumption_name(i), totals->assumptions[i]);
    for (int i = SEVERITY_NOTE; i <= SEVERITY_ERROR; i++)
        put_count(grid, "problems", severity_name(i), totals->problems[i]);
}

void totals_fill(struct grid *grid, const struct totals *totals,
                 const struct write_settings *set)
{
    put_roofs(grid, totals);
    put_quantities(grid, totals, set);
    put_weak(grid, totals);
}
