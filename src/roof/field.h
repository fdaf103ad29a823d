#ifndef OUTLAY_ROOF_FIELD_H
#define OUTLAY_ROOF_FIELD_H

/**
 * @file roof/field.h
 * The field of a roof: what sheets and boards cover. A traced outline is the outside of
 * the walls, so the field ends at the inner face of a parapet; zones go by the outline.
 * Found by the stage `takeoff`; read by the taper, walkways, the order, the drawing and
 * the derivation.
 *
 * Units: metres in the building's frame. Owned: the building's arena. Threads: any.
 */

#include <math.h>

#include "roof/edges.h"

struct field {
    struct region outline;
    double area;                     /**< m2 */
    struct region zones[ZONE_ROLES]; /**< of the field, by role */
    struct region level; /**< level.outline without this roof's walls: what lies beyond
                              its edge is no other section; empty: no level.outline */
    struct edge *edges;  /**< of the field's outline, as roof.edges */
    size_t edge_count;
};

/** What a roof is laid out by: its field, and the roof itself where no wall stands on its
 *  edge or nothing is laid out; then zones and level are empty. */
struct field roof_field(const struct roof *roof);

/** Whether the walls on a roof's edge leave nothing between them. */
bool roof_all_wall(const struct roof *roof);

/** A roof with its field in place of its outline, zones and edges, to be laid out. */
struct roof roof_inside(const struct roof *roof);

/** Length along the inner face of a sum's parapets; of other edges their own, m. */
double field_length(const struct roof *roof, const struct edge_sum *sum);

/** How thick the parapet of an edge or sum is that gives `thickness` (m; NAN), m. */
static inline double parapet_thickness(double thickness)
{
    return isnan(thickness) ? PARAPET_USUAL : thickness;
}

#endif
