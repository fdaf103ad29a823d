#ifndef OUTLAY_ATTACH_RULES_H
#define OUTLAY_ATTACH_RULES_H

/**
 * @file attach/rules.h
 * Edge rules: what perimeter and corner get on top of the field. A rule gives a pattern;
 * whether that is strong enough is always computed. Private to attach/.
 */

#include "attach/attach.h"

/** Most half sheets of the calculated rule, and from where on the storey rule warns
 *  (ours): beyond them, intermediate rows across full sheets. */
#define HALF_SHEETS_MAX 4

/** The rule that acts for a method: percentages are for boards with fasteners, row
 *  fractions and the storey rule for rows; else calculated. */
enum edge_rule rule_for(enum edge_rule rule, enum method method);

/** Says that a rule was replaced by the calculated one; static storage. */
const char *rule_replaced_text(enum edge_rule rule);

/**
 * Half sheets along each edge (common practice, no source): 1 for one or two storeys,
 * one more for each storey from the third on, a part of a storey counting as one; one
 * more when the long side exceeds the limit (ours).
 * @param storeys    > 0
 * @param long_side  m; NAN: not long
 */
int storey_half_sheets(double storeys, double long_side, double limit);

/**
 * Fasteners a board by percentage, before the next allowed pattern. Insurer's
 * prescriptive enhancement (FM 1-29) as Professional Roofing, May 2006, reports it:
 * 2003: +50 % in the perimeter, +75 % in the corner; January 2006: +50 % and at least
 * one a 2 ft2, +100 % and at least one a ft2.
 * @param field  fasteners a board in the field
 * @param board_area  m2
 */
int percentage_count(enum percentage_edition edition, enum zone_role role, int field,
                     double board_area);

/** Highest ultimate field rating for which the edition allows percentages, Pa:
 *  INFINITY, or 75 psf from January 2006 (source as above). */
double percentage_rating_limit(enum percentage_edition edition);

/** Row spacing as a share of the field's: perimeter 0.6, corner 0.4 (FM 1-29, from
 *  memory, not seen in print). */
double row_fraction(enum zone_role role);

#endif
