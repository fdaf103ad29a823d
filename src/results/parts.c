#include "results/parts.h"

#include "page/page.h"
#include "write/budget.h"
#include "write/groups.h"
#include "write/layout_file.h"
#include "write/output.h"
#include "write/ranking.h"
#include "write/roofs_layer.h"
#include "write/spread_table.h"
#include "write/survey_table.h"

/* ---- Heads and tails of texts ---------------------------------------------------- */

static void zones_head(struct text *out, const struct write_settings *set)
{
    geojson_open(out, "zones", set);
}

static void roofs_head(struct text *out, const struct write_settings *set)
{
    geojson_open(out, "roofs", set);
}

static void features_tail(struct text *out, const struct outcome *outcome)
{
    (void)outcome;
    geojson_close(out);
}

static void roofs_fill(struct text *out, size_t blank, const void *context)
{
    const struct outcome *outcome = context;

    ranking_place(out, outcome->ranking, blank / PLACE_COLUMNS, blank % PLACE_COLUMNS,
                  &outcome->settings->write);
}

static void totals_tail(struct text *out, const struct outcome *outcome)
{
    totals_csv(out, outcome->record->totals, &outcome->settings->write);
}

/* In chunks: a large plan has many. */
static void orders_tail(struct text *out, const struct outcome *outcome)
{
    enum { AT_ONCE = 100 };
    struct grid *grid = grid_new(&orders_sheet, &outcome->settings->write);
    size_t count = outcome_order_count(outcome);
    bool made = grid != NULL;

    for (size_t i = 0; made && i < count; i += AT_ONCE) {
        size_t to = i + AT_ONCE < count ? i + AT_ONCE : count;

        made = outcome_orders(outcome, i, to, grid);
        grid_csv_rows(out, grid);
        grid_clear(grid);
    }
    out->failed = out->failed || !made;
    grid_free(grid);
}

static void budget_tail(struct text *out, const struct outcome *outcome)
{
    plan_csv(out, &budget_sheet, budget_fill, outcome->plan, &outcome->settings->write);
}

static void plan_tail(struct text *out, const struct outcome *outcome)
{
    plan_csv(out, &plan_sheet, plan_fill, outcome->plan, &outcome->settings->write);
}

static void visits_tail(struct text *out, const struct outcome *outcome)
{
    plan_csv(out, &visits_sheet, visits_fill, outcome->plan, &outcome->settings->write);
}

static void scenarios_tail(struct text *out, const struct outcome *outcome)
{
    plan_csv(out, &scenarios_sheet, scenarios_fill, outcome->plan,
             &outcome->settings->write);
}

static void spread_tail(struct text *out, const struct outcome *outcome)
{
    spread_totals(out, outcome->sums, &outcome->settings->write);
}

static void drivers_tail(struct text *out, const struct outcome *outcome)
{
    drivers_totals(out, outcome->sums, &outcome->settings->write);
}

static void run_tail(struct text *out, const struct outcome *outcome)
{
    run_json(out, outcome->record);
}

/* ---- layout.gpkg ----------------------------------------------------------------- */

static enum outlay_status layout_open(const struct outcome *outcome, const char *path,
                                      void **self, struct outlay_error *err)
{
    const struct extent *extent = outcome->extent;
    struct layout_file *file = NULL;
    enum outlay_status status =
        layout_file_open(path, &outcome->settings->write,
                         extent->count < 0 ? NULL : &extent->box, &file, err);
    *self = file;
    return status;
}

static enum outlay_status layout_add(void *self, const struct outcome *outcome,
                                     const struct building *building,
                                     struct outlay_error *err)
{
    (void)outcome;
    return layout_file_add(self, building, err);
}

static enum outlay_status layout_commit(void *self, const struct outcome *outcome,
                                        const char *path, struct outlay_error *err)
{
    (void)outcome;
    (void)path;
    return layout_file_commit(self, err);
}

static void layout_drop(void *self)
{
    layout_file_abort(self);
}

static const char *layout_name(const void *self, size_t index)
{
    return layout_file_name(self, index);
}

static const struct part_object layout_object = {layout_open, layout_add, layout_commit,
                                                 layout_drop, layout_name};

/* ---- What is too long to be held as one text ------------------------------------- */

static enum outlay_status ranking_commit(void *self, const struct outcome *outcome,
                                         const char *path, struct outlay_error *err)
{
    struct output *output = NULL;
    enum outlay_status status = output_open(path, &output, err);
    (void)self;
    if (status == OUTLAY_OK)
        status = ranking_csv(output, outcome->ranking, &outcome->settings->write, err);
    return output_end(output, status, err);
}

static const struct part_object ranking_object = {.commit = ranking_commit};

static enum outlay_status groups_commit(void *self, const struct outcome *outcome,
                                        const char *path, struct outlay_error *err)
{
    struct output *output = NULL;
    enum outlay_status status = output_open(path, &output, err);
    (void)self;
    if (status == OUTLAY_OK)
        status = groups_geojson(output, outcome->groups, outcome->ranking,
                                &outcome->settings->write, err);
    return output_end(output, status, err);
}

static enum outlay_status roofs_layer_commit(void *self, const struct outcome *outcome,
                                             const char *path, struct outlay_error *err)
{
    (void)self;
    return roofs_layer_write(path, &outcome->settings->write, err);
}

/* The text that it is made from is closed before all objects. */
static const struct part_object roofs_layer_object = {.commit = roofs_layer_commit};

static const struct part_object groups_object = {.commit = groups_commit};

/* ---- report.html ----------------------------------------------------------------- */

static enum outlay_status page_open(const struct outcome *outcome, const char *path,
                                    void **self, struct outlay_error *err)
{
    (void)path;
    *self = page_new(&outcome->settings->write, &outcome->settings->rank, PAGE_ROOFS);
    return *self ? OUTLAY_OK : outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
}

static enum outlay_status page_put(void *self, const struct outcome *outcome,
                                   const struct building *building,
                                   struct outlay_error *err)
{
    return page_add(self, building, outcome->portfolio, err);
}

static enum outlay_status page_commit(void *self, const struct outcome *outcome,
                                      const char *path, struct outlay_error *err)
{
    const struct grid *const grids[] = {outcome->rest[SHOWN_COMPARISON]};
    const struct page_content content = {.title = outcome->settings->write.title,
                                         .totals = outcome->record->totals,
                                         .ranking = outcome->ranking,
                                         .groups = outcome->map,
                                         .plan = outcome->plan,
                                         .grids = grids,
                                         .grid_count = 1};
    struct text text = TEXT_INIT;
    page_print(self, &content, &text);
    page_free(self);
    enum outlay_status status = output_whole(path, &text, err);
    text_release(&text);
    return status;
}

static void page_drop(void *self)
{
    page_free(self);
}

static const struct part_object page_object = {
    .open = page_open, .add = page_put, .commit = page_commit, .drop = page_drop};

const struct part_maker part_makers[PARTS] = {
#define X(code, name, file, needs, ...) [PART_##code] = {__VA_ARGS__},
    PART_MAP(X)
#undef X
};
