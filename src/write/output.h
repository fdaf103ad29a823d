#ifndef OUTLAY_WRITE_OUTPUT_H
#define OUTLAY_WRITE_OUTPUT_H

/**
 * @file write/output.h
 * A file that appears whole or not at all: it is written beside as NAME.partial and
 * renamed once everything has reached the disk.
 *
 *     status = output_open(path, &output, err);
 *     if (status == OUTLAY_OK)
 *         status = output_write(output, bytes, length, err);
 *     ...
 *     if (status == OUTLAY_OK)
 *         status = output_commit(output, err);
 *     else
 *         output_abort(output);
 *
 * "-" is standard output. That and other things that aren't files (a pipe, a device)
 * can't be renamed: they are written straight away. A symbolic link keeps pointing to
 * where it does, and the file there is replaced.
 *
 * A failure is OUTLAY_E_OUTPUT with the system's words in err->what and the path in
 * err->where, be it found on writing, on the way to the disk, on closing or on renaming.
 * Threads: one output belongs to one thread at a time.
 */

#include <stdbool.h>
#include <stddef.h>

#include "base/text.h"
#include "outlay/status.h"

struct output;

/** Opens path for writing; a NAME.partial left over from before is overwritten.
 *  @param[out] out  owned; ends with output_commit() or output_abort().
 *  @return OUTLAY_E_OUTPUT, OUTLAY_E_MEMORY */
enum outlay_status output_open(const char *path, struct output **out,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Writes length bytes. @return OUTLAY_E_OUTPUT; the output is still to be aborted. */
enum outlay_status output_write(struct output *output, const char *bytes, size_t length,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Writes a text. @return OUTLAY_E_MEMORY too: when the text is incomplete. */
enum outlay_status output_text(struct output *output, const struct text *text,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Hands on what is still in the buffer, without waiting for the disk, so that the next
 * program in a pipe gets each line when it is done.
 */
enum outlay_status output_flush(struct output *output,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Takes the rows of a CSV file that end in `ending` out again. What can't be renamed, a
 * pipe or device, keeps them.
 * @return OUTLAY_E_OUTPUT, OUTLAY_E_MEMORY; the output is still to be aborted.
 */
enum outlay_status output_drop_rows(struct output *output, const struct text *ending,
                                    struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Stands in a text for a value that is known at the end only; by itself it is JSON. No
 *  other tab may stand in such a text. */
#define OUTPUT_BLANK "\tnull"

/** Appends the value of a blank, counted from 0. */
typedef void output_filler(struct text *out, size_t blank, const void *context);

/**
 * Goes over what was written and puts values in the place of blanks. A pipe or device
 * keeps them.
 * @return OUTLAY_E_OUTPUT, OUTLAY_E_MEMORY; the output is still to be aborted.
 */
enum outlay_status output_fill(struct output *output, output_filler *fill,
                               const void *context,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Brings everything to the disk beside its place and closes it, so that committing only
 *  renames: for files that belong together. Nothing can be written after it. */
enum outlay_status output_finish(struct output *output,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Finishes what isn't yet, puts the file in its place and frees the output. On failure
 *  nothing appears and what stood there before still does. */
enum outlay_status output_commit(struct output *output,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Removes what was written and frees the output. NULL is ignored. */
void output_abort(struct output *output);

/** output_commit() when status is OUTLAY_OK, else output_abort(). @return what failed */
enum outlay_status output_end(struct output *output, enum outlay_status status,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Writes a text as a whole file. @return OUTLAY_E_OUTPUT, OUTLAY_E_MEMORY */
enum outlay_status output_whole(const char *path, const struct text *text,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Brings a file that another library wrote to the disk. @return false: errno says why */
bool output_synchronise(const char *path);

/** Pipes and devices can be written to as they are; files stand for somebody's work.
 *  @return OUTLAY_E_OUTPUT for a file or folder that exists, unless it may be replaced */
enum outlay_status output_refuse(const char *path, bool overwrite,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

/** As output_refuse(), and also whether path can be written, which leaves nothing there:
 *  to be asked before the work. "-" and what isn't a file can be.
 *  @return OUTLAY_E_OUTPUT, OUTLAY_E_MEMORY */
enum outlay_status output_check(const char *path, bool overwrite,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** path with ending behind it; owned by the caller, free(). @return NULL when out of
 *  memory */
char *path_with(const char *path, const char *ending);

/** Fills err for a system call that failed on path: what from errno, where, todo.
 *  @return OUTLAY_E_OUTPUT */
enum outlay_status output_fail(struct outlay_error *err, int error_number,
                               const char *doing, const char *path);

#endif
