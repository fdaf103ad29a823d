#ifndef OUTLAY_OPTIONS_SELECTION_H
#define OUTLAY_OPTIONS_SELECTION_H

/**
 * @file options/selection.h
 * The roofs that settings->roof and settings->set name; all roofs where neither is given.
 * Reads const settings only: any thread.
 */

#include <stdbool.h>
#include <stddef.h>

#include "options/settings.h"
#include "roof/roof.h"

/** How many ids were named; 0: all roofs are meant. */
size_t selection_size(const struct settings *settings);

/** The index-th id, from 0, and its length: it isn't ended by NUL. */
const char *selection_id(const struct settings *settings, size_t index, size_t *length);

/** Whether a roof is meant. */
bool selection_has(const struct settings *settings, const struct roof *roof);

/** Whether one of the building's roofs is. */
bool selection_meets(const struct settings *settings, const struct building *building);

#endif
