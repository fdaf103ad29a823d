#ifndef OUTLAY_FLOW_MARK_USE_H
#define OUTLAY_FLOW_MARK_USE_H

/**
 * @file flow/mark_use.h
 * Which features of the layers beside the outlines found a roof, and along which of its
 * length a line found edges. Roofs are added by one thread; what found none shows at the
 * end.
 */

#include "flow/loose.h"
#include "options/settings.h"

struct mark_use {
    const struct marks *marks[MARK_LAYERS]; /**< the settings'; NULL: no such layer */
    unsigned char *roofs;      /**< of each fixture how many have it, 2 for more; owned */
    double *lengths;           /**< of each line, m; 0: near no building; owned */
    struct mark_stretch *used; /**< of lines; owned */
    size_t used_count, used_room;
};

/** @return OUTLAY_E_MEMORY */
enum outlay_status mark_use_init(struct mark_use *use, const struct settings *settings,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

void mark_use_release(struct mark_use *use);

/** Takes up a building that went through the stages. @return OUTLAY_E_MEMORY */
enum outlay_status mark_use_building(struct mark_use *use,
                                     const struct building *building,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Adds a row for all that was wrong with features when they were read and for each
 * fixture that several roofs have. Unless only a part of the roofs was read, also for any
 * feature that no roof has and any line that found no edge along more than 1 m (ours).
 * Sorts the stretches.
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status mark_use_report(struct mark_use *use, const struct settings *settings,
                                   struct loose_problems *loose) OUTLAY_MUST_CHECK;

#endif
