#ifndef OUTLAY_GEO_REPAIR_H
#define OUTLAY_GEO_REPAIR_H

/** @file geo/repair.h  From rings as traced to a valid region. */

#include <stdbool.h>

#include "geo/frame.h"

/** What was wrong with an outline, and what its repair changed. */
struct repair {
    bool changed;       /**< false: the outline was valid but for repeated points and
                              the direction of rings */
    double area_before; /**< of the rings as they were: shells less holes, m2 */
    double area_after;  /**< m2 */
    char reason[120];   /**< in words, with the place */
};

/**
 * Makes a valid region of an outline: drops repeated points and rings of fewer than
 * three, turns rings to their direction, and where rings cross or touch themselves or
 * each other, lets GEOS rebuild the area (structure method: shells are joined, holes
 * taken out; a hole wholly outside its shell becomes a part, since it is more likely a
 * shell in the wrong place).
 * @param raw  one ring list a polygon, metres, any direction, maybe invalid; not empty
 *             polygons
 * @param[out] out  in arena; every ring begins at its westernmost point, so that where
 *                 the tracing began is forgotten; empty when no area is left
 * @return OUTLAY_E_MEMORY; OUTLAY_E_GEOMETRY when GEOS can't rebuild it
 */
enum outlay_status outline_repair(struct geo_ctx *ctx, struct arena *arena,
                                  const struct region *raw, struct region *out,
                                  struct repair *report,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
