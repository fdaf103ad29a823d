#include "write/comparison.h"

#include <math.h>

#include "write/layout_state.h"

/* No column is summed: the last rows are the sums. */
static const struct grid_column columns[] = {
    TEXT_COLUMN("of"),
    TEXT_COLUMN("roof_id"),
    TEXT_COLUMN("name"),
    TEXT_COLUMN("building"),
    TEXT_COLUMN("method"),
    TEXT_COLUMN("own"),
    TEXT_COLUMN("assembly"),
    TEXT_COLUMN("state"),
    TEXT_COLUMN("zones_not_met"),
    COUNT_COLUMN("rank"),
    TEXT_COLUMN("cheapest"),
    COUNT_COLUMN("roofs"),
    COUNT_COLUMN("roofs_not_met"),
    NUMBER_COLUMN("area", MEASURE_AREA, 1),
    TEXT_COLUMN("scope"),
    TEXT_COLUMN("scope_reason"),
    TEXT_COLUMN("price"),
    COUNT_COLUMN("half_sheets"),
    COUNT_COLUMN("sheets"),
    COUNT_COLUMN("rows"),
    COUNT_COLUMN("plates"),
    COUNT_COLUMN("screws"),
    COUNT_COLUMN("penetrations"),
    NUMBER_COLUMN("welds", MEASURE_LENGTH, 1),
    NUMBER_COLUMN("lap_share", MEASURE_NONE, 4),
    NUMBER_COLUMN("waste_share", MEASURE_NONE, 4),
    NUMBER_COLUMN("hours", MEASURE_NONE, 1),
    MONEY_COLUMN("material"),
    MONEY_COLUMN("labour"),
    MONEY_COLUMN("tear_off"),
    MONEY_COLUMN("disposal"),
    MONEY_COLUMN("mobilisation"),
    MONEY_COLUMN("permit"),
    MONEY_COLUMN("overhead"),
    MONEY_COLUMN("profit"),
    MONEY_COLUMN("contingency"),
    MONEY_COLUMN("tax"),
    MONEY_COLUMN("given"),
    MONEY_COLUMN("total"),
    {"total", GRID_RATE, MEASURE_NONE, {0, 0}, false},
    TEXT_COLUMN("not_counted"),
    TEXT_COLUMN("note"),
};

const struct grid_sheet comparison_sheet = {"comparison", columns,
                                            sizeof columns / sizeof columns[0]};

/* ---- Sums ------------------------------------------------------------------------ */

/* Adds one bill to the counts. */
static void add_bill(struct comparison_sums *sums, const struct bill *bill)
{
    for (size_t i = 0; i < bill->count; i++) {
        const struct bill_item *item = &bill->items[i];

        switch (item->use) {
        case USE_FIELD_SHEET:
        case USE_HALF_SHEET:
            sums->net += item->net;
            sums->laps += item->laps;
            sums->laid += item->laid;
            sums->ordered += item->ordered;
            break;
        case USE_SEAM_PLATE: /* one through the membrane each */
            sums->penetrations += item->net;
            sums->plates += item->net;
            break;
        case USE_WELD_PLATE:
        case USE_BOARD_PLATE:
            sums->plates += item->net;
            break;
        case USE_SEAM_SCREW:
        case USE_BOARD_SCREW:
            sums->screws += item->net;
            break;
        case USE_WELD_SIDE:
        case USE_WELD_END:
            sums->welds += item->net;
            break;
        default:
            break;
        }
    }
}

/* Rows between sheets, base securement not counted. */
static size_t count_rows(const struct layout *layout)
{
    size_t count = 0;

    for (size_t i = 0; i < layout->row_count; i++)
        if (!layout->rows[i].base && (i == 0 || layout->rows[i - 1].base ||
                                      layout->rows[i - 1].row != layout->rows[i].row))
            count++;
    return count;
}

static void add_cost(struct comparison_sums *sums, const struct cost *cost)
{
    for (int part = 0; part < COST_PARTS; part++)
        sums->parts[part] += cost->parts[part];
    sums->total += cost->total;
    sums->hours += cost->hours;
}

static bool is_met(enum zone_state state)
{
    return state == STATE_MET || state == STATE_MET_ASSUMED;
}

