#include "spread/drivers.h"

#include <math.h>
#include <stdlib.h>

double sorted_quantile(const double *sorted, size_t count, double p)
{
    if (count == 0)
        return NAN;
    double rank = p * (double)(count - 1), whole = floor(rank);
    size_t below = (size_t)whole;
    if (below + 1 >= count)
        return sorted[count - 1];
    /* equal neighbours come back to the last bit */
    return sorted[below] + (rank - whole) * (sorted[below + 1] - sorted[below]);
}

static int ascending(const void *a, const void *b)
{
    double first = *(const double *)a, second = *(const double *)b;

    return (first > second) - (first < second);
}

struct spread_range spread_range_of(double *values, size_t count)
{
    size_t known = 0;

    for (size_t i = 0; i < count; i++)
        if (!isnan(values[i]))
            values[known++] = values[i];
    qsort(values, known, sizeof *values, ascending);
    return (struct spread_range){sorted_quantile(values, known, 0.1),
                                 sorted_quantile(values, known, 0.9)};
}

void shares_one_at_a_time(const double *moved, size_t count, double *shares)
{
    double sum = 0;

    for (size_t i = 0; i < count; i++)
        sum += moved[i] * moved[i];
    for (size_t i = 0; i < count; i++)
        shares[i] = sum > 0 ? moved[i] * moved[i] / sum : 0;
}

static double mean_of(const double *values, size_t count)
{
    double sum = 0;

    for (size_t i = 0; i < count; i++)
        sum += values[i];
    return sum / (double)count;
}

struct first_order first_order_index(const double *a, const double *b,
                                     const double *mixed, size_t count)
{
    double middle = mean_of(b, count), above = 0, below = 0, squares = 0;

    for (size_t i = 0; i < count; i++) {
        above += (b[i] - middle) * (mixed[i] - a[i]);
        below += (a[i] - b[i]) * (a[i] - b[i]) / 2;
    }
    /* less than rounding leaves */
    if (!(below > 1e-18 * middle * middle * (double)count))
        return (struct first_order){NAN, NAN};
    double index = above / below;
    for (size_t i = 0; i < count; i++) {
        double rest = (b[i] - middle) * (mixed[i] - a[i]) -
                      index * (a[i] - b[i]) * (a[i] - b[i]) / 2;
        squares += rest * rest;
    }
    return (struct first_order){index, sqrt(squares) / below};
}
