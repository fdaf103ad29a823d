#ifndef OUTLAY_WRITE_OVERVIEW_H
#define OUTLAY_WRITE_OVERVIEW_H

/**
 * @file write/overview.h
 * The workbook's first sheet: what a board reads. What was looked at, whether roofs hold,
 * which to look at first, what is estimated, assumed and invented, which standard and
 * settings it rests on, and where to find more.
 */

#include "portfolio/plan.h"
#include "write/comparison.h"
#include "write/run_json.h"
#include "write/workbook.h"

/** All borrowed, for the time of the call. */
struct overview {
    const struct run_record *record;
    const struct comparison_totals *compared;
    const struct grid *summary; /**< of the roofs shown */
    const struct grid *ranking; /**< highest first, group by group */
    const struct plan *plan;    /**< NULL for none */
};

/** Adds the sheet; to be called before any other is begun. */
void overview_add(struct book *book, const struct overview *overview);

#endif
