#include <limits.h>
#include <string.h>

#include "base/clock.h"
#include "commands/commands.h"
#include "commands/execute.h"
#include "results/record.h"
#include "results/sinks.h"
#include "write/budget.h"
#include "write/ranking.h"
#include "write/table.h"

/* Roofs that are shown one by one; the files have them all. */
#define TABLE_ROOFS 20

/* Roofs up to which layouts are drawn without being asked for. */
#define LAYOUT_ROOFS 200

/* What a command that writes a folder writes of itself. */
struct folder_command {
    unsigned parts; /* PARTS_ALL: everything, within limits */
    void (*print)(struct text *report, const struct roof_table *table,
                  const struct totals *totals, const struct folder_sink *sink,
                  const struct settings *settings);
};

static void print_roofs(struct text *report, const struct roof_table *table,
                        const struct totals *totals, const struct folder_sink *sink,
                        const struct settings *settings)
{
    (void)sink;
    roof_table_print(report, table, &settings->write);
    table_print(report, totals, &settings->write);
}

static void print_ranks(struct text *report, const struct roof_table *table,
                        const struct totals *totals, const struct folder_sink *sink,
                        const struct settings *settings)
{
    const struct ranking *ranking = decisions_ranking(folder_sink_decisions(sink));

    (void)table;
    (void)totals;
    if (ranking)
        ranking_print(report, ranking, TABLE_ROOFS, &settings->write);
}

static void print_budget(struct text *report, const struct roof_table *table,
                         const struct totals *totals, const struct folder_sink *sink,
                         const struct settings *settings)
{
    const struct plan *plan = decisions_plan(folder_sink_decisions(sink));

    (void)table;
    (void)totals;
    if (plan)
        budget_print(report, plan, &settings->write);
}

static void print_methods(struct text *report, const struct roof_table *table,
                          const struct totals *totals, const struct folder_sink *sink,
                          const struct settings *settings)
{
    (void)table;
    comparison_print(report, folder_sink_compared(sink), &settings->write);
    table_print(report, totals, &settings->write);
}

/* Makes run.json and puts the folder in its place; takes the sink. */
static enum outlay_status finish_folder(const struct settings *settings,
                                        const struct reader *reader,
                                        const struct run_counts *counts, double seconds,
                                        struct folder_sink *sink,
                                        struct outlay_error *err)
{
    struct record record;
    enum outlay_status status =
        record_fill(&record, settings, reader, sink, counts, seconds, err);
    if (status == OUTLAY_OK)
        status = folder_sink_commit(sink, &record.run, err);
    else
        folder_sink_abort(sink);
    record_release(&record);
    return status;
}

/* A plan without a cap is none: `run` goes without unless its files were named. */
static enum outlay_status need_cap(const struct settings *settings, unsigned all,
                                   struct outlay_error *err)
{
    bool given = settings->parts != PARTS_ALL;
    unsigned wanted = given ? settings->parts : all;
    if (settings->plan.cap || wanted == PARTS_ALL || !(wanted & PARTS_PLANNED))
        return OUTLAY_OK;
    outlay_fail(err, OUTLAY_E_USAGE, "a plan needs a cap");
    outlay_fail_todo(err, "give the money of each year: --cap 500000 --start 2027");
    return OUTLAY_E_USAGE;
}

/* Layouts of many roofs are large and slow to look at: where no files were chosen, they
 * go without. Others are drawn in the plane of their middle, so the layer is gone over
 * first. */
static enum outlay_status limit_layouts(struct settings *settings, unsigned all,
                                        struct reader *reader,
                                        const struct messages *messages,
                                        struct survey *survey, struct outlay_error *err)
{
    bool given = settings->parts != PARTS_ALL;
    unsigned drawn = 1u << PART_LAYOUT | 1u << PART_PLANS;
    enum outlay_status status = OUTLAY_OK;

