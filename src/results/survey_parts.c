/* The files of the survey that aren't texts. */

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
