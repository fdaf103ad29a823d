#ifndef OUTLAY_ATTACH_REASON_H
#define OUTLAY_ATTACH_REASON_H

/**
 * @file attach/reason.h
 * Why a zone isn't met, in words and numbers. Private to attach/.
 */

#include "attach/pattern.h"

/**
 * The reason of a verdict other than VERDICT_FITS, as text in the arena. Pressures are
 * given as the assembly's rating is: required (safety factor included) for an ultimate
 * one, allowable for an allowable one; in psf and kPa, for the text goes to any output.
 * @param more  appended after "; "; NULL for nothing
 * @return NULL when out of memory
 */
const char *reason_text(struct arena *arena, const struct site *site,
                        const struct assembly *assembly, const struct pattern *pattern,
                        const char *more);

#endif
