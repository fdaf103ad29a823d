#ifndef OUTLAY_GEO_LOOPS_H
#define OUTLAY_GEO_LOOPS_H

/**
 * @file geo/loops.h
 * From closed walks along a face's border to valid polygons; used inside geo/ only.
 *
 *     struct loops loops = {.scratch = scratch};
 *     loops_begin(&loops);
 *     loops_add(&loops, node);          for each node of a walk, in order
 *     loops_end(&loops);
 *     loops_region(&loops, arena, grid, &region);
 *
 * A walk that passes a node twice is cut there, so that every loop is simple:
 * counter-clockwise ones are shells, clockwise ones holes.
 */

#include <stdbool.h>

#include "geo/arrange.h"
#include "geo/noding.h"

struct loop {
    struct node *nodes;
    size_t count;
    double area2; /**< twice the signed area, grid units squared */
};

struct loops {
    struct arena *scratch; /**< borrowed; holds everything here */
    struct loop *items;
    size_t count;
    size_t capacity;
    struct node *walk;
    size_t walk_count;
    size_t walk_capacity;
};

void loops_begin(struct loops *loops);

/** @return false when out of memory */
bool loops_add(struct loops *loops, struct node node) OUTLAY_MUST_CHECK;

/** @return false when out of memory */
bool loops_end(struct loops *loops) OUTLAY_MUST_CHECK;

/** Builds the polygons, in arena. @return OUTLAY_E_MEMORY */
enum outlay_status loops_region(const struct loops *loops, struct arena *arena,
                                const struct snap_grid *grid,
                                struct region *out) OUTLAY_MUST_CHECK;

#endif
