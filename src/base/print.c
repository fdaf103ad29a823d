#include "base/print.h"

#include <locale.h>
#include <stdio.h>

int print_plain(char *buffer, size_t size, const char *format, va_list args)
{
    /* All categories: the C library then answers without allocating. */
    locale_t plain = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    locale_t before = (locale_t)0;
    int length = 0;

    if (plain == (locale_t)0)
        return -1;
    before = uselocale(plain);
    length = vsnprintf(buffer, size, format, args);
    uselocale(before);
    freelocale(plain);
    return length;
}
