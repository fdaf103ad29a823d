#ifndef OUTLAY_ROOF_TAPER_H
#define OUTLAY_ROOF_TAPER_H

/**
 * @file roof/taper.h
 * The facet of tapered insulation: how thick it is where, the panels that it is made of,
 * and what follows. Found by taper/taper.h; order/ adds the flat boards below it and the
 * R-values. Thickness is that of the tapered insulation alone, above its flat boards.
 *
 * Units: metres in the building's frame. Owned: the building's arena.
 */

#include "roof/roof.h"

enum taper_model { TAPER_AUTO, TAPER_FOUR_WAY, TAPER_TWO_WAY };

/** "auto", "four-way", "two-way". NULL past the end. */
const char *taper_model_name(int value);

/** Least and greatest slope of tapered insulation, rise over run: 0.5 percent
 *  (1/16 in/ft) and 1 in/ft (ours). */
#define TAPER_LEAST 0.005
#define TAPER_MOST (1.0 / 12)

/** A part of the roof on which the thickness is linear. */
struct taper_cell {
    struct ring ring; /**< convex, counter-clockwise */
    double base;      /**< thickness at p = base + rise.x p.x + rise.y p.y */
    struct point rise;
    bool cricket; /**< a cricket lies on the panels there */
};

/** One panel, whole or cut, with the fill under it; of crickets all of one thickness.
 *  Or one place of flat fill, as many boards as it has layers. */
struct taper_panel {
    const char *letter; /**< of the catalogue, borrowed */
    double thin, thick; /**< its edges, m */
    int fill;           /**< layers of flat fill below it */
    bool cricket;
    bool whole;
    double area; /**< m2 */
    double length,
        width; /**< of the box around a cut one, along and across its slope, m */
};

/** What panels of one slope are like. */
struct taper_format {
    double length, width; /**< of a panel, along and across its slope, m; 0: none */
    double fill;          /**< thickness of a layer of flat fill, m */
};

/** A line of equal thickness. */
struct taper_contour {
    struct point from, to;
    double thickness; /**< m */
};

struct taper {
    const char *lacking; /**< why nothing is counted; NULL: it is */
    enum taper_model model;
    double slope; /**< rise over run */
    double least; /**< thickness at drains, m */
    size_t drains;
    double area;       /**< that drains reach, m2 */
    double unreached;  /**< m2; 0 where it is under half a square foot */
    double volume;     /**< m3 */
    double most;       /**< greatest thickness, m */
    double *edge_most; /**< along edges of roof_field(), m; NAN: nothing counted */

    struct taper_cell *cells; /**< they partition the area */
    size_t cell_count;
    double contour_step; /**< m */
    struct taper_contour *contours;
    size_t contour_count;

    const char *panels_lacking;   /**< why panels aren't counted; NULL: they are */
    const char *crickets_lacking; /**< the same of the panels of crickets */
    struct taper_panel *panels;
    size_t panel_count;
    struct taper_panel *fills; /**< what lies under panels, also across valleys */
    size_t fill_count;
    struct taper_format format, cricket_format;
    size_t cricket_count;
    double cricket_area; /**< m2 */

    /* order/ */
    double flat;        /**< boards below, as far as they insulate, m */
    double r_mean;      /**< of the mean thickness, flat boards counted in, m2 K/W */
    double r_effective; /**< 1 / mean(U), likewise */
};

/** Thickness of a cell at a place in it, m. */
static inline double taper_thickness_in(const struct taper_cell *cell, struct point p)
{
    return cell->base + cell->rise.x * p.x + cell->rise.y * p.y;
}

/** Whether two panels are the same goods. */
bool taper_panels_alike(const struct taper_panel *a, const struct taper_panel *b);

/** Mean thickness, m. */
double taper_mean(const struct taper *taper);

/** Mean of 1 / (thickness + more) over the area, 1/m, in closed form: over a triangle
 *  with the values a, b, c in its corners it is twice the divided difference g[a, b, c]
 *  of g(t) = t ln t, since g'' = 1 / t (Hermite and Genocchi).
 *  @param more  of other boards, m; the sum is above 0 everywhere */
double taper_inverse_mean(const struct taper *taper, double more);

/** Thickness at a place, m; of the nearest cell where it lies in none. 0 where no drain
 *  can be reached: if the roof has such a part, over 0.3 m from all cells (ours). */
double taper_at(const struct taper *taper, struct point p);

/** The most under what a ring surrounds, m: at a corner of it, or in the middle of its
 *  box, where a ridge may cross a board. */
double taper_most_under(const struct taper *taper, struct ring ring);

#endif
