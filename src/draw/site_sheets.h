#ifndef OUTLAY_DRAW_SITE_SHEETS_H
#define OUTLAY_DRAW_SITE_SHEETS_H

/**
 * @file draw/site_sheets.h
 * Site sheets, a PDF to print and take onto the roofs: for each roof a plan with the
 * places of its survey, what to bring, and a table to fill in by hand. A roof begins a
 * page; its table goes on on further ones where it has no room.
 *
 *     status = site_sheets_open(path, &settings, &sheets, err);
 *     for each roof, in output order
 *         status = site_sheets_add(sheets, building, survey, err);
 *     status = site_sheets_finish(sheets, about, err);
 *     status = site_sheets_commit(sheets, err);     or site_sheets_abort(sheets)
 *
 * Pages are upright, in greys, and print on letter and on A4 alike without losing
 * anything, wherever the printer puts one on the other. North is up. The same records
 * give the same bytes: no dates. All borrowed but for what site_sheets_open() gives.
 * Threads: one a set of sheets.
 */

#include <stdbool.h>

#include "outlay/status.h"
#include "roof/roof.h"
#include "survey/survey.h"
#include "write/write.h"

enum site_paper { SITE_PAPER_OF_UNITS, SITE_PAPER_LETTER, SITE_PAPER_A4 };

struct site_sheet_settings {
    const struct write_settings *write;
    const struct survey_rules *rules; /**< borrowed; what goes by day is noted */
    enum site_paper paper;            /**< of units: letter for US units, A4 for SI */
    bool overwrite;                   /**< a file that exists may be replaced */
};

struct site_sheets;

/**
 * @param[out] out  owned; ends with site_sheets_commit() or site_sheets_abort()
 * @return OUTLAY_E_OUTPUT, OUTLAY_E_MEMORY
 */
enum outlay_status site_sheets_open(const char *path,
                                    const struct site_sheet_settings *settings,
                                    struct site_sheets **out,
                                    struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Draws the pages of a roof. A roof without an outline has them too.
 *  @param survey  of a roof of building
 *  @return OUTLAY_E_MEMORY */
enum outlay_status site_sheets_add(struct site_sheets *sheets,
                                   const struct building *building,
                                   const struct site_survey *survey,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Ends the drawing beside its place; no roof can be added.
 *  @param about  the input in a line */
enum outlay_status site_sheets_finish(struct site_sheets *sheets, const char *about,
                                      struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Puts what was finished in its place, and frees. */
enum outlay_status site_sheets_commit(struct site_sheets *sheets,
                                      struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Removes what was drawn and frees. NULL is ignored. */
void site_sheets_abort(struct site_sheets *sheets);

#endif
