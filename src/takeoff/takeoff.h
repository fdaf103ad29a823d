#ifndef OUTLAY_TAKEOFF_TAKEOFF_H
#define OUTLAY_TAKEOFF_TAKEOFF_H

/**
 * @file takeoff/takeoff.h
 * Stage `takeoff`: lays sheets, rows, boards and plates on each roof, method by method.
 * Needs roof.outline, roof.edges, roof.level, roof.basis, roof.scope, roof.zones with
 * their attachment, roof.assembly, roof.half_sheets and the same of roof.others; gives
 * roof.layouts.
 *
 * Threads: any, one building each; settings and assemblies are only read.
 */

#include "geo/frame.h"
#include "roof/layout.h"

struct takeoff_settings {
    enum edge_style style; /**< of half sheets; EDGES_AUTO */
    double edge_row;   /**< base securement along edge metal, set in so far, m; 0: none */
    bool place_plates; /**< fill layout.plates and the regions of boards; counts never
                            need them but for these where a taper is asked for, which
                            fills them */
};

struct takeoff_settings takeoff_defaults(void);

/**
 * Lays each zoned roof out, for its own method and for those of roof.others. A layout is
 * all zero but method where no assembly suits. The own layout's counts and states replace
 * those by area, and ASSUME_LAYOUT goes; what is weak about it becomes a problem.
 * @return OUTLAY_E_MEMORY; OUTLAY_E_GEOMETRY when shapes can't be cut
 */
enum outlay_status takeoff_run(struct building *building,
                               const struct takeoff_settings *settings,
                               struct geo_ctx *ctx,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** How a seam-fastened roof's half sheets lie: as set, else in lines on a deck with ribs
 *  and in frames on others. */
enum edge_style takeoff_edge_style(const struct roof *roof,
                                   const struct takeoff_settings *settings);

#endif
