#include "taper/pieces.h"

#include "base/grow.h"

enum outlay_status pieces_put(struct arena *arena, struct pieces *pieces,
                              struct piece piece)
{
    struct piece *items =
        grow_in(arena, pieces->items, pieces->count, 1, &pieces->capacity, sizeof *items);

    if (!items)
        return OUTLAY_E_MEMORY;
    pieces->items = items;
    pieces->items[pieces->count++] = piece;
    return OUTLAY_OK;
}

enum outlay_status bounds_cut(struct arena *arena, const struct bounds *bounds,
                              struct ring *ring)
{
    enum outlay_status status = OUTLAY_OK;

    for (size_t k = 0; k < bounds->count && status == OUTLAY_OK && ring->count > 0; k++)
        status = convex_cut(arena, *ring, bounds->planes[k], ring);
    return status;
}

enum outlay_status pieces_carve(struct arena *arena, struct pieces *pieces, size_t place,
                                const struct bounds *bounds)
{
    struct piece rest = pieces->items[place];
    struct ring left = rest.ring;
    enum outlay_status status = OUTLAY_OK;

    for (size_t k = 0; k < bounds->count && status == OUTLAY_OK; k++) {
        status = convex_cut(arena, left, plane_turned(bounds->planes[k]), &rest.ring);
        if (status == OUTLAY_OK)
            status = convex_cut(arena, left, bounds->planes[k], &left);
        if (status == OUTLAY_OK && rest.ring.count > 0)
            status = pieces_put(arena, pieces, rest);
    }
    pieces->items[place].ring = left;
    return status;
}