    if (!given)
        settings->parts = all;
    if (!given && all == PARTS_ALL && !settings->plan.cap)
        settings->parts &= ~PARTS_PLANNED;
    *survey = (struct survey){.count = -1};
    if (settings->parts & drawn)
        status = reader_survey(reader, given ? LLONG_MAX : LAYOUT_ROOFS, survey, err);
    if (!given && settings->parts & drawn &&
        (survey->count < 0 || survey->count > LAYOUT_ROOFS)) {
        settings->parts &= ~drawn;
        message_send(messages, OUTLAY_MESSAGE_NOTE,
                     survey->count < 0
                         ? "no layout.gpkg, no plans.pdf: a stream's roofs aren't counted"
                         : "no layout.gpkg, no plans.pdf: more than 200 roofs",
                     reader_name(reader), "ask for them: --write materials,layout,plans");
    }
    settings->takeoff.place_plates = (settings->parts & drawn) != 0;
    return status;
}

/* Whether anything is written that needs layouts; else quantities stay by area, and a
 * city's roofs run twenty times as fast. */
static bool wants_layouts(const struct settings *settings, unsigned all)
{
    unsigned laid = 1u << PART_MATERIALS | 1u << PART_COMPARISON | 1u << PART_LAYOUT |
                    1u << PART_PLANS | 1u << PART_WORKBOOK | PARTS_PLANNED;
    return (settings->parts & laid) != 0 || (all != PARTS_ALL && (all & laid) != 0);
}

static enum outlay_status need_folder(const struct settings *settings,
                                      struct outlay_error *err)
{
    const char *todo = "name a folder: -o out";
    if (!settings->output || strcmp(settings->output, "-") != 0)
        return execute_need_output(settings, todo, err);
    outlay_fail(err, OUTLAY_E_USAGE, "a folder can't go to standard output");
    outlay_fail_todo(err, "%s", todo);
    return OUTLAY_E_USAGE;
}

static enum outlay_status run_into_folder(const struct settings *given,
                                          const struct messages *messages,
                                          const struct folder_command *command,
                                          struct outlay_result *result,
                                          struct text *report, struct outlay_error *err)
{
    struct run_counts counts = {0};
    struct reader *reader = NULL;
    struct folder_sink *sink = NULL;
    struct settings limited = *given;
    const struct settings *settings = &limited;
    struct timespec start = clock_start();
    struct roof_table table = roof_table_start(TABLE_ROOFS);
    struct survey survey;
    enum outlay_status status = need_folder(settings, err);
    if (status == OUTLAY_OK)
        status = need_cap(settings, command->parts, err);
    if (status == OUTLAY_OK)
        status = execute_open(settings, &reader, err);
    if (status == OUTLAY_OK)
        status = limit_layouts(&limited, command->parts, reader, messages, &survey, err);
    if (status == OUTLAY_OK)
        limited.write.title = reader_layer(reader);
    if (status == OUTLAY_OK)
        status = folder_sink_open(settings, &survey, &sink, err);
    if (status != OUTLAY_OK)
        goto done;

    struct sink calls = folder_sink_calls(sink);
    calls.table = &table;
    calls.layouts = wants_layouts(settings, command->parts);
    status = execute_run(settings, reader, messages, &calls, &counts, result, err);
    if (status == OUTLAY_OK)
        status = folder_sink_decide(sink, err);
    if (status == OUTLAY_OK) {
        command->print(report, &table, &counts.totals, sink, settings);
        if (report->failed)
            status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    }
    if (status == OUTLAY_OK) {
        status =
            finish_folder(settings, reader, &counts, clock_seconds(&start), sink, err);
        sink = NULL;
    }
    if (status == OUTLAY_OK)
        status = execute_input_status(&counts, err);
done:
    folder_sink_abort(sink);
    roof_table_release(&table);
    reader_close(reader);
    return status;
}

