#ifndef OUTLAY_OPTIONS_VOUCHED_H
#define OUTLAY_OPTIONS_VOUCHED_H

/** @file options/vouched.h  Decisions and confirmations, held against the settings. */

#include "options/settings.h"

/**
 * Reads the files of decisions and of confirmations. A decision on a setting has to be
 * that setting's value, and a confirmed rating that of the catalogue.
 * @return OUTLAY_E_USAGE, OUTLAY_E_MEMORY
 */
enum outlay_status vouched_read(struct settings *settings,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
