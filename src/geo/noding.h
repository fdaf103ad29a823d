#ifndef OUTLAY_GEO_NODING_H
#define OUTLAY_GEO_NODING_H

/**
 * @file geo/noding.h
 * Snap rounding on an integer grid: turns any set of segments into one in which
 * segments meet at end points only. The half of geo/arrange.h that does arithmetic;
 * used inside geo/ only.
 *
 * Coordinates are whole grid units within +-2^29, so that a cross product of two
 * differences is exact in 64 bits.
 */

#include <stdbool.h>
#include <stdint.h>

#include "geo/shape.h"

#define NODING_LAYERS 4
#define NODING_LIMIT (1 << 29)

struct node {
    int32_t x;
    int32_t y;
};

/** A segment with a < b (by x, then y). change[k] is the winding number of layer k on
 *  its left less that on its right, looking from a to b. */
struct segment {
    struct node a;
    struct node b;
    int16_t change[NODING_LAYERS];
    bool fresh; /**< not yet compared with the others */
};

struct segments {
    struct segment *items; /**< in the scratch arena */
    size_t count;
    size_t capacity;
    int64_t clearance; /**< units; set it to have `tight` worked out */
    bool tight;        /**< some node may lie within clearance of a segment that doesn't
                            end there */
};

/** Adds the segment from `from` to `to` with the layer's inside on its left; one of no
 *  length is passed over. @return false when out of memory */
bool segments_add(struct arena *arena, struct segments *set, struct node from,
                  struct node to, int layer) OUTLAY_MUST_CHECK;

/**
 * Nodes the set, merges coincident segments and drops those that separate nothing. The
 * result is sorted by a, then b, and depends on the set of segments alone.
 * @return OUTLAY_E_GEOMETRY if it doesn't settle (never seen), OUTLAY_E_MEMORY
 */
enum outlay_status segments_node(struct arena *arena, struct segments *set,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Whether the set is noded as it is and every layer's boundary is simple: no crossing,
 *  no end on or within half a unit of another segment's inside, no node that a layer
 *  passes twice, no coincident segments of one layer. Sorts the set.
 *  @return false when out of memory */
bool segments_are_noded(struct arena *arena, struct segments *set,
                        bool *noded) OUTLAY_MUST_CHECK;

/** Orders nodes by x, then y: negative, 0, positive. */
static inline int node_compare(struct node a, struct node b)
{
    if (a.x != b.x)
        return a.x < b.x ? -1 : 1;
    return a.y < b.y ? -1 : a.y > b.y;
}

/** Twice the signed area of o, a, b: positive when b is left of o to a. Exact. */
static inline int64_t node_cross(struct node o, struct node a, struct node b)
{
    return (int64_t)(a.x - o.x) * (b.y - o.y) - (int64_t)(a.y - o.y) * (b.x - o.x);
}

#endif
