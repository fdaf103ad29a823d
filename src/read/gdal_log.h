#ifndef OUTLAY_READ_GDAL_LOG_H
#define OUTLAY_READ_GDAL_LOG_H

/**
 * @file read/gdal_log.h
 * Keeps GDAL silent and remembers what it would have printed, so that a lost feature
 * isn't overlooked and an error text can quote it. Every call into GDAL that may fail
 * stands between gdal_log_begin() and gdal_log_end().
 */

#include <stddef.h>

struct gdal_log {
    size_t failures; /**< messages of class failure or fatal */
    size_t warnings;
    size_t unread;     /**< messages that a part couldn't be read and goes without */
    char failure[200]; /**< the first failure; "" */
    char warning[200]; /**< the first warning; "" */
};

/** Starts keeping the messages of this thread. The log must outlive gdal_log_end(). */
void gdal_log_begin(struct gdal_log *log);

/** Goes back to the handler before gdal_log_begin(). */
void gdal_log_end(void);

/** Forgets all messages. */
void gdal_log_clear(struct gdal_log *log);

/** The first failure, or otherwise where GDAL said nothing. Never NULL. */
const char *gdal_log_text(const struct gdal_log *log, const char *otherwise);

#endif
