/* The files of the survey that aren't texts. */

#include <stdio.h>

#include "draw/site_sheets.h"
#include "results/parts.h"
#include "write/survey_points.h"
#include "write/survey_table.h"
#include "write/workbook.h"

/* ---- survey.xlsx ------------------------------------------------------------------ */

static void add_sheet(struct book *book, const struct grid *grid, const char *words,
                      const struct write_settings *set)
{
    struct text about = TEXT_INIT;
    struct text caution = TEXT_INIT;
    text_puts(&about, words);
    grid_caution(&caution, set, false);
    book_add(book, grid, &about, &caution);
    text_release(&about);
    text_release(&caution);
}

static enum outlay_status book_part_commit(void *self, const struct outcome *outcome,
                                           const char *path, struct outlay_error *err)
{
    const struct write_settings *set = &outcome->settings->write;
    struct book *book = NULL;
    enum outlay_status status = book_open(path, set, &book, err);
    (void)self;
    if (status != OUTLAY_OK)
        return status;
    add_sheet(book, outcome->surveyed->form,
              "A form: fill in value, who and when of each row, and read it back by "
              "--findings. Rows that stay empty are passed over.",
              set);
    add_sheet(book, outcome->surveyed->roofs, "What is left to check on each roof.", set);
    return book_commit(book, err);
}

const struct part_object survey_book_object = {.commit = book_part_commit};

/* ---- survey.gpkg ------------------------------------------------------------------ */

static enum outlay_status points_open(const struct outcome *outcome, const char *path,
                                      void **self, struct outlay_error *err)
{
    struct survey_points *points = NULL;
    enum outlay_status status =
        survey_points_open(path, &outcome->settings->write, &points, err);
    *self = points;
    return status;
}

static enum outlay_status points_add(void *self, const struct outcome *outcome,
                                     const struct building *building,
                                     struct outlay_error *err)
{
    (void)outcome;
    return survey_points_add(self, building, err);
}

static enum outlay_status points_commit(void *self, const struct outcome *outcome,
                                        const char *path, struct outlay_error *err)
{
    (void)outcome;
    (void)path;
    return survey_points_close(self, err);
}

static void points_drop(void *self)
{
    survey_points_abort(self);
}

const struct part_object survey_points_object = {points_open, points_add, points_commit,
                                                 points_drop, NULL};

/* ---- survey.pdf ------------------------------------------------------------------- */

static enum outlay_status site_open(const struct outcome *outcome, const char *path,
                                    void **self, struct outlay_error *err)
{
    const struct site_sheet_settings settings = {.write = &outcome->settings->write,
                                                 .rules = &outcome->settings->rules,
                                                 .paper = SITE_PAPER_OF_UNITS,
                                                 .overwrite = true};
    struct site_sheets *sheets = NULL;
    enum outlay_status status = site_sheets_open(path, &settings, &sheets, err);
    *self = sheets;
    return status;
}

static enum outlay_status site_add(void *self, const struct outcome *outcome,
                                   const struct building *building,
                                   struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    (void)outcome;
    for (size_t i = 0; building->surveys && i < building->roof_count; i++)
        if (status == OUTLAY_OK && building->surveys[i].entry_count > 0)
            status = site_sheets_add(self, building, &building->surveys[i], err);
    return status;
}

static enum outlay_status site_commit(void *self, const struct outcome *outcome,
                                      const char *path, struct outlay_error *err)
{
    char about[64];
    const char *digest = outcome->record->input.digest;
    (void)path;
    snprintf(about, sizeof about, "input %.33s", *digest ? digest : "without digest");
    enum outlay_status status = site_sheets_finish(self, about, err);
    if (status == OUTLAY_OK)
        return site_sheets_commit(self, err);
    site_sheets_abort(self);
    return status;
}

static void site_drop(void *self)
{
    site_sheets_abort(self);
}

const struct part_object site_sheets_object = {site_open, site_add, site_commit,
                                               site_drop, NULL};
