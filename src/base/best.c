#include "base/best.h"

#include <stdlib.h>

bool best_open(struct best *best, size_t most, int (*order)(const void *, const void *))
{
    *best = (struct best){calloc(most, sizeof *best->items), 0, most, order};
    return best->items != NULL;
}

void best_close(struct best *best)
{
    free(best->items);
    best->items = NULL;
    best->count = 0;
}

bool best_wants(const struct best *best, const void *item)
{
    return best->count < best->most || best->order(item, best->items[0]) < 0;
}

/* Moves the item at `at` up to where the one above it is no better. */
static void rise(struct best *best, size_t at)
{
    void *item = best->items[at];

    while (at > 0 && best->order(item, best->items[(at - 1) / 2]) > 0) {
        best->items[at] = best->items[(at - 1) / 2];
        at = (at - 1) / 2;
    }
    best->items[at] = item;
}

/* Moves the first item down to where both below it are no worse. */
static void sink(struct best *best)
{
    void *item = best->items[0];
    size_t at = 0, below;

    while ((below = 2 * at + 1) < best->count) {
        if (below + 1 < best->count &&
            best->order(best->items[below + 1], best->items[below]) > 0)
            below++;
        if (best->order(item, best->items[below]) >= 0)
            break;
        best->items[at] = best->items[below];
        at = below;
    }
    best->items[at] = item;
}

void *best_keep(struct best *best, void *item)
{
    void *out = NULL;

    if (best->count < best->most) {
        best->items[best->count] = item;
        rise(best, best->count++);
        return NULL;
    }
    out = best->items[0];
    best->items[0] = item;
    sink(best);
    return out;
}
