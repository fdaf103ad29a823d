#ifndef OUTLAY_BASE_TEMPORARY_H
#define OUTLAY_BASE_TEMPORARY_H

/**
 * @file base/temporary.h
 * A file without a name, gone when it is closed or the process ends.
 *
 * Threads: any.
 */

#include "outlay/status.h"

/** Opens one for reading and writing, in TMPDIR or /tmp, readable by the user alone.
 *  @return a descriptor, owned; -1 with the error filled */
int temporary_open(struct outlay_error *err);

/** Says what failed, by errno, and what to do. @param doing  "writing"
 *  @return OUTLAY_E_OUTPUT */
enum outlay_status temporary_fail(const char *doing, struct outlay_error *err);

#endif
