/* Where in a row nothing need be cut: most boards of a roof are whole and lie in one
 * zone. That is seen from the edges alone, once a row. */

#include <stddef.h>

#include "base/grow.h"
#include "takeoff/board_grid.h"

/* Takes up an edge of a ring that was clipped to the row. Edges along its upper bound
 * say what those along the lower one do. */
static bool edge_add(struct arena *arena, struct row_edges *edges, struct point a,
                     struct point b, double low, double high, int place)
{
    bool along = a.y == low && b.y == low;

    if (a.y == high && b.y == high)
        return true;
    if (edges->count == edges->capacity) {
        struct row_edge *items = grow_in(arena, edges->items, edges->count, 1,
                                         &edges->capacity, sizeof *items);

        if (!items)
            return false;
        edges->items = items;
    }
    edges->items[edges->count++] = (struct row_edge){.from = a.x < b.x ? a.x : b.x,
                                                     .to = a.x < b.x ? b.x : a.x,
                                                     .place = place,
                                                     .turn = !along      ? 0
                                                             : a.x < b.x ? 1
                                                                         : -1};
    return true;
}

bool row_edges_add(struct arena *arena, struct row_edges *edges,
                   const struct layer_rings *rings, double low, double high, int place)
{
    for (size_t i = 0; i < rings->count; i++) {
        struct ring ring = rings->items[i].ring;

        for (size_t k = 0; k < ring.count; k++)
            if (!edge_add(arena, edges, ring.points[k],
                          ring.points[k + 1 == ring.count ? 0 : k + 1], low, high, place))
                return false;
    }
    return true;
}

int row_zone(const struct row_edges *edges, double from, double to)
{
    double middle = (from + to) / 2;
    int turns[ZONE_ROLES] = {0};
    int found = ROW_OUTSIDE;

    for (size_t k = 0; k < edges->count; k++) {
        const struct row_edge *edge = &edges->items[k];

        if (edge->from >= to || edge->to <= from)
            continue;
        if (edge->turn == 0)
            return ROW_CUT;
        if (edge->from <= middle && edge->to > middle)
            turns[edge->place] += edge->turn;
    }
    for (int place = 0; place < ZONE_ROLES; place++) {
        if (turns[place] == 0)
            continue;
        if (turns[place] != 1 || found != ROW_OUTSIDE)
            return ROW_CUT;
        found = place;
    }
    return found;
}
