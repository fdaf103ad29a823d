#ifndef OUTLAY_FLOW_FINDING_USE_H
#define OUTLAY_FLOW_FINDING_USE_H

/**
 * @file flow/finding_use.h
 * Which findings, decisions and confirmations found a roof. Roofs are added by one
 * thread; what found none, or several where it is about one, shows at the end.
 */

#include "flow/loose.h"
#include "options/settings.h"

struct finding_use {
    const struct findings *findings;     /**< the settings'; NULL: none */
    const struct closing_list *closings; /**< likewise, never NULL */
    size_t *roofs;   /**< that each of the findings was put on; owned, as the next */
    bool *concerned; /**< of each of the closings: there is a roof that it is about */
};

/** @return OUTLAY_E_MEMORY */
enum outlay_status finding_use_init(struct finding_use *use,
                                    const struct settings *settings,
                                    struct outlay_error *err) OUTLAY_MUST_CHECK;

void finding_use_release(struct finding_use *use);

/** Takes up a building that went through the stages. */
void finding_use_building(struct finding_use *use, const struct building *building);

/** Adds a problem for each row that couldn't be used, for each finding that several roofs
 *  with one id took, and, unless only a part of the roofs was read, for each row about no
 *  roof. @return OUTLAY_E_MEMORY */
enum outlay_status finding_use_report(const struct finding_use *use,
                                      const struct settings *settings,
                                      struct loose_problems *loose) OUTLAY_MUST_CHECK;

#endif
