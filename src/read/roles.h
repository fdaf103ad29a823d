#ifndef OUTLAY_READ_ROLES_H
#define OUTLAY_READ_ROLES_H

/**
 * @file read/roles.h
 * What is known about roles and column names before any file is seen: effects, common
 * names, unit suffixes, open schemas. `outlay help roles` prints it. Names are compared
 * in lower case.
 */

#include <stdbool.h>
#include <stddef.h>

#include "read/fields.h"

enum { ROLE_NAMES_MAX = 14 };

/** Common names of a role, the role's own name first, ended by NULL. */
const char *const *role_common_names(enum field_role role);

/** What a value of the role changes, one line for people without a full stop. */
const char *role_effect(enum field_role role);

/**
 * Finds a unit by the name that users write, as far as the role can have it.
 * @param[out] field  its unit, factor and degrees are set on success.
 */
bool role_unit(enum field_role role, const char *name, struct field *field);

/** The units that a role can have, for messages: "ft|in|m|cm|mm"; "" for none. */
const char *role_units(enum field_role role);

/** True when a number of this role means nothing without a unit. */
bool role_needs_unit(enum field_role role);

/** Unit name for a suffix behind the last underscore ("ft", "meters", "pct"); NULL. */
const char *suffix_unit(const char *suffix);

/** An open schema whose publisher documents a column's unit. */
struct schema {
    const char *name;
    enum field_role role;
    const char *column;
    const char *unit;
    bool zero_unknown;
    const char *evidence[6]; /**< one of these columns must be there too */
};

/** The schemas, ended by a NULL name. */
const struct schema *known_schemas(void);

/** Columns that only OpenStreetMap data has, ended by NULL. */
const char *const *osm_columns(void);

/** Columns that only layers made for this tool have, ended by NULL. */
const char *const *own_columns(void);

/** a and b alike, letters of either case taken as the same; the same in every locale. */
bool same_column(const char *a, const char *b);

#endif
