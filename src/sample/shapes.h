#ifndef OUTLAY_SAMPLE_SHAPES_H
#define OUTLAY_SAMPLE_SHAPES_H

/**
 * @file sample/shapes.h
 * How steep a small roof is (all ours). On few pixels no plane can be fitted to parts
 * of a roof, so whole shapes are: one plane, two levels, a ridge along or across the
 * outline, a hip that rises with the distance from the edge. Each is fitted again and
 * again to the heights near it, so that units and trees don't bear on it. The shape that
 * explains most heights is the roof's, unless one on the other side of the limit does
 * nearly as well.
 */

#include <stdbool.h>

#include "base/arena.h"
#include "sample/plane.h"

/** Roofs of more pixels have parts enough for planes. */
#define SHAPES_PIXELS_MOST 250

/**
 * @param outline  pixels of the window
 * @param values   heights, m, row by row as the mask; NAN where none counts
 * @param noise    variance of the heights, m2
 * @param limit    rise over run above which a roof is pitched
 * @return false when out of memory
 */
bool shapes_fit(const struct mask *mask, const struct region *outline,
                const double *values, double noise, double limit, struct arena *arena,
                struct plane_fit *out) OUTLAY_MUST_CHECK;

#endif
