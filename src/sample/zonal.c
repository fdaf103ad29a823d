#include "sample/zonal.h"

#include <math.h>

static void swap(double *a, double *b)
{
    double kept = *a;

    *a = *b;
    *b = kept;
}

/* The middle one of three values. */
static double middle_of(double a, double b, double c)
{
    return fmax(fmin(a, b), fmin(fmax(a, b), c));
}

/* Hoare's selection: afterwards values[at] is the one of that place in order, and none
 * before it is greater. */
static double select_at(double *values, size_t count, size_t at)
{
    ptrdiff_t low = 0, high = (ptrdiff_t)count - 1, wanted = (ptrdiff_t)at;

    while (low < high) {
        double pivot =
            middle_of(values[low], values[low + (high - low) / 2], values[high]);
        ptrdiff_t i = low, j = high;

        while (i <= j) {
            while (values[i] < pivot)
                i++;
            while (values[j] > pivot)
                j--;
            if (i <= j)
                swap(&values[i++], &values[j--]);
        }
        if (wanted <= j)
            high = j;
        else if (wanted >= i)
            low = i;
        else
            break;
    }
    return values[at];
}

static double least_of(const double *values, size_t count)
{
    double least = values[0];

    for (size_t i = 1; i < count; i++)
        least = fmin(least, values[i]);
    return least;
}

double percentile(double *values, size_t count, double percent)
{
    double place = percent / 100 * (double)(count - 1);
    size_t below = (size_t)place;
    double value = select_at(values, count, below);

    if (below + 1 == count || place == (double)below)
        return value;
    /* all behind the selected place are no less */
    double next = least_of(values + below + 1, count - below - 1);

    return value + (place - (double)below) * (next - value);
}

double statistic_of(double *values, size_t count, enum statistic statistic,
                    double percent)
{
    double sum = 0;

    switch (statistic) {
    case STATISTIC_PERCENTILE:
        return percentile(values, count, percent);
    case STATISTIC_LEAST:
        return percentile(values, count, 0);
    case STATISTIC_MOST:
        return percentile(values, count, 100);
    case STATISTIC_MEAN:
        break;
    }
    for (size_t i = 0; i < count; i++)
        sum += values[i];
    return sum / (double)count;
}

double spread_of(double *values, size_t count)
{
    return percentile(values, count, 90) - percentile(values, count, 10);
}
