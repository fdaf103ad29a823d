#ifndef OUTLAY_GEO_OUTLINE_H
#define OUTLAY_GEO_OUTLINE_H

/**
 * @file geo/outline.h
 * What a traced outline means: fewer vertices that say the same, and which of them are
 * corners.
 */

#include "geo/shape.h"

/** How a boundary turns at a vertex, seen from inside the roof. */
enum vertex_kind {
    VERTEX_STRAIGHT, /**< turns by less than 30 degrees either way */
    VERTEX_BEND,     /**< turns inward by 30 degrees or more, but is no corner */
    VERTEX_CORNER,   /**< interior angle of at most 137.5 degrees */
    VERTEX_REENTRANT /**< turns outward by 30 degrees or more */
};

/** A ring with fewer vertices. */
struct thin_ring {
    struct ring ring;
    size_t *source;    /**< index of each vertex in the ring it was made from */
    double *deviation; /**< of the left-out vertices from the edge that leaves each
                            vertex, to its right (outside), m; >= 0 */
};

/**
 * Removes again and again the vertex that moves the boundary least, as long as that is
 * less than tolerance. Of equals in a row the first in the ring's direction goes.
 * Cost: n log n.
 * @param tolerance  m; 0 removes nothing
 * @param[out] out   in arena; at least 3 vertices
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status ring_thin(struct arena *arena, struct ring ring, double tolerance,
                             struct thin_ring *out) OUTLAY_MUST_CHECK;

/**
 * Kind of each vertex of a thinned ring whose inside is on its left. Rounded corners that
 * thinning took away come back as vertices.
 *
 * A vertex that turns inward by 30 degrees or more is a bend, by 42.5 or more a corner,
 * only if the ring as traced turns there too, by as much within one tolerance along the
 * boundary: otherwise thinning a round roof would make corners of chords. Where the ring
 * turns by 60 degrees within 0.15 times the width either way (ours), without a corner
 * there, it has one rounded corner, at the traced vertex in the middle of the turn.
 *
 * Turns as traced are measured twice and the larger counts: at thinned vertices on the
 * ring itself, and at all vertices on the ring without niches shallower than the
 * tolerance. That has no jogs that a window could cut in two, but all curves.
 * @param ring       the ring that thin was made from
 * @param[in,out] thin  gets the vertices of rounded corners
 * @param tolerance  as given to ring_thin(), m
 * @param width      least width of the outline, m
 * @return kinds in arena, thin->ring.count of them; NULL when out of memory
 */
enum vertex_kind *ring_classify(struct arena *arena, struct ring ring,
                                struct thin_ring *thin, double tolerance, double width);

/**
 * The longest straight edge of a region, the inside on its left: bends under 10 mm don't
 * end an edge (ours). Of edges equally long, the one whose following edges are longer.
 * @param[out] from,to  unchanged for an empty region
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status region_longest_edge(struct arena *arena, const struct region *region,
                                       struct point *from,
                                       struct point *to) OUTLAY_MUST_CHECK;

#endif
