#ifndef OUTLAY_BASE_PRINT_H
#define OUTLAY_BASE_PRINT_H

/**
 * @file base/print.h
 * vsnprintf() with a decimal point in every locale: a program that uses the library
 * may have chosen a locale that writes 1,5.
 */

#include <stdarg.h>
#include <stddef.h>

/**
 * As vsnprintf(). The thread's locale is put back before it returns; nothing that other
 * threads see changes.
 */
int print_plain(char *buffer, size_t size, const char *format, va_list args)
    __attribute__((format(printf, 3, 0)));

#endif
