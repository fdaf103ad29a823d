#ifndef OUTLAY_FINDINGS_FINDINGS_H
#define OUTLAY_FINDINGS_FINDINGS_H

/**
 * @file findings/findings.h
 * The file of findings: the filled-in form of the survey, or any table or layer with its
 * columns, read whole before the first roof and then only looked at.
 *
 *     findings_open(path, &findings, err);
 *     findings_apply(arena, roof, findings);      stage `findings`, for each roof
 *     findings_close(findings);
 *
 * Columns, in any order and case; others are passed over:
 *
 *   roof_id or roof   the roof's id; empty: the roof on which the feature's point lies
 *   place             P1 as in the survey; empty, or with a + before it: one's own
 *   kind              roof/finding.h
 *   value             what was read; empty: nothing was, and the row is passed over
 *   unit              of the value, unless that says its own
 *   who, when         a name, and a day as 2026-11-20
 *
 * A row that can't be used is a problem with file, row and column, and nothing of it is
 * used, but for a pull-out test: it leaves the pull-out of its deck unknown, since a test
 * that is lost might have been the weakest.
 *
 * Threads: any, once it is open.
 */

#include "outlay/status.h"
#include "roof/finding.h"
#include "roof/roof.h"

struct findings {
    struct arena *arena;   /**< owned; holds all below */
    const char *name;      /**< of the file, for people */
    struct finding *items; /**< item_count of them, in the order of the file */
    size_t item_count;
    const struct finding **by_roof; /**< those that count, by id, then as in the file */
    size_t count;
    struct problem *doubts; /**< rows that can't be used, in order */
};

/**
 * @param path  CSV, XLSX, or whatever GDAL reads as a layer
 * @return OUTLAY_E_USAGE: no such file, not a table, a column is missing; OUTLAY_E_INPUT:
 *         damaged; OUTLAY_E_MEMORY
 */
enum outlay_status findings_open(const char *path, struct findings **out,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

/** NULL is ignored. */
void findings_close(struct findings *findings);

/**
 * Gives a roof its findings: roof.findings, roof.verified, and in place of what the
 * outline's columns say, roof.given. Findings of one kind that don't come to one value
 * are a problem of the roof, and change nothing. Needs roof.lonlat.
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status findings_apply(struct arena *arena, struct roof *roof,
                                  const struct findings *findings) OUTLAY_MUST_CHECK;

#endif
