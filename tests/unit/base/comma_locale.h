#ifndef OUTLAY_TESTS_COMMA_LOCALE_H
#define OUTLAY_TESTS_COMMA_LOCALE_H

/* Chooses the locale with a decimal comma that CMake builds from tests/locale. */

#include <locale.h>
#include <stdio.h>
#include <stdlib.h>

/* Fails the test when the locale isn't there: without it the test shows nothing. */
static inline int comma_locale_setup(void **state)
{
    char shown[8];

    (void)state;
    setenv("LOCPATH", TEST_LOCALES, 1);
    if (!setlocale(LC_NUMERIC, "comma")) {
        fprintf(stderr, "no locale `comma` in %s\n", TEST_LOCALES);
        return -1;
    }
    snprintf(shown, sizeof shown, "%.1f", 1.5);
    return shown[1] == ',' ? 0 : -1;
}

static inline int comma_locale_teardown(void **state)
{
    (void)state;
    return setlocale(LC_NUMERIC, "C") ? 0 : -1;
}

#endif
