#include "write/overview.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/ascii.h"
#include "portfolio/rank.h"
#include "write/columns.h"
#include "write/overview_private.h"

/* Roofs that are named. */
enum { NAMED = 5 };

/* Of the last column, and of lines over the whole sheet, in characters. */
enum { WORDS_WIDTH = 88, LINE_WIDTH = 140 };

/* Letters are narrower than the digits that widths are counted in; not every program
 * makes rows high enough by itself. */
enum { LINE_HOLDS = 96 };

/* ---- Lines ----------------------------------------------------------------------- */

/* "1 roof", "1,200 roofs". */
void overview_roofs(struct text *out, size_t count)
{
    text_grouped(out, (double)count, 0);
    text_puts(out, count == 1 ? " roof" : " roofs");
}

/* Writes and empties words; row + 1 comes back. */
static uint32_t put_line(struct book *book, uint32_t row, struct text *words,
                         enum book_look look)
{
    book->failed = book->failed || words->failed;
    book_text(book, row, COL_WHAT, words->data, look);
    text_release(words);
    return row + 1;
}

/* A blank line and the titles of the four columns, NULL for none. */
uint32_t overview_heading(struct book *book, uint32_t row, const char *heading,
                          const char *count, const char *share, const char *words)
{
    const char *const titles[] = {heading, count, share, words};

    row++;
    for (uint16_t i = 0; i < 4; i++)
        if (titles[i])
            book_text(book, row, i, titles[i],
                      i == COL_WHAT    ? LOOK_HEAD
                      : i == COL_WORDS ? LOOK_HEAD_INDENTED
                                       : LOOK_HEAD_RIGHT);
        else if (!book->failed)
            book_check(
                book, worksheet_write_blank(book->sheet, row, i, book->looks[LOOK_HEAD]));
    return row + 1;
}

/* A row whose first and last cell may need several lines. */
uint32_t overview_row(struct book *book, uint32_t row, const char *what, double count,
                      double share, const char *words)
{
    struct text chosen = TEXT_INIT;
    size_t lines;

    units_choose(&chosen, words ? words : "", book->set->units);
    lines = (chosen.length + LINE_HOLDS - 1) / LINE_HOLDS;
    book->failed = book->failed || chosen.failed;
    if (!book->failed && lines > 1)
        book_check(book, worksheet_set_row(book->sheet, row, 14.0 * (double)lines, NULL));
    book_text(book, row, COL_WHAT, what, LOOK_WRAPPED);
    book_number(book, row, COL_COUNT, count, book_number_format(book, 0, true, false));
    book_number(book, row, COL_SHARE, share, book->share);
    book_text(book, row, COL_WORDS, chosen.data, LOOK_INDENTED);
    text_release(&chosen);
    return row + 1;
}

double overview_share(double part, double all)
{
    return all > 0 ? part / all : NAN;
}

/* "USD". */
void overview_currency(char code[4], const struct write_settings *set)
{
    snprintf(code, 4, "%s", set->currency);
    for (char *c = code; *c; c++)
        *c = ascii_upper(*c);
}

/* ---- Parts ----------------------------------------------------------------------- */

/* A path's last part; a connection string has none and stays as it is. */
static const char *short_name(const char *path)
{
    const char *slash = strrchr(path, '/');

    return slash && slash[1] && !strchr(path, '=') ? slash + 1 : path;
}

static uint32_t put_top(struct book *book, const struct overview *overview)
{
    struct text words = TEXT_INIT;
    uint32_t row = 0;

    text_printf(&words, "Roofs of %s", short_name(overview->record->input.path));
    row = put_line(book, row, &words, LOOK_TITLE);
    if (!book->failed)
        book_check(book, worksheet_set_row(book->sheet, 0, 28, NULL));
    grid_caution(&words, book->set, true);
    row = book_caution(book, row, &words, LINE_WIDTH);
    text_release(&words);
    return row;
}

static void put_extent(struct text *words, const struct book *book,
                       const struct totals *totals)
{
    const struct unit *unit = &book->set->units->area;

    overview_roofs(words, totals->roofs);
    text_puts(words, " on ");
    text_grouped(words, (double)totals->buildings, 0);
    text_printf(words, " building%s, ", totals->buildings == 1 ? "" : "s");
    text_grouped(words, totals->area / unit->factor, 0);
    text_printf(words, " %s in all.", unit->suffix);
    if (totals->zoned == totals->roofs)
        return;
    text_putc(words, ' ');
    overview_roofs(words, totals->roofs - totals->zoned);
    text_puts(words, " had to be left out; the sheet problems says why.");
}

