/* Edges of a roof made by hand, for the tests of takeoff/. */

#ifndef OUTLAY_TEST_TAKEOFF_EDGES_AROUND_H
#define OUTLAY_TEST_TAKEOFF_EDGES_AROUND_H

#include "roof/edges.h"

/* All edges of the outline, hole by hole, of one kind. */
static inline void edges_around(struct arena *arena, struct roof *roof,
                                enum edge_kind kind)
{
    const struct polygon *polygon = &roof->outline.polygons[0];

    roof->edges = arena_array(arena, region_points(&roof->outline), sizeof *roof->edges);
    assert_non_null(roof->edges);
    roof->edge_count = 0;
    for (size_t j = 0; j < polygon->ring_count; j++)
        for (size_t k = 0; k < polygon->rings[j].count; k++) {
            struct ring ring = polygon->rings[j];

            roof->edges[roof->edge_count++] =
                (struct edge){.from = ring.points[k],
                              .to = ring.points[(k + 1) % ring.count],
                              .ring = j,
                              .kind = kind,
                              .height = NAN,
                              .thickness = NAN};
        }
}

#endif
