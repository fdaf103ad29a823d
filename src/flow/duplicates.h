#ifndef OUTLAY_FLOW_DUPLICATES_H
#define OUTLAY_FLOW_DUPLICATES_H

/**
 * @file flow/duplicates.h
 * Which roofs of a whole layer are another one mapped again (all of this is ours):
 *
 *  - a roof that a larger one covers by more than half gives way to it; of two as large
 *    as one another, to 0.1 m2, the one with the least id stays;
 *  - unless several such roofs fill at least 90 % of the larger one: then that is a
 *    footprint, and gives way to its sections.
 *
 * Smaller roofs are decided on before larger ones, and one that gave way fills nothing.
 * The result doesn't depend on the order of the pairs.
 *
 *     duplicates_add(finder, &a, &b, shared) for each pair that overlaps
 *     status = duplicates_decide(finder, &list, err);
 *
 * Threads: one at a time.
 */

#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"
#include "outlay/status.h"
#include "portfolio/duplicates.h"

/** A roof that may rank. */
struct overlapping {
    uint32_t position;
    const char *id; /**< borrowed during the call */
    double area;    /**< m2 */
};

struct covering; /* of one roof by a larger one */

struct duplicate_finder {
    struct arena *arena; /**< borrowed; ids, and the list that is made */
    struct covering *items;
    size_t count, capacity;
};

/** Takes up a pair. @param shared  m2 @return OUTLAY_E_MEMORY */
enum outlay_status duplicates_add(struct duplicate_finder *finder,
                                  const struct overlapping *a,
                                  const struct overlapping *b, double shared,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

/** @param roofs  of the layer; positions are below it
 *  @param[out] out  by position, in the arena @return OUTLAY_E_MEMORY */
enum outlay_status duplicates_decide(struct duplicate_finder *finder, size_t roofs,
                                     struct duplicate_list *out,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
