#ifndef OUTLAY_ROOF_NORMALISE_H
#define OUTLAY_ROOF_NORMALISE_H

/**
 * @file roof/normalise.h
 * Stage `normalise`: from what was read to outlines that all later stages may trust.
 * Gives building.frame, roof.outline, roof.lonlat (rounded as written), roof.area,
 * roof.whole.
 */

#include "roof/roof.h"

/** Farthest that an outline may reach from the middle of its building, m (ours): beyond
 *  it a plane frame is no longer true to 1e-6, and nothing so large is a roof. */
#define OUTLINE_REACH_MAX 5000.0

/**
 * Repairs outlines, turns rings to their direction, measures true areas. What an
 * outline suffers becomes a problem of its roof.
 * @return OUTLAY_E_MEMORY only
 */
enum outlay_status normalise_building(struct building *building, struct geo_ctx *ctx,
                                      struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