/* The worst of all roofs, whichever comes first. */
static void add_state(struct comparison_sums *sums, enum zone_state state)
{
    sums->state =
        sums->roofs + sums->not_met == 0 ? state : zone_state_worse(sums->state, state);
}

/* Adds one layout of a roof. */
static void add_layout(struct comparison_sums *sums, const struct roof *roof, size_t k)
{
    const struct layout *layout = &roof->layouts[k];
    enum zone_state state = layout_state(roof, layout);

    add_state(sums, state);
    if (!is_met(state) || !roof->costs[k].known)
        sums->not_met++;
    if (!roof->costs[k].known)
        return;
    sums->roofs++;
    sums->area += roof->area;
    sums->sheets += (double)layout->sheet_count;
    sums->rows += (double)count_rows(layout);
    add_bill(sums, &roof->bills[k]);
    add_cost(sums, &roof->costs[k]);
}

/* ---- Ranks ----------------------------------------------------------------------- */

static bool has_rank(const struct roof *roof, size_t k)
{
    return roof->costs[k].known && is_met(layout_state(roof, &roof->layouts[k]));
}

/* Whether layout a comes before b; both have a rank. */
static bool is_before(const struct roof *roof, size_t a, size_t b)
{
    if (roof->costs[a].total != roof->costs[b].total)
        return roof->costs[a].total < roof->costs[b].total;
    return roof->layouts[a].method < roof->layouts[b].method;
}

/* From 1; NAN: none. */
static double rank_of(const struct roof *roof, size_t k)
{
    double rank = 1;

    if (!has_rank(roof, k))
        return NAN;
    for (size_t other = 0; other < roof->layout_count; other++)
        if (other != k && has_rank(roof, other) && is_before(roof, other, k))
            rank++;
    return rank;
}

int comparison_cheapest(const struct roof *roof)
{
    for (size_t k = 0; roof->costs && k < roof->layout_count; k++)
        if (rank_of(roof, k) == 1)
            return (int)k;
    return -1;
}

/* Every zoned roof was laid out by it and meets all zones. */
static bool method_has_rank(const struct comparison_totals *totals, int method)
{
    const struct comparison_sums *sums = &totals->methods[method];

    return sums->roofs > 0 && sums->roofs == totals->zoned && sums->not_met == 0;
}

static double method_rank(const struct comparison_totals *totals, int method)
{
    double rank = 1;

    if (!method_has_rank(totals, method))
        return NAN;
    for (int other = 0; other < METHOD_KINDS; other++) {
        money mine = totals->methods[method].total;
        money its = totals->methods[other].total;

        if (other != method && method_has_rank(totals, other) &&
            (its < mine || (its == mine && other < method)))
            rank++;
    }
    return rank;
}

/* ---- Rows ------------------------------------------------------------------------ */

/* What a row says in words; NULL and NAN are empty cells. */
struct words {
    const char *of, *method, *own, *state, *price, *note;
    const struct text *unmet, *uncounted;
    double rank;
    double half_sheets;
    const struct roof *roof;     /* NULL: of the portfolio */
    const struct layout *layout; /* as roof */
};

static void add_word(struct text *out, const char *word)
{
    if (out->length > 0)
        text_puts(out, "; ");
    text_puts(out, word);
}

/* "corner; field unknown" */
static void list_unmet(struct text *out, const struct roof *roof,
                       const struct layout *layout)
{
    for (size_t i = 0; i < roof->zone_count; i++) {
        enum zone_role role = roof->zones[i].role;

        if (is_met(layout->states[role]))
            continue;
        add_word(out, zone_role_name((int)role));
        if (layout->states[role] == STATE_UNKNOWN)
            text_puts(out, " unknown");
    }
}

/* What the bill couldn't count, and goods that have no price. */
static void list_uncounted(struct text *out, const struct bill *bill)
{
    for (size_t i = 0; i < bill->count; i++) {
        const struct bill_item *item = &bill->items[i];
        bool goods = item->use < USE_WELD_SIDE && !item->paid;

        if (isnan(item->ordered) || (goods && isnan(item->price)))
            add_word(out, item_use_name((int)item->use));
    }
}

