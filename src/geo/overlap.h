#ifndef OUTLAY_GEO_OVERLAP_H
#define OUTLAY_GEO_OVERLAP_H

/** @file geo/overlap.h  How two outlines lie to each other. */

#include <stdbool.h>

#include "geo/frame.h"

/**
 * Area that two outlines share.
 * @param scratch  used for intermediate shapes, not reset
 * @param a,b      degrees WGS 84; may be invalid
 * @param[out] out m2; 0 when they don't overlap
 * @return OUTLAY_E_MEMORY, OUTLAY_E_GEOMETRY
 */
enum outlay_status overlap_area(struct geo_ctx *ctx, struct arena *scratch,
                                const struct region *a, const struct region *b,
                                double *out, struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Length of the boundary of a that lies within reach of b.
 * @param a,b        regions in one frame, valid
 * @param reach      m; > 0
 * @param[out] out   m
 * @return OUTLAY_E_MEMORY, OUTLAY_E_GEOMETRY
 */
enum outlay_status shared_length(struct geo_ctx *ctx, const struct region *a,
                                 const struct region *b, double reach, double *out,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Whether two regions come within reach of one another, or overlap.
 * @param a,b        regions in one frame, valid, not empty
 * @param reach      m
 * @return OUTLAY_E_GEOMETRY
 */
enum outlay_status regions_near(struct geo_ctx *ctx, const struct region *a,
                                const struct region *b, double reach, bool *out,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
