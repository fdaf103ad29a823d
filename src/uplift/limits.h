#ifndef OUTLAY_UPLIFT_LIMITS_H
#define OUTLAY_UPLIFT_LIMITS_H

/* Where a standard's figures end. Private to uplift/. */

#include "roof/roof.h"
#include "standard/standard.h"

/**
 * Looks at what the standard's figures for flat roofs of closed buildings don't cover
 * (slope above 7 degrees, open building, overhang): zone.uplift.outside says why, for the
 * zones that it touches. And at what leaves them in doubt (a speed as low as the nominal
 * ones of old maps, tornado loads that apply, a wind area larger than what one fastener
 * holds): assumptions. Each is a problem too.
 * Needs roof.velocity and roof.zones; velocity may be unknown.
 */
void limits_check(struct arena *arena, struct roof *roof,
                  const struct standard *standard);

#endif