static void put_verdict(struct text *words, const struct totals *totals)
{
    size_t assumed = totals->states[STATE_MET_ASSUMED];
    size_t unsure = totals->states[STATE_UNKNOWN];

    text_puts(words, "The attachment chosen holds on ");
    overview_roofs(words, totals->states[STATE_MET] + assumed);
    if (assumed > 0 && totals->states[STATE_MET] == 0) {
        text_puts(words, ", but only if what is assumed proves true");
    } else if (assumed > 0) {
        text_puts(words, ", on ");
        text_grouped(words, (double)assumed, 0);
        text_puts(words, " of them only if what is assumed proves true");
    }
    text_puts(words, "; it does not hold on ");
    text_grouped(words, (double)totals->states[STATE_NOT_MET], 0);
    if (unsure > 0) {
        text_puts(words, ", and for ");
        text_grouped(words, (double)unsure, 0);
        text_puts(words, " it isn't known");
    }
    text_putc(words, '.');
}

static void put_weakness(struct text *words, const struct totals *totals)
{
    text_puts(words, "Something that nobody confirmed is assumed for ");
    overview_roofs(words, totals->assumed);
    text_puts(words, "; height or storeys are estimated for ");
    text_grouped(words, (double)totals->estimated, 0);
    text_putc(words, '.');
}

static uint32_t put_short(struct book *book, uint32_t row,
                          const struct overview *overview)
{
    const struct totals *totals = overview->record->totals;
    struct text words = TEXT_INIT;

    row = overview_heading(book, row, "In short", NULL, NULL, NULL);
    put_extent(&words, book, totals);
    row = put_line(book, row, &words, LOOK_TEXT);
    put_verdict(&words, totals);
    row = put_line(book, row, &words, LOOK_TEXT);
    if (overview->compared->own.roofs > 0) {
        overview_price(&words, book, &overview->compared->own);
        row = put_line(book, row, &words, LOOK_TEXT);
    }
    if (totals->assumed + totals->estimated > 0) {
        put_weakness(&words, totals);
        row = put_line(book, row, &words, LOOK_TEXT);
    }
    return row;
}

static uint32_t put_states(struct book *book, uint32_t row, const struct totals *totals)
{
    static const struct {
        enum zone_state state;
        const char *meaning;
    } states[] = {
        {STATE_MET, "The rating tested is at least what the wind demands, in all zones."},
        {STATE_MET_ASSUMED,
         "As above, if what is assumed proves true, the deck's pull-out for one. Counted "
         "by area, nothing is better: only a layout shows what fasteners carry."},
        {STATE_NOT_MET, "At least one zone demands more than this attachment gives."},
        {STATE_UNKNOWN,
         "Height, wind speed or a pull-out test is missing, or the standard's figures "
         "don't cover the roof."},
    };

    row = overview_heading(book, row, "Does the new roof hold in the wind?", "roofs",
                           "share", "what this means");
    for (size_t i = 0; i < sizeof states / sizeof states[0]; i++) {
        double count = (double)totals->states[states[i].state];

        row =
            overview_row(book, row, zone_state_name((int)states[i].state), count,
                         overview_share(count, (double)totals->roofs), states[i].meaning);
    }
    return row;
}

static uint32_t put_zones(struct book *book, uint32_t row, const struct totals *totals)
{
    static const char *const meanings[] = {
        [ZONE_CORNER] = "Where the wind pulls hardest.",
        [ZONE_PERIMETER] = "Along the edges.",
        [ZONE_FIELD] = "Away from the edges.",
        [ZONE_INTERIOR] = "The middle of wide roofs, where it pulls least."};
    const struct unit *unit = &book->set->units->area;
    double all = 0;

    for (int role = 0; role < ZONE_ROLES; role++)
        all += totals->zone_area[role];
    row = overview_heading(book, row, "Area by wind zone", unit->suffix, "share",
                           "where it is");
    for (int role = 0; role < ZONE_ROLES; role++)
        row = overview_row(book, row, zone_role_name(role),
                           totals->zone_area[role] / unit->factor,
                           overview_share(totals->zone_area[role], all), meanings[role]);
    return row;
}

