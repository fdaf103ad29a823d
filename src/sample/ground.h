#ifndef OUTLAY_SAMPLE_GROUND_H
#define OUTLAY_SAMPLE_GROUND_H

/**
 * @file sample/ground.h
 * A raster kilometres around a roof. Most of it lies around the neighbours as well, so
 * what was read last is kept, with as much again on all sides where there is room for it:
 * roofs in order of place read a city a few times and not once each.
 *
 * Values are of cells: as many whole pixels as make some 10 m (ours: half of what the
 * computations look at), more where it takes more than 4,000,000 of them to reach far
 * enough. That is up to the raster and the reach alone, so the roofs before change no
 * value.
 *
 * Not thread-safe.
 */

#include "sample/raster.h"

struct ground;

/** What lies around one roof; borrowed until the next ground_around(). */
struct surround {
    struct spot spot; /**< of the roof, in cells of the raster */
    double cell;      /**< m, the side of a square of a cell's area */
    struct window window;
    const double *values; /**< of the window; NULL: the place can't be found */
};

/** @param raster  borrowed. @param mean  of a cell's pixels; false: the one nearest to
 *  its middle, for classes. @return owned; NULL when out of memory */
struct ground *ground_new(struct raster *raster, bool mean);

/** NULL is ignored. */
void ground_free(struct ground *ground);

/**
 * Reads what lies around a roof.
 * @param frame    its origin is the roof's middle
 * @param reach    m in all directions
 * @param scratch  as long as the call
 * @return OUTLAY_E_INPUT when the raster is damaged, OUTLAY_E_MEMORY
 */
enum outlay_status ground_around(struct ground *ground, const struct frame *frame,
                                 double reach, struct arena *scratch,
                                 struct surround *out,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

/** The value of the cell x m east and y m north of the middle; NAN where it is missing.
 *  Scale and direction are those at the middle. */
double surround_at(const struct surround *surround, double x, double y);

/** The same, linear between the middles of the four cells around; NAN where one of them
 *  is missing. */
double surround_between(const struct surround *surround, double x, double y);

#endif
