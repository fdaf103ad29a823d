#ifndef OUTLAY_DRAW_VERSIONS_H
#define OUTLAY_DRAW_VERSIONS_H

/** @file draw/versions.h  The libraries that this room uses, as they run. */

#include "base/text.h"

/** Appends a line each: its name and version. Threads: any. */
void draw_versions(struct text *out);

#endif