static void put_words(struct grid *grid, const struct words *words,
                      const struct comparison_sums *sums)
{
    const struct roof *roof = words->roof;

    grid_text(grid, words->of);
    grid_text(grid, roof ? roof->id : NULL);
    grid_text(grid, roof ? roof->name : NULL);
    grid_text(grid, roof ? roof->building : NULL);
    grid_text(grid, words->method);
    grid_text(grid, words->own);
    grid_text(grid, words->layout ? words->layout->assembly : NULL);
    grid_text(grid, words->state);
    grid_made(grid, words->unmet);
    grid_number(grid, words->rank);
    grid_text(grid, words->rank == 1 ? "cheapest" : NULL);
    grid_number(grid, (double)sums->roofs);
    grid_number(grid, (double)sums->not_met);
    grid_exact(grid, roof ? roof->area : sums->area, 1);
    grid_text(grid, roof ? scope_name((int)roof->scope) : NULL);
    grid_text(grid, roof ? roof->scope_reason : NULL);
    grid_text(grid, words->price);
}

static double share(double part, double whole)
{
    return whole > 0 ? part / whole : NAN;
}

static void put_numbers(struct grid *grid, const struct comparison_sums *sums,
                        double half_sheets, bool goods)
{
    const double counts[] = {sums->sheets, sums->rows,         sums->plates,
                             sums->screws, sums->penetrations, sums->welds};

    grid_number(grid, half_sheets);
    for (size_t i = 0; i < sizeof counts / sizeof counts[0]; i++)
        grid_number(grid, goods ? counts[i] : NAN);
    grid_number(grid, share(sums->laps, sums->laid));
    grid_number(grid, share(sums->ordered - sums->net, sums->net));
    grid_number(grid, goods ? sums->hours : NAN);
}

static void put_money(struct grid *grid, const struct comparison_sums *sums, bool known)
{
    for (int part = 0; part < COST_PARTS; part++)
        grid_number(grid, known ? (double)sums->parts[part] : NAN);
    grid_number(grid, known ? (double)sums->total : NAN);
    grid_number(grid, known ? share((double)sums->total, sums->area) : NAN);
}

static void put_row(struct grid *grid, const struct words *words,
                    const struct comparison_sums *sums)
{
    bool laid = sums->roofs > 0;

    put_words(grid, words, sums);
    put_numbers(grid, sums, laid ? words->half_sheets : NAN, laid);
    put_money(grid, sums, laid || !words->state);
    grid_made(grid, words->uncounted);
    grid_text(grid, words->note);
}

void comparison_of_roof(struct grid *grid, const struct roof *roof)
{
    struct text unmet = TEXT_INIT;
    struct text uncounted = TEXT_INIT;

    for (size_t k = 0; roof->costs && k < roof->layout_count; k++) {
        const struct layout *layout = &roof->layouts[k];
        struct comparison_sums sums = {0};

        text_clear(&unmet);
        text_clear(&uncounted);
        list_unmet(&unmet, roof, layout);
        list_uncounted(&uncounted, &roof->bills[k]);
        add_layout(&sums, roof, k);
        put_row(grid,
                &(struct words){
                    .of = "roof",
                    .method = method_name((int)layout->method),
                    .own = k == 0 ? "own" : NULL,
                    .state = zone_state_name((int)layout_state(roof, layout)),
                    .unmet = &unmet,
                    .uncounted = &uncounted,
                    .price = sums.roofs > 0 ? price_basis_name((int)roof->costs[k].basis)
                                            : NULL,
                    .note = sums.roofs > 0 ? NULL : layout_why_not(roof, layout),
                    .rank = rank_of(roof, k),
                    .half_sheets = layout->half_sheets,
                    .roof = roof,
                    .layout = layout,
                },
                &sums);
    }
    text_release(&unmet);
    text_release(&uncounted);
}

/* ---- The portfolio ---------------------------------------------------------------- */

/* A roof that no method with a price meets: its state is that of its own method. */
static void add_unmet(struct comparison_sums *sums, const struct roof *roof)
{
    bool laid = roof->layout_count > 0;

    add_state(sums, laid ? layout_state(roof, &roof->layouts[0]) : roof->state);
    sums->not_met++;
}

