#ifndef OUTLAY_WRITE_SURVEY_TABLE_H
#define OUTLAY_WRITE_SURVEY_TABLE_H

/**
 * @file write/survey_table.h
 * The survey as tables: a form whose rows wait for a value each, and what is left to do
 * on each roof.
 */

#include "survey/survey.h"
#include "write/grid.h"

/* survey: a value to be read at a place a row, roof by roof, most decisive first. The
 * columns value, who, when and note are empty. */
extern const struct grid_sheet survey_sheet;

/** Adds the rows of one roof. */
void survey_of_roof(struct grid *grid, const struct site_survey *survey,
                    const struct write_settings *set);

/* survey.csv */
void survey_header(struct text *out, const struct write_settings *set);
void survey_rows(struct text *out, const struct building *building,
                 const struct write_settings *set);

/** What a value is usually written in: "lbf"; "" for words and counts. */
const char *survey_unit(enum finding_kind kind, const struct unit_system *units);

/** Appends what is to be written, with the words that it takes. */
void survey_what(struct text *out, enum finding_kind kind);

/* survey-roofs: what is left on each roof, a row a roof. */
extern const struct grid_sheet survey_roofs_sheet;

/** Sums over the portfolio, in output order. */
struct survey_sums {
    size_t places[SURVEY_TASKS]; /**< to go to */
    size_t rows, open;           /**< values asked for; of these, open ones */
    size_t roofs, left;          /**< surveyed; whose state waits for a finding */
    double area, area_left;      /**< m2 */
    double cost, cost_left;      /**< hundredths of the currency; of the priced roofs */
};

/** All surveys of a run, ready to be written. Threads: one. */
struct surveyed {
    const struct write_settings *set; /**< borrowed */
    struct grid *form, *roofs;        /**< owned */
    struct survey_sums sums;
};

/** @return owned; NULL when out of memory */
struct surveyed *surveyed_new(const struct write_settings *set);

/** NULL is ignored. */
void surveyed_free(struct surveyed *surveyed);

/** @return false when out of memory */
bool surveyed_add(struct surveyed *surveyed, const struct building *building);

/** Appends the first roofs, and the sums, for a terminal. */
void survey_print(struct text *out, const struct surveyed *surveyed, size_t most,
                  const struct write_settings *set);

#endif
