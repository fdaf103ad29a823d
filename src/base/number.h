#ifndef OUTLAY_BASE_NUMBER_H
#define OUTLAY_BASE_NUMBER_H

/**
 * @file base/number.h
 * Text to numbers, whole or not at all, the same in every locale.
 */

#include <stdbool.h>

/**
 * Reads all of text as a decimal number, with white space around it allowed.
 * @param[out] out  set only on success; finite.
 * @return false for "", trailing characters, hexadecimal, inf, nan and overflow.
 */
bool number_parse(const char *text, double *out);

/** As number_parse(), for a whole number of int's range. */
bool number_parse_int(const char *text, int *out);

#endif
