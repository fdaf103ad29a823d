#ifndef OUTLAY_GEO_VERSIONS_H
#define OUTLAY_GEO_VERSIONS_H

/** @file geo/versions.h  The libraries that this room uses, as they run. */

#include "base/text.h"

/** Appends a line each: its name and version. Threads: any. */
void geo_versions(struct text *out);

#endif
