#include <stdlib.h>

#include "draw/draw.h"
#include "page/page.h"
#include "results/plan_pages.h"
#include "results/sinks.h"
#include "results/workbook_part.h"
#include "write/folder.h"
#include "write/layout_file.h"
#include "write/output.h"

struct folder_sink {
    const struct settings *settings;
    unsigned parts;
    struct folder *folder;         /* owned */
    struct output *outputs[PARTS]; /* owned; NULL for parts not asked for */
    bool begun[PARTS];             /* a feature was written */
    struct layout_file *layouts;   /* owned; NULL when not asked for */
    struct plans *plans;           /* likewise */
    struct shown *shown;           /* owned; NULL when no workbook is asked for */
    struct page *page;             /* owned; NULL when not asked for */
    struct order_total *total;     /* owned; NULL unless packs are the portfolio's */
    struct comparison_totals compared;
    struct decisions *decisions;  /* owned; NULL when none is wanted */
    struct grid *last_materials;  /* owned; rows behind those of the roofs; NULL until */
    struct grid *last_comparison; /* folder_sink_decide() */
};

/* Writes and frees a text that was made in one go. */
static enum outlay_status put(struct output *output, struct text *text,
                              struct outlay_error *err)
{
    enum outlay_status status = output_text(output, text, err);
    text_release(text);
    return status;
}

static bool is_geojson(int part)
{
    return part == PART_ZONES || part == PART_ROOFS;
}

/* The workbook itself is written when all is known. */
static enum outlay_status open_shown(struct folder_sink *sink, struct outlay_error *err)
{
    sink->shown = shown_new(&sink->settings->write);
    return sink->shown ? OUTLAY_OK : outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
}

static enum outlay_status open_part(struct folder_sink *sink, int part,
                                    const struct survey *survey, struct outlay_error *err)
{
    const struct write_settings *set = &sink->settings->write;
    struct text head = TEXT_INIT;
    char *path = folder_file(sink->folder, part_file((enum part)part));
    if (!path)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    enum outlay_status status;
    if (part == PART_LAYOUT)
        status = layout_file_open(path, set, survey->count < 0 ? NULL : &survey->box,
                                  &sink->layouts, err);
    else if (part == PART_PLANS)
        status = plan_pages_open(path, sink->settings, survey->count, &sink->plans, err);
    else if (part == PART_WORKBOOK)
        status = open_shown(sink, err);
    else
        status = output_open(path, &sink->outputs[part], err);
    free(path);
    if (status != OUTLAY_OK || !sink->outputs[part])
        return status;
    if (is_geojson(part))
        geojson_open(&head, part_name(part), set);
    else if (part == PART_SUMMARY)
        summary_header(&head, set);
    else if (part == PART_MATERIALS)
        materials_header(&head, set);
    else if (part == PART_COMPARISON)
        comparison_header(&head, set);
    else if (part == PART_PROBLEMS)
        problems_header(&head, set);
    return put(sink->outputs[part], &head, err);
}

const char *folder_sink_layout(const struct folder_sink *sink, size_t index)
{
    return sink->layouts ? layout_file_name(sink->layouts, index) : NULL;
}

enum outlay_status folder_sink_open(const struct settings *settings,
                                    const struct survey *survey, struct folder_sink **out,
                                    struct outlay_error *err)
{
    *out = NULL;
    struct folder_sink *sink = calloc(1, sizeof *sink);
    if (!sink)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    sink->settings = settings;
    /* The mark of a folder that a run wrote, without which none is replaced. */
    sink->parts = settings->parts | 1u << PART_RUN;
    enum outlay_status status =
        folder_open(settings->output, settings->overwrite, &sink->folder, err);
    for (int part = 0; status == OUTLAY_OK && part < PARTS; part++)
        if (sink->parts & 1u << part)
            status = open_part(sink, part, survey, err);
    if (status == OUTLAY_OK && sink->parts & 1u << PART_PAGE) {
        sink->page = page_new(&settings->write, &settings->rank, PAGE_ROOFS);
        if (!sink->page)
            status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    }
    if (status == OUTLAY_OK && settings->order.order_by == ORDER_BY_PORTFOLIO)
        status = order_total_new(&sink->total, err);
    if (status == OUTLAY_OK)
        status = decisions_new(settings, sink->parts, &sink->decisions, err);
    if (status != OUTLAY_OK) {
        folder_sink_abort(sink);
        return status;
    }
    *out = sink;
    return OUTLAY_OK;
}