void comparison_add(struct comparison_totals *totals, const struct building *building)
{
    for (size_t i = 0; i < building->roof_count; i++) {
        const struct roof *roof = &building->roofs[i];
        int cheapest = comparison_cheapest(roof);

        totals->zoned += roof->zoned;
        for (size_t k = 0; roof->costs && k < roof->layout_count; k++)
            add_layout(&totals->methods[roof->layouts[k].method], roof, k);
        if (roof->costs && roof->layout_count > 0)
            add_layout(&totals->own, roof, 0);
        if (roof->costs && cheapest >= 0)
            add_layout(&totals->cheapest, roof, (size_t)cheapest);
        else if (roof->zoned)
            add_unmet(&totals->cheapest, roof);
    }
}

void comparison_add_packs(struct comparison_totals *totals, enum method method,
                          const struct cost *cost)
{
    add_cost(&totals->methods[method], cost);
}

void comparison_of_packs(struct grid *grid, enum method method, const struct cost *cost)
{
    struct comparison_sums sums = {0};

    if (cost->total == 0)
        return;
    add_cost(&sums, cost);
    put_row(grid,
            &(struct words){.of = "packs",
                            .method = method_name((int)method),
                            .rank = NAN,
                            .half_sheets = NAN,
                            .note = "rounding the portfolio's goods up to packs"},
            &sums);
}

static void put_total(struct grid *grid, const struct comparison_sums *sums,
                      const char *method, double rank, const char *note)
{
    if (sums->roofs + sums->not_met == 0)
        return;
    put_row(grid,
            &(struct words){.of = "portfolio",
                            .method = method,
                            .state = zone_state_name((int)sums->state),
                            .rank = rank,
                            .half_sheets = NAN,
                            .note = note},
            sums);
}

void comparison_of_totals(struct grid *grid, const struct comparison_totals *totals)
{
    for (int method = 0; method < METHOD_KINDS; method++)
        put_total(grid, &totals->methods[method], method_name(method),
                  method_rank(totals, method), NULL);
    put_total(grid, &totals->own, "own", NAN, "each roof by its own method");
    put_total(grid, &totals->cheapest, "cheapest", NAN,
              "each roof by its cheapest method that meets all zones");
}

void comparison_header(struct text *out, const struct write_settings *set)
{
    struct text caution = TEXT_INIT;
    struct grid *grid = grid_new(&comparison_sheet, set);

    grid_caution(&caution, set, true);
    if (grid && !caution.failed)
        grid_csv_header(out, grid, caution.data);
    else
        out->failed = true;
    grid_free(grid);
    text_release(&caution);
}

void comparison_rows(struct text *out, const struct building *building,
                     const struct write_settings *set)
{
    struct grid *grid = grid_new(&comparison_sheet, set);

    for (size_t i = 0; grid && i < building->roof_count; i++)
        comparison_of_roof(grid, &building->roofs[i]);
    if (grid)
        grid_csv_rows(out, grid);
    else
        out->failed = true;
    grid_free(grid);
}

/* ---- The terminal ------------------------------------------------------------------ */

static void print_line(struct text *out, const struct comparison_sums *sums,
                       const char *method, double rank, const struct write_settings *set)
{
    double units = set->units->area.factor;

    if (sums->roofs + sums->not_met == 0)
        return;
    text_printf(out, "%-17s %6zu %8zu %9.0f", method, sums->roofs, sums->not_met,
                sums->hours);
    text_printf(out, " %9.0f %14.0f", sums->penetrations, (double)sums->total / 100);
    if (sums->area > 0)
        text_printf(out, " %7.2f", (double)sums->total / 100 / sums->area * units);
    text_puts(out, rank == 1 ? "  cheapest\n" : "\n");
}

void comparison_print(struct text *out, const struct comparison_totals *totals,
                      const struct write_settings *set)
{
    text_printf(out, "\n%-17s %6s %8s %9s %9s %14s %4s%-3s\n", "method", "roofs",
                "not met", "hours", "through", set->currency, "per ",
                set->units->area.suffix);
    for (int method = 0; method < METHOD_KINDS; method++)
        print_line(out, &totals->methods[method], method_name(method),
                   method_rank(totals, method), set);
    print_line(out, &totals->own, "each its own", NAN, set);
    print_line(out, &totals->cheapest, "each its cheapest", NAN, set);
    text_puts(out, "\nThe cheapest is among methods that meet every zone of every roof. "
                   "through: fasteners\nthrough the membrane.");
    if (set->prices_built_in)
        text_puts(out, " Prices are invented: those of the built-in table.");
    text_putc(out, '\n');
}
