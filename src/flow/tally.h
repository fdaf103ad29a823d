#ifndef OUTLAY_FLOW_TALLY_H
#define OUTLAY_FLOW_TALLY_H

/**
 * @file flow/tally.h
 * The problems of all roofs by kind: how many roofs have it, which is the first, and
 * whether all have it in the same words. A kind is a code, and for values the role too.
 *
 * Memory: a text a kind, whatever the number of roofs. Roofs are added in output order by
 * one thread, so that nothing here depends on the number of threads.
 */

#include "flow/pipeline.h"
#include "options/messages.h"
#include "roof/roof.h"

struct tally;

/** @return owned, NULL when out of memory */
struct tally *tally_new(void);

/** NULL is ignored. */
void tally_free(struct tally *tally);

/** Takes up a roof that went through the stages, with its problems.
 *  @return OUTLAY_E_MEMORY */
enum outlay_status tally_roof(struct tally *tally, const struct roof *roof,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Takes up one more problem of a roof. @return OUTLAY_E_MEMORY */
enum outlay_status tally_problem(struct tally *tally, const struct roof *roof,
                                 const struct problem *problem,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * What all roofs share, or all that were zoned, is said once: takes the rows of such a
 * problem back from the sink and adds one for all roofs to rows. Where a single roof
 * differs, each roof keeps its row.
 * @return what sink->withdraw() returns, OUTLAY_E_MEMORY
 */
enum outlay_status tally_share(const struct tally *tally, const struct sink *sink,
                               const struct write_settings *set, struct grid *rows,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Sends a message for each kind of errors, then of warnings, then one for all notes.
 *  @param source  the input's name */
void tally_send(const struct tally *tally, const char *source,
                const struct messages *messages);

#endif
