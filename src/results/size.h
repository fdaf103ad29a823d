#ifndef OUTLAY_RESULTS_SIZE_H
#define OUTLAY_RESULTS_SIZE_H

/**
 * @file results/size.h
 * What a folder of results will take on disk, before anything is written: bytes a roof,
 * measured on generated outlines of 4 to 12 points with two fields. Real roofs take up to
 * twice or half as much.
 */

#include "options/settings.h"

/** Bytes that the files of parts will have together.
 *  @param parts  bits 1u << PART_... */
double results_size(const struct settings *settings, unsigned parts, long long roofs);

#endif
