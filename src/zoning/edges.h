#ifndef OUTLAY_ZONING_EDGES_H
#define OUTLAY_ZONING_EDGES_H

/**
 * @file zoning/edges.h
 * What is at the edges of a building's roofs (roof/edges.h): where other sections adjoin
 * by their heights, else what the roof gives, holes as they are judged.
 */

#include "zoning/levels.h"
#include "zoning/zoning.h"

/**
 * Finds the edges of all zoned roofs. A line of the layer of edges gives its kind to
 * what lies within 1 m of it and within 15 degrees of its direction, the nearest
 * first; where levels meet in a step, a wall to the lower section alone, a joint to
 * both and all else to the higher one. Which stretches of it were used is kept, and it
 * lowers the parapet of the level where it has a lower one or none. Elsewhere, of
 * sections that lie within 0.3 m of each other over at least 1 m, the lower one has a
 * wall as high as the other is higher, and the higher one its own edge; within 0.3 m
 * of height the roof goes on, assumed, and within 0.9 m with a change of slope, a
 * warning.
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status edges_find(struct building *building,
                              const struct level_outline *levels, size_t level_count,
                              const struct zoning_settings *settings) OUTLAY_MUST_CHECK;

#endif
