#ifndef OUTLAY_GEO_ROUND_H
#define OUTLAY_GEO_ROUND_H

/**
 * @file geo/round.h
 * From the local frame to what is written: degrees with 8 decimals (about 1 mm), every
 * polygon still valid, neighbours still sharing their vertices.
 */

#include <stdbool.h>

#include "geo/frame.h"

/** Decimals of written longitudes and latitudes. */
#define LONLAT_DECIMALS 8

/** Rounding moves a point by at most 0.8 mm, so nodes and edges that are farther apart
 *  than this can't come to cross, m. */
#define ROUNDING_CLEARANCE 2e-3

/**
 * Turns the regions of a partition into rounded longitudes and latitudes. Where rounding
 * would make a boundary touch or cross itself, all regions are overlaid again on the
 * rounded grid. A ring across the antimeridian is cut there (RFC 7946 section 3.1.9).
 * @param regions      count regions in the frame that share no area; count <= 4
 * @param clear        no node lies within ROUNDING_CLEARANCE of an edge that doesn't end
 *                     there (struct overlay); false: not known
 * @param[out] lonlat  count regions, in arena; one that is thinner than the rounding
 *                     comes out empty
 * @return OUTLAY_E_MEMORY, OUTLAY_E_GEOMETRY
 */
enum outlay_status regions_to_lonlat(struct geo_ctx *ctx, struct arena *arena,
                                     const struct frame *frame,
                                     const struct region *regions, size_t count,
                                     bool clear, struct region *lonlat,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
