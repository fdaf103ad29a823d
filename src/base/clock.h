#ifndef OUTLAY_BASE_CLOCK_H
#define OUTLAY_BASE_CLOCK_H

/** @file base/clock.h  How long something took. */

#include <time.h>

/** Now, by a clock that is never set back. */
struct timespec clock_start(void);

/** Seconds since then. */
double clock_seconds(const struct timespec *start);

#endif
