#include "flow/pipeline.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/clock.h"
#include "flow/checks.h"
#include "flow/pipeline_private.h"
#include "options/selection.h"

/* Batches in flight for each worker: enough that none waits for the one that writes. */
#define SLOTS_PER_WORKER 4

/* Share of the progress that reading takes where it comes first. */
#define READING_SHARE 0.3

enum outlay_status pipeline_memory(struct pipeline *p)
{
    return outlay_fail(p->err, OUTLAY_E_MEMORY, "out of memory");
}

/* ---- Results ------------------------------------------------------------------- */

/* Tells the checks over the whole layer what became of a roof. */
static void settle_roof(struct pipeline *p, const struct roof *roof)
{
    bool may_rank =
        roof->zoned && rank_allows(&p->settings->rank, roof->given.slope, roof->area);
    if (!p->counts->streamed)
        index_settle(&p->index, roof, may_rank ? roof->area : NAN);
}

static enum outlay_status count_building(struct pipeline *p,
                                         const struct building *building)
{
    enum outlay_status status = mark_use_building(&p->mark_use, building, p->err);

    finding_use_building(&p->finding_use, building);

    totals_add(&p->counts->totals, building, &p->settings->write);
    if (p->sink->table)
        roof_table_add(p->sink->table, building, &p->settings->write);
    for (size_t i = 0; status == OUTLAY_OK && i < building->roof_count; i++) {
        const struct roof *roof = &building->roofs[i];
        p->counts->rated += roof->zoned && roof->velocity.known;
        settle_roof(p, roof);
        if (selection_has(p->settings, roof))
            status = tally_roof(p->tally, roof, p->err);
    }
    return status;
}

static double progress_share(const struct pipeline *p)
{
    long long total = reader_count(p->reader);
    if (total <= 0)
        return -1;
    double read = fmin((double)p->read / (double)total, 1);
    double done = fmin((double)p->counts->totals.roofs / (double)total, 1);
    return READING_SHARE * read + (1 - READING_SHARE) * done;
}

enum outlay_status pipeline_breathe(struct pipeline *p)
{
    return message_progress(p->messages, progress_share(p), p->counts->totals.roofs,
                            p->err);
}

/* Puts a finished batch down and makes it idle. */
static enum outlay_status commit(struct pipeline *p, struct batch *batch)
{
    enum outlay_status status = batch->status;
    if (status != OUTLAY_OK && p->err)
        *p->err = batch->error;
    if (status == OUTLAY_OK)
        status = p->sink->commit(p->sink->self, batch, p->err);
    for (size_t i = 0; status == OUTLAY_OK && i < batch->building_count; i++)
        status = count_building(p, &batch->buildings[i]);
    batch_clear(batch);
    batch->next = p->idle;
    p->idle = batch;
    return status == OUTLAY_OK ? pipeline_breathe(p) : status;
}

/* Puts down what is finished; all: waits for everything in flight. */
static enum outlay_status settle(struct pipeline *p, bool all)
{
    enum outlay_status status = OUTLAY_OK;
    struct batch *batch;
    while (status == OUTLAY_OK && (batch = workers_take(p->workers, all)) != NULL)
        status = commit(p, batch);
    return status;
}

enum outlay_status pipeline_hand_in(struct pipeline *p)
{
    enum outlay_status status = settle(p, false);
    if (status == OUTLAY_OK && workers_full(p->workers))
        status = commit(p, workers_take(p->workers, true));
    if (status != OUTLAY_OK)
        return status;
    workers_submit(p->workers, p->filling);
    p->filling = NULL;
    return OUTLAY_OK;
}

struct batch *pipeline_idle_batch(struct pipeline *p)
{
    struct batch *batch = p->idle;
    if (batch)
        p->idle = batch->next;
    else
        batch = batch_new((size_t)p->settings->spread.draws);
    if (batch && p->sink->layouts)
        batch->room = BATCH_LAID_OUT;
    return batch;
}

enum outlay_status pipeline_finish(struct pipeline *p)
{
    enum outlay_status status = OUTLAY_OK;
    if (p->filling)
        status = pipeline_hand_in(p);
    return status == OUTLAY_OK ? settle(p, true) : status;
}

/* ---- The whole ------------------------------------------------------------------- */

static bool has_buildings(const struct reader *reader)
{
    const struct field_use *fields;
    size_t count = reader_fields(reader, &fields);
    for (size_t i = 0; i < count; i++)
        if (fields[i].role == ROLE_BUILDING)
            return true;
    return false;
}

static int thread_count(const struct settings *settings)
{
    if (settings->threads > 0)
        return settings->threads;
    long online = sysconf(_SC_NPROCESSORS_ONLN);
    return online < 1 ? 1 : online > 64 ? 64 : (int)online;
}

static enum outlay_status open_sampler(struct pipeline *p)
{
    if (!p->counts->streamed)
        return sampler_open(&p->settings->sample, &p->sampler, p->err);
    outlay_fail(p->err, OUTLAY_E_USAGE, "the roofs of a stream can't be sampled");
    outlay_fail_where(p->err, "--sample");
    outlay_fail_todo(p->err, "write the roofs to a file first; they are visited in order "
                             "of place");
    return OUTLAY_E_USAGE;
}

