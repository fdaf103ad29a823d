#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/plural.h"
#include "commands/commands.h"
#include "commands/execute.h"
#include "roof/finding.h"
#include "write/grid.h"
#include "write/output.h"

/* Heights are counted in steps of 0.1 m, which is enough for a median. */
#define STEP 0.1
#define STEPS 10000

struct inspection {
    size_t heights;   /* roofs with one */
    size_t estimated; /* of these, from storeys */
    double lowest, highest;
    size_t exposure, enclosure, deck, method, pullout, wind; /* roofs that tell */
    size_t found[FINDING_KINDS], visited; /* findings by kind; roofs that have some */
    size_t sampled[FIELD_ROLES], doubtful[FIELD_ROLES]; /* by role */
    size_t *steps;                                      /* owned */
    const struct write_settings *set;
    struct text duplicates; /* owned; the table of them, as CSV */
};

static const struct grid_column duplicate_columns[] = {
    {"roof_id", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"reason", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
};

static const struct grid_sheet duplicates_sheet = {"duplicates", duplicate_columns, 2};

static void count_samples(struct inspection *in, const struct roof *roof)
{
    for (size_t i = 0; i < roof->sample_count; i++)
        for (int role = 0; role < FIELD_ROLES; role++)
            if (strcmp(roof->samples[i].role, field_role_name((enum field_role)role)) ==
                0) {
                in->sampled[role]++;
                in->doubtful[role] += roof->samples[i].weak != NULL;
            }
}

static void count_findings(struct inspection *in, const struct roof *roof)
{
    for (size_t i = 0; i < roof->finding_count; i++)
        in->found[roof->findings[i]->kind]++;
    in->visited += roof->finding_count > 0;
}

static void count_roof(struct inspection *in, const struct roof *roof)
{
    const struct attributes *given = &roof->given;
    in->exposure += given->exposure != EXPOSURE_NOT_GIVEN;
    in->enclosure += given->enclosure != ENCLOSURE_NOT_GIVEN;
    in->deck += given->deck != DECK_NOT_GIVEN;
    in->method += given->method != METHOD_NOT_GIVEN;
    in->pullout += isfinite(given->pullout) || roof->verified & 1u << FINDING_PULLOUT;
    count_samples(in, roof);
    count_findings(in, roof);
    in->wind += isfinite(given->wind_speed) != 0;
    if (!isfinite(roof->height))
        return;
    if (in->heights == 0 || roof->height < in->lowest)
        in->lowest = roof->height;
    if (in->heights == 0 || roof->height > in->highest)
        in->highest = roof->height;
    in->heights++;
    in->estimated += (roof->estimated & 1u << ESTIMATE_HEIGHT) != 0;
    double step = fmin(fmax(floor(roof->height / STEP), 0), STEPS - 1);
    in->steps[(size_t)step]++;
}

static enum outlay_status count_batch(void *self, const struct batch *batch,
                                      struct outlay_error *err)
{
    (void)err;
    for (size_t i = 0; i < batch->building_count; i++)
        for (size_t j = 0; j < batch->buildings[i].roof_count; j++)
            count_roof(self, &batch->buildings[i].roofs[j]);
    return OUTLAY_OK;
}

static double median(const struct inspection *in)
{
    size_t seen = 0;
    for (size_t step = 0; step < STEPS; step++) {
        seen += in->steps[step];
        if (2 * seen >= in->heights)
            return fmin(fmax((double)step * STEP, in->lowest), in->highest);
    }
    return in->highest;
}

static void print_fields(const struct reader *reader, size_t roofs, struct text *out)
{
    const struct field_use *fields;
    size_t count = reader_fields(reader, &fields);
    text_printf(out, "\nFields\n");
    if (count == 0)
        text_puts(out, "  none of the roles was found; name them by --field "
                       "ROLE=COLUMN[:UNIT]\n");
    for (size_t i = 0; i < count; i++) {
        const struct field_use *use = &fields[i];
        text_printf(out, "  %-18s %s%s%s, %s, filled in %zu of %zu\n",
                    field_role_name(use->role), use->column, *use->unit ? ", " : "",
                    use->unit, use->given ? "as given" : "found by its name", use->filled,
                    roofs);
    }
}

static void print_samples(const struct inspection *in, const struct settings *settings,
                          size_t roofs, struct text *out)
{
    if (!sample_wanted(&settings->sample))
        return;
    text_puts(out, "\nSampled\n");
    for (int role = 0; role < FIELD_ROLES; role++)
        if (settings->sample.sources[role])
            text_printf(out, "  %-18s in %zu of %zu roofs, doubtful in %zu\n",
                        field_role_name((enum field_role)role), in->sampled[role], roofs,
                        in->doubtful[role]);
}

static void print_heights(const struct inspection *in, const struct unit *length,
                          struct text *out)
{
    text_puts(out, "\nHeights\n");
    if (in->heights == 0) {
        text_puts(out, "  none\n");
        return;
    }
    text_puts(out, "  lowest ");
    text_number(out, in->lowest / length->factor, 1);
    text_puts(out, ", median about ");
    text_number(out, median(in) / length->factor, 1);
    text_puts(out, ", highest ");
    text_number(out, in->highest / length->factor, 1);
    text_printf(out, " %s; %zu of %zu estimated from storeys\n", length->suffix,
                in->estimated, in->heights);
}

static void print_missing(const struct inspection *in, const struct settings *settings,
                          size_t roofs, struct text *out)
{
    const struct {
        size_t given;
        bool by_option;
        const char *what, *todo;
    } needs[] = {
        {in->heights, false, "height", "--height, or --field height=COLUMN:UNIT"},
        {in->wind, isfinite(settings->uplift.wind_speed), "wind speed", "--wind-speed"},
        {in->exposure, settings->uplift.exposure != EXPOSURE_NOT_GIVEN, "exposure",
         "--exposure"},
        {in->enclosure, settings->uplift.enclosure != ENCLOSURE_NOT_GIVEN, "enclosure",
         "--enclosure"},
        {in->deck, settings->basis.deck != DECK_NOT_GIVEN, "deck", "--deck"},
        {in->method, settings->attach.method != METHOD_NOT_GIVEN, "method", "--method"},
        {in->pullout, isfinite(settings->basis.pullout), "pull-out", "--pullout"},
    };
    text_puts(out, "\nMissing\n");
    size_t before = out->length;
    for (size_t i = 0; i < sizeof needs / sizeof needs[0]; i++)
        if (!needs[i].by_option && needs[i].given < roofs)
            text_printf(out, "  %-18s in %zu of %zu roof%s; supply it by %s\n",
                        needs[i].what, roofs - needs[i].given, roofs, PLURAL(roofs),
                        needs[i].todo);
    if (out->length == before)
        text_puts(out, "  nothing\n");
}

static void print_findings(const struct inspection *in, size_t roofs, struct text *out)
{
    const char *before = "  ";
    if (in->visited == 0)
        return;
    text_printf(out, "\nFindings, on %zu of %zu roof%s\n", in->visited, roofs,
                PLURAL(roofs));
    for (int kind = 0; kind < FINDING_KINDS; kind++) {
        if (in->found[kind] == 0)
            continue;
        text_printf(out, "%s%s %zu", before, finding_kind_name(kind), in->found[kind]);
        before = kind % 5 == 4 ? ",\n  " : ", ";
    }
    text_putc(out, '\n');
}

static void print_problems(const struct totals *totals, struct text *out)
{
    bool titled = false;
    for (int code = 0; code < PROBLEM_CODES; code++) {
        if (totals->problem_codes[code] == 0)
            continue;
        if (!titled)
            text_puts(out, "\nProblems\n");
        titled = true;
        text_printf(out, "  %-18s %s, %zu\n", problem_code_name((enum problem_code)code),
                    severity_name(problem_severity((enum problem_code)code)),
                    totals->problem_codes[code]);
    }
}

static enum outlay_status list_duplicates(void *self, const struct duplicate_list *list,
                                          struct outlay_error *err)
{
    struct inspection *in = self;
    struct grid *grid = grid_new(&duplicates_sheet, in->set);
    struct text caution = TEXT_INIT;
    if (!grid)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    for (size_t i = 0; i < list->count; i++) {
        grid_text(grid, list->roofs[i].id);
        grid_text(grid, list->roofs[i].reason);
    }
    caution_print(&caution, false);
    grid_csv_header(&in->duplicates, grid, caution.data);
    grid_csv_rows(&in->duplicates, grid);
    in->duplicates.failed = in->duplicates.failed || caution.failed;
    text_release(&caution);
    grid_free(grid);
    return OUTLAY_OK;
}

/* A list of ids is of use only where each belongs to one roof. */
static enum outlay_status write_duplicates(const struct inspection *in,
                                           const struct settings *settings,
                                           const struct totals *totals,
                                           struct outlay_error *err)
{
    size_t shared = totals->problem_codes[PROBLEM_DUPLICATE_ID];
    if (shared == 0)
        return output_whole(settings->output, &in->duplicates, err);
    outlay_fail(err, OUTLAY_E_LIMIT, "%zu roofs share their id with another one", shared);
    outlay_fail_where(err, "%s", settings->read.input);
    outlay_fail_todo(err, "the list names roofs by id: give each one of its own, or name "
                          "another column by --field id=COLUMN");
    return OUTLAY_E_LIMIT;
}

static void print_all(const struct inspection *in, const struct settings *settings,
                      const struct reader *reader, const struct run_counts *counts,
                      struct text *out)
{
    const struct totals *totals = &counts->totals;
    text_puts(out, "Source\n");
    reader_describe(reader, out);
    text_printf(out, "\nRoofs\n  %zu read, %zu can be zoned, %zu %s\n", totals->roofs,
                totals->zoned, totals->buildings,
                totals->buildings == 1 ? "building" : "buildings");
    print_fields(reader, totals->roofs, out);
    print_samples(in, settings, totals->roofs, out);
    print_findings(in, totals->roofs, out);
    print_heights(in, &settings->write.units->length, out);
    print_missing(in, settings, totals->roofs, out);
    print_problems(totals, out);
}

enum outlay_status command_inspect(const struct settings *settings,
                                   const struct messages *messages,
                                   struct outlay_result *result, struct text *report,
                                   struct outlay_error *err)
{
    struct inspection in = {.steps = calloc(STEPS, sizeof *in.steps),
                            .set = &settings->write};
    struct sink calls = {
        .self = &in, .commit = count_batch, .duplicates = list_duplicates};
    struct run_counts counts = {0};
    struct reader *reader = NULL;
    enum outlay_status status;
    if (!in.steps)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    status = settings->output ? output_check(settings->output, settings->overwrite, err)
                              : OUTLAY_OK;
    if (status == OUTLAY_OK)
        status = execute_open(settings, &reader, err);
    if (status == OUTLAY_OK)
        status =
            execute_run(settings, reader, messages, false, &calls, &counts, result, err);
    if (status == OUTLAY_OK)
        print_all(&in, settings, reader, &counts, report);
    if (status == OUTLAY_OK)
        status = execute_input_status(&counts, err);
    if (status == OUTLAY_OK && settings->output)
        status = write_duplicates(&in, settings, &counts.totals, err);
    reader_close(reader);
    text_release(&in.duplicates);
    free(in.steps);
    return status;
}
