#ifndef OUTLAY_OPTIONS_ROLES_TEXT_H
#define OUTLAY_OPTIONS_ROLES_TEXT_H

/**
 * @file options/roles_text.h
 * The roles that columns may have (read/roles.h), for people.
 */

#include "base/text.h"

/** Appends how roles are found and given, then all of them: what each changes, values,
 *  units, names that are recognised. */
void roles_help(struct text *out);

/** Appends the value of the key `field` of a starter job file, commented, a line or two
 *  a role. */
void roles_starter(struct text *out);

#endif
