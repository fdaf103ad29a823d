#ifndef OUTLAY_PRICE_SCOPE_H
#define OUTLAY_PRICE_SCOPE_H

/**
 * @file price/scope.h
 * Stage `scope`: recover or tear off. Needs roof.given; gives roof.scope and
 * roof.scope_reason, which order/ and price/ read.
 *
 * Torn off:
 *  - two or more covers, and a cover that is too deteriorated to build on (International
 *    Building Code, roof recover: 1510.3 in 2012, 1511.3.1.1 in 2015 and 2018; seen in
 *    adopted texts). Deteriorated: condition of 30 or less, which bands of a trade
 *    journal, seen second-hand, call "replace" (the mapping is ours);
 *  - any wet share: "never recover even a partially water-saturated insulation-membrane
 *    system" (a defence department's criteria, seen). Some local codes replace all only
 *    above 25 % of the area (seen second-hand): `wet_limit`; then the wet part alone is
 *    torn off;
 *  - an old single-ply, which "should be removed" before a new one (published
 *    specification, seen); ballast, which no board lies on (common practice, no source);
 *  - covers or moisture that nobody gave: assumed.
 * None of these texts speaks of the deck, so it decides nothing here.
 */

#include "roof/roof.h"

struct scope_settings {
    double wet_limit; /**< share of the area up to which only the wet part goes; 0 */
};

/** Threads: any, one building each. */
void scope_run(struct building *building, const struct scope_settings *settings);

#endif
