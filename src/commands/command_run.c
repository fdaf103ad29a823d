#include <limits.h>
#include <string.h>

#include "base/clock.h"
#include "commands/commands.h"
#include "commands/execute.h"
#include "results/record.h"
#include "results/sinks.h"
#include "results/size.h"
#include "write/budget.h"
#include "write/ranking.h"
#include "write/spread_table.h"
#include "write/survey_table.h"
#include "write/table.h"

/* Roofs that are shown one by one; the files have them all. */
#define TABLE_ROOFS 20

/* Roofs up to which layouts are drawn without being asked for. */
#define LAYOUT_ROOFS 200

/* Results of fewer bytes need no word before (ours). */
#define LARGE_RESULT 100e6

/* What a command that writes a folder writes and shows of itself. */
struct folder_command {
    unsigned parts; /* PARTS_ALL: everything, within limits */
    bool roofs, methods, ranks, years, surveys;
};

static void print_report(struct text *report, const struct folder_command *command,
                         const struct roof_table *table, const struct totals *totals,
                         const struct outcome *outcome)
{
    const struct write_settings *set = &outcome->settings->write;

    if (command->roofs)
        roof_table_print(report, table, set);
    if (command->methods)
        comparison_print(report, &outcome->compared, set);
    if (outcome->sums)
        spread_table_print(report, outcome->sums, set);
    if (command->roofs || command->methods)
        table_print(report, totals, set);
    if (command->ranks && outcome->ranking)
        ranking_print(report, outcome->ranking, TABLE_ROOFS, set);
    if (command->surveys)
        survey_print(report, outcome->surveyed, TABLE_ROOFS, set);
    if (command->years && outcome->plan)
        budget_print(report, outcome->plan, set);
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

/* What the files that nobody asked for by name may need without there being any. */
static unsigned optional_needs(const struct settings *settings)
{
    return NEEDS_NAMING | (settings->plan.cap ? 0 : NEEDS_PLAN) |
           (settings_group(settings) ? 0 : NEEDS_GROUPS) | NEEDS_SURVEY |
           (settings->spread.draws > 0 ? 0 : NEEDS_DRAWS);
}

/* Draws bring their tables to whatever a command writes; who asks for one wants draws. */
static void choose_draws(struct settings *settings, bool asked)
{
    if (!asked && settings->spread.draws > 0)
        settings->parts |= parts_needing(NEEDS_DRAWS);
    else if (asked && parts_need(settings->parts) & NEEDS_DRAWS &&
             settings->spread.draws == 0)
        settings->spread.draws = SPREAD_USUAL_DRAWS;
}

/* The files to write: those asked for, else the command's own, and the groups where they
 * are named. A plan without a cap is none: `run` goes without. */
static enum outlay_status choose_parts(struct settings *settings,
                                       const struct folder_command *command,
                                       struct outlay_error *err)
{
    unsigned lacking = optional_needs(settings);
    unsigned needs = 0;
    bool asked = settings->parts != PARTS_ALL;

    if (!asked) {
        settings->parts = command->parts;
        if (command->ranks)
            settings->parts |= 1u << PART_GROUPS;
        if (command->parts == PARTS_ALL || command->ranks)
            settings->parts &= ~parts_needing(lacking);
    }
    needs = parts_need(settings->parts) & lacking;
    if (needs & NEEDS_NAMING)
        settings->parts |= 1u << PART_ROOFS;
    needs &= ~(unsigned)(NEEDS_NAMING | NEEDS_SURVEY | NEEDS_DRAWS);
    choose_draws(settings, asked);
    if (needs & NEEDS_PLAN) {
        outlay_fail(err, OUTLAY_E_USAGE, "a plan needs a cap");
        outlay_fail_todo(err, "give the money of each year: --cap 500000 --start 2027");
    } else if (needs & NEEDS_GROUPS) {
        outlay_fail(err, OUTLAY_E_USAGE, "groups need a column or a length");
        outlay_fail_todo(err, "say what the roofs are summed up by: --group DISTRICT, or "
                              "--grid 500m");
    }
    return needs ? OUTLAY_E_USAGE : OUTLAY_OK;
}

/* Says which files a long layer goes without, and how to get them. */
static void tell_left_off(unsigned parts, const struct extent *extent,
                          const struct reader *reader, const struct messages *messages)
{
    struct text what = TEXT_INIT;
    struct text todo = TEXT_INIT;
    text_puts(&todo, "ask for them: --write materials");
    for (int part = 0; part < PARTS; part++) {
        if (!(parts & 1u << part))
            continue;
        text_printf(&what, "%sno %s", what.length ? ", " : "", part_file(part));
        text_printf(&todo, ",%s", part_name(part));
    }
    if (extent->count < 0)
        text_puts(&what, ": a stream's roofs aren't counted");
    else
        text_printf(&what, ": more than %d roofs", LAYOUT_ROOFS);
    if (!what.failed && !todo.failed)
        message_send(messages, OUTLAY_MESSAGE_NOTE, what.data, reader_name(reader),
                     todo.data);
    text_release(&what);
    text_release(&todo);
}

/* Where no files were asked for, many roofs go without what shows their places. That is
 * drawn in the plane of their middle, so the layer is gone over first. */
static enum outlay_status limit_places(struct settings *settings, bool asked,
                                       struct reader *reader,
                                       const struct messages *messages,
                                       struct extent *extent, struct outlay_error *err)
{
    unsigned placed = settings->parts & parts_needing(NEEDS_PLACES);
    enum outlay_status status = OUTLAY_OK;

    *extent = (struct extent){.count = -1};
    if (placed)
        status = reader_extent(reader, asked ? LLONG_MAX : LAYOUT_ROOFS, extent, err);
    if (placed && !asked && (extent->count < 0 || extent->count > LAYOUT_ROOFS)) {
        tell_left_off(placed, extent, reader, messages);
        settings->parts &= ~placed;
        placed = 0;
    }
    settings->takeoff.place_plates = placed != 0;
    return status;
}

static void append_size(struct text *out, double bytes)
{
    if (bytes >= 1e9)
        text_printf(out, "about %.1f GB", bytes / 1e9);
    else
        text_printf(out, "about %.0f MB", bytes / 1e6);
}

/* A large folder is announced, with what takes less. */
static void tell_size(const struct settings *settings, const struct reader *reader,
                      const struct messages *messages)
{
    const unsigned few = 1u << PART_SUMMARY | 1u << PART_TOTALS | 1u << PART_RANKING |
                         1u << PART_PROBLEMS | 1u << PART_RUN;
    long long roofs = reader_count(reader);
    double size = results_size(settings, settings->parts, roofs);
    struct text what = TEXT_INIT;
    struct text todo = TEXT_INIT;
    if (roofs < 0 || size < LARGE_RESULT)
        return;
    append_size(&what, size);
    text_printf(&what, " will be written for %lld roofs", roofs);
    if (settings->parts & ~few) {
        text_puts(&todo, "--write summary,totals,ranking,problems takes ");
        append_size(&todo, results_size(settings, few, roofs));
    }
    if (!what.failed && !todo.failed)
        message_send(messages, OUTLAY_MESSAGE_NOTE, what.data, settings->output,
                     todo.data ? todo.data : "");
    text_release(&what);
    text_release(&todo);
}

/* What looks wrong in the user's prices. */
static void tell_doubts(const struct price_list *prices, const struct messages *messages)
{
    for (size_t i = 0; i < prices->doubt_count; i++)
        message_send(messages, OUTLAY_MESSAGE_WARNING, prices->doubts[i].what,
                     prices->doubts[i].where, prices->doubts[i].todo);
}

/* A column that is called cost may hold something else, and would be taken for bids. */
static void tell_own_costs(const struct reader *reader, const struct messages *messages)
{
    const struct field_use *uses;
    size_t count = reader_fields(reader, &uses);
    for (size_t i = 0; i < count; i++) {
        const struct field_use *use = &uses[i];
        const char *role = field_role_name(use->role);
        struct text what = TEXT_INIT;
        struct text todo = TEXT_INIT;
        if (use->given || use->filled == 0 ||
            (use->role != ROLE_COST && use->role != ROLE_COST_PER_AREA))
            continue;
        text_printf(&what, "the cost of %zu %s is taken from column \"%s\"", use->filled,
                    use->filled == 1 ? "roof" : "roofs", use->column);
        text_printf(&todo,
                    "if that isn't what the new roof costs, all in: --field %s=", role);
        if (!what.failed && !todo.failed)
            message_send(messages, OUTLAY_MESSAGE_NOTE, what.data, reader_name(reader),
                         todo.data);
        text_release(&what);
        text_release(&todo);
    }
}

/* Whether anything is written that needs layouts; else quantities stay by area, and a
 * city's roofs run twenty times as fast. */
static bool wants_layouts(const struct settings *settings, unsigned all)
{
    unsigned parts = settings->parts | (all == PARTS_ALL ? 0 : all);
    return (settings_need(settings, parts) & NEEDS_LAYOUTS) != 0;
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

/* Draws of inputs that nobody says are off show nothing. */
static void tell_no_spread(const struct outcome *outcome, const struct reader *reader,
                           const struct messages *messages)
{
    bool acts = false;

    for (int input = 0; outcome->sums && input < SPREAD_INPUTS; input++)
        acts = acts || outcome->sums->acts[input];
    if (outcome->sums && !acts)
        message_send(messages, OUTLAY_MESSAGE_NOTE,
                     "no input has a spread, so all draws are alike", reader_name(reader),
                     "say how far inputs may be off: --spread "
                     "height=1.5ft,wind_speed=5mph");
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
    struct extent extent;
    enum outlay_status status = need_folder(settings, err);
    if (status == OUTLAY_OK)
        status = choose_parts(&limited, command, err);
    if (status == OUTLAY_OK)
        status = folder_sink_open(settings, &sink, err);
    if (status == OUTLAY_OK)
        status = execute_open(settings, &reader, err);
    if (status == OUTLAY_OK)
        status = limit_places(&limited, given->parts != PARTS_ALL, reader, messages,
                              &extent, err);
    limited.surveys = (settings_need(&limited, limited.parts) & NEEDS_SURVEY) != 0;
    if (status == OUTLAY_OK)
        limited.write.title = reader_layer(reader);
    if (status == OUTLAY_OK)
        status = folder_sink_start(sink, &extent, err);
    if (status != OUTLAY_OK)
        goto done;

    tell_size(settings, reader, messages);
    tell_doubts(&settings->prices, messages);
    struct sink calls = folder_sink_calls(sink);
    calls.table = &table;
    calls.layouts = wants_layouts(settings, command->parts);
    status = execute_run(settings, reader, messages, true, &calls, &counts, result, err);
    if (status == OUTLAY_OK && calls.layouts)
        tell_own_costs(reader, messages);
    if (status == OUTLAY_OK)
        status = folder_sink_decide(sink, messages, err);
    if (status == OUTLAY_OK) {
        tell_no_spread(folder_sink_outcome(sink), reader, messages);
        print_report(report, command, &table, &counts.totals, folder_sink_outcome(sink));
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
    static const struct folder_command run = {.parts = PARTS_ALL, .roofs = true};
    return run_into_folder(settings, messages, &run, result, report, err);
}

enum outlay_status command_takeoff(const struct settings *settings,
                                   const struct messages *messages,
                                   struct outlay_result *result, struct text *report,
                                   struct outlay_error *err)
{
    static const struct folder_command takeoff = {
        .parts = 1u << PART_SUMMARY | 1u << PART_MATERIALS | 1u << PART_ORDERS |
                 1u << PART_ROLLS | 1u << PART_LAYOUT | 1u << PART_PROBLEMS |
                 1u << PART_RUN,
        .roofs = true};
    return run_into_folder(settings, messages, &takeoff, result, report, err);
}

enum outlay_status command_compare(const struct settings *settings,
                                   const struct messages *messages,
                                   struct outlay_result *result, struct text *report,
                                   struct outlay_error *err)
{
    static const struct folder_command compare = {
        .parts = 1u << PART_SUMMARY | 1u << PART_COMPARISON | 1u << PART_PROBLEMS |
                 1u << PART_RUN,
        .methods = true};
    struct settings all = *settings;
    if (all.attach.methods == 0)
        all.attach.methods = ~0u;
    return run_into_folder(&all, messages, &compare, result, report, err);
}

enum outlay_status command_rank(const struct settings *settings,
                                const struct messages *messages,
                                struct outlay_result *result, struct text *report,
                                struct outlay_error *err)
{
    static const struct folder_command rank = {
        .parts = 1u << PART_RANKING | 1u << PART_PROBLEMS | 1u << PART_RUN,
        .ranks = true};
    return run_into_folder(settings, messages, &rank, result, report, err);
}

enum outlay_status command_budget(const struct settings *settings,
                                  const struct messages *messages,
                                  struct outlay_result *result, struct text *report,
                                  struct outlay_error *err)
{
    static const struct folder_command budget = {
        .parts = 1u << PART_BUDGET | 1u << PART_PLAN | 1u << PART_VISITS |
                 1u << PART_SCENARIOS | 1u << PART_PROBLEMS | 1u << PART_RUN,
        .years = true};
    return run_into_folder(settings, messages, &budget, result, report, err);
}

enum outlay_status command_survey(const struct settings *settings,
                                  const struct messages *messages,
                                  struct outlay_result *result, struct text *report,
                                  struct outlay_error *err)
{
    static const struct folder_command survey = {
        .parts = 1u << PART_SURVEY | 1u << PART_SURVEY_BOOK | 1u << PART_SURVEY_POINTS |
                 1u << PART_SITE_SHEETS | 1u << PART_PROBLEMS | 1u << PART_RUN,
        .surveys = true};
    return run_into_folder(settings, messages, &survey, result, report, err);
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
        status = zones_sink_open(settings, &sink, err);
    if (status == OUTLAY_OK)
        status = execute_open(settings, &reader, err);
    if (status != OUTLAY_OK)
        goto done;

    struct sink calls = zones_sink_calls(sink);
    calls.table = &table;
    status = execute_run(settings, reader, messages, true, &calls, &counts, result, err);
    if (status == OUTLAY_OK && zones_sink_problems(sink))
        message_send(messages, OUTLAY_MESSAGE_NOTE, "problems were found",
                     zones_sink_problems(sink), "read them before you use the zones");
    if (status == OUTLAY_OK && strcmp(settings->output, "-") != 0) {
        roof_table_print(report, &table, &settings->write);
        table_print(report, &counts.totals, &settings->write);
    }
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