/* After the decisions have the building. */
static void show(struct folder_sink *sink, const struct building *building)
{
    size_t first = decisions_count(sink->decisions) - building->roof_count;
    for (size_t i = 0; i < building->roof_count; i++)
        shown_add(sink->shown, building, i, decisions_merit(sink->decisions, first + i));
}

static enum outlay_status put_building(struct folder_sink *sink,
                                       const struct building *building,
                                       struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    if (sink->layouts)
        status = layout_file_add(sink->layouts, building, err);
    if (status == OUTLAY_OK && sink->plans)
        status = plan_pages_add(sink->plans, sink->settings, building, err);
    comparison_add(&sink->compared, building);
    if (status == OUTLAY_OK && sink->decisions)
        status = decisions_add(sink->decisions, building, err);
    if (status == OUTLAY_OK && sink->page)
        status =
            page_add(sink->page, building, decisions_portfolio(sink->decisions), err);
    if (status == OUTLAY_OK && sink->shown)
        show(sink, building);
    for (size_t i = 0; sink->total && i < building->roof_count; i++) {
        const struct roof *roof = &building->roofs[i];
        for (size_t k = 0; status == OUTLAY_OK && k < roof->layout_count; k++)
            status = order_total_add(sink->total, roof->layouts[k].method,
                                     &roof->bills[k], err);
    }
    return status;
}

static enum outlay_status folder_put_batch(void *self, const struct batch *batch,
                                           struct outlay_error *err)
{
    struct folder_sink *sink = self;
    enum outlay_status status = OUTLAY_OK;
    for (int part = 0; status == OUTLAY_OK && part < PARTS; part++) {
        const struct text *text = &batch->parts[part];
        if (!sink->outputs[part] || text->length == 0)
            continue;
        size_t skipped = is_geojson(part) && !sink->begun[part] ? geojson_joint() : 0;
        sink->begun[part] = true;
        status = output_write(sink->outputs[part], text->data + skipped,
                              text->length - skipped, err);
    }
    for (size_t i = 0; status == OUTLAY_OK && i < batch->building_count; i++)
        status = put_building(sink, &batch->buildings[i], err);
    return status;
}

static enum outlay_status folder_put_problems(void *self, const struct grid *rows,
                                              struct outlay_error *err)
{
    struct folder_sink *sink = self;
    struct text text = TEXT_INIT;
    if (sink->shown)
        shown_add_rows(sink->shown, SHOWN_PROBLEMS, rows);
    if (!sink->outputs[PART_PROBLEMS])
        return OUTLAY_OK;
    grid_csv_rows(&text, rows);
    return put(sink->outputs[PART_PROBLEMS], &text, err);
}

struct sink folder_sink_calls(struct folder_sink *sink)
{
    return (struct sink){.parts = sink->parts,
                         .self = sink,
                         .commit = folder_put_batch,
                         .problems = folder_put_problems};
}

static void print_page(struct folder_sink *sink, const struct run_record *record,
                       struct text *out)
{
    const struct grid *const grids[] = {sink->last_comparison};
    const struct page_content content = {.title = sink->settings->write.title,
                                         .totals = record->totals,
                                         .ranking = decisions_ranking(sink->decisions),
                                         .plan = decisions_plan(sink->decisions),
                                         .grids = grids,
                                         .grid_count = 1};
    page_print(sink->page, &content, out);
}

static enum outlay_status close_part(struct folder_sink *sink, int part,
                                     const struct run_record *record,
                                     struct outlay_error *err)
{
    struct text tail = TEXT_INIT;
    enum outlay_status status;
    if (is_geojson(part))
        geojson_close(&tail);
    else if (part == PART_TOTALS)
        totals_csv(&tail, record->totals, &sink->settings->write);
    else if (part == PART_RUN)
        run_json(&tail, record);
    else if (part == PART_PAGE)
        print_page(sink, record, &tail);
    else if (part == PART_MATERIALS)
        grid_csv_rows(&tail, sink->last_materials);
    else if (part == PART_COMPARISON)
        grid_csv_rows(&tail, sink->last_comparison);
    if (1u << part & PARTS_DECIDED)
        status = decisions_write(sink->decisions, part, sink->outputs[part], err);
    else
        status = put(sink->outputs[part], &tail, err);
    if (status != OUTLAY_OK)
        return status;
    struct output *output = sink->outputs[part];
    sink->outputs[part] = NULL;
    return output_commit(output, err);
}

