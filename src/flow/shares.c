#include "flow/shares.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "geo/overlap.h"

/* Points that overlays look at, at most; some hundred seconds (ours). */
#define WORK_MAX 400000000ull

/* Pairs between two reports of progress. */
#define PAIRS_AT_ONCE 1000

/* A pair as it is measured: in the order of its heavier roof. */
struct turn {
    uint32_t heavy, light, pair;
};

struct measuring {
    const struct layer_checks *checks;
    struct geo_ctx *ctx;         /* owned, as all below */
    struct arena *arenas[2];     /* of the heavier roof, of the other one */
    struct overlap_shape *shape; /* of the heavier roof; NULL: it can't be made */
    struct frame frame;          /* at it */
    uint32_t heavy;              /* its position, or INDEX_NONE */
    unsigned long long work;     /* of the shapes before it */
};

static int by_heavy(const void *left, const void *right)
{
    const struct turn *a = left;
    const struct turn *b = right;
    if (a->heavy != b->heavy)
        return a->heavy < b->heavy ? -1 : 1;
    return (a->light > b->light) - (a->light < b->light);
}

static struct turn *order_turns(const struct roof_index *index,
                                const struct roof_pair *pairs, size_t count)
{
    struct turn *turns = malloc((count + 1) * sizeof *turns);
    for (size_t i = 0; turns && i < count; i++) {
        struct roof_pair pair = pairs[i];
        bool second = index->entries[pair.b].points > index->entries[pair.a].points;
        turns[i] = (struct turn){second ? pair.b : pair.a, second ? pair.a : pair.b,
                                 (uint32_t)i};
    }
    if (turns)
        qsort(turns, count, sizeof *turns, by_heavy);
    return turns;
}

/* A roof's shape. OUTLAY_E_GEOMETRY leaves *out NULL. */
static enum outlay_status make_shape(struct measuring *m, uint32_t position, bool heavy,
                                     struct overlap_shape **out, struct outlay_error *err)
{
    const struct layer_checks *checks = m->checks;
    struct arena *arena = m->arenas[heavy ? 0 : 1];
    struct roof roof;
    *out = NULL;
    arena_reset(arena);
    memset(&roof, 0, sizeof roof);
    enum outlay_status status = spool_read(
        checks->spool, checks->index->entries[position].offset, arena, &roof, err);
    if (status != OUTLAY_OK)
        return status;
    if (heavy)
        frame_init(&m->frame, m->ctx, roof.lonlat.polygons[0].rings[0].points[0]);
    return overlap_shape_new(m->ctx, arena, &m->frame, &roof.lonlat, out, err);
}

static enum outlay_status change_heavy(struct measuring *m, uint32_t position,
                                       struct outlay_error *err)
{
    if (m->heavy == position)
        return m->shape ? OUTLAY_OK : OUTLAY_E_GEOMETRY;
    m->work += m->shape ? overlap_shape_work(m->shape) : 0;
    overlap_shape_free(m->ctx, m->shape);
    m->heavy = position;
    return make_shape(m, position, true, &m->shape, err);
}

static enum outlay_status measure(struct measuring *m, const struct turn *turn,
                                  struct pair_share *out, struct outlay_error *err)
{
    struct overlap_shape *light = NULL;
    double shared = 0;
    enum outlay_status status = change_heavy(m, turn->heavy, err);
    if (status == OUTLAY_OK)
        status = make_shape(m, turn->light, false, &light, err);
    if (status == OUTLAY_OK) {
        out->smaller =
            (float)fmin(overlap_shape_area(m->shape), overlap_shape_area(light));
        status = overlap_shared(m->ctx, m->shape, light, &shared, err);
        out->shared = (float)shared;
        m->work += overlap_shape_work(light);
    }
    overlap_shape_free(m->ctx, light);
    if (status != OUTLAY_E_GEOMETRY)
        return status;
    out->shared = NAN;
    return OUTLAY_OK;
}

static bool is_too_much(const struct measuring *m)
{
    return m->work + (m->shape ? overlap_shape_work(m->shape) : 0) > WORK_MAX;
}

static enum outlay_status measure_all(struct measuring *m, const struct turn *turns,
                                      size_t count, struct pair_share *shares,
                                      bool *complete, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    for (size_t i = 0; status == OUTLAY_OK && i < count; i++) {
        if (is_too_much(m)) {
            *complete = false;
            break;
        }
        status = measure(m, &turns[i], &shares[turns[i].pair], err);
        if (status == OUTLAY_OK && i % PAIRS_AT_ONCE == PAIRS_AT_ONCE - 1)
            status =
                message_progress(m->checks->messages, 1, m->checks->index->count, err);
    }
    return status;
}

enum outlay_status pairs_measure(const struct layer_checks *checks,
                                 const struct roof_pair *pairs, size_t count,
                                 struct pair_share **out, bool *complete,
                                 struct outlay_error *err)
{
    struct measuring m = {
        .checks = checks, .arenas = {arena_new(), arena_new()}, .heavy = INDEX_NONE};
    struct turn *turns = order_turns(checks->index, pairs, count);
    *out = calloc(count + 1, sizeof **out);
    enum outlay_status status = OUTLAY_E_MEMORY;
    if (m.arenas[0] && m.arenas[1] && turns && *out)
        status = geo_ctx_new(&m.ctx, err);
    else
        outlay_fail(err, status, "out of memory");
    if (status == OUTLAY_OK)
        status = measure_all(&m, turns, count, *out, complete, err);
    if (m.ctx)
        overlap_shape_free(m.ctx, m.shape);
    geo_ctx_free(m.ctx);
    arena_free(m.arenas[0]);
    arena_free(m.arenas[1]);
    free(turns);
    return status;
}
