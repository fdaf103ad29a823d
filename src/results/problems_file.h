#ifndef OUTLAY_RESULTS_PROBLEMS_FILE_H
#define OUTLAY_RESULTS_PROBLEMS_FILE_H

/**
 * @file results/problems_file.h
 * The problems of a command that writes one file: they go beside it, so that zones.gpkg
 * gets zones.problems.csv, and only where there are any.
 */

#include "base/text.h"
#include "options/settings.h"
#include "outlay/status.h"
#include "write/grid.h"

struct problems_file;

/**
 * Finds the place and tries it; nothing is left there yet.
 * @param[out] out  owned; ends with problems_file_abort()
 * @return OUTLAY_E_OUTPUT when it exists and may not be replaced or can't be written,
 *          OUTLAY_E_MEMORY
 */
enum outlay_status problems_file_new(const struct settings *settings,
                                     struct problems_file **out,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Adds rows of problems.csv; none at all is fine. */
enum outlay_status problems_file_put(struct problems_file *file, const struct text *rows,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Likewise, of the layer as a whole. */
enum outlay_status problems_file_put_grid(struct problems_file *file,
                                          const struct grid *rows,
                                          struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Takes rows back that are this one but for the roof. */
enum outlay_status problems_file_withdraw(struct problems_file *file,
                                          const struct grid *row,
                                          struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Where the problems go, or NULL while there are none. Borrowed. */
const char *problems_file_path(const struct problems_file *file);

/** Puts the file in its place; one that a former run left there waits beside it. */
enum outlay_status problems_file_commit(struct problems_file *file,
                                        struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Takes the file from its place again, since what it belongs to got none, and puts back
 *  what stood there. */
void problems_file_undo(struct problems_file *file);

/** Removes what wasn't put in its place, and what waits for undoing; frees. NULL is
 *  ignored. */
void problems_file_abort(struct problems_file *file);

#endif
