#ifndef OUTLAY_ZONING_JOINTS_H
#define OUTLAY_ZONING_JOINTS_H

/**
 * @file zoning/joints.h
 * Gaps between sections of one level. Where a gap meets the level's edge at an angle,
 * it leaves a notch whose strips would reach into the roof; so gaps are filled between
 * edges that face each other, up to the straight line across their mouth.
 */

#include "geo/arrange.h"

/**
 * Adds the fillings of all gaps to layer 0: together with the sections they are the
 * outline of the level. Fillings may overlap sections and one another.
 * @param sections  in one frame, valid
 * @param gap       m; wider ones stay open
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status joints_fill(struct arena *arena, const struct region *sections,
                               size_t count, double gap,
                               struct layer_rings *fillings) OUTLAY_MUST_CHECK;

#endif
