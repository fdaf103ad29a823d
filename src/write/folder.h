#ifndef OUTLAY_WRITE_FOLDER_H
#define OUTLAY_WRITE_FOLDER_H

/**
 * @file write/folder.h
 * A folder of results that appears whole or not at all: files go into DIR.partial, which
 * is renamed to DIR at the end.
 *
 *     status = folder_open(path, overwrite, &folder, err);
 *     ... files with output_open(folder_file(...)) ...
 *     if (status == OUTLAY_OK)
 *         status = folder_commit(folder, err);
 *     else
 *         folder_abort(folder);
 *
 * An existing folder is replaced only when asked to, and only one that a run has written
 * (it holds run.json) or that is empty, without folders of the user's own in it: outlay
 * removes nothing else. It is moved aside as DIR.old and removed once the new one stands
 * in its place.
 *
 * Results hold files, no folders. Threads: one folder belongs to one thread at a time.
 */

#include <stdbool.h>

#include "outlay/status.h"

struct folder;

/**
 * Makes DIR.partial; one left over from before is emptied first.
 * @param overwrite  DIR may exist
 * @param[out] out   owned; ends with folder_commit() or folder_abort().
 * @return OUTLAY_E_OUTPUT, also when DIR exists and may not be replaced;
 *         OUTLAY_E_MEMORY
 */
enum outlay_status folder_open(const char *path, bool overwrite, struct folder **out,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** The path of a file in the folder under construction; owned by the caller, free().
 *  @return NULL when out of memory. */
char *folder_file(const struct folder *folder, const char *name);

/** Puts the folder in its place and frees it. On failure what stood there before still
 *  does. */
enum outlay_status folder_commit(struct folder *folder,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Removes what was written and frees the folder. NULL is ignored. */
void folder_abort(struct folder *folder);

#endif
