#ifndef OUTLAY_ROOF_BASIS_H
#define OUTLAY_ROOF_BASIS_H

/**
 * @file roof/basis.h
 * Stage `basis`: what attachment, layout, bill and cost all start from, decided once.
 * Needs roof.given, roof.zoned; gives roof.basis of each zoned roof.
 */

#include "base/units.h"
#include "roof/roof.h"

/** Insulation and boards of a roof that gives none, m (ours). */
#define STACK_USUAL (4 * M_PER_IN)

/** Board over an old cover that stays, m (ours). */
#define RECOVER_BOARD (0.5 * M_PER_IN)

/** R-value of an inch of new insulation, taken for polyisocyanurate, ft2 h F/Btu
 *  (published, seen second-hand). */
#define R_PER_IN 5.7

/** For roofs without their own. */
struct basis_settings {
    enum deck deck;   /**< NOT_GIVEN: steel, assumed */
    double pullout;   /**< ultimate, N; NAN: untested */
    double rib_pitch; /**< of steel deck, m; 6 in */
};

struct basis_settings basis_defaults(void);

/** Threads: any, one building each. */
void basis_run(struct building *building, const struct basis_settings *settings);

/** Whether a roof is to pay before another one of its building for what they share: the
 *  larger, of equal ones that whose id comes first. @param other  NULL: none so far */
bool roof_pays_before(const struct roof *roof, const struct roof *other);

#endif
