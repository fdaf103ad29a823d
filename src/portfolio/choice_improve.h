#ifndef OUTLAY_PORTFOLIO_CHOICE_IMPROVE_H
#define OUTLAY_PORTFOLIO_CHOICE_IMPROVE_H

/**
 * @file portfolio/choice_improve.h
 * Answers that keep the caps, made better step by step: what branch and cut starts from.
 *
 * Pure functions; any thread; the same answer each time.
 */

#include "portfolio/choice.h"

/**
 * Makes an answer of shares: each unit goes to the year of its largest share where it
 * fits, else to the year that fits best, largest costs first.
 * @param shares  units x years, 0 to 1
 * @param years   gets the answer
 * @return false when a unit that must be done fits nowhere
 */
bool choice_round(const struct choice *choice, const double *shares, struct arena *arena,
                  int *years);

/**
 * Moves units to other years, trades two of them, or moves one where another makes room,
 * as long as the sum of values falls; then takes some out again and again and puts them
 * back another way, until the sum is `enough` or so many times were tried. The caps hold
 * before and after. The numbers drawn for this are the same each time.
 */
void choice_improve(const struct choice *choice, double enough, struct arena *arena,
                    int *years);

#endif
