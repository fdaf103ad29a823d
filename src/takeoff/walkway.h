#ifndef OUTLAY_TAKEOFF_WALKWAY_H
#define OUTLAY_TAKEOFF_WALKWAY_H

/**
 * @file takeoff/walkway.h
 * Stage `walkways`: the shortest way inside the roof from each hatch to each unit, 6 ft
 * from free edges (metal, gutter, parapet) and clear of all other edges and of what
 * stands on the roof by half a pad (15 in, ours). Needs roof.fixtures, roof.edges; gives
 * roof.walkways.
 *
 * Method (ours): the fewest metres through a visibility graph whose nodes lie around the
 * corners that a way can turn about, three to a corner, so that a way is at most 2 %
 * longer than the shortest. A hatch or unit that itself stands nearer to an edge begins
 * as near. Where no way keeps 6 ft, one that keeps 3 ft is taken, then one clear by half
 * a pad, and that is said; where there is none at all, that too.
 *
 * Threads: any, one building each.
 */

#include "outlay/status.h"
#include "roof/roof.h"

/** @return OUTLAY_E_MEMORY */
enum outlay_status walkways_run(struct building *building,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
