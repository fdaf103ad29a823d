#ifndef OUTLAY_BASE_PRINT_H
#define OUTLAY_BASE_PRINT_H

/**
 * @file base/print.h
 * vsnprintf() with a decimal point in every locale: a program that uses the library
 * may have chosen a locale that writes 1,5.
 */

#include <stdarg.h>
#include <stddef.h>

#include "outlay/status.h"

/**
 * As vsnprintf(). The thread's locale is put back before it returns; nothing that other
 * threads see changes.
 */
int print_plain(char *buffer, size_t size, const char *format, va_list args)
    __attribute__((format(printf, 3, 0)));

/** As snprintf(), likewise. */
int print_into(char *buffer, size_t size, const char *format, ...) OUTLAY_PRINTF(3, 4);

struct plain_locale;

/** Lets libraries that know no other way print and read 1.5 too, and letters be ASCII's:
 *  for this thread alone, until plain_locale_end(). @return NULL when out of memory */
struct plain_locale *plain_locale_start(void);

/** Puts the thread's locale back. NULL is ignored. */
void plain_locale_end(struct plain_locale *locale);

#endif
