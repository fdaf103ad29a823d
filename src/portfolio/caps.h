#ifndef OUTLAY_PORTFOLIO_CAPS_H
#define OUTLAY_PORTFOLIO_CAPS_H

/**
 * @file portfolio/caps.h
 * The money of each year, as a user writes it: one amount for all years, or one for each,
 * commas between. `k` behind a number stands for thousands, `M` for millions.
 *
 * 1,500,000 may be one amount or three. So what looks like a number with its digits in
 * groups is refused, and an amount of a list is 0, at least 1,000, or has a unit (ours).
 * Threads: any.
 */

#include "outlay/status.h"
#include "roof/cost.h"

/**
 * @param[out] caps  as many as years
 * @return OUTLAY_E_USAGE
 */
enum outlay_status caps_read(const char *text, int years, money *caps,
                             struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
