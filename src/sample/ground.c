#include "sample/ground.h"

#include <stdlib.h>

/* Rasters of 0.25, 0.3, 0.5, 1, 1.5, 2, 2.5, 3, 5 and 10 m are far from changing their
 * number of pixels where a projection stretches them by a thousandth. */
static const double cell_most = 10.4;

struct ground {
    struct raster *raster; /* borrowed */
    bool mean;
    struct arena *arena; /* of the values that are kept */
    struct window window;
    double *values; /* NULL: none yet */
};

struct ground *ground_new(struct raster *raster, bool mean)
{
    struct ground *ground = calloc(1, sizeof *ground);

    if (!ground)
        return NULL;
    ground->raster = raster;
    ground->mean = mean;
    ground->arena = arena_new();
    if (ground->arena)
        return ground;
    free(ground);
    return NULL;
}

void ground_free(struct ground *ground)
{
    if (!ground)
        return;
    arena_free(ground->arena);
    free(ground);
}

/* ---- Windows ------------------------------------------------------------------- */

/* Pixels along the side of a cell. */
static int side_of(const struct surround *out, double cols, double rows)
{
    double many = 1.02 * 2 * sqrt(cols * rows / VIEW_PIXELS_MAX);

    return (int)fmax(1, fmax(floor(cell_most / out->cell), ceil(many)));
}

/* Turns pixels into cells and finds the window. @return false: no raster is there */
static bool set_cells(struct surround *out, double reach)
{
    double *pixels = out->spot.pixels;
    double scale = fabs(pixels[0] * pixels[3] - pixels[1] * pixels[2]);
    double cols = reach * hypot(pixels[0], pixels[1]);
    double rows = reach * hypot(pixels[2], pixels[3]);
    struct point *middle = &out->spot.middle;
    int side;

    if (!(scale > 0 && cols < 1e6 && rows < 1e6 && fabs(middle->x) < 1e9 &&
          fabs(middle->y) < 1e9))
        return false;
    out->cell = 1 / sqrt(scale);
    side = side_of(out, cols, rows);
    out->cell *= side;
    for (int i = 0; i < 4; i++)
        pixels[i] /= side;
    *middle = (struct point){middle->x / side, middle->y / side};
    /* one more to all sides: between the middles of cells */
    out->window = (struct window){.side = side,
                                  .col = (int)floor(middle->x - cols / side) - 1,
                                  .row = (int)floor(middle->y - rows / side) - 1,
                                  .width = (int)ceil(2 * cols / side) + 3,
                                  .height = (int)ceil(2 * rows / side) + 3};
    return true;
}

static bool holds(const struct window *all, const struct window *part)
{
    return all->side == part->side && all->col <= part->col && all->row <= part->row &&
           all->col + all->width >= part->col + part->width &&
           all->row + all->height >= part->row + part->height;
}

/* Twice as wide and high, or as far as the room goes. */
static struct window widen(struct window window)
{
    double cells = (double)window.width * window.height;
    double more = fmax(0, fmin(1, sqrt(VIEW_PIXELS_MAX / cells) - 1)) / 2;
    int cols = (int)(more * window.width), rows = (int)(more * window.height);

    window.col -= cols;
    window.row -= rows;
    window.width += 2 * cols;
    window.height += 2 * rows;
    return window;
}

enum outlay_status ground_around(struct ground *ground, const struct frame *frame,
                                 double reach, struct arena *scratch,
                                 struct surround *out, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    *out = (struct surround){0};
    status = raster_spot(ground->raster, frame, scratch, &out->spot, err);
    if (status != OUTLAY_OK || !out->spot.found || !set_cells(out, reach))
        return status;
    if (!ground->values || !holds(&ground->window, &out->window)) {
        ground->window = widen(out->window);
        ground->window.mean = ground->mean;
        ground->values = NULL;
        arena_reset(ground->arena);
        status = raster_values(ground->raster, &ground->window, ground->arena,
                               &ground->values, err);
    }
    out->window = ground->window;
    out->values = ground->values;
    return status;
}

/* ---- Values -------------------------------------------------------------------- */

/* In cells of the window. */
static struct point place_at(const struct surround *surround, double x, double y)
{
    const struct spot *spot = &surround->spot;
    const struct window *window = &surround->window;

    return (struct point){
        spot->middle.x + spot->pixels[0] * x + spot->pixels[1] * y - window->col,
        spot->middle.y + spot->pixels[2] * x + spot->pixels[3] * y - window->row};
}

double surround_at(const struct surround *surround, double x, double y)
{
    const struct window *window = &surround->window;
    struct point at = place_at(surround, x, y);

    if (!(at.x >= 0 && at.y >= 0 && at.x < window->width && at.y < window->height))
        return NAN;
    return surround->values[(size_t)at.y * (size_t)window->width + (size_t)at.x];
}

double surround_between(const struct surround *surround, double x, double y)
{
    const struct window *window = &surround->window;
    struct point at = place_at(surround, x, y);
    const double *above, *below;
    int col, row;

    at.x -= 0.5;
    at.y -= 0.5;
    if (!(at.x >= 0 && at.y >= 0 && at.x < window->width - 1 &&
          at.y < window->height - 1))
        return NAN;
    col = (int)at.x;
    row = (int)at.y;
    at.x -= col;
    at.y -= row;
    above = surround->values + (size_t)row * (size_t)window->width + (size_t)col;
    below = above + window->width;
    return (1 - at.y) * ((1 - at.x) * above[0] + at.x * above[1]) +
           at.y * ((1 - at.x) * below[0] + at.x * below[1]);
}
