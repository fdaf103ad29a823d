#ifndef OUTLAY_TESTS_SAMPLE_HELP_H
#define OUTLAY_TESTS_SAMPLE_HELP_H

/* An arena for each test, and outlines of one ring. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "geo/shape.h"

static inline int arena_open(void **state)
{
    *state = arena_new();
    return *state ? 0 : -1;
}

static inline int arena_close(void **state)
{
    arena_free(*state);
    return 0;
}

/** A region of one ring that borrows its points, in an arena. */
static inline struct region region_of(struct arena *arena, struct point *points,
                                      size_t count)
{
    struct ring *ring = arena_alloc(arena, sizeof *ring);
    struct polygon *polygon = arena_alloc(arena, sizeof *polygon);

    assert_non_null(ring);
    assert_non_null(polygon);
    *ring = (struct ring){points, count};
    *polygon = (struct polygon){ring, 1};
    return (struct region){polygon, 1};
}

#endif
