#include "write/survey_table.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/plural.h"
#include "write/spread_table.h"

static const struct grid_column form_columns[] = {
    TEXT_COLUMN("roof_id"), TEXT_COLUMN("place"), TEXT_COLUMN("kind"),
    TEXT_COLUMN("what"),    TEXT_COLUMN("value"), TEXT_COLUMN("unit"),
    TEXT_COLUMN("who"),     TEXT_COLUMN("when"),  TEXT_COLUMN("zone"),
    TEXT_COLUMN("at_edge"), TEXT_COLUMN("task"),  TEXT_COLUMN("why"),
    TEXT_COLUMN("open"),    TEXT_COLUMN("name"),  TEXT_COLUMN("building"),
    TEXT_COLUMN("note"),
};

const struct grid_sheet survey_sheet = {"survey", form_columns,
                                        sizeof form_columns / sizeof form_columns[0]};

static const struct grid_column roof_columns_left[] = {
    TEXT_COLUMN("roof_id"),      TEXT_COLUMN("name"),
    TEXT_COLUMN("building"),     NUMBER_COLUMN("area", MEASURE_AREA, 1),
    TEXT_COLUMN("state"),        COUNT_COLUMN("pullout_tests"),
    COUNT_COLUMN("cores"),       COUNT_COLUMN("values"),
    COUNT_COLUMN("open_values"), TEXT_COLUMN("decisive"),
    MONEY_COLUMN("total"),       TEXT_COLUMN("open"),
    TEXT_COLUMN("check_first"),  NUMBER_COLUMN("share_percent", MEASURE_NONE, 1),
};

const struct grid_sheet survey_roofs_sheet = {"survey-roofs", roof_columns_left,
                                              sizeof roof_columns_left /
                                                  sizeof roof_columns_left[0]};

const char *survey_unit(enum finding_kind kind, const struct unit_system *units)
{
    switch (kind) {
    case FINDING_PULLOUT:
        return units->force.label;
    case FINDING_STACK:
    case FINDING_PARAPET:
    case FINDING_PARAPET_THICKNESS:
        return units->small.label;
    case FINDING_HEIGHT:
        return units->length.label;
    case FINDING_WET_SHARE:
        return "percent";
    case FINDING_DECK_BEARING:
        return "deg";
    default:
        return "";
    }
}

void survey_what(struct text *out, enum finding_kind kind)
{
    const char *(*words)(int) = finding_words(kind);

    text_puts(out, finding_what(kind));
    for (int i = 1; words && words(i); i++)
        text_printf(out, "%s%s", i > 1 ? ", " : ": ", words(i));
}

static void put_entry(struct grid *grid, const struct site_survey *survey,
                      const struct survey_entry *entry, const struct write_settings *set)
{
    const struct survey_place *place = &survey->places[entry->place];
    struct text what = TEXT_INIT;

    survey_what(&what, entry->kind);
    grid_text(grid, survey->roof->id);
    grid_text(grid, place->name);
    grid_text(grid, finding_kind_name((int)entry->kind));
    grid_made(grid, &what);
    grid_text(grid, NULL);
    grid_text(grid, survey_unit(entry->kind, set->units));
    grid_text(grid, NULL);
    grid_text(grid, NULL);
    grid_text(grid, place->placed ? zone_role_name((int)place->zone) : NULL);
    grid_text(grid,
              place->placed && place->at_edge ? "at the edge: fall protection" : NULL);
    grid_text(grid, survey_task_name((int)place->task));
    grid_text(grid, entry->why);
    grid_text(grid, entry->open ? "open" : NULL);
    grid_text(grid, survey->roof->name);
    grid_text(grid, survey->roof->building);
    grid_text(grid, NULL);
    text_release(&what);
}

void survey_of_roof(struct grid *grid, const struct site_survey *survey,
                    const struct write_settings *set)
{
    for (size_t i = 0; i < survey->entry_count; i++)
        put_entry(grid, survey, &survey->entries[i], set);
}

