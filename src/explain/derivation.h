#ifndef OUTLAY_EXPLAIN_DERIVATION_H
#define OUTLAY_EXPLAIN_DERIVATION_H

/**
 * @file explain/derivation.h
 * How the numbers of one roof come about, in the order of a check by hand: geometry,
 * velocity pressure, coefficients, pressures, required rating, attachment, and where the
 * roof is laid out, rows, rolls, boards, edges, the bill and its cost. Nothing is
 * computed here but what the stages kept: the numbers are those of the tables.
 *
 * Threads: any; a roof is only read.
 */

#include "base/text.h"
#include "roof/layout.h"
#include "standard/standard.h"
#include "write/write.h"

/** Appends the derivation of one roof as plain text for people, each line of the wind
 *  with its reference. Units as in set.
 *  @param style  of half sheets, as they are laid */
void derivation_print(struct text *out, const struct roof *roof,
                      const struct write_settings *set, enum edge_style style);

#endif
