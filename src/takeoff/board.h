#ifndef OUTLAY_TAKEOFF_BOARD_H
#define OUTLAY_TAKEOFF_BOARD_H

/**
 * @file takeoff/board.h
 * Boards on one roof, and the methods that are counted by them: induction-welded,
 * adhered-fastened, adhered. Private to takeoff/.
 *
 * Boards lie in running bond, the first row along the longest straight edge of the
 * outline, or along the ribs where their direction is known. A board has the pattern of
 * the most severe zone that covers at least 1 ft2 of it. A cut piece of a board with n
 * fasteners has max(ceil(n x area / board), 2 under 8 ft2, else 4), so no piece is held
 * by less than its pattern, and the states that attach/ gave stay true.
 *
 * Threads: any, one building each.
 */

#include "takeoff/takeoff.h"

/**
 * Lays boards, sheets and base securement for a method with boards under a sheet.
 *
 *  - layout.plates are filled when the settings ask for it; boards tell counts anyway.
 *  - glued_area: the face of the sheet once; 0 for induction-welded.
 *  - ribbon_length: area / spacing, zone by zone; full cover adds nothing to it.
 *
 * @param out  method, assembly and states are set already; else empty
 * @return OUTLAY_E_MEMORY, OUTLAY_E_GEOMETRY
 */
enum outlay_status board_layout(struct building *building, struct roof *roof,
                                const struct takeoff_settings *settings,
                                struct geo_ctx *ctx, struct layout *out,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Adds the boards under seam-fastened sheets: each with the assembly's preliminary
 *  fasteners, the same in all zones. Fills layout.board_plates when the settings ask for
 *  plates. */
enum outlay_status insulation_boards(struct building *building, struct roof *roof,
                                     const struct takeoff_settings *settings,
                                     struct geo_ctx *ctx, struct layout *out,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
