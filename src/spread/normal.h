#ifndef OUTLAY_SPREAD_NORMAL_H
#define OUTLAY_SPREAD_NORMAL_H

/**
 * @file spread/normal.h
 * Quantiles of normal distributions.
 *
 * Pure functions; any thread.
 */

/** Deviates stay within so many standard deviations (ours): a height of minus 5 ft is no
 *  height. The standard deviation of what is left is 0.9866 of the whole one's. */
#define NORMAL_CUT 3.0

/** From P10 to P90 of a normal distribution, in standard deviations: twice
 *  normal_quantile(0.9). */
#define NORMAL_P10_TO_P90 2.5631031310892007

/**
 * Quantile of the standard normal distribution, right to about 1 part in 10^16: M. J.
 * Wichura, "Algorithm AS 241: The percentage points of the normal distribution", Applied
 * Statistics 37 (1988), routine PPND16. Constants from memory, checked against scipy.
 * @param p  0 < p < 1; NAN for all else
 */
double normal_quantile(double p);

/** The same of the distribution cut at both NORMAL_CUT: never beyond them.
 *  normal_cut_quantile(0.5) is 0 exactly. */
double normal_cut_quantile(double p);

#endif
