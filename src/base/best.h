#ifndef OUTLAY_BASE_BEST_H
#define OUTLAY_BASE_BEST_H

/**
 * @file base/best.h
 * The best of many items that come one by one, as many as there is room for.
 *
 *     if (best_wants(&best, &candidate))
 *         release(best_keep(&best, copy_of(candidate)));
 */

#include <stdbool.h>
#include <stddef.h>

struct best {
    void **items; /**< owned array; who owns the items is the caller's affair. The last of
                       them in order is the first here, the others are a heap below it. */
    size_t count;
    size_t most;
    int (*order)(const void *a, const void *b); /**< negative: a is better */
};

/** Makes room for `most` items, at least 1. @return false when out of memory */
bool best_open(struct best *best, size_t most, int (*order)(const void *, const void *));

/** Frees the array, not the items. Twice is fine. */
void best_close(struct best *best);

/** Whether an item would be kept: there is room, or a worse one to put out. */
bool best_wants(const struct best *best, const void *item);

/** Keeps an item that best_wants(). @return what it put out, NULL for none */
void *best_keep(struct best *best, void *item);

#endif
