#ifndef OUTLAY_SURVEY_ENTRIES_H
#define OUTLAY_SURVEY_ENTRIES_H

/** @file survey/entries.h  What is asked at a place, and why. */

#include "survey/survey.h"

/** Whether the pull-out tests of the roof's deck are as many as the rules ask for. */
bool entry_enough_pullouts(const struct roof *roof);

/** Whether a value means anything on the roof: only steel decks have ribs. */
bool entry_applies(const struct roof *roof, enum finding_kind kind);

/** The row of a form for a value at a place: why it is asked, what is open for want of
 *  it, and how decisive that is. */
struct survey_entry entry_of(const struct roof *roof, size_t place,
                             enum finding_kind kind);

/** The one row of a roof that has neither height nor storeys. */
struct survey_entry entry_of_height(void);

#endif
