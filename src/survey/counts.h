#ifndef OUTLAY_SURVEY_COUNTS_H
#define OUTLAY_SURVEY_COUNTS_H

/** @file survey/counts.h  How many tests, and how they are shared out. */

#include "roof/roof.h"
#include "survey/rules.h"

/** Whether its new roof is fastened into the deck. */
bool is_fastened(const struct roof *roof);

/** Shares a number out by weights: one to each while there are enough, the rest by the
 *  largest remainders, of equal ones to the first. @param weights  0: gets none */
void share_by_weight(int total, const double *weights, size_t count, int *out);

/** Pull-out tests of each roof of the building, by the rule.
 *  @param[out] out  roof_count */
enum outlay_status pullouts_by_roof(struct arena *arena, const struct building *building,
                                    const struct survey_rule *rule,
                                    int *out) OUTLAY_MUST_CHECK;

/** What a rule asks of one roof, but for those of decks. */
int tests_of_roof(const struct roof *roof, const struct survey_rule *rule);

#endif
