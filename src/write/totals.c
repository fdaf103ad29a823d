#include <math.h>

#include "write/cells.h"
#include "write/columns.h"
#include "write/csv.h"
#include "write/write.h"

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
    totals->laid_out += roof->layout_count > 0;
    totals->fasteners[roof->method] += fasteners;
    if (isfinite(board_fasteners))
        totals->board_fasteners[roof->method] += board_fasteners;
}

static void add_roof(struct totals *totals, const struct roof *roof)
{
    totals->roofs++;
    totals->states[roof->state]++;
    add_weak(totals, roof);
    if (roof->whole && isfinite(roof->area))
        totals->area += roof->area;
    if (!roof->zoned)
        return;
    totals->zoned++;
    totals->edge_length += roof->edge_length;
    for (size_t z = 0; z < roof->zone_count; z++)
        totals->zone_area[roof->zones[z].role] += roof->zones[z].area;
    add_counts(totals, roof);
}

void totals_add(struct totals *totals, const struct building *building)
{
    totals->buildings++;
    for (size_t i = 0; i < building->roof_count; i++)
        add_roof(totals, &building->roofs[i]);
}

/* Starts a row: quantity, unit suffix and all behind it but the value. */
static void put_key(struct text *out, const char *quantity, const char *suffix,
                    const char *of)
{
    text_puts(out, quantity);
    if (*suffix)
        text_putc(out, '_');
    text_puts(out, suffix);
    text_putc(out, ',');
    text_puts(out, of);
    text_putc(out, ',');
}

static void put_count(struct text *out, const char *quantity, const char *of,
                      size_t count)
{
    put_key(out, quantity, "", of);
    text_printf(out, "%zu,\n", count);
}

/* value: SI; NAN leaves the cell empty. */
static void put_sum(struct text *out, const char *quantity, enum measure measure,
                    const char *of, double value, const struct write_settings *set)
{
    bool si = columns_units(set) == UNITS_SI;
    int decimals = measure == MEASURE_NONE ? 0 : si ? 2 : 1;

    put_key(out, quantity, measure_suffix(measure, set->units), of);
    text_fixed(out, value / measure_factor(measure, set->units), decimals);
    text_puts(out, ",\n");
}

static void put_roofs(struct text *out, const struct totals *totals)
{
    put_count(out, "buildings", "all", totals->buildings);
    put_count(out, "roofs", "all", totals->roofs);
    put_count(out, "roofs", "zoned", totals->zoned);
    put_count(out, "roofs", "left out", totals->roofs - totals->zoned);
    for (int state = STATE_UNKNOWN; state <= STATE_NOT_MET; state++)
        put_count(out, "roofs", zone_state_name(state), totals->states[state]);
    put_count(out, "roofs", "without a fastener count", totals->uncounted);
    put_count(out, "roofs", "estimated", totals->estimated);
    put_count(out, "roofs", "assumed", totals->assumed);
}

/* counts: by method. Where not one roof was counted, the sums are unknown, not 0. */
static void put_methods(struct text *out, const char *quantity,
                        const double counts[METHOD_KINDS], bool counted,
                        const struct write_settings *set)
{
    double all = 0;

    for (int method = METHOD_UNTOLD; method < METHOD_KINDS; method++)
        all += counts[method];
    put_sum(out, quantity, MEASURE_NONE, "all", counted ? fasteners_whole(all) : NAN,
            set);
    for (int method = METHOD_UNTOLD + 1; method < METHOD_KINDS; method++)
        put_sum(out, quantity, MEASURE_NONE, method_name(method),
                counted ? fasteners_whole(counts[method]) : NAN, set);
}

static void put_quantities(struct text *out, const struct totals *totals,
                           const struct write_settings *set)
{
    bool counted = totals->uncounted < totals->zoned;

    put_sum(out, "area", MEASURE_AREA, "all", totals->area, set);
    for (int role = 0; role < ZONE_ROLES; role++)
        put_sum(out, "area", MEASURE_AREA, zone_role_name(role), totals->zone_area[role],
                set);
    put_sum(out, "edge_length", MEASURE_LENGTH, "all", totals->edge_length, set);
    put_methods(out, "fasteners", totals->fasteners, counted, set);
    put_methods(out, "board_fasteners", totals->board_fasteners, counted, set);
}

static void put_weak(struct text *out, const struct totals *totals)
{
    for (int i = 0; i < ESTIMATES; i++)
        put_count(out, "roofs_estimated", estimate_name(i), totals->estimates[i]);
    for (int i = 0; i < ASSUMPTIONS; i++)
        put_count(out, "roofs_assumed", assumption_name(i), totals->assumptions[i]);
    for (int i = SEVERITY_NOTE; i <= SEVERITY_ERROR; i++)
        put_count(out, "problems", severity_name(i), totals->problems[i]);
}

void totals_csv(struct text *out, const struct totals *totals,
                const struct write_settings *set)
{
    text_puts(out, "quantity,of,value");
    csv_end_header(out, set->catalog_built_in);
    put_roofs(out, totals);
    put_quantities(out, totals, set);
    put_weak(out, totals);
}
