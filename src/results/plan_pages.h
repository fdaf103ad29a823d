#ifndef OUTLAY_RESULTS_PLAN_PAGES_H
#define OUTLAY_RESULTS_PLAN_PAGES_H

/**
 * @file results/plan_pages.h
 * The plan sheets of a run: draw/draw.h with the run's settings, for the roofs that the
 * settings select. Failures are those of draw/draw.h.
 */

#include "draw/draw.h"
#include "options/settings.h"

enum outlay_status plan_pages_open(const char *path, const struct settings *settings,
                                   struct plans **out,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

/** @param roofs  how many the source has; -1: not known */
enum outlay_status plan_pages_expect(struct plans *plans, const struct settings *settings,
                                     long long roofs,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

/** A page for each selected roof of a building, in its order. */
enum outlay_status plan_pages_add(struct plans *plans, const struct settings *settings,
                                  const struct building *building,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Ends the drawing, which plans_commit() puts in its place.
 *  @param digest  of the whole input; "" when it wasn't read to its end */
enum outlay_status plan_pages_finish(struct plans *plans, const char *digest,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
