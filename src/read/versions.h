#ifndef OUTLAY_READ_VERSIONS_H
#define OUTLAY_READ_VERSIONS_H

/** @file read/versions.h  The libraries that this room uses, as they run. */

#include "base/text.h"

/** Appends a line each: its name and version. Threads: any. */
void read_versions(struct text *out);

#endif
