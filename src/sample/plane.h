#ifndef OUTLAY_SAMPLE_PLANE_H
#define OUTLAY_SAMPLE_PLANE_H

/**
 * @file sample/plane.h
 * How steep a roof is, from the heights of a surface raster (all ours). Planes are fitted
 * to small square cells that overlap by half; those that scatter more than the quiet ones
 * (edges of levels, ridges, trees, units) are left out. Where one plane fits most of the
 * roof as well as the cells, the slope is its; elsewhere it is the median of the cells'.
 * Noise makes a flat cell look tilted; the scatter about the planes says by how much, and
 * that is taken off. A mean plane alone would take a gable for a flat roof.
 */

#include <stdbool.h>

#include "base/arena.h"
#include "roof/roof.h"
#include "sample/mask.h"

struct plane_fit {
    double slope; /**< rise over run; NAN: no plane fits */
    double doubt; /**< half of the range that the slope is in, 9 times of 10 */
    int cells;    /**< that were fitted; of small roofs pixels */
    enum flatness flatness;
};

/**
 * Fits planes to the pixels of a window; on few pixels, sample/shapes.h.
 * @param outline  pixels of the window
 * @param values   heights, m, row by row as the mask; NAN where none counts
 * @param limit    rise over run above which a roof is pitched
 * @return false when out of memory
 */
bool plane_fit(const struct mask *mask, const struct region *outline,
               const double *values, double limit, struct arena *arena,
               struct plane_fit *out) OUTLAY_MUST_CHECK;

#endif