enum outlay_status command_run(const struct settings *settings,
                               const struct messages *messages,
                               struct outlay_result *result, struct text *report,
                               struct outlay_error *err)
{
    static const struct folder_command run = {PARTS_ALL, print_roofs};
    return run_into_folder(settings, messages, &run, result, report, err);
}

enum outlay_status command_takeoff(const struct settings *settings,
                                   const struct messages *messages,
                                   struct outlay_result *result, struct text *report,
                                   struct outlay_error *err)
{
    static const struct folder_command takeoff = {
        1u << PART_SUMMARY | 1u << PART_MATERIALS | 1u << PART_LAYOUT |
            1u << PART_PROBLEMS | 1u << PART_RUN,
        print_roofs};
    return run_into_folder(settings, messages, &takeoff, result, report, err);
}

enum outlay_status command_compare(const struct settings *settings,
                                   const struct messages *messages,
                                   struct outlay_result *result, struct text *report,
                                   struct outlay_error *err)
{
    static const struct folder_command compare = {
        1u << PART_SUMMARY | 1u << PART_COMPARISON | 1u << PART_PROBLEMS | 1u << PART_RUN,
        print_methods};
    struct settings all = *settings;
    if (all.methods == 0)
        all.methods = ~0u;
    return run_into_folder(&all, messages, &compare, result, report, err);
}

enum outlay_status command_rank(const struct settings *settings,
                                const struct messages *messages,
                                struct outlay_result *result, struct text *report,
                                struct outlay_error *err)
{
    static const struct folder_command rank = {
        1u << PART_RANKING | 1u << PART_PROBLEMS | 1u << PART_RUN, print_ranks};
    return run_into_folder(settings, messages, &rank, result, report, err);
}

enum outlay_status command_budget(const struct settings *settings,
                                  const struct messages *messages,
                                  struct outlay_result *result, struct text *report,
                                  struct outlay_error *err)
{
    static const struct folder_command budget = {1u << PART_BUDGET | 1u << PART_PLAN |
                                                     1u << PART_PROBLEMS | 1u << PART_RUN,
                                                 print_budget};
    return run_into_folder(settings, messages, &budget, result, report, err);
}

enum outlay_status command_zones(const struct settings *settings,
                                 const struct messages *messages,
                                 struct outlay_result *result, struct text *report,
                                 struct outlay_error *err)
{
    struct run_counts counts = {0};
    struct reader *reader = NULL;
    struct zones_sink *sink = NULL;
    struct roof_table table = roof_table_start(TABLE_ROOFS);
    size_t not_drawn = 0;
    enum outlay_status status = execute_need_output(
        settings, "name a file: outlay zones INPUT -o zones.geojson", err);
    if (status == OUTLAY_OK)
        status = execute_open(settings, &reader, err);
    if (status == OUTLAY_OK)
        status = zones_sink_open(settings, &sink, err);
    if (status != OUTLAY_OK)
        goto done;

    struct sink calls = zones_sink_calls(sink);
    calls.table = &table;
    status = execute_run(settings, reader, messages, &calls, &counts, result, err);
    if (status == OUTLAY_OK && zones_sink_problems(sink))
        message_send(messages, OUTLAY_MESSAGE_NOTE, "problems were found",
                     zones_sink_problems(sink), "read them before you use the zones");
    if (status == OUTLAY_OK && strcmp(settings->output, "-") != 0)
        print_roofs(report, &table, &counts.totals, NULL, settings);
    if (report->failed)
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    if (status == OUTLAY_OK) {
        status = zones_sink_commit(sink, &not_drawn, err);
        sink = NULL;
    }
    if (status == OUTLAY_OK && not_drawn)
        message_send(messages, OUTLAY_MESSAGE_WARNING,
                     "zones thinner than the coordinates' last digit have no place in "
                     "this format",
                     settings->output, "use .gpkg or .geojson to keep their rows");
    if (status == OUTLAY_OK)
        status = execute_input_status(&counts, err);
done:
    zones_sink_abort(sink);
    roof_table_release(&table);
    reader_close(reader);
    return status;
}
