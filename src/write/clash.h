#ifndef OUTLAY_WRITE_CLASH_H
#define OUTLAY_WRITE_CLASH_H

/**
 * @file write/clash.h
 * Which results of a roof would bear the name of one of its input fields. Names clash
 * in any case, since most formats that a roof layer is turned into ignore it.
 */

#include "write/columns.h"

/** The names of roof_columns, ready to be looked up. */
struct clash_index {
    int units;
    /* Columns plus one, those of a first letter in a chain; 0 ends it. */
    unsigned char first[26];
    unsigned char next[COLUMNS_MAX];
};

/** @param units  UNITS_US or UNITS_SI */
void clash_index_init(struct clash_index *index, int units);

/**
 * How many times `outlay_` must stand before each result so that no name occurs twice.
 * @param properties   JSON members without braces, as in struct roof
 * @param[out] prefixes  one for each of roof_columns and of those behind; 0 to 8
 */
void clash_find(const struct clash_index *index, const char *properties,
                unsigned char prefixes[COLUMNS_MAX]);

#endif
