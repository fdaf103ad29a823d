#include "base/arena.h"

#include <stdalign.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* A building of a dozen vertices needs some kilobytes; the next one reuses them. */
static const size_t chunk_size = 64 * 1024;
static const size_t kept_size = 1024 * 1024;

struct chunk {
    struct chunk *next;
    size_t size; /* of bytes */
    size_t used;
    alignas(max_align_t) unsigned char bytes[];
};

struct arena {
    struct chunk *first;   /* owned, linked; may be NULL */
    struct chunk *current; /* the one that gives; those after it are empty */
    bool failed;           /* memory ran out at least once */
};

struct arena *arena_new(void)
{
    return calloc(1, sizeof(struct arena));
}

static void chunks_free(struct chunk *chunk)
{
    while (chunk) {
        struct chunk *next = chunk->next;

        free(chunk);
        chunk = next;
    }
}

void arena_free(struct arena *arena)
{
    if (!arena)
        return;
    chunks_free(arena->first);
    free(arena);
}

void arena_reset(struct arena *arena)
{
    struct chunk **link = &arena->first;
    size_t kept = 0;

    while (*link) {
        struct chunk *chunk = *link;

        if (chunk->size > kept_size - kept) {
            *link = chunk->next;
            free(chunk);
            continue;
        }
        kept += chunk->size;
        chunk->used = 0;
        link = &chunk->next;
    }
    arena->current = arena->first;
}

/* Puts a chunk with room for size bytes behind the current one and makes it current:
 * the kept one if it is large enough, else a new one. */
static struct chunk *chunk_next(struct arena *arena, size_t size)
{
    struct chunk **link = arena->current ? &arena->current->next : &arena->first;
    struct chunk *chunk = *link;

    if (!chunk || chunk->size < size) {
        size_t room = size > chunk_size ? size : chunk_size;

        if (room > SIZE_MAX - sizeof *chunk)
            return NULL;
        chunk = malloc(sizeof *chunk + room);
        if (!chunk)
            return NULL;
        chunk->next = *link;
        chunk->size = room;
        chunk->used = 0;
        *link = chunk;
    }
    arena->current = chunk;
    return chunk;
}

static void *give(struct arena *arena, size_t size)
{
    const size_t align = alignof(max_align_t);
    struct chunk *chunk = arena->current;
    unsigned char *bytes = NULL;

    if (size > SIZE_MAX - align)
        return NULL;
    /* At least one unit, so that no two pointers are the same. */
    size = size == 0 ? align : (size + align - 1) / align * align;
    if (!chunk || size > chunk->size - chunk->used)
        chunk = chunk_next(arena, size);
    if (!chunk)
        return NULL;
    bytes = chunk->bytes + chunk->used;
    chunk->used += size;
    return bytes;
}

void *arena_alloc(struct arena *arena, size_t size)
{
    void *bytes = give(arena, size);

    arena->failed = arena->failed || !bytes;
    return bytes ? memset(bytes, 0, size) : NULL;
}

void *arena_room(struct arena *arena, size_t count, size_t size)
{
    bool fits = size == 0 || count <= SIZE_MAX / size;
    void *bytes = give(arena, fits ? count * size : SIZE_MAX);

    arena->failed = arena->failed || !bytes;
    return bytes;
}

void *arena_array(struct arena *arena, size_t count, size_t size)
{
    bool fits = size == 0 || count <= SIZE_MAX / size;

    return arena_alloc(arena, fits ? count * size : SIZE_MAX);
}

bool arena_failed(const struct arena *arena)
{
    return arena->failed;
}

char *arena_text(struct arena *arena, const char *text, size_t length)
{
    char *copy = arena_alloc(arena, length < SIZE_MAX ? length + 1 : SIZE_MAX);

    if (copy && length > 0)
        memcpy(copy, text, length);
    return copy;
}
