#ifndef OUTLAY_ZONING_HOLES_H
#define OUTLAY_ZONING_HOLES_H

/** @file zoning/holes.h  Whether a hole in an outline is open to the wind. */

#include "zoning/levels.h"
#include "zoning/zoning.h"

/**
 * Judges a hole of a level, or of one of its roofs: by what the level's roofs tell, else
 * by its size, assumed.
 * @param[out] kind         HOLES_NOT_GIVEN: an opening
 * @param[in,out] assumed   bits 1u << ASSUME_...
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status hole_judge(const struct building *building,
                              const struct level_outline *level,
                              const struct zoning_settings *settings, struct ring hole,
                              enum hole_kind *kind, unsigned *assumed) OUTLAY_MUST_CHECK;

#endif
