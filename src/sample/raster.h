#ifndef OUTLAY_SAMPLE_RASTER_H
#define OUTLAY_SAMPLE_RASTER_H

/**
 * @file sample/raster.h
 * The first band of a raster, seen from places on the ground: a view is a window around a
 * place, in SI as far as the unit is known, with NAN wherever nothing is known (nodata,
 * masked, not a number, outside). GDAL keeps the blocks read last, so that views in order
 * of place read each block about once.
 *
 * Not thread-safe. A view lives in an arena and needs its raster no more.
 */

#include <stdbool.h>

#include "base/arena.h"
#include "geo/frame.h"
#include "outlay/status.h"

struct raster;

/** Most pixels of a view (ours: 1 km by 1 km at 0.5 m, which bounds the memory). */
#define VIEW_PIXELS_MAX 4000000.0

struct view {
    int col, row;          /**< of the window in the raster; it may reach outside */
    int width, height;     /**< 0: the place can't be found in the raster's CRS */
    struct point middle;   /**< the frame's origin, pixels of the window */
    struct region outline; /**< the outline, pixels of the window */
    double metres[4];      /**< as in struct mask */
    double pixels[4];      /**< the inverse */
    double *values;        /**< row by row; NULL: too large */
};

/** @return OUTLAY_E_INPUT: no such file, no raster, without a CRS or a place on the
 *          ground; OUTLAY_E_MEMORY */
enum outlay_status raster_open(const char *path, struct raster **out,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** NULL is ignored. */
void raster_close(struct raster *raster);

/** The band's own name of its unit; "" for none. Borrowed. */
const char *raster_unit(const struct raster *raster);

/**
 * Reads what lies within reach of an outline.
 * @param frame    its origin is the middle of the outline
 * @param outline  degrees
 * @param reach    m around the outline
 * @return OUTLAY_E_INPUT when the raster is damaged, OUTLAY_E_MEMORY
 */
enum outlay_status raster_view(struct raster *raster, const struct frame *frame,
                               const struct region *outline, double reach,
                               struct arena *arena, struct view *out,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** The value of the pixel x m east and y m north of the frame's origin; NAN outside of
 *  the view. */
double view_at(const struct view *view, double x, double y);

/** A place on the ground, in pixels of a raster. */
struct spot {
    bool found;          /**< false: it can't be found in the raster's CRS */
    struct point middle; /**< the frame's origin */
    double pixels[4];    /**< columns of a metre east and north, rows of them */
};

enum outlay_status raster_spot(struct raster *raster, const struct frame *frame,
                               struct arena *arena, struct spot *out,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** A window whose values are of cells of side x side pixels; 1: of pixels. */
struct window {
    int side;
    bool mean; /**< of a cell's pixels; false: of the one nearest to its middle */
    int col, row, width, height; /**< cells; it may reach outside of the raster */
};

/** The values of a window, row by row, NAN where nothing is known. In the arena. */
enum outlay_status raster_values(struct raster *raster, const struct window *window,
                                 struct arena *arena, double **out,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
