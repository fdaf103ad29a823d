#ifndef OUTLAY_TAPER_TAPER_H
#define OUTLAY_TAPER_TAPER_H

/**
 * @file taper/taper.h
 * Stage `taper`: tapered insulation on each laid-out roof that asks for it. Needs
 * roof.given.taper, roof.outline, roof.edges, roof.layouts and the drains and scuppers of
 * roof.fixtures; gives roof.taper.
 *
 * Two models, both along the two directions of the boards:
 *  - four-way: thickness = least + slope x distance from the nearest drain, the distance
 *    being the larger of those along the two directions. It falls to a drain everywhere,
 *    with valleys at 45 degrees.
 *  - two-way: least + slope x distance from the line of drains, square to it. Between
 *    the drains of a line, and from the last to the wall, where the valley would be
 *    level, lie crickets: x from the nearest drain along the line and y from the line
 *    they add slope x (x - 2 y), where that is above 0. So their panels fall square to
 *    the line by twice the slope, a cricket is half as wide as long, it falls along the
 *    line as the roof does across it, and the valley beside it by half (ours).
 * No distance passes through what the outline leaves out: courts, penthouses, openings
 * and other sections; there it is the length of the shortest way around (taper/reach.h).
 * Behind what stands between it and the line a cricket isn't laid.
 *
 * Panels are laid in rows along the slope, from each drain or line on, and counted piece
 * by piece: each whole or cut panel of a plane, its letter and the layers of flat fill
 * under it. Crickets are counted by the area of each thickness.
 *
 * Threads: any, one building each; settings are only read.
 */

#include "catalog/panels.h"
#include "roof/taper.h"

struct taper_settings {
    enum taper_model model;          /**< TAPER_AUTO: two-way where the drains are in one
                                          line, within a board of 4 ft; else four-way */
    double least;                    /**< thickness at drains, m; NAN: the thin edge of
                                          the catalogue's first panel of the slope */
    double contour;                  /**< step of contours, m; 1 in */
    const struct panel_list *panels; /**< borrowed */
};

struct taper_settings taper_defaults(void);

/** @return OUTLAY_E_MEMORY */
enum outlay_status taper_run(struct building *building,
                             const struct taper_settings *settings,
                             struct outlay_error *err) OUTLAY_MUST_CHECK;

/** What tapered insulation lies on. */
struct taper_place {
    const struct region *outline; /**< in the frame, valid */
    double bearing;             /**< of the boards, radians counter-clockwise from east */
    double slope;               /**< rise over run, > 0 */
    const struct point *drains; /**< in the frame; one outside counts at the nearest
                                       place of the outline */
    size_t drain_count;         /**< at least 1 */
};

/**
 * Finds the insulation of one place: cells, contours and panels.
 * @param[out] out  all in arena; edge_most and what order/ adds aren't filled
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status taper_find(struct arena *arena, const struct taper_place *place,
                              const struct taper_settings *settings,
                              struct taper *out) OUTLAY_MUST_CHECK;

#endif
