#ifndef OUTLAY_FLOW_DRAWS_H
#define OUTLAY_FLOW_DRAWS_H

/**
 * @file flow/draws.h
 * Stage `draws`: how far results may be off. Carries draws of the inputs through zones,
 * uplift, attachment by area, cost and score; gives roof.spread and adds to
 * building.sums. Needs all that goes before; without draws it does nothing.
 */

#include "flow/stages.h"

/** @return OUTLAY_E_MEMORY. Threads: any, one building each */
enum outlay_status draws_run(struct building *building, const struct settings *settings,
                             struct geo_ctx *ctx,
                             struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