static enum outlay_status open_all(struct pipeline *p)
{
    int threads = thread_count(p->settings);
    p->counts->threads = (size_t)threads;
    p->format = (struct batch_format){p->settings, p->sink->rows, p->sink->layouts};
    p->scratch = arena_new();
    p->digest = digest_new();
    p->tally = tally_new();
    if (!p->scratch || !p->digest || !p->tally)
        return pipeline_memory(p);
    enum outlay_status status = mark_use_init(&p->mark_use, p->settings, p->err);
    if (status == OUTLAY_OK)
        status = finding_use_init(&p->finding_use, p->settings, p->err);
    if (status == OUTLAY_OK && !p->counts->streamed)
        status = spool_open(&p->spool, p->err);
    if (status == OUTLAY_OK && sample_wanted(&p->settings->sample))
        status = open_sampler(p);
    if (status != OUTLAY_OK)
        return status;
    return workers_new(threads, SLOTS_PER_WORKER * (size_t)threads, batch_work,
                       &p->format, &p->workers, p->err);
}

static void close_all(struct pipeline *p)
{
    struct batch *batch;
    /* Batches in flight are still the workers': stop them before freeing. */
    workers_stop(p->workers);
    while ((batch = workers_take(p->workers, false)) != NULL)
        batch_free(batch);
    workers_free(p->workers);
    batch_free(p->filling);
    while ((batch = p->idle) != NULL) {
        p->idle = batch->next;
        batch_free(batch);
    }
    spool_close(p->spool);
    sampler_close(p->sampler);
    arena_free(p->scratch);
    digest_free(p->digest);
    tally_free(p->tally);
    mark_use_release(&p->mark_use);
    finding_use_release(&p->finding_use);
    index_release(&p->index);
}

static enum outlay_status read_by_kind(struct pipeline *p)
{
    if (p->counts->streamed)
        return gather_stream(p);
    return has_buildings(p->reader) || p->sampler ? gather_buildings(p)
                                                  : gather_single_roofs(p);
}

static enum outlay_status check_layer(struct pipeline *p, struct grid *rows)
{
    struct duplicate_list duplicates = {0};
    struct layer_checks checks = {.settings = p->settings,
                                  .index = &p->index,
                                  .spool = p->spool,
                                  .messages = p->messages,
                                  .totals = &p->counts->totals,
                                  .tally = p->tally};
    enum outlay_status status = spool_flush(p->spool, p->err);
    arena_reset(p->scratch);
    if (status == OUTLAY_OK)
        status = layer_checks_run(&checks, rows, p->scratch, &duplicates, p->err);
    if (status == OUTLAY_OK && p->sink->duplicates)
        status = p->sink->duplicates(p->sink->self, &duplicates, p->err);
    return status;
}

/* What shows only now that all roofs are there. */
static enum outlay_status sum_up(struct pipeline *p)
{
    const struct write_settings *set = &p->settings->write;
    struct grid *rows = grid_new(&problems_sheet, set);
    struct loose_problems loose = {rows, &p->counts->totals, p->tally, 0, p->err};
    enum outlay_status status = rows ? OUTLAY_OK : pipeline_memory(p);
    if (status == OUTLAY_OK && p->sink->problems)
        status = tally_share(p->tally, p->sink, set, rows, p->err);
    if (status == OUTLAY_OK && !p->counts->streamed)
        status = check_layer(p, rows);
    if (status == OUTLAY_OK)
        status = mark_use_report(&p->mark_use, p->settings, &loose);
    if (status == OUTLAY_OK)
        status = finding_use_report(&p->finding_use, p->settings, &loose);
    if (status == OUTLAY_OK && grid_failed(rows))
        status = pipeline_memory(p);
    if (status == OUTLAY_OK && grid_rows(rows) && p->sink->problems)
        status = p->sink->problems(p->sink->self, rows, p->err);
    grid_free(rows);
    return status;
}

enum outlay_status pipeline_run(const struct settings *settings, struct reader *reader,
                                const struct messages *messages, const struct sink *sink,
                                struct run_counts *counts, struct outlay_error *err)
{
    struct pipeline p = {.settings = settings,
                         .reader = reader,
                         .messages = messages,
                         .sink = sink,
                         .counts = counts,
                         .err = err};
    struct timespec start = clock_start();
    counts->streamed = reader_streams(reader);
    enum outlay_status status = open_all(&p);
    if (status == OUTLAY_OK)
        status = read_by_kind(&p);
    counts->stage_seconds = clock_seconds(&start);
    if (status == OUTLAY_OK)
        digest_print(p.digest, counts->digest);
    if (status == OUTLAY_OK)
        status = sum_up(&p);
    if (status == OUTLAY_OK)
        tally_send(p.tally, reader_name(reader), messages);
    counts->check_seconds = clock_seconds(&start) - counts->stage_seconds;
    close_all(&p);
    return status;
}