/* Which column of a grid has this name, before its unit; -1 for none. */
static int column_of(const struct grid *grid, const char *name)
{
    const struct grid_sheet *sheet = grid_sheet(grid);

    for (size_t i = 0; i < sheet->column_count; i++)
        if (strcmp(sheet->columns[i].name, name) == 0)
            return (int)i;
    return -1;
}

static const char *text_of(const struct grid *grid, size_t row, const char *name)
{
    int column = column_of(grid, name);

    return column < 0 ? NULL : grid_cell_text(grid, row, (size_t)column);
}

/* "0401, Hall, Distribution Centre". */
static void put_roof_name(struct text *out, const struct grid *grid, size_t row)
{
    const char *id = text_of(grid, row, "roof_id");
    const char *name = text_of(grid, row, "name");
    const char *building = text_of(grid, row, "building");

    text_puts(out, id ? id : "");
    if (name)
        text_printf(out, ", %s", name);
    if (building)
        text_printf(out, ", %s", building);
}

static double number_of(const struct grid *grid, size_t row, const char *name)
{
    int column = column_of(grid, name);

    return column < 0 ? NAN : grid_cell_number(grid, row, (size_t)column);
}

/* A roof by its name, a number of it and why. */
static uint32_t put_roof(struct book *book, uint32_t row, const struct grid *grid,
                         size_t i)
{
    struct text name = TEXT_INIT;

    put_roof_name(&name, grid, i);
    book->failed = book->failed || name.failed;
    row = overview_row(book, row, name.data, number_of(grid, i, "area"), NAN,
                       text_of(grid, i, "reason"));
    text_release(&name);
    return row;
}

/* The first roofs of the ranking's groups. */
static uint32_t put_exposed(struct book *book, uint32_t row, const struct grid *ranking)
{
    const char *unit = book->set->units->area.suffix;
    const char *group = NULL;

    for (size_t i = 0; i < grid_rows(ranking); i++) {
        const char *of = text_of(ranking, i, "group");
        bool rated = of && strcmp(of, rank_group_name(RANK_RATED)) == 0;

        if (!of || isnan(number_of(ranking, i, "rank")))
            break;
        if (!group || strcmp(of, group) != 0)
            row = overview_heading(book, row,
                                   rated ? "Present roofs, by demand over rating"
                                         : "Most exposed to wind, rating unknown",
                                   unit, NULL, "why");
        group = of;
        if (number_of(ranking, i, "rank") <= NAMED)
            row = put_roof(book, row, ranking, i);
    }
    return row;
}

/* The first roofs that don't hold, by name. */
static uint32_t put_failing(struct book *book, uint32_t row,
                            const struct overview *overview)
{
    const struct grid *summary = overview->summary;
    const char *not_met = zone_state_name(STATE_NOT_MET);
    size_t named = 0;

    if (overview->record->totals->states[STATE_NOT_MET] == 0)
        return row;
    row = overview_heading(book, row, "Where the new attachment does not hold",
                           book->set->units->area.suffix, NULL, "why");
    for (size_t i = 0; i < grid_rows(summary) && named < NAMED; i++) {
        const char *state = text_of(summary, i, "state");

        if (!state || strcmp(state, not_met) != 0)
            continue;
        row = put_roof(book, row, summary, i);
        named++;
    }
    if (named < overview->record->totals->states[STATE_NOT_MET])
        row = overview_row(book, row, "more: filter the sheet summary by state", NAN, NAN,
                           NULL);
    return row;
}

static uint32_t put_invented(struct book *book, uint32_t row, bool planned)
{
    const struct write_settings *set = book->set;

    if (set->catalog_built_in)
        row = overview_row(book, row, "ratings", NAN, NAN,
                           "invented: those of the built-in catalogue");
    if (set->items_built_in)
        row = overview_row(book, row, "pack sizes, crew rates", NAN, NAN,
                           "invented: those of the built-in catalogue");
    if (set->prices_built_in)
        row = overview_row(book, row, "prices", NAN, NAN,
                           "invented: those of the built-in table");
    if (planned && set->actions_built_in)
        row = overview_row(book, row, "what can be done to a roof", NAN, NAN,
                           "invented: the built-in actions");
    if (planned)
        row = overview_row(book, row, "what waiting costs, how long roofs last", NAN, NAN,
                           "planning choices, not measured");
    return row;
}

