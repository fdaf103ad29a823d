#ifndef OUTLAY_GEO_OFFSET_H
#define OUTLAY_GEO_OFFSET_H

/**
 * @file geo/offset.h
 * Strips along a boundary, by winding numbers instead of buffers.
 *
 * The strip of depth d along a ring is the union of a rectangle square to every edge
 * and, at every re-entrant vertex, the mitre between two rectangles (at most 2 d from
 * the vertex, cut square beyond). ring_inset() gives the one ring whose winding number
 * is that of the given ring less the number of rectangles and mitres over a point: what
 * the strips leave free is where it winds positively. So no case needs events, no
 * tolerance enters, and the result doesn't depend on where the ring starts.
 */

#include "geo/shape.h"

/**
 * The raw inset of a ring whose inside is on its left (shells counter-clockwise, holes
 * clockwise). It may cross itself: overlay it with arrange(), where layer > 0 is the
 * inset of shells and holes together.
 * @param depth  m; >= 0
 * @param[out] out  in arena; up to four times the points
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status ring_inset(struct arena *arena, struct ring ring, double depth,
                              struct ring *out) OUTLAY_MUST_CHECK;

/** The other way: a ring that winds positively over the ring's inside and over what
 *  lies within depth outside it. */
enum outlay_status ring_outset(struct arena *arena, struct ring ring, double depth,
                               struct ring *out) OUTLAY_MUST_CHECK;

/** A mitre: points from the first offset end to the second, 1, 2 or (cut) 2 between.
 *  @return number of points written to mitre, at most 4 */
size_t mitre_points(struct point vertex, struct point unit_in, struct point unit_out,
                    double depth, struct point mitre[4]);

#endif
