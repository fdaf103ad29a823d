#include "read/gdal_log.h"

#include <stdio.h>
#include <string.h>

#include <cpl_error.h>

/* Messages may hold line ends, which would break the one-line rule of errors. */
static void keep(char *out, size_t size, const char *message)
{
    if (out[0])
        return;
    snprintf(out, size, "%s", message);
    for (char *c = out; *c; c++)
        if (*c == '\n' || *c == '\r')
            *c = ' ';
    for (size_t n = strlen(out); n > 0 && (out[n - 1] == ' ' || out[n - 1] == '.'); n--)
        out[n - 1] = '\0';
}

static void on_message(CPLErr severity, CPLErrorNum number, const char *message)
{
    struct gdal_log *log = CPLGetErrorHandlerUserData();

    (void)number;
    log->unread += strstr(message, "IO error") != NULL;
    if (severity >= CE_Failure) {
        log->failures++;
        keep(log->failure, sizeof log->failure, message);
    } else if (severity == CE_Warning) {
        log->warnings++;
        keep(log->warning, sizeof log->warning, message);
    }
}

void gdal_log_begin(struct gdal_log *log)
{
    CPLPushErrorHandlerEx(on_message, log);
}

void gdal_log_end(void)
{
    CPLPopErrorHandler();
}

void gdal_log_clear(struct gdal_log *log)
{
    *log = (struct gdal_log){0};
}

const char *gdal_log_text(const struct gdal_log *log, const char *otherwise)
{
    return log->failure[0] ? log->failure : otherwise;
}
