#ifndef OUTLAY_ROOF_PULLOUT_H
#define OUTLAY_ROOF_PULLOUT_H

/**
 * @file roof/pullout.h
 * The pull-out tests of one deck in one building, and the ultimate pull-out that they
 * come to:
 *
 *     fractile = mean - k s,  k = t(0.95, n - 1) sqrt(1 + 1 / n)
 *     design   = the least of the fractile and of all single values
 *
 * the 5 % fractile as EN 1990:2002 Annex D, D7.2 and Table D.1, row "V unknown", has it
 * (rows 3: 3.37, 5: 2.33, 10: 1.92, 20: 1.76). Units: N.
 */

#include "roof/roof.h"

/** What the design value goes by. */
enum pullout_by { PULLOUT_BY_FRACTILE, PULLOUT_BY_MEAN };

/** "fractile", "mean"; NULL past the end. */
const char *pullout_by_name(int by);

/** Fewest tests that tell anything of the spread (ours). */
enum { PULLOUT_LEAST = 3 };

struct pullout {
    enum deck deck;
    enum pullout_by by;
    size_t count;
    const struct finding **tests; /**< count of them, by value */
    double low, high; /**< what is outside is shown as an outlier, and never dropped: one
                           and a half times the distance of the quartiles beyond them
                           (Tukey, Exploratory Data Analysis, 1977; from memory); NAN:
                           under four tests */
    double mean, deviation; /**< of the sample, n - 1; NAN under two tests */
    double k, fractile;     /**< NAN under three tests */
    double design;          /**< NAN: unknown */
    int needed;             /**< tests that the survey's rules ask for; 0: not counted */
    const char *unknown;    /**< why there is no design value; NULL */
};

/** k of the fractile for n tests, from PULLOUT_LEAST on. */
double pullout_k(size_t n);

/** The day of the latest test. */
const char *pullout_last(const struct pullout *pullout);

/**
 * Works out the design value.
 * @param tests  count of them; sorted here by value; one whose value is NAN can't be read
 *               and leaves the whole unknown
 * @return in arena; NULL when out of memory
 */
struct pullout *pullout_of(struct arena *arena, const struct finding **tests,
                           size_t count, enum pullout_by by);

#endif
