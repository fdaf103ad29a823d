#ifndef OUTLAY_BASE_SECRET_H
#define OUTLAY_BASE_SECRET_H

/**
 * @file base/secret.h
 * The name of a source may be a connection string that holds a password, which is
 * nobody's business in a file that is passed on.
 */

#include "base/text.h"

/** Appends the name of a source with *** for its password. Threads: any. */
void secret_hide(struct text *out, const char *source);

#endif
