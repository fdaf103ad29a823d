#ifndef OUTLAY_GEO_OVERLAP_H
#define OUTLAY_GEO_OVERLAP_H

/** @file geo/overlap.h  How two outlines lie to each other. */

#include <stdbool.h>

#include "geo/frame.h"

/** An outline ready to be compared with many: made valid, and cut into pieces of few
 *  points, of which only those that meet the other outline's box are looked at. */
struct overlap_shape;

/**
 * @param frame    shared by all shapes that are compared
 * @param scratch  used for intermediate shapes, not reset
 * @param lonlat   degrees WGS 84; may be invalid
 * @param[out] out owned, overlap_shape_free(); NULL on failure
 * @return OUTLAY_E_MEMORY, OUTLAY_E_GEOMETRY
 */
enum outlay_status overlap_shape_new(struct geo_ctx *ctx, struct arena *scratch,
                                     const struct frame *frame,
                                     const struct region *lonlat,
                                     struct overlap_shape **out,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

/** NULL is ignored. */
void overlap_shape_free(struct geo_ctx *ctx, struct overlap_shape *shape);

/** m2, of the valid shape. */
double overlap_shape_area(const struct overlap_shape *shape);

/** Points that were put through an overlay for this shape, from its making on: with n
 *  points and comparisons with k outlines of few, some n log n + k times a piece's. */
size_t overlap_shape_work(const struct overlap_shape *shape);

/**
 * Area that two shapes share.
 * @param a        its work is counted on
 * @param[out] out m2; 0 when they don't overlap
 * @return OUTLAY_E_MEMORY, OUTLAY_E_GEOMETRY
 */
enum outlay_status overlap_shared(struct geo_ctx *ctx, struct overlap_shape *a,
                                  const struct overlap_shape *b, double *out,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

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
