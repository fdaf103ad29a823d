#ifndef OUTLAY_FLOW_INDEX_H
#define OUTLAY_FLOW_INDEX_H

/**
 * @file flow/index.h
 * What is kept of every roof of a file while it is read: enough to find its building,
 * roofs with the same id, and roofs that may overlap, in 64 bytes. Geometry stays in
 * the spool.
 *
 * Positions count from 0 in input order; a run has fewer than 2^32 - 1 roofs.
 */

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "outlay/status.h"
#include "roof/roof.h"

#define INDEX_NONE UINT32_MAX

/** 128 bits of a text: texts that differ by chance alone never share it. */
struct text_key {
    uint64_t high, low;
};

struct index_entry {
    struct text_key id;
    struct text_key building;         /**< all 0: a building of its own */
    float min_x, min_y, max_x, max_y; /**< degrees from the index's origin, outward */
    uint64_t offset;                  /**< in the spool */
    float area;                       /**< m2, of a roof that may rank; NAN: others */
    uint32_t points;                  /**< of the outline */
};

struct roof_index {
    struct index_entry *entries; /**< owned */
    size_t count, capacity;
    bool has_origin;
    struct point origin; /**< of the first roof, degrees; keeps floats precise */
};

/** Two roofs by position, a < b. */
struct roof_pair {
    uint32_t a, b;
};

/** A roof whose id others bear too. */
struct duplicate {
    uint32_t position;
    uint32_t uses; /**< roofs with this id */
};

/** Takes up a roof. @return OUTLAY_E_MEMORY, OUTLAY_E_LIMIT (too many roofs) */
enum outlay_status index_add(struct roof_index *index, const struct roof *roof,
                             uint64_t offset, struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Takes up what the stages found: a roof whose outline isn't usable meets no other; one
 *  that may rank has an area, NAN for others. */
void index_settle(struct roof_index *index, const struct roof *roof, double area);

/** Frees the entries and leaves an empty index. */
void index_release(struct roof_index *index);

/**
 * Chains the roofs of each building in input order.
 * @param[out] next  owned, a position for each roof: the next roof of its building, or
 *                   INDEX_NONE
 * @param[out] first owned; true for the first roof of a building
 */
enum outlay_status index_buildings(const struct roof_index *index, uint32_t **next,
                                   bool **first,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * All roofs along a Hilbert curve over the middles of their boxes: one is near the next.
 * @param[out] order  owned, positions
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status index_by_place(const struct roof_index *index, uint32_t **order,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Roofs that share their id, in input order. @param[out] out  owned; NULL for none */
enum outlay_status index_duplicates(const struct roof_index *index,
                                    struct duplicate **out, size_t *count,
                                    struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Pairs of roofs whose boxes share more than a seam of 2 cm, ordered by a, then b.
 * @param most           pairs at most
 * @param[out] complete  false when `most` or a bound on the work cut the search short
 * @param[out] out       owned; NULL for none
 */
enum outlay_status index_box_pairs(const struct roof_index *index, size_t most,
                                   struct roof_pair **out, size_t *count, bool *complete,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
