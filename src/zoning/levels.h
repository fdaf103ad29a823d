#ifndef OUTLAY_ZONING_LEVELS_H
#define OUTLAY_ZONING_LEVELS_H

/**
 * @file zoning/levels.h
 * Roof levels: sections of one flat roof that were traced one by one are one surface
 * for the wind, so that no line between them is an edge.
 */

#include <stdbool.h>

#include "roof/roof.h"

/** One level of a building. */
struct level_outline {
    struct region region; /**< of all its roofs, gaps of up to 0.3 m closed at
                               whatever angle they meet the edge; niches as narrow too,
                               where there are two roofs or more */
    double height;        /**< h: the highest of its roofs, m */
    size_t *roofs;        /**< indices in the building, ascending */
    size_t roof_count;
    bool step; /**< another level of the building adjoins, or a roof of unknown height */
};

/**
 * Groups the roofs that have an outline and a height: one level where they lie within
 * 0.3 m of each other over at least 1 m and differ by no more than 3 ft (0.9 m).
 * @param[out] levels  in the building's arena
 * @return OUTLAY_E_MEMORY; OUTLAY_E_GEOMETRY when outlines can't be joined
 */
enum outlay_status levels_find(struct building *building, struct geo_ctx *ctx,
                               struct level_outline **levels, size_t *count,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
