#ifndef OUTLAY_ROOF_SECTIONS_H
#define OUTLAY_ROOF_SECTIONS_H

/**
 * @file roof/sections.h
 * Stage `sections`: which sections of a level are one roof to work on. Needs roof.edges,
 * roof.level, roof.basis, roof.scope, roof.velocity and zone.uplift; gives
 * roof.section_group and roof.parted. Attachment is chosen, and sheets, rows and boards
 * are laid, for a group as for one roof.
 *
 * Two sections run on into one another where a continuous edge without a change of slope
 * lies between them and they are alike in deck, pull-out, stack, direction of ribs,
 * method, whether the old cover stays, storeys, what the wind does to them (pressures
 * within 0.1 %, ours), and year where one is fixed. Where a joint also lies between them
 * they don't.
 *
 * Threads: any, one building each.
 */

#include "roof/roof.h"

/** Gaps up to so wide between traced sections are closed, m. */
#define SECTION_GAP 0.3

/** Finds the groups; continuous edges between sections that differ become joints,
 *  assumed, and a corner where edges of two sections meet counts for the one whose edge
 *  ends there. @return OUTLAY_E_MEMORY */
enum outlay_status sections_run(struct building *building) OUTLAY_MUST_CHECK;

/** Whether two roofs of a building are laid out as one. */
bool sections_are_one(const struct roof *a, const struct roof *b);

/** Whether an edge lies between two sections that are laid out as one. */
bool edge_runs_on(const struct building *building, const struct roof *roof,
                  const struct edge *edge);

/**
 * The sections of a roof's group as one roof: the first one's record, with all their
 * areas, zones and what is weak about any. A zone has the areas of all, the most uplift
 * and the worst state, the rest is of the first that has the zone: its region too. No
 * other facet is put together.
 * @param roof      of the building; the result is a copy of one that is alone
 * @param other     SIZE_MAX: by the roofs' own method; else by that place in roof.others
 */
void sections_as_one(const struct building *building, const struct roof *roof,
                     size_t other, struct roof *out);

#endif
