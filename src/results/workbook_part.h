#ifndef OUTLAY_RESULTS_WORKBOOK_PART_H
#define OUTLAY_RESULTS_WORKBOOK_PART_H

/**
 * @file results/workbook_part.h
 * workbook.xlsx: which sheets it has, in which order.
 */

#include "outlay/status.h"
#include "portfolio/plan.h"
#include "portfolio/rank.h"
#include "write/comparison.h"
#include "write/run_json.h"
#include "write/shown.h"

/** All borrowed. */
struct workbook_content {
    const struct run_record *record;
    const struct shown *shown;
    const struct comparison_totals *compared;
    const struct ranking *ranking;
    const struct plan *plan; /**< NULL for none */
};

/** Writes the whole file. @return OUTLAY_E_OUTPUT, OUTLAY_E_MEMORY */
enum outlay_status workbook_part_write(const char *path,
                                       const struct workbook_content *content,
                                       struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
