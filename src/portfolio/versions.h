#ifndef OUTLAY_PORTFOLIO_VERSIONS_H
#define OUTLAY_PORTFOLIO_VERSIONS_H

/** @file portfolio/versions.h  The libraries that this room uses, as they run. */

#include "base/text.h"

/** Appends a line each: its name and version. Threads: any. */
void portfolio_versions(struct text *out);

#endif
