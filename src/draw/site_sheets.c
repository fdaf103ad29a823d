#include "draw/site_sheets.h"

#include <stdlib.h>

#include "draw/bookmarks.h"
#include "draw/site_sheet.h"
#include "write/output.h"

struct site_sheets {
    struct site_sheet_settings settings;
    struct paper paper;
    struct output *output; /* owned; NULL: committed */
    struct canvas *canvas; /* owned; NULL: finished */
    long long pages;
    struct bookmarks bookmarks;
};

static struct paper paper_of(const struct site_sheet_settings *settings)
{
    bool letter = settings->paper == SITE_PAPER_LETTER;
    if (settings->paper == SITE_PAPER_OF_UNITS)
        letter = columns_units(settings->write) == UNITS_US;
    if (letter)
        return (struct paper){8.5 * 72 / SITE_FULL, 11 * 72 / SITE_FULL, SITE_FULL, true};
    return (struct paper){210 * SITE_MM, 297 * SITE_MM, SITE_FULL, true};
}

enum outlay_status site_sheets_open(const char *path,
                                    const struct site_sheet_settings *settings,
                                    struct site_sheets **out, struct outlay_error *err)
{
    struct site_sheets *sheets = calloc(1, sizeof *sheets);
    *out = NULL;
    if (!sheets)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    sheets->settings = *settings;
    sheets->paper = paper_of(settings);
    enum outlay_status status = output_refuse(path, settings->overwrite, err);
    if (status == OUTLAY_OK)
        status = output_open(path, &sheets->output, err);
    if (status == OUTLAY_OK)
        status =
            canvas_new(CANVAS_PDF, &sheets->paper, sheets->output, &sheets->canvas, err);
    if (status != OUTLAY_OK) {
        site_sheets_abort(sheets);
        return status;
    }
    *out = sheets;
    return OUTLAY_OK;
}

enum outlay_status site_sheets_add(struct site_sheets *sheets,
                                   const struct building *building,
                                   const struct site_survey *survey,
                                   struct outlay_error *err)
{
    struct site_sheet sheet = {.page = {.canvas = sheets->canvas,
                                        .set = sheets->settings.write,
                                        .paper = sheets->paper,
                                        .building = building,
                                        .roof = survey->roof,
                                        .scratch = TEXT_INIT},
                               .survey = survey,
                               .rules = sheets->settings.rules};
    enum outlay_status status = OUTLAY_OK;
    bool more = true;
    while (more && status == OUTLAY_OK) {
        if (sheets->pages++ > 0)
            canvas_next_page(sheets->canvas);
        more = site_sheet_draw(&sheet);
        if (sheet.number == 1)
            status = bookmarks_add(&sheets->bookmarks, sheets->canvas, building,
                                   survey->roof, err);
    }
    if (!site_sheet_release(&sheet) && status == OUTLAY_OK)
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    return status;
}

enum outlay_status site_sheets_finish(struct site_sheets *sheets, const char *about,
                                      struct outlay_error *err)
{
    canvas_describe(sheets->canvas, "Site sheets", about);
    enum outlay_status status = canvas_finish(sheets->canvas, err);
    canvas_free(sheets->canvas);
    sheets->canvas = NULL;
    return status == OUTLAY_OK ? output_finish(sheets->output, err) : status;
}

enum outlay_status site_sheets_commit(struct site_sheets *sheets,
                                      struct outlay_error *err)
{
    struct output *output = sheets->output;
    sheets->output = NULL;
    enum outlay_status status = output_commit(output, err);
    site_sheets_abort(sheets);
    return status;
}

void site_sheets_abort(struct site_sheets *sheets)
{
    if (!sheets)
        return;
    canvas_free(sheets->canvas);
    output_abort(sheets->output);
    bookmarks_release(&sheets->bookmarks);
    free(sheets);
}
