#ifndef OUTLAY_FLOW_DRAW_ZONES_H
#define OUTLAY_FLOW_DRAW_ZONES_H

/**
 * @file flow/draw_zones.h
 * The zones of a building's roofs at other heights, without cutting them anew each time:
 * a few exact cuts, and between them areas by the parabola through three. A parabola is
 * what areas follow while strips don't meet. Where a check finds one off by more than
 * 0.2 % of a zone's area (of a zone under a tenth of the roof: 0.02 % of the roof; ours),
 * there is another cut; where many don't help, every height is cut for itself. No
 * parabola spans the height at which the rules for tall buildings begin, and the given
 * height is always one of the exact cuts.
 *
 * Threads: one at a time; the geometry context is the thread's own.
 */

#include "geo/frame.h"
#include "options/settings.h"
#include "outlay/status.h"
#include "roof/roof.h"

struct draw_zones;

/**
 * Makes the cuts. Levels stay as they are: roofs of one level move together.
 * @param building  zoned; borrowed, as the next
 * @param reach     m, of each roof: how far its height may move up or down; 0: it stays
 * @param arena     gets what is kept
 * @param[out] out  in the arena
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status draw_zones_make(const struct building *building,
                                   const struct zoning_settings *settings,
                                   const double *reach, struct geo_ctx *ctx,
                                   struct arena *arena, struct draw_zones **out,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Frees what isn't in the arena. NULL is ignored. */
void draw_zones_close(struct draw_zones *zones);

/** The largest error that a check found and let pass, as a share of the roof's area. */
double draw_zones_error(const struct draw_zones *zones, size_t roof);

/**
 * Gives copies of the building's roofs the level and the zones of other heights: role,
 * label and area; neither shape nor uplift. Without any move areas are those of the
 * building to the last bit.
 * @param moved  m, of each roof, not beyond its reach
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status draw_zones_at(struct draw_zones *zones, const double *moved,
                                 struct roof *copies,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
