/* Where tests write: below TMPDIR, which scripts/test looks into afterwards. */

#ifndef TEMPORARY_H
#define TEMPORARY_H

#include <stdio.h>
#include <stdlib.h>

enum { TEMPORARY_MOST = 400 };

/** A pattern for mkstemp(), mkstemps() and mkdtemp(): name ends in XXXXXX, or in that
 *  and an ending. @return out */
static inline char *temporary_name(char out[TEMPORARY_MOST], const char *name)
{
    const char *folder = getenv("TMPDIR");

    snprintf(out, TEMPORARY_MOST, "%s/%s", folder && *folder ? folder : "/tmp", name);
    return out;
}

#endif
