/* Roofs to buildings to batches: three ways to read a source. */

#include <stdlib.h>
#include <string.h>

#include "flow/pipeline_private.h"

/* Makes sure that there is a batch to add a building to. */
static enum outlay_status need_batch(struct pipeline *p)
{
    if (p->filling && !batch_full(p->filling))
        return OUTLAY_OK;
    if (p->filling) {
        enum outlay_status status = pipeline_hand_in(p);
        if (status != OUTLAY_OK)
            return status;
    }
    p->filling = pipeline_idle_batch(p);
    return p->filling ? OUTLAY_OK : pipeline_memory(p);
}

/* What a failed read means. An interruption during it looks like a broken input, and a
 * stream that breaks off still gets what was read written. */
static enum outlay_status read_failed(struct pipeline *p, enum outlay_status status,
                                      bool *end)
{
    if (status != OUTLAY_E_INPUT)
        return status;
    if (pipeline_breathe(p) != OUTLAY_OK)
        return OUTLAY_E_INTERRUPTED;
    if (!p->counts->streamed)
        return status;
    p->counts->input_status = status;
    if (p->err)
        p->counts->input_error = *p->err;
    *end = true;
    return OUTLAY_OK;
}

static enum outlay_status read_roof(struct pipeline *p, struct arena *arena,
                                    struct roof *roof, bool *end)
{
    enum outlay_status status = reader_next(p->reader, arena, roof, end, p->err);
    if (status != OUTLAY_OK)
        return read_failed(p, status, end);
    if (*end)
        return OUTLAY_OK;
    digest_add(p->digest, roof);
    /* Every so many roofs the caller may interrupt, even while nothing is put down. */
    return ++p->read % BATCH_ROOFS ? OUTLAY_OK : pipeline_breathe(p);
}

/* Takes a roof of a file up for the checks over the whole layer. */
static enum outlay_status keep(struct pipeline *p, const struct roof *roof)
{
    uint64_t offset;
    enum outlay_status status = spool_append(p->spool, roof, &offset, p->err);
    return status == OUTLAY_OK ? index_add(&p->index, roof, offset, p->err) : status;
}

/* Each roof is a building of its own: reading and working go on at once. */
enum outlay_status gather_single_roofs(struct pipeline *p)
{
    for (;;) {
        bool end = false;
        enum outlay_status status = need_batch(p);
        if (status != OUTLAY_OK)
            return status;
        struct building *building = batch_add(p->filling, 1);
        if (!building)
            return pipeline_memory(p);
        status = read_roof(p, p->filling->arena, building->roofs, &end);
        if (status == OUTLAY_OK && !end)
            status = keep(p, building->roofs);
        if (status != OUTLAY_OK)
            return status;
        if (end) {
            batch_drop_last(p->filling);
            return pipeline_finish(p);
        }
    }
}

static enum outlay_status too_many_roofs(struct pipeline *p, const char *building)
{
    outlay_fail(p->err, OUTLAY_E_LIMIT, "more than %d roofs have the building \"%.60s\"",
                BUILDING_ROOFS_MAX, building);
    outlay_fail_where(p->err, "%s", p->settings->read.input);
    outlay_fail_todo(p->err, "name the right column by --field building=COLUMN, or none "
                             "by --field building=");
    return OUTLAY_E_LIMIT;
}

/* ---- Buildings of several roofs ------------------------------------------------ */

static enum outlay_status read_all(struct pipeline *p)
{
    bool end = false;
    while (!end) {
        struct roof roof;
        memset(&roof, 0, sizeof roof);
        arena_reset(p->scratch);
        enum outlay_status status = read_roof(p, p->scratch, &roof, &end);
        if (status == OUTLAY_OK && !end)
            status = keep(p, &roof);
        if (status != OUTLAY_OK)
            return status;
    }
    return OUTLAY_OK;
}

/* Samples a roof of the spool and puts it aside again, behind all others. */
static enum outlay_status sample_one(struct pipeline *p, struct index_entry *entry)
{
    struct roof roof;
    memset(&roof, 0, sizeof roof);
    arena_reset(p->scratch);
    enum outlay_status status =
        spool_read(p->spool, entry->offset, p->scratch, &roof, p->err);
    if (status == OUTLAY_OK)
        status = sampler_roof(p->sampler, p->scratch, &roof, p->err);
    return status == OUTLAY_OK ? spool_append(p->spool, &roof, &entry->offset, p->err)
                               : status;
}

/* In order of place, so that neighbours find the same blocks of the rasters. */
static enum outlay_status sample_all(struct pipeline *p)
{
    uint32_t *order = NULL;
    enum outlay_status status = index_by_place(&p->index, &order, p->err);
    for (size_t i = 0; status == OUTLAY_OK && i < p->index.count; i++) {
        status = sample_one(p, &p->index.entries[order[i]]);
        if (status == OUTLAY_OK && i % BATCH_ROOFS == 0)
            status = pipeline_breathe(p);
    }
    free(order);
    return status == OUTLAY_OK ? spool_flush(p->spool, p->err) : status;
}

