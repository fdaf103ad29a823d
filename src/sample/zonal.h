#ifndef OUTLAY_SAMPLE_ZONAL_H
#define OUTLAY_SAMPLE_ZONAL_H

/**
 * @file sample/zonal.h
 * What many pixels say together. Percentiles are linear between neighbours in order: of n
 * values, p percent stands at place p / 100 x (n - 1), counted from 0.
 */

#include <stddef.h>

#include "sample/source.h"

/** The p-th percentile; values are put in another order. @param count  at least 1 */
double percentile(double *values, size_t count, double percent);

/** Any of the statistics; values are put in another order. @param count  at least 1 */
double statistic_of(double *values, size_t count, enum statistic statistic,
                    double percent);

/** P90 - P10; values are put in another order. @param count  at least 1 */
double spread_of(double *values, size_t count);

#endif