static void put_csv(struct text *out, const struct building *building,
                    const struct write_settings *set, bool header)
{
    struct grid *grid = grid_new(&survey_sheet, set);
    struct text caution = TEXT_INIT;

    grid_caution(&caution, set, false);
    if (grid && header)
        grid_csv_header(out, grid, caution.data);
    for (size_t i = 0; grid && building && building->surveys && i < building->roof_count;
         i++)
        survey_of_roof(grid, &building->surveys[i], set);
    if (grid && !header)
        grid_csv_rows(out, grid);
    out->failed = out->failed || !grid || caution.failed;
    text_release(&caution);
    grid_free(grid);
}

void survey_header(struct text *out, const struct write_settings *set)
{
    put_csv(out, NULL, set, true);
}

void survey_rows(struct text *out, const struct building *building,
                 const struct write_settings *set)
{
    put_csv(out, building, set, false);
}

/* ---- What is left on each roof ---- */

/* Whether a value is still asked for at the place. */
static bool is_asked(const struct site_survey *survey, size_t place)
{
    for (size_t i = 0; i < survey->entry_count; i++)
        if (survey->entries[i].place == place)
            return true;
    return false;
}

static size_t count_task(const struct site_survey *survey, enum survey_task task)
{
    size_t count = 0;

    for (size_t i = 0; i < survey->place_count; i++)
        count += survey->places[i].task == task && is_asked(survey, i);
    return count;
}

static size_t count_open(const struct site_survey *survey)
{
    size_t count = 0;

    for (size_t i = 0; i < survey->entry_count; i++)
        count += survey->entries[i].open;
    return count;
}

static double cost_of(const struct roof *roof)
{
    return roof->costs && roof->costs[0].known ? (double)roof->costs[0].total
                                               : (double)NAN;
}

static void put_open(struct grid *grid, const struct roof *roof)
{
    struct text text = TEXT_INIT;
    uint64_t open = roof_open(roof);

    for (int i = 0; i < OPEN_ITEMS; i++)
        if (open >> i & 1)
            text_printf(&text, "%s%s", text.length ? "; " : "", open_item_name(i));
    grid_made(grid, &text);
    text_release(&text);
}

/* What causes most of the spread of the force on the roof, where inputs were drawn. */
static void put_driver(struct grid *grid, const struct roof_spread *spread)
{
    const struct driver *drivers = spread ? spread->drivers[DRIVEN_FORCE] : NULL;
    int order[SPREAD_INPUTS];
    bool some =
        drivers && drivers_sorted(drivers, order) > 0 && drivers[order[0]].share > 0;

    grid_text(grid, some ? spread_check((enum spread_input)order[0]) : NULL);
    grid_number(grid, some ? 100 * drivers[order[0]].share : (double)NAN);
}

static void put_roof(struct grid *grid, const struct site_survey *survey)
{
    const struct roof *roof = survey->roof;

    grid_text(grid, roof->id);
    grid_text(grid, roof->name);
    grid_text(grid, roof->building);
    grid_number(grid, roof->area);
    grid_text(grid, zone_state_name((int)roof->state));
    grid_number(grid, (double)count_task(survey, TASK_PULLOUT));
    grid_number(grid, (double)count_task(survey, TASK_CORE));
    grid_number(grid, (double)survey->entry_count);
    grid_number(grid, (double)count_open(survey));
    grid_text(grid, !roof->zoned || survey_decisive(roof) ? "its state waits" : NULL);
    grid_number(grid, cost_of(roof));
    put_open(grid, roof);
    put_driver(grid, roof->spread);
}

static void add_sums(struct survey_sums *sums, const struct site_survey *survey)
{
    bool left = !survey->roof->zoned || survey_decisive(survey->roof);
    double cost = cost_of(survey->roof);

    for (int task = 0; task < SURVEY_TASKS; task++)
        sums->places[task] += count_task(survey, (enum survey_task)task);
    sums->rows += survey->entry_count;
    sums->open += count_open(survey);
    sums->roofs++;
    sums->left += left;
    sums->area += survey->roof->area;
    sums->area_left += left ? survey->roof->area : 0;
    sums->cost += isnan(cost) ? 0 : cost;
    sums->cost_left += left && !isnan(cost) ? cost : 0;
}

