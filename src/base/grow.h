#ifndef OUTLAY_BASE_GROW_H
#define OUTLAY_BASE_GROW_H

/**
 * @file base/grow.h
 * Arrays that grow: room is doubled, so that adding n items copies each of them about
 * once.
 *
 *     struct row *rows = grow_in(arena, list->rows, list->count, 1, &list->capacity,
 *                                sizeof *rows);
 *     if (!rows)
 *         return false;
 *     list->rows = rows;
 *     list->rows[list->count++] = row;
 */

#include <stddef.h>

#include "base/arena.h"

/**
 * Room for `more` items behind the `count` that there are.
 * @param items     NULL while *capacity is 0
 * @param capacity  items that there is room for; changed when the array grows
 * @param size      bytes of an item
 * @return the array, moved where it had to be; the arena keeps the old one. NULL when out
 *         of memory, and nothing has changed.
 */
void *grow_in(struct arena *arena, void *items, size_t count, size_t more,
              size_t *capacity, size_t size);

/** As grow_in(), on the heap: what it returns replaces `items`, and goes to free(). */
void *grow(void *items, size_t count, size_t more, size_t *capacity, size_t size);

#endif
