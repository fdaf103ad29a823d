#ifndef OUTLAY_FLOW_BATCH_H
#define OUTLAY_FLOW_BATCH_H

/**
 * @file flow/batch.h
 * Some buildings that go through the stages together: the task of a worker. The reader
 * fills it, a worker runs the stages and formats texts, the caller puts them down.
 *
 * Owned: a batch owns its arena, texts and sums; buildings and roofs live in the arena.
 */

#include <stdbool.h>
#include <stddef.h>

#include "base/arena.h"
#include "base/text.h"
#include "options/settings.h"
#include "roof/roof.h"
#include "spread/sums.h"

#define BATCH_BUILDINGS 64
#define BATCH_ROOFS 256  /**< a batch is full with this many, whatever its buildings */
#define BATCH_LAID_OUT 8 /**< likewise where roofs are laid out, which takes long */

/** Appends a building's chunk of a text. */
typedef void batch_rows(struct text *out, const struct building *building,
                        const struct write_settings *set);

/** What the workers do. */
struct batch_format {
    const struct settings *settings;
    batch_rows *const *rows; /**< by enum part; NULL where no text is wanted */
    bool layouts;            /**< roofs are laid out and counted */
};

struct batch {
    struct arena *arena;
    struct building buildings[BATCH_BUILDINGS];
    size_t building_count;
    size_t roof_count;
    size_t room; /**< roofs with which it is full */
    struct text texts[PARTS];
    struct spread_sums *sums;  /**< what its draws come to; NULL: nothing is drawn */
    enum outlay_status status; /**< of the work; OUTLAY_OK or what stops the run */
    struct outlay_error error;
    struct batch *next; /**< in a list of idle ones */
};

/** @param draws  of each input; 0: none @return owned, NULL when out of memory */
struct batch *batch_new(size_t draws);

/** NULL is ignored. */
void batch_free(struct batch *batch);

/** Empties a batch for reuse. */
void batch_clear(struct batch *batch);

/** True when no other building should be added. */
bool batch_full(const struct batch *batch);

/** Adds a building of roof_count zeroed roofs to a batch that isn't full.
 *  @return NULL when out of memory */
struct building *batch_add(struct batch *batch, size_t roof_count);

/** Takes the building added last out again. */
void batch_drop_last(struct batch *batch);

/** Runs the stages on a batch and formats its texts; the work of flow/workers.h.
 *  @param shared  const struct batch_format */
void batch_work(void *task, struct geo_ctx *ctx, const void *shared);

/** A copy of a roof as read, all of it in arena. @return OUTLAY_E_MEMORY */
enum outlay_status roof_copy(struct arena *arena, const struct roof *from,
                             struct roof *to, struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
