#ifndef OUTLAY_TAKEOFF_TAKEOFF_H
#define OUTLAY_TAKEOFF_TAKEOFF_H

/**
 * @file takeoff/takeoff.h
 * Stage `layout`: lays sheets, rows, boards and plates on one roof, for one method.
 * Needs roof.outline, roof.level, roof.basis, roof.zones with their attachment for that
 * method, and roof.half_sheets; gives a struct layout.
 *
 * A layout for a method other than the roof's own needs that method's attachment: call
 * attach_run() on a copy of the roof whose given.method is set, then takeoff_roof() on
 * the copy.
 *
 * Threads: any, one building each; settings and catalogue are only read.
 */

#include "geo/frame.h"
#include "roof/layout.h"

struct takeoff_settings {
    enum edge_style style; /**< of half sheets; EDGES_AUTO */
    double rib_pitch;      /**< of steel deck, m; 6 in */
    double recover_board;  /**< over old covers that stay, m; 0: none under
                                        seam-fastened sheets, as where basis.stack is */
    bool place_plates;     /**< fill layout.plates; counts never need them */
};

struct takeoff_settings takeoff_defaults(void);

/**
 * Lays one roof out. States start as those by area, without what was assumed for want of
 * a layout (ASSUME_LAYOUT, taken off the roof), and are decided again by what fasteners
 * carry.
 * @param building  the roof's: its arena holds the layout
 * @param method    one that the zones' attachment was made for
 * @param[out] out  all zero but method where nothing can be laid: no zones, or none has
 *                  an assembly
 * @return OUTLAY_E_MEMORY; OUTLAY_E_GEOMETRY when shapes can't be cut
 */
enum outlay_status takeoff_roof(struct building *building, struct roof *roof,
                                enum method method,
                                const struct takeoff_settings *settings,
                                struct geo_ctx *ctx, struct layout *out,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** How a seam-fastened roof's half sheets lie: as set, else in lines on a deck with ribs
 *  and in frames on others. */
enum edge_style takeoff_edge_style(const struct roof *roof,
                                   const struct takeoff_settings *settings);

#endif
