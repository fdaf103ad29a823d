#ifndef OUTLAY_PORTFOLIO_DUPLICATES_H
#define OUTLAY_PORTFOLIO_DUPLICATES_H

/**
 * @file portfolio/duplicates.h
 * Roofs that a layer holds twice: another one ranks in their place. Which these are is
 * decided from a whole layer (flow/duplicates.h), or was, for the whole that a part was
 * cut from, and is read from the table that `inspect` wrote.
 *
 * Threads: any, once the list is made.
 */

#include <stdbool.h>
#include <stddef.h>

#include "base/arena.h"
#include "outlay/status.h"

struct duplicate_roof {
    size_t position; /**< in the input, from 0 */
    const char *id;
    const char *reason; /**< "overlapped to 83 % by roof 12" */
};

struct duplicate_list {
    struct duplicate_roof *roofs; /**< by id, or by position */
    size_t count;
    bool by_id; /**< of another source, in which positions differ */
};

/**
 * Reads a table with the columns roof_id and reason.
 * @param path  NULL: an empty list
 * @param[out] out  in arena
 * @return OUTLAY_E_USAGE with file, row and column; OUTLAY_E_MEMORY
 */
enum outlay_status duplicates_read(struct arena *arena, const char *path,
                                   struct duplicate_list *out,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Why the roof is a duplicate; NULL: it isn't one. Borrowed from the list. */
const char *duplicates_find(const struct duplicate_list *list, const char *id,
                            size_t position);

#endif
