#ifndef OUTLAY_SPREAD_DRIVERS_H
#define OUTLAY_SPREAD_DRIVERS_H

/**
 * @file spread/drivers.h
 * What draws come to: quantiles of a result, and how much of its spread an input causes.
 *
 * Threads: any.
 */

#include <stddef.h>

#include "roof/spread.h"

/**
 * Quantile of sorted values, the least first: linear between the two beside rank
 * p (n - 1), type 7 of Hyndman and Fan, "Sample Quantiles in Statistical Packages" (1996;
 * from memory).
 * @param p  0 to 1
 * @return NAN for no values
 */
double sorted_quantile(const double *sorted, size_t count, double p);

/** P10 and P90. Sorts the values, and passes over those that are NAN: of none both are
 *  NAN. */
struct spread_range spread_range_of(double *values, size_t count);

/**
 * One at a time: the share of input i is d_i^2 / (sum of all d^2), where d is how far the
 * result moves while an input goes from its P10 to its P90 and all others stay in the
 * middle. For results that are linear in their inputs these are the shares of variance.
 * @param moved        d of each input; none NAN
 * @param[out] shares  0 each when nothing moves
 */
void shares_one_at_a_time(const double *moved, size_t count, double *shares);

struct first_order {
    double index; /**< an estimate: may lie a little outside 0 to 1; NAN when the result
                       doesn't vary */
    double error; /**< its standard error; NAN with it */
};

/**
 * Sobol's first-order index of an input by the estimator of Saltelli and others,
 * "Variance based sensitivity analysis of model output" (2010), table 2, (b) (from
 * memory): mean(B (AB - A)) / variance, B less its mean. The variance is that of A and B
 * together, mean((A - B)^2) / 2. The standard error is that of a ratio of means, to first
 * order.
 * @param a      results of one set of draws
 * @param b      results of another, independent set
 * @param mixed  results of the first set with this input alone from the second
 * @param count  of each, > 1
 */
struct first_order first_order_index(const double *a, const double *b,
                                     const double *mixed, size_t count);

#endif
