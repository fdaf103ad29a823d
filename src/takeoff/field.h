#ifndef OUTLAY_TAKEOFF_FIELD_H
#define OUTLAY_TAKEOFF_FIELD_H

/**
 * @file takeoff/field.h
 * Finds the field of a roof (roof/field.h), and which edge runs along an outline made
 * from others. Private to takeoff/.
 *
 * Threads: any, one building each.
 */

#include "roof/field.h"
#include "takeoff/seam_private.h"

struct edge_list {
    struct edge *items;
    size_t count;
};

/** How far the roof's field is set in along an edge: the thickness of its parapet, m. */
double edge_set_in(const struct edge *edge);

/**
 * Cuts an outline into edges: each stretch takes after what ran along it before.
 * @param edges  of outlines that lie no further away than sections that are joined
 * @param inner  the outline is set in from the edges by edge_set_in()
 * @param[out] out  in w->arena
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status edges_along(struct seam_work *w, const struct region *outline,
                               const struct edge_list *edges, bool inner,
                               struct edge_list *out) OUTLAY_MUST_CHECK;

/**
 * Finds the field of a roof by its outline, level, zones and edges.
 * @param within    the field's outline if it is known; NULL: the roof without its walls
 * @param[out] out  in w->arena; NULL: no parapet stands on the roof's edge
 * @return OUTLAY_E_MEMORY, OUTLAY_E_GEOMETRY
 */
enum outlay_status field_find(struct seam_work *w, const struct roof *roof,
                              const struct region *within,
                              struct field **out) OUTLAY_MUST_CHECK;

/** The same for roof.field and for all of roof.others. */
enum outlay_status fields_find(struct seam_work *w, struct roof *roof,
                               const struct region *within) OUTLAY_MUST_CHECK;

#endif
