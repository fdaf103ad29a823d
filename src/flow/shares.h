#ifndef OUTLAY_FLOW_SHARES_H
#define OUTLAY_FLOW_SHARES_H

/**
 * @file flow/shares.h
 * How much area the roofs of many pairs share. The roof with more points of each pair is
 * made ready once and compared with all of its partners, so that one outline around a
 * whole district costs little more than its partners do.
 */

#include "flow/checks.h"

struct pair_share {
    double shared;  /**< m2; NAN: could not be measured */
    double smaller; /**< area of the smaller roof, m2 */
};

/**
 * Measures all pairs, unless that is more than some hundred million points' work: the
 * rest then shares nothing.
 * @param[out] out       owned, one a pair
 * @param[out] complete  false when that happened; else untouched
 * @return OUTLAY_E_MEMORY, OUTLAY_E_GEOMETRY (no workspace), OUTLAY_E_OUTPUT or _E_INPUT
 *         (the spool can't be read), OUTLAY_E_INTERRUPTED
 */
enum outlay_status pairs_measure(const struct layer_checks *checks,
                                 const struct roof_pair *pairs, size_t count,
                                 struct pair_share **out, bool *complete,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
