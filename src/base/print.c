#include "base/print.h"

#include <locale.h>
#include <stdio.h>
#include <stdlib.h>

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

int print_into(char *buffer, size_t size, const char *format, ...)
{
    va_list args;
    int length = 0;

    va_start(args, format);
    length = print_plain(buffer, size, format, args);
    va_end(args);
    return length;
}

struct plain_locale {
    locale_t plain, before;
};

struct plain_locale *plain_locale_start(void)
{
    struct plain_locale *locale = malloc(sizeof *locale);

    if (!locale)
        return NULL;
    locale->plain = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    if (locale->plain == (locale_t)0) {
        free(locale);
        return NULL;
    }
    locale->before = uselocale(locale->plain);
    return locale;
}

void plain_locale_end(struct plain_locale *locale)
{
    if (!locale)
        return;
    uselocale(locale->before);
    freelocale(locale->plain);
    free(locale);
}
