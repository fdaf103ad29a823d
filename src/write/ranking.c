#include "write/ranking.h"

#include <math.h>

#include "portfolio/rank_draws.h"

/* Rows that are held as cells at once. */
#define ROWS_AT_ONCE 4096

static const struct grid_column columns[] = {
    {"rank", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"group", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"score", GRID_NUMBER, MEASURE_NONE, {3, 3}, false},
    {"force", GRID_NUMBER, MEASURE_FORCE, {0, 0}, true},
    {"roof_id", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"name", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"building", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"reason", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"height", GRID_NUMBER, MEASURE_LENGTH, {1, 2}, false},
    {"exposure", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"worst_zone", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"exposure_pressure", GRID_NUMBER, MEASURE_PRESSURE, {1, 0}, false},
    {"demand", GRID_NUMBER, MEASURE_PRESSURE, {1, 0}, false},
    {"capacity", GRID_NUMBER, MEASURE_PRESSURE, {1, 0}, false},
    {"capacity_basis", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"demand_over_capacity", GRID_NUMBER, MEASURE_NONE, {3, 3}, false},
    {"mean_pressure", GRID_NUMBER, MEASURE_PRESSURE, {1, 0}, false},
    {"area", GRID_NUMBER, MEASURE_AREA, {1, 1}, true},
    {"slope", GRID_NUMBER, MEASURE_NONE, {3, 3}, false},
    {"corner_share", GRID_NUMBER, MEASURE_NONE, {4, 4}, false},
    {"perimeter_share", GRID_NUMBER, MEASURE_NONE, {4, 4}, false},
    {"field_share", GRID_NUMBER, MEASURE_NONE, {4, 4}, false},
    {"interior_share", GRID_NUMBER, MEASURE_NONE, {4, 4}, false},
    {"corner_force", GRID_NUMBER, MEASURE_FORCE, {0, 0}, true},
    {"perimeter_force", GRID_NUMBER, MEASURE_FORCE, {0, 0}, true},
    {"field_force", GRID_NUMBER, MEASURE_FORCE, {0, 0}, true},
    {"interior_force", GRID_NUMBER, MEASURE_FORCE, {0, 0}, true},
    {"edge_condition", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"condition", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"age", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"risk", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"load", GRID_NUMBER, MEASURE_NONE, {3, 3}, false},
    {"edge_factor", GRID_NUMBER, MEASURE_NONE, {3, 3}, false},
    {"condition_factor", GRID_NUMBER, MEASURE_NONE, {3, 3}, false},
    {"age_factor", GRID_NUMBER, MEASURE_NONE, {3, 3}, false},
    {"consequence_factor", GRID_NUMBER, MEASURE_NONE, {3, 3}, false},
    {"estimated", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"assumed", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    /* of a drawn ranking */
    {"rank_p10", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"rank_p90", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"share_among_first", GRID_NUMBER, MEASURE_NONE, {3, 3}, false},
};

enum { COLUMNS = sizeof columns / sizeof columns[0], DRAWN_COLUMNS = 3 };

const struct grid_sheet ranking_sheet = {"ranking", columns, COLUMNS - DRAWN_COLUMNS};

/* With what the draws say of the ranks. */
static const struct grid_sheet drawn_sheet = {"ranking", columns, COLUMNS};

/* ---- The reason in words ---- */

static void put_measured(struct text *out, double value, const struct unit *unit,
                         int decimals)
{
    text_fixed(out, value / unit->factor, decimals);
    text_printf(out, " %s", unit->label);
}

/* "at 30 ft"; an estimated height never looks like a given one. */
static void put_height(struct text *out, const struct portfolio_roof *roof,
                       const struct write_settings *set)
{
    bool estimated = (roof->estimated & 1u << ESTIMATE_HEIGHT) != 0;

    text_puts(out, estimated ? " at about " : " at ");
    text_number(out, (double)roof->height / set->units->length.factor, 1);
    text_printf(out, " %s", set->units->length.suffix);
    text_puts(out, estimated ? " (estimated from storeys)" : "");
}

static void put_load(struct text *out, const struct portfolio_roof *roof,
                     const struct rank_score *score, const struct ranking *ranking,
                     const struct write_settings *set)
{
    const struct unit_system *units = set->units;
    int decimals = columns_units(set) == UNITS_US ? 1 : 0;

    if (score->group == RANK_RATED) {
        text_puts(out, "demand is ");
        text_fixed(out, score->load, 2);
        text_printf(out, " of capacity in the %s: ", zone_role_name(roof->worst));
        put_measured(out, roof->demand, &units->pressure, decimals);
        text_puts(out, " on ");
        put_measured(out, roof->capacity, &units->pressure, decimals);
    } else if (ranking->settings->by == RANK_BY_FORCE) {
        put_measured(out, score->force, &units->force, 0);
        text_puts(out, " of uplift on the whole roof");
    } else if (ranking->settings->by == RANK_BY_MEAN) {
        put_measured(out, rank_mean(roof), &units->pressure, decimals);
        text_puts(out, " mean uplift");
    } else {
        put_measured(out, roof->uplift[roof->worst], &units->pressure, decimals);
        text_printf(out, " uplift in the %s", zone_role_name(roof->worst));
    }
    put_height(out, roof, set);
    text_printf(out, ", exposure %s", exposure_name(roof->exposure));
    if (roof->topographic > 1) {
        text_puts(out, ", topographic factor ");
        text_fixed(out, roof->topographic, 2);
    }
    if (roof->outside)
        text_printf(out, "; not covered by the standard's figures: %s", roof->outside);
}

static void put_part(struct text *out, const struct portfolio_roof *roof,
                     const struct rank_settings *settings, int part)
{
    switch ((enum rank_part)part) {
    case RANK_EDGE:
        text_printf(out, "edge condition %.0f", (double)roof->edge_condition);
        break;
    case RANK_CONDITION:
        text_printf(out, "condition %.0f", (double)roof->condition);
        break;
    case RANK_AGE:
        text_printf(out, "%.0f years old", rank_age(roof, settings));
        break;
    case RANK_CONSEQUENCE:
        text_printf(out, "risk category %d", roof->risk);
        break;
    case RANK_PARTS:
        break;
    }
}

static void put_apart(struct text *out, const struct portfolio_roof *roof,
                      enum rank_apart why, const struct rank_settings *settings,
                      const struct write_settings *set)
{
    switch (why) {
    case APART_OUTLINE:
        text_puts(out, "no usable outline, see problems.csv");
        break;
    case APART_STEEP:
        if (isinf(roof->slope)) {
            text_puts(out, "slope out of range, see problems.csv");
            break;
        }
        text_puts(out, "slope of ");
        text_fixed(out, rank_degrees(roof), 1);
        text_puts(out, " degrees, steeper than ");
        text_number(out, settings->slope_max, 2);
        break;
    case APART_SMALL:
        text_puts(out, "area of ");
        put_measured(out, roof->area, &set->units->area, 1);
        text_puts(out, ", smaller than ");
        put_measured(out, settings->area_min, &set->units->area, 1);
        break;
    case APART_DUPLICATE:
        text_puts(out, roof->duplicate);
        break;
    case APART_NOT:
        break;
    }
}

/* The load, then what raises or lowers the score by 2 % or more. */
static void put_reason(struct text *out, const struct portfolio_roof *roof,
                       const struct rank_score *score, const struct ranking *ranking,
                       const struct write_settings *set)
{
    if (score->group == RANK_APART) {
        put_apart(out, roof, score->apart, ranking->settings, set);
        return;
    }
    if (score->group == RANK_UNKNOWN) {
        text_puts(out, roof->zoned ? "no wind speed: its load isn't known"
                                   : "no zones: its load isn't known, see problems.csv");
        return;
    }
    put_load(out, roof, score, ranking, set);
    for (int raises = 1; raises >= 0; raises--) {
        const char *before = raises ? "; raised by " : "; lowered by ";

        for (int part = 0; part < RANK_PARTS; part++) {
            double change = score->factors[part] - 1;

            if (!(raises ? change >= 0.02 : change <= -0.02))
                continue;
            text_puts(out, before);
            put_part(out, roof, ranking->settings, part);
            before = ", ";
        }
    }
}

/* ---- Rows ---- */

static void put_names(struct grid *grid, uint64_t bits, const char *(*name_of)(int),
                      int count)
{
    struct text names = TEXT_INIT;

    for (int i = 0; i < count; i++)
        if (bits & UINT64_C(1) << i)
            text_printf(&names, "%s%s", names.length ? "; " : "", name_of(i));
    grid_made(grid, &names);
    text_release(&names);
}

static double whole_or_nan(int value)
{
    return value == MISSING ? NAN : (double)value;
}

static const char *basis_of(const struct portfolio_roof *roof)
{
    if (!(roof->capacity > 0))
        return NULL;
    return roof->rating_basis == RATING_NOT_GIVEN ? "ultimate assumed"
                                                  : rating_basis_name(roof->rating_basis);
}

static void put_wind(struct grid *grid, const struct portfolio_roof *roof,
                     const struct rank_score *score)
{
    bool known = roof->worst < ZONE_ROLES;

    grid_number(grid, roof->height);
    grid_text(grid, exposure_name(roof->exposure));
    grid_text(grid, known ? zone_role_name(roof->worst) : NULL);
    grid_number(grid, known ? (double)roof->uplift[roof->worst] : NAN);
    grid_number(grid, roof->demand);
    grid_number(grid, roof->capacity);
    grid_text(grid, basis_of(roof));
    grid_number(grid, score->group == RANK_RATED ? score->load : NAN);
    grid_number(grid, rank_mean(roof));
    grid_number(grid, roof->area > 0 ? roof->area : NAN);
    grid_number(grid, isinf(roof->slope) ? NAN : (double)roof->slope);
    for (int role = 0; role < ZONE_ROLES; role++)
        grid_number(grid, roof->zoned ? (double)roof->share[role] : NAN);
    for (int role = 0; role < ZONE_ROLES; role++)
        grid_number(grid, portfolio_force(roof, (enum zone_role)role));
}

static double none_or(uint32_t rank)
{
    return rank ? (double)rank : NAN;
}

void ranking_row(struct grid *grid, const struct ranking *ranking, size_t row,
                 const struct write_settings *set)
{
    const struct ranked *ranked = &ranking->rows[row];
    const struct portfolio_roof *roof = ranked->roof;
    struct rank_score score = rank_score(roof, ranking->settings);
    struct text reason = TEXT_INIT;

    put_reason(&reason, roof, &score, ranking, set);
    grid_number(grid, none_or(ranked->rank));
    grid_text(grid, rank_group_name((int)score.group));
    grid_number(grid, score.score);
    grid_number(grid, score.force);
    grid_text(grid, portfolio_id(roof));
    grid_text(grid, portfolio_name(roof));
    grid_text(grid, portfolio_building(roof));
    grid_made(grid, &reason);
    put_wind(grid, roof, &score);
    grid_number(grid, roof->edge_condition);
    grid_number(grid, roof->condition);
    grid_number(grid, rank_age(roof, ranking->settings));
    grid_number(grid, whole_or_nan(roof->risk));
    grid_number(grid, score.load);
    for (int part = 0; part < RANK_PARTS; part++)
        grid_number(grid, score.factors[part]);
    put_names(grid, roof->estimated, estimate_name, ESTIMATES);
    put_names(grid, roof->assumed, assumption_name, ASSUMPTIONS);
    text_release(&reason);
}

void ranking_fill(struct grid *grid, const struct ranking *ranking, size_t from,
                  size_t count, const struct write_settings *set)
{
    for (size_t row = from; row < ranking->count && row - from < count; row++)
        ranking_row(grid, ranking, row, set);
}

static void put_place(struct text *out, const struct ranking *ranking,
                      const struct ranked *ranked, size_t column,
                      const struct write_settings *set)
{
    struct rank_score score = rank_score(ranked->roof, ranking->settings);
    struct text reason = TEXT_INIT;

    if (column == 2) {
        text_fixed(out, score.score, 3);
        return;
    }
    put_reason(&reason, ranked->roof, &score, ranking, set);
    text_json(out, reason.data);
    out->failed = out->failed || reason.failed;
    text_release(&reason);
}

void ranking_place(struct text *out, const struct ranking *ranking, size_t roof,
                   size_t column, const struct write_settings *set)
{
    const struct ranked *ranked = &ranking->rows[ranking->places[roof]];

    if (column == 1)
        text_json(out, rank_group_name(ranked->group));
    else if (column < 3 && ranked->rank == 0)
        text_puts(out, "null");
    else if (column == 0)
        text_printf(out, "%lu", ranked->rank + 0ul);
    else
        put_place(out, ranking, ranked, column, set);
}

void ranking_formula(struct text *out, const struct ranking *ranking,
                     const struct write_settings *set)
{
    struct text both = TEXT_INIT;

    rank_formula(&both, ranking->settings);
    if (both.data)
        units_choose(out, both.data, set->units);
    out->failed = out->failed || both.failed;
    text_release(&both);
}

void ranking_caution(struct text *out, const struct ranking *ranking,
                     const struct write_settings *set)
{
    struct write_settings ranked = *set;

    /* Neither the catalogue's ratings nor its packs are in this table. */
    ranked.catalog_built_in = ranked.items_built_in = false;
    grid_caution(out, &ranked, false);
    text_putc(out, ' ');
    ranking_formula(out, ranking, set);
}

static void put_drawn(struct grid *grid, const struct ranking *ranking, size_t row)
{
    size_t roof = (size_t)(ranking->rows[row].roof - ranking->first);
    struct drawn_rank drawn = rank_draws_of(ranking->drawn, roof);

    grid_number(grid, drawn.low);
    grid_number(grid, drawn.high);
    grid_number(grid, drawn.first);
}

/* Rows that are held at once, with what draws say where there are some. */
static void fill_drawn(struct grid *grid, const struct ranking *ranking, size_t from,
                       const struct write_settings *set)
{
    for (size_t row = from; row < ranking->count && row - from < ROWS_AT_ONCE; row++) {
        ranking_row(grid, ranking, row, set);
        if (ranking->drawn)
            put_drawn(grid, ranking, row);
    }
}

enum outlay_status ranking_csv(struct output *output, const struct ranking *ranking,
                               const struct write_settings *set, struct outlay_error *err)
{
    struct grid *grid = grid_new(ranking->drawn ? &drawn_sheet : &ranking_sheet, set);
    struct text out = TEXT_INIT, caution = TEXT_INIT;
    enum outlay_status status = OUTLAY_OK;

    if (!grid)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    ranking_caution(&caution, ranking, set);
    if (ranking->drawn)
        text_printf(&caution,
                    " Of the draws of the inputs: P10 and P90 of the rank, and the share "
                    "in which the roof is among the first %lu of its group.",
                    rank_draws_first(ranking->drawn) + 0ul);
    grid_csv_header(&out, grid, caution.data);
    for (size_t row = 0; status == OUTLAY_OK && row < ranking->count;
         row += ROWS_AT_ONCE) {
        fill_drawn(grid, ranking, row, set);
        grid_csv_rows(&out, grid);
        status = output_text(output, &out, err);
        text_clear(&out);
        grid_clear(grid);
    }
    if (status == OUTLAY_OK)
        status = output_text(output, &out, err);
    if (caution.failed)
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    text_release(&caution);
    text_release(&out);
    grid_free(grid);
    return status;
}

/* A roof as a line of the terminal. */
static void print_row(struct text *out, const struct ranking *ranking, size_t row,
                      const struct write_settings *set)
{
    static const char *const titles[RANK_GROUPS] = {"by rating", "by exposure",
                                                    "load not known", "apart"};
    const struct ranked *ranked = &ranking->rows[row];
    struct rank_score score = rank_score(ranked->roof, ranking->settings);

    if (row == 0 || ranked->group != ranked[-1].group)
        text_printf(out, "%s%s\n", row ? "\n" : "", titles[ranked->group]);
    if (ranked->rank)
        text_printf(out, "%5lu", ranked->rank + 0ul);
    else
        text_puts(out, "    -");
    text_printf(out, "  %-12.40s ", portfolio_id(ranked->roof));
    if (isfinite(score.score))
        text_printf(out, "%7.3f  ", score.score);
    else
        text_printf(out, "%7s  ", "-");
    put_reason(out, ranked->roof, &score, ranking, set);
    text_putc(out, '\n');
}

/* What isn't shown, or has no rank. */
static void print_rest(struct text *out, const struct ranking *ranking, size_t shown)
{
    size_t ranked = ranking->counts[RANK_RATED] + ranking->counts[RANK_EXPOSED];
    size_t unknown = ranking->counts[RANK_UNKNOWN], apart = ranking->counts[RANK_APART];

    if (shown < ranked)
        text_printf(out, "... %zu more in ranking.csv\n", ranked - shown);
    if (unknown)
        text_printf(
            out, "%zu roof%s no rank, since %s load isn't known: see ranking.csv\n",
            unknown, unknown == 1 ? " has" : "s have", unknown == 1 ? "its" : "their");
    if (apart)
        text_printf(out, "%zu roof%s apart, with the reason in ranking.csv\n", apart,
                    apart == 1 ? " is" : "s are");
}

void ranking_print(struct text *out, const struct ranking *ranking, size_t most,
                   const struct write_settings *set)
{
    size_t shown = ranking->count < most ? ranking->count : most;

    for (size_t row = 0; row < shown; row++)
        print_row(out, ranking, row, set);
    print_rest(out, ranking, shown);
    text_putc(out, '\n');
    ranking_formula(out, ranking, set);
    text_putc(out, '\n');
}
