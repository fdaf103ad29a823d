#ifndef OUTLAY_READ_MEMBERS_H
#define OUTLAY_READ_MEMBERS_H

/**
 * @file read/members.h
 * The input's own fields as JSON members, `"HGT":12,"use":null`, so that they can be
 * written again. What goes out reads back as the same value.
 */

#include <stdbool.h>

#include <json-c/json.h>

#include "base/text.h"

/** Appends a number: the shortest text that reads back as the same double, or null when
 *  it isn't finite. */
void members_real(struct text *out, double value);

/** As members_real() for a value that the source holds as a 32-bit float: 0.1f is 0.1. */
void members_float(struct text *out, float value);

void members_whole(struct text *out, long long value);

/** Appends a parsed JSON value, as it would come from a file through GDAL. */
void members_json(struct text *out, struct json_object *value);

/** Appends a text that should be JSON: the value if it is, else the text as a string. */
void members_json_text(struct text *out, const char *json);

#endif
