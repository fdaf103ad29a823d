#ifndef OUTLAY_BASE_NUMBER_H
#define OUTLAY_BASE_NUMBER_H

/**
 * @file base/number.h
 * Text to numbers, whole or not at all, the same in every locale; numbers compared.
 */

#include <stdbool.h>
#include <stddef.h>

/**
 * Reads all of text as a decimal number, with white space around it allowed.
 * @param[out] out  set only on success; finite.
 * @return false for "", trailing characters, hexadecimal, inf, nan and overflow.
 */
bool number_parse(const char *text, double *out);

/** As number_parse(), for a whole number of int's range. */
bool number_parse_int(const char *text, int *out);

/** Whether two numbers are equal or both missing (NAN). */
bool same_number(double a, double b);

/** Sorts numbers, the least first; none of them NAN. */
void numbers_sort(double *numbers, size_t count);

#endif
