#ifndef OUTLAY_TAKEOFF_SEAM_H
#define OUTLAY_TAKEOFF_SEAM_H

/** @file takeoff/seam.h  Seam-fastened sheets, row by row, and base securement for every
 *  method. Private to takeoff/. */

#include "takeoff/takeoff.h"

/**
 * Lays the sheets and rows; boards are left to insulation_boards().
 * @param[out] out  method and assembly are set already
 * @return OUTLAY_E_MEMORY, OUTLAY_E_GEOMETRY
 */
enum outlay_status seam_layout(struct building *building, struct roof *roof,
                               const struct takeoff_settings *settings,
                               struct geo_ctx *ctx, struct layout *out,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Base securement alone, for methods that have no other rows: 12 in apart (common
 * practice, no source) along free edges, walls, courts and curbs, but not where another
 * section of the same level goes on. No plates are placed.
 * @param[in,out] out  without rows so far
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status base_securement(struct building *building, struct roof *roof,
                                   const struct takeoff_settings *settings,
                                   struct geo_ctx *ctx, struct layout *out,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Says which drains and pipes of a roof have a seam or row of a layout nearer than 1 ft
 * to them.
 * @param outline  what is laid out: the roof's, or that of the group that it is a part of
 * @param own      the roof's own method: these are marked, too
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status layout_crowding_note(struct arena *arena, struct roof *roof,
                                        const struct region *outline,
                                        const struct layout *layout, bool own,
                                        struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
