#ifndef OUTLAY_DRAW_SCALE_H
#define OUTLAY_DRAW_SCALE_H

/**
 * @file draw/scale.h
 * Round scales: fractions of an inch to the foot, then feet to the inch, for US units;
 * 1:N for SI, both of the sheet at full size. Points are those of the canvas, of which
 * `full` go to the sheet (canvas.h). Private to the room. Constant data, any thread.
 */

#include <stdbool.h>

#include "base/text.h"

struct scale {
    double ratio;     /**< N of 1:N */
    const char *text; /**< "1/16 in = 1 ft", "1:200" */
};

/** The largest scale at which something of a size (m) fits into room (pt); the smallest
 *  of all where none does. */
const struct scale *scale_fitting(bool si, double width, double height, double room_width,
                                  double room_height, double full);

/** Points of the canvas for one metre. */
double scale_points(const struct scale *scale, double full);

/** A round length for a scale bar, 1, 2 or 5 times a power of ten, at most `most` points
 *  long. @param points  for one metre @param unit  m of the unit that it is round in
 *  @return in that unit */
double scale_bar(double points, double unit, double most);

#endif
