#ifndef OUTLAY_WRITE_VERSIONS_H
#define OUTLAY_WRITE_VERSIONS_H

/** @file write/versions.h  The libraries that this room uses, as they run. */

#include "base/text.h"

/** Appends a line each: its name and version. Threads: any. */
void write_versions(struct text *out);

#endif
