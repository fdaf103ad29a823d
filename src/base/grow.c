#include "base/grow.h"

#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum { FIRST = 4 };

/* Nearly always, so this comes before any division. */
static bool has_room(const void *items, size_t count, size_t more, size_t capacity)
{
    return items && count <= capacity && more <= capacity - count;
}

/* The next capacity; 0 when it can't be addressed. */
static size_t wider(size_t count, size_t more, size_t capacity, size_t size)
{
    size_t wanted = capacity > 0 ? capacity : FIRST;

    if (more > SIZE_MAX / 4 / size - count)
        return 0;
    while (wanted < count + more)
        wanted *= 2;
    return wanted;
}

void *grow_in(struct arena *arena, void *items, size_t count, size_t more,
              size_t *capacity, size_t size)
{
    size_t wanted = 0;
    void *wide = NULL;

    if (has_room(items, count, more, *capacity))
        return items;
    wanted = wider(count, more, *capacity, size);
    wide = wanted > 0 ? arena_array(arena, wanted, size) : NULL;
    if (!wide)
        return NULL;
    if (items && count > 0)
        memcpy(wide, items, count * size);
    *capacity = wanted;
    return wide;
}

void *grow(void *items, size_t count, size_t more, size_t *capacity, size_t size)
{
    size_t wanted = 0;
    void *wide = NULL;

    if (has_room(items, count, more, *capacity))
        return items;
    wanted = wider(count, more, *capacity, size);
    wide = wanted > 0 ? realloc(items, wanted * size) : NULL;
    if (wide)
        *capacity = wanted;
    return wide;
}
