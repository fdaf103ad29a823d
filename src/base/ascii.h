#ifndef OUTLAY_BASE_ASCII_H
#define OUTLAY_BASE_ASCII_H

/**
 * @file base/ascii.h
 * Letters without a locale: what a program that uses the library has chosen for itself
 * (in Turkish, I and i are different letters) changes no name. Bytes beyond ASCII stay as
 * they are.
 */

#include <stdbool.h>
#include <stddef.h>

char ascii_lower(char c);
char ascii_upper(char c);

/** Whether two texts are the same but for the case of A to Z. */
bool ascii_same(const char *a, const char *b);

/** As ascii_same(), for the first `length` characters at most. */
bool ascii_same_start(const char *a, const char *b, size_t length);

#endif
