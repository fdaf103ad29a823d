#ifndef OUTLAY_READ_FIELDS_H
#define OUTLAY_READ_FIELDS_H

/**
 * @file read/fields.h
 * Which column plays which role, and in what unit.
 *
 *     fields_init(&fields, settings->fields, err);
 *     for each column: fields_add(&fields, name);
 *     status = fields_resolve(&fields, true, err);
 *     ... fields.roles[role].column is an index or -1 ...
 *     fields_release(&fields);
 *
 * A file's columns are known at once. A stream's come up as its features go by, so
 * fields_resolve() may be called again after each new one; a role once found stays.
 *
 * Units come from the user, from the column's suffix or from a schema whose publisher
 * documents them; they are never guessed.
 */

#include <stdbool.h>
#include <stddef.h>

#include "base/text.h"
#include "read/read.h"

/** The kinds of FIELD_ROLE_MAP. */
enum field_kind {
    FIELD_TEXT,
    FIELD_LENGTH,
    FIELD_SPEED,
    FIELD_PRESSURE,
    FIELD_FORCE,
    FIELD_COUNT,
    FIELD_WHOLE,
    FIELD_RATIO,
    FIELD_ANGLE,
    FIELD_NAME
};

/** How the values of one role are read. */
struct field {
    int column; /**< index; -1: none */
    bool given;
    const char *unit;  /**< static storage; "" for none */
    double factor;     /**< SI value of one unit */
    bool degrees;      /**< a slope given as an angle: the tangent is taken */
    bool zero_unknown; /**< the publisher writes 0 for "not known" */
    size_t use;        /**< index into fields.use, where column >= 0 */
};

struct fields {
    char *specs[FIELD_ROLES]; /**< owned; what the user gave; NULL */
    char **columns;           /**< owned, as are the names */
    size_t column_count;
    size_t column_capacity;
    struct field roles[FIELD_ROLES];
    struct field_use use[FIELD_ROLES]; /**< those found, in order of role */
    size_t use_count;
    bool unread_building; /**< there is a column `building` that wasn't trusted */
};

/** Most columns that are looked at; a stream might bring ever new ones. */
enum { FIELDS_COLUMNS_MAX = 4096 };

/** @param specs  FIELD_ROLES texts, borrowed, as struct read_settings says.
 *  @return OUTLAY_E_MEMORY */
enum outlay_status fields_init(struct fields *fields, const char *const *specs,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

void fields_release(struct fields *fields);

/** Adds a column. More than FIELDS_COLUMNS_MAX are ignored. @return OUTLAY_E_MEMORY */
enum outlay_status fields_add(struct fields *fields, const char *column,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Finds a column for each role that has none yet.
 * @param complete  no more columns will come: a named one that isn't there is an error.
 * @return OUTLAY_E_USAGE for a named column that isn't there, an unknown unit, or a
 *         column that needs a unit and has none.
 */
enum outlay_status fields_resolve(struct fields *fields, bool complete,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Counts a usable value of a role that has a column. */
void fields_filled(struct fields *fields, enum field_role role);

/** Notes for people, one line each. */
void fields_describe(const struct fields *fields, struct text *out);

enum field_kind field_role_kind(enum field_role role);

#endif