/* What rounding the portfolio's goods up to packs adds, and the sums. */
static void make_last_rows(struct folder_sink *sink)
{
    const struct settings *settings = sink->settings;
    for (int i = 0; sink->total && i < METHOD_KINDS; i++) {
        enum method method = (enum method)i;
        const struct bill *packs = order_total_rounding(sink->total, method);
        struct cost cost = price_rounding(packs, &settings->price);
        materials_of_rounding(sink->last_materials, NULL, method, packs,
                              &settings->write);
        comparison_of_packs(sink->last_comparison, method, &cost);
        comparison_add_packs(&sink->compared, method, &cost);
    }
    comparison_of_totals(sink->last_comparison, &sink->compared);
    if (sink->shown) {
        shown_add_rows(sink->shown, SHOWN_MATERIALS, sink->last_materials);
        shown_add_rows(sink->shown, SHOWN_COMPARISON, sink->last_comparison);
    }
}

enum outlay_status folder_sink_decide(struct folder_sink *sink, struct outlay_error *err)
{
    const struct write_settings *set = &sink->settings->write;
    sink->last_materials = grid_new(&materials_sheet, set);
    sink->last_comparison = grid_new(&comparison_sheet, set);
    if (!sink->last_materials || !sink->last_comparison)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    make_last_rows(sink);
    if (sink->shown)
        shown_finish(sink->shown);
    return sink->decisions ? decisions_make(sink->decisions, err) : OUTLAY_OK;
}

const struct comparison_totals *folder_sink_compared(const struct folder_sink *sink)
{
    return &sink->compared;
}

const struct decisions *folder_sink_decisions(const struct folder_sink *sink)
{
    return sink->decisions;
}

static enum outlay_status write_workbook(struct folder_sink *sink,
                                         const struct run_record *record,
                                         struct outlay_error *err)
{
    char *path = folder_file(sink->folder, part_file(PART_WORKBOOK));
    if (!path)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    const struct workbook_content content = {.record = record,
                                             .shown = sink->shown,
                                             .compared = &sink->compared,
                                             .ranking =
                                                 decisions_ranking(sink->decisions),
                                             .plan = decisions_plan(sink->decisions)};
    enum outlay_status status = workbook_part_write(path, &content, err);
    free(path);
    return status;
}

enum outlay_status folder_sink_commit(struct folder_sink *sink,
                                      const struct run_record *record,
                                      struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    for (int part = 0; status == OUTLAY_OK && part < PARTS; part++)
        if (sink->outputs[part])
            status = close_part(sink, part, record, err);
    if (status == OUTLAY_OK && sink->shown)
        status = write_workbook(sink, record, err);
    if (status == OUTLAY_OK && sink->layouts) {
        struct layout_file *layouts = sink->layouts;
        sink->layouts = NULL;
        status = layout_file_commit(layouts, err);
    }
    if (status == OUTLAY_OK && sink->plans) {
        status = plan_pages_finish(sink->plans, record->input.digest, err);
    }
    if (status == OUTLAY_OK && sink->plans) {
        struct plans *plans = sink->plans;
        sink->plans = NULL;
        status = plans_commit(plans, err);
    }
    if (status == OUTLAY_OK) {
        struct folder *folder = sink->folder;
        sink->folder = NULL;
        status = folder_commit(folder, err);
    }
    folder_sink_abort(sink);
    return status;
}

void folder_sink_abort(struct folder_sink *sink)
{
    if (!sink)
        return;
    for (int part = 0; part < PARTS; part++)
        output_abort(sink->outputs[part]);
    layout_file_abort(sink->layouts);
    shown_free(sink->shown);
    plans_abort(sink->plans);
    page_free(sink->page);
    order_total_free(sink->total);
    grid_free(sink->last_materials);
    grid_free(sink->last_comparison);
    decisions_free(sink->decisions);
    folder_abort(sink->folder);
    free(sink);
}
