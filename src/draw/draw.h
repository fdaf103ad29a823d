#ifndef OUTLAY_DRAW_DRAW_H
#define OUTLAY_DRAW_DRAW_H

/**
 * @file draw/draw.h
 * Plan sheets. A roof has two pages: its outline, zones, sheets, rows, boards and plates
 * to a round scale, its zones as a table and what is weak about them; then an enlarged
 * corner and what to order. The last page of a set shows what each kind of edge takes.
 *
 *     status = plans_open(path, &settings, &plans, err);
 *     for each roof, in output order
 *         status = plans_add(plans, building, roof, revision, err);
 *     status = plans_finish(plans, about, err);
 *     status = plans_commit(plans, err);            or plans_abort(plans)
 *
 * Everything shown is taken from the roof's record, as the tables take it. North is up.
 * The same records give the same bytes: no dates. All borrowed but for what plans_open()
 * gives. Threads: one a set of plans.
 */

#include <stdbool.h>

#include "catalog/details.h"
#include "outlay/status.h"
#include "roof/roof.h"
#include "write/write.h"

enum plan_format { PLAN_NOT_GIVEN, PLAN_PDF, PLAN_SVG, PLAN_PNG };

/** The format that a file's name asks for. */
enum plan_format plan_format_of(const char *path);

struct plan_settings {
    const struct write_settings *write;
    const struct detail_list *details; /**< borrowed */
    double flashing_height;            /**< at least, m */
    bool single;    /**< SVG, PNG: the first page bears the path's own name */
    bool overwrite; /**< files that exist may be replaced */
};

struct plans;

/**
 * Opens a PDF, or gets ready for a file a page: plans.svg gives plans-1.svg, plans-2.svg
 * ..., of which the first is tried. Paper is 34 x 22 in (ANSI D) for US units, A1 for SI,
 * made to be read at half size too, on 17 x 11 in or A3.
 * @param[out] out  owned; ends with plans_commit() or plans_abort()
 * @return OUTLAY_E_USAGE for a name without a known format, OUTLAY_E_OUTPUT,
 *         OUTLAY_E_MEMORY
 */
enum outlay_status plans_open(const char *path, const struct plan_settings *settings,
                              struct plans **out,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Says how many roofs there will be; until then that isn't known.
 *  @return OUTLAY_E_OUTPUT when a file of theirs exists and may not be replaced,
 *          OUTLAY_E_MEMORY */
enum outlay_status plans_expect(struct plans *plans, long long roofs,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Draws a roof's pages. A roof without zones has them too; they say why.
 * @param roof      one of building
 * @param revision  fingerprint of what was read of this roof
 */
enum outlay_status plans_add(struct plans *plans, const struct building *building,
                             const struct roof *roof, const char *revision,
                             struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Roofs so far. */
long long plans_roofs(const struct plans *plans);

/** Adds the page of details, unless there was no roof, and ends the drawing beside its
 *  place; no page can be added.
 *  @param about  the input in a line */
enum outlay_status plans_finish(struct plans *plans, const char *about,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Puts what was finished in its place, all pages or none, and frees. */
enum outlay_status plans_commit(struct plans *plans,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Removes what was drawn and frees. NULL is ignored. */
void plans_abort(struct plans *plans);

#endif
