#ifndef OUTLAY_FLOW_CHECKS_H
#define OUTLAY_FLOW_CHECKS_H

/**
 * @file flow/checks.h
 * What only a look at the whole layer shows: ids that several roofs bear, roofs that
 * overlap. Both are warnings; nothing is left out for them, but of a roof that is mapped
 * twice one alone is ranked.
 */

#include "base/arena.h"
#include "flow/index.h"
#include "flow/tally.h"
#include "options/messages.h"
#include "options/settings.h"
#include "portfolio/duplicates.h"
#include "read/spool.h"
#include "write/tables.h"

struct layer_checks {
    const struct settings *settings;
    const struct roof_index *index;
    const struct spool *spool;
    const struct messages *messages;
    struct totals *totals; /**< problems are counted here */
    struct tally *tally;   /**< and here */
};

/**
 * Adds rows of the problems of the roofs that are meant: ids in input order, then
 * overlapping pairs.
 * Pairs count when they share more than 1 m2 or 1 % of the smaller roof (ours).
 * @param[out] out  which roofs are another one mapped again, by position; in the arena
 * @return OUTLAY_E_MEMORY, OUTLAY_E_OUTPUT or _E_INPUT (the spool can't be read),
 *         OUTLAY_E_INTERRUPTED, OUTLAY_E_GEOMETRY (no workspace)
 */
enum outlay_status layer_checks_run(const struct layer_checks *checks, struct grid *rows,
                                    struct arena *arena, struct duplicate_list *out,
                                    struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
