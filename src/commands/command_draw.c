#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/plural.h"
#include "commands/commands.h"
#include "commands/execute.h"
#include "options/selection.h"
#include "results/plan_pages.h"
#include "results/problems_file.h"

/* Draws batches as they come. */
struct drawing {
    const struct settings *settings;
    struct plans *plans;            /* owned */
    struct problems_file *problems; /* owned; of the roofs that are drawn */
    bool *found;                    /* owned; by index of the selection */
    size_t left_out;                /* selected roofs without zones */
};

static void note_found(struct drawing *drawing, const struct roof *roof)
{
    size_t length = 0;
    for (size_t i = 0; i < selection_size(drawing->settings); i++) {
        const char *id = selection_id(drawing->settings, i, &length);
        if (strlen(roof->id) == length && memcmp(roof->id, id, length) == 0)
            drawing->found[i] = true;
    }
    drawing->left_out += !roof->zoned;
}

static enum outlay_status put_layer_problems(void *self, const struct grid *rows,
                                             struct outlay_error *err)
{
    struct drawing *drawing = self;
    return problems_file_put_grid(drawing->problems, rows, err);
}

static enum outlay_status withdraw_problem(void *self, const struct grid *row,
                                           struct outlay_error *err)
{
    struct drawing *drawing = self;
    return problems_file_withdraw(drawing->problems, row, err);
}

static enum outlay_status put_problems(struct drawing *drawing,
                                       const struct building *building, struct roof *roof,
                                       struct outlay_error *err)
{
    struct building alone = *building;
    struct text rows = TEXT_INIT;
    alone.roofs = roof;
    alone.roof_count = 1;
    problems_rows(&rows, &alone, &drawing->settings->write);
    enum outlay_status status = problems_file_put(drawing->problems, &rows, err);
    text_release(&rows);
    return status;
}

static enum outlay_status draw_batch(void *self, const struct batch *batch,
                                     struct outlay_error *err)
{
    struct drawing *drawing = self;
    enum outlay_status status = OUTLAY_OK;
    for (size_t i = 0; status == OUTLAY_OK && i < batch->building_count; i++) {
        const struct building *building = &batch->buildings[i];
        for (size_t j = 0; status == OUTLAY_OK && j < building->roof_count; j++) {
            struct roof *roof = &building->roofs[j];
            if (!selection_has(drawing->settings, roof))
                continue;
            note_found(drawing, roof);
            status = put_problems(drawing, building, roof, err);
        }
        if (status == OUTLAY_OK)
            status = plan_pages_add(drawing->plans, drawing->settings, building, err);
    }
    return status;
}

/* @return OUTLAY_E_USAGE for an id that no roof has */
static enum outlay_status all_found(const struct drawing *drawing,
                                    struct outlay_error *err)
{
    const struct settings *settings = drawing->settings;
    size_t length = 0;
    for (size_t i = 0; i < selection_size(settings); i++) {
        const char *id = selection_id(settings, i, &length);
        if (drawing->found[i])
            continue;
        outlay_fail(err, OUTLAY_E_USAGE, "no roof has the id \"%.*s\"",
                    (int)(length < 80 ? length : 80), id);
        outlay_fail_where(err, "%s", settings->read.input);
        outlay_fail_todo(err, "ids come from the column of --field id=COLUMN, else they "
                              "count from 1; `outlay inspect` shows which");
        return OUTLAY_E_USAGE;
    }
    return OUTLAY_OK;
}

static enum outlay_status open_drawing(struct drawing *drawing, struct outlay_error *err)
{
    const struct settings *settings = drawing->settings;
    drawing->found = calloc(selection_size(settings) + 1, sizeof *drawing->found);
    if (!drawing->found)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    enum outlay_status status =
        plan_pages_open(settings->output, settings, &drawing->plans, err);
    if (status == OUTLAY_OK)
        status = problems_file_new(settings, &drawing->problems, err);
    return status;
}

/* What the run's own messages don't tell. */
static void tell(const struct drawing *drawing, const struct messages *messages)
{
    char what[120];
    const char *problems = problems_file_path(drawing->problems);
    if (selection_size(drawing->settings) && drawing->left_out) {
        snprintf(what, sizeof what, "without zones: %zu of %lld roof%s drawn",
                 drawing->left_out, plans_roofs(drawing->plans),
                 PLURAL(plans_roofs(drawing->plans)));
        message_send(messages, OUTLAY_MESSAGE_WARNING, what,
                     drawing->settings->read.input, "their sheets say why");
    }
    if (problems)
        message_send(messages, OUTLAY_MESSAGE_NOTE, "problems were found", problems,
                     "read them before you use the sheets");
}

static enum outlay_status finish(struct drawing *drawing, const struct run_counts *counts,
                                 const struct messages *messages, struct text *report,
                                 struct outlay_error *err)
{
    struct problems_file *problems = drawing->problems;
    struct plans *plans = drawing->plans;
    enum outlay_status status = all_found(drawing, err);
    if (status != OUTLAY_OK)
        return status;
    tell(drawing, messages);
    text_printf(report, "drawn: %lld roof%s, %s\n", plans_roofs(plans),
                PLURAL(plans_roofs(plans)), drawing->settings->output);
    status = report->failed ? outlay_fail(err, OUTLAY_E_MEMORY, "out of memory")
                            : plan_pages_finish(plans, counts->digest, err);
    if (status == OUTLAY_OK)
        status = problems_file_commit(problems, err);
    if (status != OUTLAY_OK)
        return status;
    drawing->plans = NULL;
    status = plans_commit(plans, err);
    if (status != OUTLAY_OK)
        problems_file_undo(problems);
    return status;
}

enum outlay_status command_draw(const struct settings *given,
                                const struct messages *messages,
                                struct outlay_result *result, struct text *report,
                                struct outlay_error *err)
{
    struct settings settings = *given;
    struct drawing drawing = {.settings = &settings};
    struct sink calls = {.layouts = true,
                         .self = &drawing,
                         .commit = draw_batch,
                         .problems = put_layer_problems,
                         .withdraw = withdraw_problem};
    struct run_counts counts = {0};
    struct reader *reader = NULL;
    bool some = selection_size(given) > 0;
    enum outlay_status status =
        execute_need_output(given, "name a file: outlay draw INPUT -o plans.pdf", err);
    settings.takeoff.place_plates = true;
    if (status == OUTLAY_OK)
        status = open_drawing(&drawing, err);
    if (status == OUTLAY_OK)
        status = execute_open(&settings, &reader, err);
    if (status == OUTLAY_OK)
        status = plan_pages_expect(drawing.plans, &settings, reader_count(reader), err);
    if (status == OUTLAY_OK)
        status =
            execute_run(&settings, reader, messages, !some, &calls, &counts, result, err);
    if (status == OUTLAY_OK)
        status = finish(&drawing, &counts, messages, report, err);
    if (some)
        result->left_out = drawing.left_out;
    if (status == OUTLAY_OK)
        status = execute_input_status(&counts, err);
    plans_abort(drawing.plans);
    problems_file_abort(drawing.problems);
    free(drawing.found);
    reader_close(reader);
    return status;
}
