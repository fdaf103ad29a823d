#ifndef OUTLAY_ROOF_EDGES_H
#define OUTLAY_ROOF_EDGES_H

/**
 * @file roof/edges.h
 * The facet of a roof's boundary: what is there, stretch by stretch, and summed up. Found
 * by zoning/edges.h; read by the layout, the order, the drawing and the tables.
 *
 * Units: metres in the building's frame. Owned: the building's arena.
 */

#include "base/units.h"
#include "roof/roof.h"

/** Thickness of a parapet that gives none, m (ours). */
#define PARAPET_USUAL (8 * M_PER_IN)

/** By what the kind of an edge is known, the surest first. */
enum edge_source {
    EDGE_BY_LAYER,   /**< a line of the layer of edges */
    EDGE_BY_HEIGHTS, /**< heights of sections of the building */
    EDGE_BY_COLUMN,  /**< the roof's own columns */
    EDGE_BY_OPTION,
    EDGE_ASSUMED
};

/** "layer", "heights", "column", "option", "assumed". NULL past the end. */
const char *edge_source_name(int value);

/** The same in words: "by the heights of the sections". */
const char *edge_source_reason(int value);

/** No other section is beside an edge. */
#define NO_SECTION SIZE_MAX

/** A stretch of a line of the layer of edges, m from where the line begins. */
struct line_stretch {
    double from, to;
    struct line_stretch *next;
};

/** A straight part of a line of the layer of edges. */
struct edge_line {
    struct point from, to;
    enum edge_kind kind;
    double height, thickness;  /**< m; NAN */
    size_t mark;               /**< which of the layer's lines it is a part of, from 0 */
    double start;              /**< where on that line it begins, m */
    struct line_stretch *used; /**< where edges have its kind; NULL: nowhere */
};

/** A straight stretch of the boundary, of one kind, the roof to its left. Stretches of a
 *  ring stand together, in its order, and leave nothing of it out. */
struct edge {
    struct point from, to;
    size_t ring; /**< of the outline, counted through all its polygons */
    enum edge_kind kind;
    enum edge_source source;
    double height;     /**< above the roof, m; NAN: not known, or nothing stands there */
    double thickness;  /**< of a parapet, m; NAN */
    size_t beside;     /**< of a continuous one or a joint: index of the other section in
                            the building; NO_SECTION: none */
    bool slope_change; /**< of a continuous one: the other section is 0.3 to 0.9 m off */
};

/** Stretches that are alike in kind, source, height and thickness. */
struct edge_sum {
    enum edge_kind kind;
    enum edge_source source;
    double height, thickness; /**< m; NAN */
    double length;            /**< m */
    int convex;    /**< corners of 30 degrees or more (ours) into which the roof runs out:
                        between two edges of this kind, or of a wall with a parapet, of
                        gutter with metal */
    int reentrant; /**< the same: they run into the roof */
    int ends;      /**< of parapets, where the roof goes around the end of one: flashing
                        turns outward there */
    int ends_at_walls; /**< of these where it turns inward on what stands beyond it: a
                            wall, a thinner parapet */
};

/**
 * Sums up roof->edges into roof->edge_sums. A given wall_length that is over 0.3 m longer
 * than the walls found has no place: the roof's own kind of edge has as much less.
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status edges_sum(struct arena *arena, struct roof *roof) OUTLAY_MUST_CHECK;

/** Counts what lies between an edge of the roof and one that follows it on another
 *  section: a corner in the sum that has the roof's edge, the end of a parapet in that of
 *  the thicker one. */
void edges_corner_add(struct roof *roof, const struct edge *edge, struct roof *other,
                      const struct edge *next);

/** Length of all edges of a kind, m. */
double edges_length(const struct roof *roof, enum edge_kind kind);

/** The kind of a roof's edge where nothing else stands, as the roof or an option gives
 *  it; EDGE_METAL where neither does. */
enum edge_kind edge_own_kind(const struct roof *roof, enum edge_source *source);

/** Whether an edge is one of those that a sum has. */
bool edge_is_alike(const struct edge *edge, const struct edge_sum *sum);

/** Whether flashing goes up there. */
bool edge_is_flashed(enum edge_kind kind);

/** Whether the roof ends there on a nailer. */
bool edge_is_metal(enum edge_kind kind);

#endif
