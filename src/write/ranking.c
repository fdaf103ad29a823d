#include "write/ranking.h"

#include <math.h>

/* Rows that are held as cells at once. */
#define ROWS_AT_ONCE 4096

static const struct grid_column columns[] = {
    {"rank", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"group", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"roof_id", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"name", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"building", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"score", GRID_NUMBER, MEASURE_NONE, {3, 3}, false},
    {"reason", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"height", GRID_NUMBER, MEASURE_LENGTH, {1, 2}, false},
    {"exposure", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"worst_zone", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"exposure_pressure", GRID_NUMBER, MEASURE_PRESSURE, {1, 0}, false},
    {"demand", GRID_NUMBER, MEASURE_PRESSURE, {1, 0}, false},
    {"capacity", GRID_NUMBER, MEASURE_PRESSURE, {1, 0}, false},
    {"capacity_basis", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"demand_over_capacity", GRID_NUMBER, MEASURE_NONE, {3, 3}, false},
    {"area", GRID_NUMBER, MEASURE_AREA, {1, 1}, true},
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
    {"share_factor", GRID_NUMBER, MEASURE_NONE, {3, 3}, false},
    {"edge_factor", GRID_NUMBER, MEASURE_NONE, {3, 3}, false},
    {"condition_factor", GRID_NUMBER, MEASURE_NONE, {3, 3}, false},
    {"age_factor", GRID_NUMBER, MEASURE_NONE, {3, 3}, false},
    {"consequence_factor", GRID_NUMBER, MEASURE_NONE, {3, 3}, false},
    {"estimated", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"assumed", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
};

const struct grid_sheet ranking_sheet = {"ranking", columns,
                                         sizeof columns / sizeof columns[0]};

/* ---- The reason in words ---- */

static void put_measured(struct text *out, double value, const struct unit *unit,
                         int decimals)
{
    text_fixed(out, value / unit->factor, decimals);
    text_printf(out, " %s", unit->label);
}

static void put_load(struct text *out, const struct portfolio_roof *roof,
                     const struct rank_score *score, const struct write_settings *set)
{
    int decimals = columns_units(set) == UNITS_US ? 1 : 0;

    if (score->group == RANK_RATED) {
        text_puts(out, "demand is ");
        text_fixed(out, score->load, 2);
        text_printf(out, " of capacity in the %s: ", zone_role_name(roof->worst));
        put_measured(out, roof->demand, &set->units->pressure, decimals);
        text_puts(out, " on ");
        put_measured(out, roof->capacity, &set->units->pressure, decimals);
    } else {
        put_measured(out, roof->uplift[roof->worst], &set->units->pressure, decimals);
        text_printf(out, " uplift in the %s", zone_role_name(roof->worst));
    }
    text_puts(out, " at ");
    text_number(out, (double)roof->height / set->units->length.factor, 1);
    text_printf(out, " %s", set->units->length.suffix);
    text_printf(out, ", exposure %s", exposure_name(roof->exposure));
}

static void put_part(struct text *out, const struct portfolio_roof *roof,
                     const struct rank_settings *settings, int part)
{
    double edges = (double)roof->share[ZONE_CORNER] + (double)roof->share[ZONE_PERIMETER];

    switch ((enum rank_part)part) {
    case RANK_SHARE:
        text_printf(out, "%.0f %% corner and perimeter", 100 * edges);
        break;
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

/* The load, then what raises or lowers the score by 2 % or more. */
static void put_reason(struct text *out, const struct portfolio_roof *roof,
                       const struct rank_score *score,
                       const struct rank_settings *settings,
                       const struct write_settings *set)
{
    if (score->group == RANK_UNKNOWN) {
        text_puts(out, roof->zoned ? "no wind speed: exposure unknown"
                                   : "no zones: exposure unknown, see problems.csv");
        return;
    }
    put_load(out, roof, score, set);
    for (int raises = 1; raises >= 0; raises--) {
        const char *before = raises ? "; raised by " : "; lowered by ";

        for (int part = 0; part < RANK_PARTS; part++) {
            double change = score->factors[part] - 1;

            if (!(raises ? change >= 0.02 : change <= -0.02))
                continue;
            text_puts(out, before);
            put_part(out, roof, settings, part);
            before = ", ";
        }
    }
}

/* ---- Rows ---- */

static void put_names(struct grid *grid, unsigned bits, const char *(*name_of)(int),
                      int count)
{
    struct text names = TEXT_INIT;

    for (int i = 0; i < count; i++)
        if (bits & 1u << i)
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
    grid_number(grid, roof->area > 0 ? roof->area : NAN);
    for (int role = 0; role < ZONE_ROLES; role++)
        grid_number(grid, roof->zoned ? (double)roof->share[role] : NAN);
    for (int role = 0; role < ZONE_ROLES; role++)
        grid_number(grid, portfolio_force(roof, (enum zone_role)role));
}

static void put_row(struct grid *grid, const struct ranking *ranking, size_t row,
                    struct text *reason, const struct write_settings *set)
{
    const struct portfolio_roof *roof = ranking->rows[row].roof;
    struct rank_score score = rank_score(roof, ranking->settings);

    text_clear(reason);
    put_reason(reason, roof, &score, ranking->settings, set);
    grid_number(grid, score.group == RANK_UNKNOWN
                          ? NAN
                          : (double)(row - ranking->starts[score.group] + 1));
    grid_text(grid, rank_group_name((int)score.group));
    grid_text(grid, portfolio_id(roof));
    grid_text(grid, portfolio_name(roof));
    grid_text(grid, portfolio_building(roof));
    grid_number(grid, score.score);
    grid_made(grid, reason);
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
}

void ranking_fill(struct grid *grid, const struct ranking *ranking, size_t from,
                  size_t count, const struct write_settings *set)
{
    struct text reason = TEXT_INIT;

    for (size_t row = from; row < ranking->count && row - from < count; row++)
        put_row(grid, ranking, row, &reason, set);
    text_release(&reason);
}

void ranking_caution(struct text *out, const struct ranking *ranking,
                     const struct write_settings *set)
{
    struct write_settings ranked = *set;

    /* Neither the catalogue's ratings nor its packs are in this table. */
    ranked.catalog_built_in = ranked.items_built_in = false;
    grid_caution(out, &ranked, false);
    text_putc(out, ' ');
    rank_formula(out, ranking->settings);
}

enum outlay_status ranking_csv(struct output *output, const struct ranking *ranking,
                               const struct write_settings *set, struct outlay_error *err)
{
    struct grid *grid = grid_new(&ranking_sheet, set);
    struct text out = TEXT_INIT, caution = TEXT_INIT;
    enum outlay_status status = OUTLAY_OK;

    if (!grid)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    ranking_caution(&caution, ranking, set);
    grid_csv_header(&out, grid, caution.data);
    for (size_t row = 0; status == OUTLAY_OK && row < ranking->count;
         row += ROWS_AT_ONCE) {
        ranking_fill(grid, ranking, row, ROWS_AT_ONCE, set);
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

void ranking_print(struct text *out, const struct ranking *ranking, size_t most,
                   const struct write_settings *set)
{
    struct text reason = TEXT_INIT;
    size_t shown = ranking->count < most ? ranking->count : most;

    for (size_t row = 0; row < shown; row++) {
        const struct ranked *ranked = &ranking->rows[row];
        struct rank_score score = rank_score(ranked->roof, ranking->settings);

        if (row == 0 || ranked->group != ranked[-1].group)
            text_printf(out, "%sby %s\n", row ? "\n" : "",
                        rank_group_name(ranked->group));
        text_clear(&reason);
        put_reason(&reason, ranked->roof, &score, ranking->settings, set);
        if (ranked->group == RANK_UNKNOWN)
            text_printf(out, "    -");
        else
            text_printf(out, "%5zu", row - ranking->starts[ranked->group] + 1);
        text_printf(out, "  %-12.40s ", portfolio_id(ranked->roof));
        if (isfinite(score.score))
            text_printf(out, "%7.3f", score.score);
        else
            text_printf(out, "%7s", "-");
        text_printf(out, "  %s\n", reason.data ? reason.data : "");
    }
    if (shown < ranking->count)
        text_printf(out, "... %zu more in ranking.csv\n", ranking->count - shown);
    text_putc(out, '\n');
    rank_formula(out, ranking->settings);
    text_putc(out, '\n');
    out->failed |= reason.failed;
    text_release(&reason);
}
