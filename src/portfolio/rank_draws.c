#include "portfolio/rank_draws.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include "base/temporary.h"
#include "spread/drivers.h"
#include "spread/ranks.h"

/* Numbers in a block. */
enum { BLOCK_NUMBERS = 1 << 22, BLOCK_ROOFS_MAX = 16384 };

struct rank_draws {
    size_t draws, count; /* roofs so far */
    size_t block_roofs;
    uint32_t first;
    uint32_t *block; /* owned: the draws of a block, one after the other */
    FILE *file;      /* owned, as the next */
    struct drawn_rank *ranks;
};

enum outlay_status rank_draws_new(size_t draws, uint32_t first, struct rank_draws **out,
                                  struct outlay_error *err)
{
    struct rank_draws *ranks = *out = calloc(1, sizeof *ranks);
    int file = -1;

    if (!ranks)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    ranks->draws = draws;
    ranks->first = first;
    ranks->block_roofs = BLOCK_NUMBERS / draws;
    if (ranks->block_roofs > BLOCK_ROOFS_MAX)
        ranks->block_roofs = BLOCK_ROOFS_MAX;
    ranks->block = calloc(ranks->block_roofs * draws, sizeof *ranks->block);
    if (!ranks->block)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    file = temporary_open(err);
    if (file < 0)
        return OUTLAY_E_OUTPUT;
    ranks->file = fdopen(file, "w+b");
    if (ranks->file)
        return OUTLAY_OK;
    close(file);
    return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
}

void rank_draws_free(struct rank_draws *ranks)
{
    if (!ranks)
        return;
    if (ranks->file)
        fclose(ranks->file);
    free(ranks->block);
    free(ranks->ranks);
    free(ranks);
}

/* ---- Blocks ---------------------------------------------------------------------- */

static off_t place_of(const struct rank_draws *r, size_t block, size_t draw)
{
    return (off_t)((block * r->draws + draw) * r->block_roofs * sizeof *r->block);
}

/* Some draws of a block, all of its roofs. */
static bool load(struct rank_draws *r, size_t block, size_t draw, uint32_t *numbers,
                 size_t count)
{
    return fseeko(r->file, place_of(r, block, draw), SEEK_SET) == 0 &&
           fread(numbers, sizeof *numbers, count, r->file) == count;
}

static bool store(struct rank_draws *r, size_t block, size_t draw,
                  const uint32_t *numbers, size_t count)
{
    return fseeko(r->file, place_of(r, block, draw), SEEK_SET) == 0 &&
           fwrite(numbers, sizeof *numbers, count, r->file) == count;
}

static size_t block_count(const struct rank_draws *r)
{
    return (r->count + r->block_roofs - 1) / r->block_roofs;
}

enum outlay_status rank_draws_add(struct rank_draws *ranks,
                                  const struct building *building,
                                  struct outlay_error *err)
{
    struct rank_draws *r = ranks;

    for (size_t i = 0; i < building->roof_count; i++) {
        const struct roof_spread *spread = building->roofs[i].spread;
        size_t at = r->count % r->block_roofs;

        for (size_t draw = 0; draw < r->draws; draw++)
            r->block[draw * r->block_roofs + at] =
                spread ? spread->scores[draw] : SCORE_NONE;
        r->count++;
        if (at + 1 == r->block_roofs && !store(r, (r->count - 1) / r->block_roofs, 0,
                                               r->block, r->draws * r->block_roofs))
            return temporary_fail("writing", err);
    }
    return OUTLAY_OK;
}

/* The last block, which isn't full. */
static bool store_last(struct rank_draws *r)
{
    size_t left = r->count % r->block_roofs;

    return left == 0 ||
           store(r, r->count / r->block_roofs, 0, r->block, r->draws * r->block_roofs);
}

/* ---- Draw by draw ---------------------------------------------------------------- */

/* All roofs in one draw. */
struct column {
    uint32_t *scores, *ranks, *group; /* owned */
    uint64_t *scratch;
};

