#include "flow/duplicates.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/grow.h"
#include "base/text.h"

/* Areas that are alike, m2, and shares: see the header. */
#define ALIKE 0.1
#define COVERED 0.5
#define FILLED 0.9

struct covering {
    struct overlapping small, large; /* ids in the arena */
    double shared;
};

/* Negative: a counts as the smaller. 0 only for the same roof. */
static int compare(const struct overlapping *a, const struct overlapping *b)
{
    double of_a = round(a->area / ALIKE), of_b = round(b->area / ALIKE);
    int ids = 0;

    if (of_a < of_b || of_a > of_b)
        return of_a < of_b ? -1 : 1;
    ids = strcmp(b->id, a->id);
    return ids ? ids : (b->position > a->position) - (b->position < a->position);
}

static int by_large(const void *left, const void *right)
{
    const struct covering *a = left;
    const struct covering *b = right;
    int order = compare(&a->large, &b->large);

    return order ? order : compare(&a->small, &b->small);
}

static int by_position(const void *left, const void *right)
{
    const struct duplicate_roof *a = left;
    const struct duplicate_roof *b = right;

    return (a->position > b->position) - (a->position < b->position);
}

enum outlay_status duplicates_add(struct duplicate_finder *finder,
                                  const struct overlapping *a,
                                  const struct overlapping *b, double shared,
                                  struct outlay_error *err)
{
    bool ordered = compare(a, b) < 0;
    struct covering covering = {ordered ? *a : *b, ordered ? *b : *a, shared};
    struct overlapping *const both[] = {&covering.small, &covering.large};
    struct covering *items = NULL;

    if (!(shared > COVERED * covering.small.area))
        return OUTLAY_OK;
    items = grow_in(finder->arena, finder->items, finder->count, 1, &finder->capacity,
                    sizeof *items);
    if (!items)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    finder->items = items;
    for (size_t i = 0; i < 2; i++)
        if (!(both[i]->id = arena_text(finder->arena, both[i]->id, strlen(both[i]->id))))
            return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    finder->items[finder->count++] = covering;
    return OUTLAY_OK;
}

/* ---- Deciding ---- */

/* Coverings of one larger roof by smaller ones. */
struct covered {
    const struct covering *items;
    size_t count;
};

struct deciding {
    struct arena *arena;
    struct duplicate_list *list;
    uint32_t *entries; /* of each roof, by position: its place in the list from 1; 0: it
                          stays so far */
};

static size_t count_left(const struct deciding *d, const struct covered *of,
                         double *shared)
{
    size_t left = 0;

    *shared = 0;
    for (size_t i = 0; i < of->count; i++)
        if (!d->entries[of->items[i].small.position]) {
            left++;
            *shared += of->items[i].shared;
        }
    return left;
}

/* The last reason stands: it names the largest roof. @return false when out of memory */
static bool give_way(struct deciding *d, const struct overlapping *roof,
                     struct text *reason)
{
    uint32_t *entry = &d->entries[roof->position];
    const char *copy =
        reason->failed ? NULL : arena_text(d->arena, reason->data, reason->length);

    text_clear(reason);
    if (!*entry)
        *entry = (uint32_t)++d->list->count;
    d->list->roofs[*entry - 1] = (struct duplicate_roof){roof->position, roof->id, copy};
    return copy != NULL;
}

/* @return false when out of memory */
static bool decide_one(struct deciding *d, const struct covered *of)
{
    const struct overlapping *large = &of->items[0].large;
    struct text reason = TEXT_INIT;
    double shared = 0;
    size_t left = count_left(d, of, &shared);
    bool filled = left > 1 && shared >= FILLED * large->area;
    bool whole = true;

    if (filled) {
        text_printf(&reason, "filled to %.0f %% by %zu smaller roofs",
                    fmin(100 * shared / large->area, 100), left);
        whole = give_way(d, large, &reason);
    }
    for (size_t i = 0; whole && !filled && i < of->count; i++) {
        const struct covering *item = &of->items[i];

        text_printf(&reason, "overlapped to %.0f %% by roof %s",
                    fmin(100 * item->shared / item->small.area, 100), large->id);
        whole = give_way(d, &item->small, &reason);
    }
    text_release(&reason);
    return whole;
}

enum outlay_status duplicates_decide(struct duplicate_finder *finder, size_t roofs,
                                     struct duplicate_list *out, struct outlay_error *err)
{
    const struct covering *items = finder->items;
    struct deciding d = {finder->arena, out,
                         arena_array(finder->arena, roofs, sizeof *d.entries)};
    bool whole = true;

    *out = (struct duplicate_list){
        .roofs = arena_array(finder->arena, 2 * finder->count, sizeof *out->roofs)};
    if (!finder->count)
        return OUTLAY_OK;
    if (!d.entries || !out->roofs)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    qsort(finder->items, finder->count, sizeof *items, by_large);
    for (size_t from = 0, to; whole && from < finder->count; from = to) {
        for (to = from + 1;
             to < finder->count && !compare(&items[from].large, &items[to].large);)
            to++;
        const struct covered of = {&items[from], to - from};
        whole = decide_one(&d, &of);
    }
    if (!whole)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    qsort(out->roofs, out->count, sizeof *out->roofs, by_position);
    return OUTLAY_OK;
}
