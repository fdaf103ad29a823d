#ifndef OUTLAY_FLOW_DRAW_SPREADS_H
#define OUTLAY_FLOW_DRAW_SPREADS_H

/**
 * @file flow/draw_spreads.h
 * Which spreads act on a roof: its own column's, that of the way in which a value was
 * found, else the option's.
 *
 * Pure functions; any thread.
 */

#include "roof/roof.h"
#include "spread/inputs.h"

/**
 * A value that somebody read on the roof has none. A height that was estimated from
 * storeys has that of a storey's height alone; a sampled one that of its own pixels,
 * their P90 - P10 taken for 2.563 standard deviations, as of a normal distribution.
 * @param roof     after attachment
 * @param options  the spreads of options
 * @param[out] of  of each input; 0: none
 */
void draw_spreads_of(const struct roof *roof, const struct spread_values *options,
                     double of[SPREAD_INPUTS]);

/** How far the roof's height may move, m: 3 standard deviations of all that moves it. */
double draw_reach(const struct roof *roof, const double of[SPREAD_INPUTS]);

#endif
