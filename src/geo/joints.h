#ifndef OUTLAY_GEO_JOINTS_H
#define OUTLAY_GEO_JOINTS_H

/**
 * @file geo/joints.h
 * Sections that were traced one by one become one outline. Where a gap between them meets
 * the outline at an angle, it leaves a notch whose strips would reach into the roof; so
 * gaps are filled between edges that face each other, up to the straight line across
 * their mouth.
 */

#include "geo/frame.h"

/**
 * Joins sections. Niches as narrow as a gap are closed too, where there are two sections
 * or more; every other edge stays where it was.
 * @param sections  in one frame, valid; they may overlap by as much as a gap
 * @param count     > 0
 * @param gap       m; wider ones stay open
 * @param[out] out  in arena; the section itself where there is one
 * @return OUTLAY_E_MEMORY; OUTLAY_E_GEOMETRY when outlines can't be joined
 */
enum outlay_status sections_join(struct geo_ctx *ctx, struct arena *arena,
                                 const struct region *sections, size_t count, double gap,
                                 struct region *out,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