/* Brings one building back from the spool. */
static enum outlay_status recall(struct pipeline *p, const uint32_t *next, uint32_t first)
{
    size_t count = 0;
    for (uint32_t i = first; i != INDEX_NONE; i = next[i])
        count++;
    enum outlay_status status = need_batch(p);
    if (status != OUTLAY_OK)
        return status;
    struct building *building = batch_add(p->filling, count);
    if (!building)
        return pipeline_memory(p);
    struct roof *roof = building->roofs;
    for (uint32_t i = first; i != INDEX_NONE; i = next[i], roof++) {
        status = spool_read(p->spool, p->index.entries[i].offset, building->arena, roof,
                            p->err);
        if (status != OUTLAY_OK)
            return status;
        building->name = roof->building;
        if (count > BUILDING_ROOFS_MAX)
            return too_many_roofs(p, building->name);
    }
    return OUTLAY_OK;
}

enum outlay_status gather_buildings(struct pipeline *p)
{
    uint32_t *next = NULL;
    bool *first = NULL;
    enum outlay_status status = read_all(p);
    if (status == OUTLAY_OK)
        status = spool_flush(p->spool, p->err);
    if (status == OUTLAY_OK && p->sampler)
        status = sample_all(p);
    if (status == OUTLAY_OK)
        status = index_buildings(&p->index, &next, &first, p->err);
    for (size_t i = 0; status == OUTLAY_OK && i < p->index.count; i++)
        if (first[i])
            status = recall(p, next, (uint32_t)i);
    free(next);
    free(first);
    return status == OUTLAY_OK ? pipeline_finish(p) : status;
}

/* ---- Streams --------------------------------------------------------------------- */

/* A run of roofs of one building, in the memory of the filling batch. */
struct run_roof {
    struct roof roof;
    struct run_roof *next;
};

struct run {
    struct run_roof *first, *last;
    size_t count;
};

static bool same_building(const struct roof *a, const struct roof *b)
{
    return a->building && b->building && strcmp(a->building, b->building) == 0;
}

static enum outlay_status run_add(struct pipeline *p, struct run *run,
                                  struct run_roof *added)
{
    if (run->count == BUILDING_ROOFS_MAX)
        return too_many_roofs(p, added->roof.building);
    if (run->count++ == 0)
        run->first = added;
    else
        run->last->next = added;
    run->last = added;
    return OUTLAY_OK;
}

/* Turns the run into a building of the batch that its roofs were read into. */
static enum outlay_status run_close(struct pipeline *p, struct run *run)
{
    if (run->count == 0)
        return OUTLAY_OK;
    struct building *building = batch_add(p->filling, run->count);
    if (!building)
        return pipeline_memory(p);
    struct roof *roof = building->roofs;
    for (const struct run_roof *i = run->first; i; i = i->next)
        *roof++ = i->roof;
    building->name = building->roofs[0].building;
    *run = (struct run){0};
    return OUTLAY_OK;
}

/* Hands a full batch in. *roof, read into its memory but not part of it, follows into
 * the next one's. */
static enum outlay_status change_batch(struct pipeline *p, struct run_roof **roof)
{
    struct batch *after = pipeline_idle_batch(p);
    if (!after)
        return pipeline_memory(p);
    struct run_roof *copy = arena_alloc(after->arena, sizeof *copy);
    enum outlay_status status =
        copy ? roof_copy(after->arena, &(*roof)->roof, &copy->roof, p->err)
             : pipeline_memory(p);
    if (status == OUTLAY_OK)
        status = pipeline_hand_in(p);
    if (status != OUTLAY_OK) {
        batch_free(after);
        return status;
    }
    p->filling = after;
    *roof = copy;
    return OUTLAY_OK;
}

enum outlay_status gather_stream(struct pipeline *p)
{
    struct run run = {0};
    enum outlay_status status = need_batch(p);
    while (status == OUTLAY_OK) {
        bool end = false;
        struct run_roof *read = arena_alloc(p->filling->arena, sizeof *read);
        if (!read)
            return pipeline_memory(p);
        status = read_roof(p, p->filling->arena, &read->roof, &end);
        if (status != OUTLAY_OK)
            return status;
        if (end) {
            status = run_close(p, &run);
            return status == OUTLAY_OK ? pipeline_finish(p) : status;
        }
        if (run.count && !same_building(&run.first->roof, &read->roof)) {
            status = run_close(p, &run);
            if (status == OUTLAY_OK && batch_full(p->filling))
                status = change_batch(p, &read);
        }
        if (status == OUTLAY_OK)
            status = run_add(p, &run, read);
    }
    return status;
}
