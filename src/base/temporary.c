#include "base/temporary.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const char *folder(void)
{
    const char *given = getenv("TMPDIR");

    return given && given[0] ? given : "/tmp";
}

enum outlay_status temporary_fail(const char *doing, struct outlay_error *err)
{
    outlay_fail(err, OUTLAY_E_OUTPUT, "%s a temporary file: %s", doing, strerror(errno));
    outlay_fail_where(err, "%.200s", folder());
    outlay_fail_todo(err, "make room there, or set TMPDIR to a folder with more");
    return OUTLAY_E_OUTPUT;
}

int temporary_open(struct outlay_error *err)
{
    char path[240];
    int file = -1;

    snprintf(path, sizeof path, "%.200s/outlay-XXXXXX", folder());
    file = mkstemp(path);
    if (file < 0) {
        temporary_fail("making", err);
        return -1;
    }
    unlink(path);
    fcntl(file, F_SETFD, FD_CLOEXEC);
    return file;
}
