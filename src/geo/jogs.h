#ifndef OUTLAY_GEO_JOGS_H
#define OUTLAY_GEO_JOGS_H

/** @file geo/jogs.h  Sides that a small step parts, as one. */

#include "geo/shape.h"

/**
 * Joins sides that a jog shorter than `most` parts: where two sides lie within `most` of
 * each other's lines from end to end, and the edge between them turns by 45 degrees or
 * more from the outer one, that is drawn out along the inner one to the side beyond it.
 * So the ring never lies inside the one it was made from, and sides keep their direction,
 * which leaving out vertices would change. Edges shorter than `most` are no sides.
 * @param ring      inside on its left
 * @param most      m
 * @param[out] out  in arena, or the ring itself where nothing is joined
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status ring_without_jogs(struct arena *arena, struct ring ring, double most,
                                     struct ring *out) OUTLAY_MUST_CHECK;

#endif
