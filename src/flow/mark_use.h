#ifndef OUTLAY_FLOW_MARK_USE_H
#define OUTLAY_FLOW_MARK_USE_H

/**
 * @file flow/mark_use.h
 * Which features of the layers beside the outlines found a roof. Roofs are added by one
 * thread; what found none shows at the end.
 */

#include "flow/tally.h"
#include "options/settings.h"
#include "write/grid.h"

struct mark_use {
    const struct marks *marks[MARK_LAYERS]; /**< the settings'; NULL: no such layer */
    bool *used[MARK_LAYERS];                /**< owned; by mark */
};

/** @return OUTLAY_E_MEMORY */
enum outlay_status mark_use_init(struct mark_use *use, const struct settings *settings,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

void mark_use_release(struct mark_use *use);

/** Takes up a building that went through the stages. */
void mark_use_building(struct mark_use *use, const struct building *building);

/**
 * Adds a row for all that was wrong with features when they were read, then for each that
 * no roof has, unless only a part of the roofs was read.
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status mark_use_report(const struct mark_use *use,
                                   const struct settings *settings, struct grid *rows,
                                   struct totals *totals, struct tally *tally,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
