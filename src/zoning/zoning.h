#ifndef OUTLAY_ZONING_ZONING_H
#define OUTLAY_ZONING_ZONING_H

/**
 * @file zoning/zoning.h
 * Stage `zones`: groups a building's roofs into levels and cuts every roof into the
 * zones that the standard asks for. Needs roof.outline, roof.height; gives roof.level,
 * roof.zones, roof.corners, roof.edge_length, roof.inner_length, roof.edges.
 */

#include "outlay/status.h"
#include "roof/roof.h"
#include "standard/standard.h"

struct zoning_settings {
    const struct standard *standard;
    enum mid_rise mid_rise;
    enum dimension_of least_dimension; /**< NOT_GIVEN: the building's, assumed */
    bool reentrant_corners;            /**< re-entrant vertices get corner zones too */
    double jog_tolerance;              /**< m, of the regularised outline; 1.0 (ours) */
    double opening_area;               /**< m2; holes below it are openings; 30 (ours) */
    double opening_width;              /**< m; or narrower than this; 3 (ours) */
};

/** The documented defaults. */
struct zoning_settings zoning_defaults(void);

/**
 * Zones all whole roofs of the building. Roofs without height or outline are passed
 * over. A geometry failure becomes a problem of the roof.
 * @return OUTLAY_E_MEMORY only.
 */
enum outlay_status zoning_run(struct building *building,
                              const struct zoning_settings *settings, struct geo_ctx *ctx,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/** As zoning_run(), but only levels that have one of some roofs.
 *  @param wanted  of each roof; NULL: all */
enum outlay_status zoning_run_some(struct building *building,
                                   const struct zoning_settings *settings,
                                   const bool *wanted, struct geo_ctx *ctx,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
