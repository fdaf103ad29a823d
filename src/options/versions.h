#ifndef OUTLAY_OPTIONS_VERSIONS_H
#define OUTLAY_OPTIONS_VERSIONS_H

/** @file options/versions.h  The libraries that this room uses, as they run. */

#include "base/text.h"

/** Appends a line each: its name and version. Threads: any. */
void options_versions(struct text *out);

#endif
