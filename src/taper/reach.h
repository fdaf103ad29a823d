#ifndef OUTLAY_TAPER_REACH_H
#define OUTLAY_TAPER_REACH_H

/**
 * @file taper/reach.h
 * How far it is from each place of a roof to its nearest drain, without passing through
 * what the roof doesn't cover. Private to taper/.
 *
 * The distance of two places is the larger of their distances along the two axes
 * (Chebyshev); along a path it adds up leg by leg. Of the shortest paths there is always
 * one that is taut: straight, but for bends at re-entrant vertices of the outline, since
 * a short cut is never longer. So the distance is the least, over the drains and the
 * vertices that see a place, of what a vertex is from a drain and the place from the
 * vertex, and each of these is four planes that meet in 45 degree valleys. What sees what
 * is found by following the light of a source from cell to cell of a partition
 * (taper/slabs.h); in each cell the lower envelope is kept as convex pieces. Sources come
 * nearest first (Dijkstra), and light that is nowhere nearer than what came before is
 * followed no further. Nothing is sampled.
 *
 * A line of drains is a source as well: its light goes square to it, and its distance is
 * one plane on each side.
 */

#include "taper/pieces.h"
#include "taper/slabs.h"

/** Where distances start from: a drain, a level line or a vertex. */
struct source {
    struct point at;
    double to_x;   /**< a line runs to here at the same y */
    double weight; /**< of a vertex its distance from a drain, m; else 0 */
    size_t root;   /**< the place of the drain or line that it descends from */
    bool line;
};

struct sources {
    struct source *items; /**< those given, then vertices from which light went on */
    size_t count, capacity;
};

/** @return OUTLAY_E_MEMORY */
enum outlay_status sources_add(struct arena *arena, struct sources *sources,
                               struct source source) OUTLAY_MUST_CHECK;

/**
 * @param region   valid, the inside on the left, as slabs_cut() left it
 * @param slabs    cut from it, with the levels of all lines
 * @param sources  drains, in the region or on its boundary, and lines; gets vertices
 * @param[out] out they partition the region
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status reach_find(struct arena *arena, const struct region *region,
                              const struct slabs *slabs, struct sources *sources,
                              struct pieces *out) OUTLAY_MUST_CHECK;

#endif