static bool column_make(struct column *column, size_t room)
{
    column->scores = calloc(room + 1, sizeof *column->scores);
    column->ranks = calloc(room + 1, sizeof *column->ranks);
    column->group = calloc(room + 1, sizeof *column->group);
    column->scratch = calloc(room + 1, sizeof *column->scratch);
    return column->scores && column->ranks && column->group && column->scratch;
}

static void column_free(struct column *column)
{
    free(column->scores);
    free(column->ranks);
    free(column->group);
    free(column->scratch);
}

/* Ranks of one group, put in place of its scores. */
static void rank_group_of(struct rank_draws *r, const struct ranking *ranking,
                          enum rank_group group, struct column *c)
{
    for (size_t i = 0; i < r->count; i++) {
        bool in = ranking->rows[ranking->places[i]].group == group;

        c->group[i] = in ? c->scores[i] : SCORE_NONE;
    }
    ranks_of_scores(c->group, r->count, c->scratch, c->ranks);
    for (size_t i = 0; i < r->count; i++)
        if (ranking->rows[ranking->places[i]].group == group)
            c->scores[i] = c->ranks[i];
}

static bool rank_draw(struct rank_draws *r, const struct ranking *ranking, size_t draw,
                      struct column *c)
{
    bool done = true;

    for (size_t b = 0; b < block_count(r) && done; b++)
        done = load(r, b, draw, c->scores + b * r->block_roofs, r->block_roofs);
    if (!done)
        return false;
    rank_group_of(r, ranking, RANK_RATED, c);
    rank_group_of(r, ranking, RANK_EXPOSED, c);
    for (size_t i = 0; i < r->count; i++)
        if (ranking->rows[ranking->places[i]].group > RANK_EXPOSED)
            c->scores[i] = 0;
    for (size_t b = 0; b < block_count(r) && done; b++)
        done = store(r, b, draw, c->scores + b * r->block_roofs, r->block_roofs);
    return done;
}

/* ---- Roof by roof ---------------------------------------------------------------- */

/* @param values  room for all draws */
static struct drawn_rank sum_up(const struct rank_draws *r, size_t at, double *values)
{
    size_t ranked = 0, first = 0;
    struct spread_range range;

    for (size_t draw = 0; draw < r->draws; draw++) {
        uint32_t rank = r->block[draw * r->block_roofs + at];

        if (rank == 0)
            continue;
        values[ranked++] = rank;
        first += rank <= r->first;
    }
    range = spread_range_of(values, ranked);
    return (struct drawn_rank){(float)range.low, (float)range.high,
                               ranked ? (float)((double)first / (double)r->draws)
                                      : (float)NAN};
}

static bool sum_up_all(struct rank_draws *r, double *values)
{
    for (size_t b = 0; b < block_count(r); b++) {
        if (!load(r, b, 0, r->block, r->draws * r->block_roofs))
            return false;
        for (size_t at = 0; at < r->block_roofs && b * r->block_roofs + at < r->count;
             at++)
            r->ranks[b * r->block_roofs + at] = sum_up(r, at, values);
    }
    return true;
}

enum outlay_status rank_draws_settle(struct rank_draws *ranks,
                                     const struct ranking *ranking,
                                     struct outlay_error *err)
{
    struct rank_draws *r = ranks;
    struct column column = {NULL, NULL, NULL, NULL};
    double *values = calloc(r->draws + 1, sizeof *values);
    enum outlay_status status = OUTLAY_OK;
    bool made = column_make(&column, block_count(r) * r->block_roofs);

    r->ranks = calloc(r->count + 1, sizeof *r->ranks);
    if (!made || !values || !r->ranks)
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    else if (!store_last(r))
        status = temporary_fail("reading or writing", err);
    for (size_t draw = 0; status == OUTLAY_OK && draw < r->draws; draw++)
        if (!rank_draw(r, ranking, draw, &column))
            status = temporary_fail("reading or writing", err);
    if (status == OUTLAY_OK && !sum_up_all(r, values))
        status = temporary_fail("reading or writing", err);
    column_free(&column);
    free(values);
    return status;
}

struct drawn_rank rank_draws_of(const struct rank_draws *ranks, size_t roof)
{
    return ranks->ranks[roof];
}

uint32_t rank_draws_first(const struct rank_draws *ranks)
{
    return ranks->first;
}
