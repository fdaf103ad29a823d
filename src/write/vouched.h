#ifndef OUTLAY_WRITE_VOUCHED_H
#define OUTLAY_WRITE_VOUCHED_H

/** @file write/vouched.h  Who vouches for what of a roof, in words. */

#include "base/text.h"
#include "roof/roof.h"

/** Appends what was found on the roof, by whom and when; nothing where nothing was. */
void vouched_found(struct text *out, const struct roof *roof);

/** Appends who settled an assumption that acts on the roof. @return false: nobody did */
bool vouched_closing(struct text *out, const struct roof *roof, enum assumption what);

/**
 * Puts into an empty text what was found on the roof, by whom and when, and what was
 * decided and confirmed: "found on site: height, pullout by N. N., 2026-11-20; step:
 * ...". Nothing where nobody vouches for anything. Threads: any.
 */
void vouched_print(struct text *out, const struct roof *roof);

#endif
