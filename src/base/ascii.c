#include "base/ascii.h"

#include <stdint.h>

char ascii_lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

char ascii_upper(char c)
{
    return c >= 'a' && c <= 'z' ? (char)(c - 'a' + 'A') : c;
}

bool ascii_same(const char *a, const char *b)
{
    return ascii_same_start(a, b, SIZE_MAX);
}

bool ascii_same_start(const char *a, const char *b, size_t length)
{
    size_t i = 0;

    while (i < length && a[i] && ascii_lower(a[i]) == ascii_lower(b[i]))
        i++;
    return i == length || ascii_lower(a[i]) == ascii_lower(b[i]);
}
