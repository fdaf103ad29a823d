#include "flow/mark_use.h"

#include <stdint.h>
#include <stdlib.h>

#include "roof/edges.h"
#include "roof/fixtures.h"
#include "write/tables.h"

enum outlay_status mark_use_init(struct mark_use *use, const struct settings *settings,
                                 struct outlay_error *err)
{
    *use = (struct mark_use){
        .marks = {
            [MARKS_FIXTURES] = settings->fixtures, [MARKS_EDGES] = settings->edges}};
    for (int layer = 0; layer < MARK_LAYERS; layer++) {
        if (!use->marks[layer])
            continue;
        use->used[layer] = calloc(use->marks[layer]->count + 1, sizeof(bool));
        if (!use->used[layer])
            return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    }
    return OUTLAY_OK;
}

void mark_use_release(struct mark_use *use)
{
    for (int layer = 0; layer < MARK_LAYERS; layer++)
        free(use->used[layer]);
}

void mark_use_building(struct mark_use *use, const struct building *building)
{
    for (size_t k = 0; k < building->roof_count; k++)
        for (size_t i = 0; i < building->roofs[k].fixture_count; i++)
            use->used[MARKS_FIXTURES][building->roofs[k].fixtures[i].mark] = true;
    for (size_t i = 0; i < building->line_count; i++)
        if (building->lines[i].used)
            use->used[MARKS_EDGES][building->lines[i].mark] = true;
}

/* Where the rows go. */
struct report {
    struct grid *rows;
    struct totals *totals;
    struct tally *tally;
    size_t count;
    struct outlay_error *err;
};

static enum outlay_status add(struct report *report, const struct mark_doubt *doubt)
{
    struct problem problem = {.code = doubt->code,
                              .what = doubt->what,
                              .done = doubt->done,
                              .field = doubt->field};
    /* each counts as one of its own */
    struct roof nobody = {
        .id = "", .position = SIZE_MAX - report->count++, .problems = &problem};

    problems_of_roof(report->rows, &nobody);
    report->totals->problems[problem_severity(doubt->code)]++;
    report->totals->problem_codes[doubt->code]++;
    return tally_problem(report->tally, &nobody, &problem, report->err);
}

static const char *why_unused(enum mark_layer layer, const struct mark *mark)
{
    if (layer == MARKS_EDGES)
        return "no outline runs within 3.3 ft (1 m) of it and within 15 degrees of its "
               "direction";
    return mark->kind == FIXTURE_SCUPPER ? "no outline is within 3.3 ft (1 m) of it"
                                         : "no roof contains it";
}

static enum outlay_status add_unused(struct report *report, const struct marks *marks,
                                     enum mark_layer layer, const struct mark *mark)
{
    bool fixture = layer == MARKS_FIXTURES;
    struct text what = TEXT_INIT;
    struct mark_doubt doubt = {.code = PROBLEM_FEATURE_UNUSED,
                               .done = "left out of all roofs"};
    enum outlay_status status = OUTLAY_OK;

    text_printf(&what, "%s, %s, %s: %s", marks->name, mark->id,
                fixture ? fixture_kind_name(mark->kind) : edge_kind_name(mark->kind),
                why_unused(layer, mark));
    doubt.what = what.data;
    status = what.failed ? outlay_fail(report->err, OUTLAY_E_MEMORY, "out of memory")
                         : add(report, &doubt);
    text_release(&what);
    return status;
}

enum outlay_status mark_use_report(const struct mark_use *use,
                                   const struct settings *settings, struct grid *rows,
                                   struct totals *totals, struct tally *tally,
                                   struct outlay_error *err)
{
    struct report report = {rows, totals, tally, 0, err};
    bool part = settings->read.where || settings->read.has_bbox;
    enum outlay_status status = OUTLAY_OK;

    for (int layer = 0; layer < MARK_LAYERS; layer++) {
        const struct marks *marks = use->marks[layer];

        for (const struct mark_doubt *doubt = marks ? marks->doubts : NULL;
             doubt && status == OUTLAY_OK; doubt = doubt->next)
            status = add(&report, doubt);
        for (size_t i = 0; marks && !part && status == OUTLAY_OK && i < marks->count; i++)
            if (!use->used[layer][i])
                status =
                    add_unused(&report, marks, (enum mark_layer)layer, &marks->items[i]);
    }
    return status;
}