struct surveyed *surveyed_new(const struct write_settings *set)
{
    struct surveyed *made = calloc(1, sizeof *made);

    if (!made)
        return NULL;
    made->set = set;
    made->form = grid_new(&survey_sheet, set);
    made->roofs = grid_new(&survey_roofs_sheet, set);
    if (made->form && made->roofs)
        return made;
    surveyed_free(made);
    return NULL;
}

void surveyed_free(struct surveyed *surveyed)
{
    if (!surveyed)
        return;
    grid_free(surveyed->form);
    grid_free(surveyed->roofs);
    free(surveyed);
}

bool surveyed_add(struct surveyed *surveyed, const struct building *building)
{
    for (size_t i = 0; building->surveys && i < building->roof_count; i++) {
        const struct site_survey *survey = &building->surveys[i];

        if (!survey->roof->zoned && survey->entry_count == 0)
            continue;
        survey_of_roof(surveyed->form, survey, surveyed->set);
        put_roof(surveyed->roofs, survey);
        add_sums(&surveyed->sums, survey);
    }
    return !grid_failed(surveyed->form) && !grid_failed(surveyed->roofs);
}

/* ---- For a terminal ---- */

static const char *cell(const struct grid *grid, size_t row, size_t column)
{
    const char *text = grid_cell_text(grid, row, column);

    return text ? text : "";
}

static void print_count(struct text *out, const char *before, double count,
                        const char *what)
{
    text_printf(out, "%s%.0f %s%s", before, count, what, PLURAL((size_t)count));
}

static void print_roof(struct text *out, const struct grid *grid, size_t row)
{
    text_line(out, cell(grid, row, 0), 14);
    text_printf(out, "  %s:", cell(grid, row, 4));
    print_count(out, " ", grid_cell_number(grid, row, 5), "pull-out test");
    print_count(out, ", ", grid_cell_number(grid, row, 6), "core");
    print_count(out, ", ", grid_cell_number(grid, row, 7), "value");
    if (*cell(grid, row, 9))
        text_printf(out, "; %s", cell(grid, row, 9));
    if (*cell(grid, row, 12))
        text_printf(out, "; %.0f %% of the spread of its uplift: %s",
                    grid_cell_number(grid, row, 13), cell(grid, row, 12));
    text_putc(out, '\n');
}

static void print_share(struct text *out, const char *label, double part, double whole)
{
    if (whole > 0)
        text_printf(out, ", %.0f %% of the %s", 100 * part / whole, label);
}

static void print_sums(struct text *out, const struct survey_sums *sums)
{
    struct text words = TEXT_INIT;

    for (int task = 0; task < SURVEY_TASKS; task++)
        if (sums->places[task] > 0)
            text_printf(&words, "%s%zu x %s", words.length ? ", " : "",
                        sums->places[task], survey_task_name(task));
    text_labelled(out, "to do", &words);
    text_printf(&words, "%zu of %zu roof%s wait%s for a finding that decides", sums->left,
                sums->roofs, PLURAL(sums->roofs), sums->left == 1 ? "s" : "");
    print_share(&words, "area", sums->area_left, sums->area);
    print_share(&words, "cost", sums->cost_left, sums->cost);
    text_printf(&words, "; %zu values asked for, %zu of them open", sums->rows,
                sums->open);
    text_labelled(out, "left", &words);
    text_release(&words);
}

void survey_print(struct text *out, const struct surveyed *surveyed, size_t most,
                  const struct write_settings *set)
{
    struct text caution = TEXT_INIT;
    size_t rows = grid_rows(surveyed->roofs);

    for (size_t i = 0; i < rows && i < most; i++)
        print_roof(out, surveyed->roofs, i);
    if (rows > most)
        text_printf(out, "\xE2\x80\xA6 and %zu more\n", rows - most);
    print_sums(out, &surveyed->sums);
    caution_print(&caution, set->catalog_built_in);
    out->failed = out->failed || caution.failed;
    if (caution.data)
        text_wrap(out, caution.data, 0, 0, "");
    text_putc(out, '\n');
    text_release(&caution);
}
