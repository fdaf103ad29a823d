#ifndef OUTLAY_ZONING_DIMENSION_H
#define OUTLAY_ZONING_DIMENSION_H

/** @file zoning/dimension.h  The least horizontal dimension of a stepped building. */

#include "roof/roof.h"

struct dimension {
    double least;   /**< shorter side of the smallest rectangle, m */
    bool irregular; /**< the outlines don't fill their rectangles */
};

/**
 * Measures the smallest rectangle around all outlines of a building, whatever their
 * level or height. Outlines more than 0.3 m apart are separate parts, each with a
 * rectangle of its own; the largest least dimension counts. What stands in an opening of
 * an outline is part of it.
 * @return OUTLAY_E_MEMORY, OUTLAY_E_GEOMETRY
 */
enum outlay_status building_measure(struct building *building, struct geo_ctx *ctx,
                                    struct dimension *out,
                                    struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
