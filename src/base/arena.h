#ifndef OUTLAY_BASE_ARENA_H
#define OUTLAY_BASE_ARENA_H

/**
 * @file base/arena.h
 * Memory that goes all at once: everything that one building's stages make lives in
 * one arena, is never freed piece by piece, and is reused for the next building.
 *
 * Threads: an arena belongs to one thread at a time.
 */

#include <stdbool.h>
#include <stddef.h>

struct arena;

/** Opens an empty arena. @return NULL when out of memory. */
struct arena *arena_new(void);

/** Frees the arena and all that it gave out. NULL is ignored. */
void arena_free(struct arena *arena);

/** Forgets all that was given out; keeps up to 1 MiB of memory for reuse. */
void arena_reset(struct arena *arena);

/**
 * Zeroed memory, aligned for any type.
 * @param size  bytes; 0 gives a valid pointer that must not be read.
 * @return NULL when out of memory.
 */
void *arena_alloc(struct arena *arena, size_t size);

/** Zeroed room for count items of size bytes. @return NULL when out of memory or
 *  when count * size overflows. */
void *arena_array(struct arena *arena, size_t count, size_t size);

/** As arena_array(), not zeroed: for what is filled at once and often. */
void *arena_room(struct arena *arena, size_t count, size_t size);

/** Whether the arena ever ran out of memory, in whatever call: what it holds may lack
 *  something, so a caller whose callees don't all say so asks at the end. Resetting
 *  doesn't forget it. */
bool arena_failed(const struct arena *arena);

/** A copy of length bytes of text, ended by NUL. @return NULL when out of memory. */
char *arena_text(struct arena *arena, const char *text, size_t length);

#endif