/* Coefficients that nobody has read in print. */
static uint32_t put_unread(struct book *book, uint32_t row, const struct grid *summary)
{
    const char *memory = coefficient_basis_name(BASIS_MEMORY);
    const char *recovered = coefficient_basis_name(BASIS_RECOVERED);
    double count = 0;

    for (size_t i = 0; i < grid_rows(summary); i++) {
        const char *basis = text_of(summary, i, "coefficients");

        count += basis && (strcmp(basis, memory) == 0 || strcmp(basis, recovered) == 0);
    }
    if (count == 0)
        return row;
    return overview_row(book, row, "pressure coefficients", count,
                        overview_share(count, (double)grid_rows(summary)),
                        "from memory, or recovered from a table of results: check them "
                        "against the standard in print");
}

static uint32_t put_unsure(struct book *book, uint32_t row,
                           const struct overview *overview)
{
    const struct totals *totals = overview->record->totals;
    double all = (double)totals->roofs;

    row = overview_heading(book, row, "What isn't certain", "roofs", "share", "how");
    row = put_invented(book, row, overview->plan != NULL);
    row = put_unread(book, row, overview->summary);
    for (int i = 0; i < ESTIMATES; i++)
        if (totals->estimates[i] > 0)
            row = overview_row(book, row, estimate_name(i), (double)totals->estimates[i],
                               overview_share((double)totals->estimates[i], all),
                               estimate_reason(i));
    for (int i = 0; i < ASSUMPTIONS; i++)
        if (totals->assumptions[i] > 0)
            row = overview_row(book, row, assumption_name(i),
                               (double)totals->assumptions[i],
                               overview_share((double)totals->assumptions[i], all),
                               assumption_reason(i));
    return row;
}

static uint32_t put_setting(struct book *book, uint32_t row, const char *name,
                            const char *value)
{
    book_text(book, row, COL_WHAT, name, LOOK_TEXT);
    book_text(book, row, COL_COUNT, value, LOOK_TEXT);
    return row + 1;
}

/* What no result depends on, and what stands above. */
static bool is_left_out(const char *name)
{
    static const char *const names[] = {"standard", "output", "write", "overwrite",
                                        "threads",  "strict", "quiet"};

    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        if (strcmp(names[i], name) == 0)
            return true;
    return false;
}

static uint32_t put_settings(struct book *book, uint32_t row,
                             const struct run_record *record)
{
    row = overview_heading(book, row, "Standard and settings", NULL, NULL, NULL);
    row = put_setting(book, row, "standard", book->set->standard->title);
    row = put_setting(book, row, "input", record->input.path);
    row = put_setting(book, row, "digest of the input", record->input.digest);
    row = put_setting(book, row, "program", "outlay " OUTLAY_VERSION);
    for (size_t i = 0; i < record->setting_count; i++)
        if (record->settings[i].value && !is_left_out(record->settings[i].name))
            row = put_setting(book, row, record->settings[i].name,
                              record->settings[i].value);
    return row;
}

void overview_add(struct book *book, const struct overview *overview)
{
    const struct run_record *record = overview->record;
    uint32_t row = 0;

    book_sheet(book, "overview");
    row = put_top(book, overview);
    row = put_short(book, row, overview);
    row = put_states(book, row, record->totals);
    row = put_failing(book, row, overview);
    row = overview_costs(book, row, overview->compared);
    row = overview_plan(book, row, overview->plan);
    row = put_exposed(book, row, overview->ranking);
    row = put_zones(book, row, record->totals);
    row = put_unsure(book, row, overview);
    put_settings(book, row, record);
    if (book->failed)
        return;
    book_check(book, worksheet_set_column(book->sheet, COL_WHAT, COL_WHAT, 42, NULL));
    book_check(book, worksheet_set_column(book->sheet, COL_COUNT, COL_SHARE, 13, NULL));
    book_check(
        book, worksheet_set_column(book->sheet, COL_WORDS, COL_WORDS, WORDS_WIDTH, NULL));
    worksheet_gridlines(book->sheet, LXW_HIDE_ALL_GRIDLINES);
    worksheet_fit_to_pages(book->sheet, 1, 0);
    worksheet_activate(book->sheet);
}
