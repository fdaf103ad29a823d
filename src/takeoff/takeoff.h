#ifndef OUTLAY_TAKEOFF_TAKEOFF_H
#define OUTLAY_TAKEOFF_TAKEOFF_H

/**
 * @file takeoff/takeoff.h
 * Stage `layout`: lays sheets, rows, boards and plates on one roof, for one method.
 * Needs roof.outline, roof.level, roof.zones with their attachment for that method, and
 * roof.half_sheets; gives a struct layout.
 *
 * A layout for a method other than the roof's own needs that method's attachment: call
 * attach_run() on a copy of the roof whose given.method is set, then takeoff_roof() on
 * the copy.
 *
 * Threads: any, one building each; settings and catalogue are only read.
 */

#include "catalog/catalog.h"
#include "geo/frame.h"
#include "roof/layout.h"

struct takeoff_settings {
    const struct catalog *catalog; /**< borrowed; holds the zones' assemblies */
    enum edge_style style;         /**< of half sheets; EDGES_AUTO */
    double rib_pitch;              /**< of steel deck, m; 6 in */
    double safety_factor;          /**< of ultimate ratings and pull-out; 2.0 */
    double pullout;                /**< for roofs without their own, ultimate, N; NAN */
    enum deck deck;                /**< for roofs without their own; NOT_GIVEN: steel */
    double stack;                  /**< of boards for roofs without their own, m; 0: none
                                        under seam-fastened sheets; 4 in (ours) */
    double recover_board;          /**< the same of roofs that are recovered, m */
    bool place_plates;             /**< fill layout.plates; counts never need them */
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

/** The assembly that the roof's zones were attached with; NULL for none. */
const struct assembly *takeoff_assembly(const struct roof *roof, enum method method,
                                        const struct catalog *catalog);

/** How a seam-fastened roof's half sheets lie: as set, else in lines on a deck with ribs
 *  and in frames on others. */
enum edge_style takeoff_edge_style(const struct roof *roof,
                                   const struct takeoff_settings *settings);

#endif
