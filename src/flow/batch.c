#include "flow/batch.h"

#include <stdlib.h>
#include <string.h>

#include "flow/stages.h"

struct batch *batch_new(size_t draws)
{
    struct batch *batch = calloc(1, sizeof *batch);
    if (!batch)
        return NULL;
    batch->room = BATCH_ROOFS;
    batch->arena = arena_new();
    if (draws > 0)
        batch->sums = spread_sums_new(draws);
    if (batch->arena && (draws == 0 || batch->sums))
        return batch;
    batch_free(batch);
    return NULL;
}

void batch_free(struct batch *batch)
{
    if (!batch)
        return;
    for (int part = 0; part < PARTS; part++)
        text_release(&batch->texts[part]);
    spread_sums_free(batch->sums);
    arena_free(batch->arena);
    free(batch);
}

void batch_clear(struct batch *batch)
{
    for (int part = 0; part < PARTS; part++)
        text_clear(&batch->texts[part]);
    if (batch->sums)
        spread_sums_clear(batch->sums);
    arena_reset(batch->arena);
    batch->building_count = 0;
    batch->roof_count = 0;
    batch->status = OUTLAY_OK;
    batch->next = NULL;
}

bool batch_full(const struct batch *batch)
{
    return batch->building_count == BATCH_BUILDINGS || batch->roof_count >= batch->room;
}

struct building *batch_add(struct batch *batch, size_t roof_count)
{
    struct roof *roofs = arena_array(batch->arena, roof_count, sizeof *roofs);
    if (!roofs)
        return NULL;
    struct building *building = &batch->buildings[batch->building_count++];
    *building = (struct building){.arena = batch->arena,
                                  .roofs = roofs,
                                  .roof_count = roof_count,
                                  .sums = batch->sums};
    batch->roof_count += roof_count;
    return building;
}

void batch_drop_last(struct batch *batch)
{
    batch->roof_count -= batch->buildings[--batch->building_count].roof_count;
}

static void format_building(struct batch *batch, const struct building *building,
                            const struct batch_format *format)
{
    for (int part = 0; part < PARTS; part++)
        if (format->rows[part])
            format->rows[part](&batch->texts[part], building, &format->settings->write);
}

void batch_work(void *task, struct geo_ctx *ctx, const void *shared)
{
    struct batch *batch = task;
    const struct batch_format *format = shared;
    for (size_t i = 0; i < batch->building_count; i++) {
        struct building *building = &batch->buildings[i];
        batch->status =
            stages_run(building, format->settings, format->layouts, ctx, &batch->error);
        if (batch->status != OUTLAY_OK)
            return;
        format_building(batch, building, format);
    }
    for (int part = 0; part < PARTS; part++)
        if (batch->texts[part].failed)
            batch->status = outlay_fail(&batch->error, OUTLAY_E_MEMORY, "out of memory");
}

enum outlay_status roof_copy(struct arena *arena, const struct roof *from,
                             struct roof *to, struct outlay_error *err)
{
    const char *const texts[] = {from->id, from->name, from->building, from->group,
                                 from->properties};
    const char **const copies[] = {&to->id, &to->name, &to->building, &to->group,
                                   &to->properties};
    *to = *from;
    to->problems = NULL;
    to->problems_end = NULL;
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++)
        if (texts[i] && !(*copies[i] = arena_text(arena, texts[i], strlen(texts[i]))))
            return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    for (const struct problem *p = from->problems; p; p = p->next) {
        struct problem *copy = roof_problem(arena, to, p->code, p->done, "%s", p->what);
        if (copy)
            copy->field = p->field;
    }
    if (region_copy(arena, &from->lonlat, &to->lonlat) != OUTLAY_OK)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    return OUTLAY_OK;
}
