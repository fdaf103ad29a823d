#ifndef OUTLAY_READ_VALUE_H
#define OUTLAY_READ_VALUE_H

/**
 * @file read/value.h
 * From one field's value to the roof's attribute: units taken off, ranges checked. A
 * value that can't be used is a problem of the roof and the attribute stays missing.
 */

#include <stdbool.h>

#include "base/arena.h"
#include "base/text.h"
#include "read/fields.h"
#include "roof/roof.h"

enum value_kind { VALUE_NULL, VALUE_WHOLE, VALUE_REAL, VALUE_TEXT };

/** A value as the source has it. */
struct value {
    enum value_kind kind;
    long long whole;  /**< of VALUE_WHOLE */
    double real;      /**< of VALUE_REAL */
    const char *text; /**< of VALUE_TEXT, borrowed, never NULL */
};

/**
 * Stores a value in the attribute of its role.
 * @param column  its name, for messages.
 * @return true when the roof has the attribute now; false for null, empty text and what
 *         became a problem.
 */
bool value_store(struct arena *arena, struct roof *roof, enum field_role role,
                 const struct field *field, const char *column,
                 const struct value *value);

/** True when the roof has the attribute of the role. */
bool value_given(const struct roof *roof, enum field_role role);

/** The attribute of the role as a number in SI; NAN when it is none or missing. */
double value_number(const struct roof *roof, enum field_role role);

/** Stores a number in SI, or the value of an enum, as the attribute of the role. */
void value_set(struct roof *roof, enum field_role role, double number);

/** The attribute of the role as value_set() takes it; NAN while missing. */
double value_plain(const struct roof *roof, enum field_role role);

/** Appends what the role's values may be, for people: "steel, wood, ...", "0 to 10 m";
 *  nothing where any text will do. */
void value_accepts(enum field_role role, struct text *out);

#endif
