#define _XOPEN_SOURCE 700 /* realpath() */

#include "write/output.h"

#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { BUFFER_SIZE = 1 << 18 };

struct output {
    int file;
    bool standard; /* standard output, which isn't ours to close */
    char *path;    /* where it goes, links resolved */
    char *partial; /* what is written; NULL: path itself */
    char *buffer;  /* owned; NULL once all is written and the file is closed */
    size_t length; /* bytes in it */
};

static const char *what_to_do(int error_number)
{
    switch (error_number) {
    case ENOSPC:
    case EDQUOT:
    case EFBIG:
        return "make room there or write somewhere else";
    case EACCES:
    case EPERM:
    case EROFS:
        return "name a place that you may write to";
    case ENOENT:
        return "make the folder first";
    case ENOTDIR:
        return "a part of the path is a file: name another place";
    case EISDIR:
        return "name a file, not a folder";
    default:
        return "";
    }
}

enum outlay_status output_fail(struct outlay_error *err, int error_number,
                               const char *doing, const char *path)
{
    char reason[128];

    if (error_number == ENOMEM)
        return outlay_fail(err, OUTLAY_E_MEMORY, "%s: out of memory", doing);
    if (strerror_r(error_number, reason, sizeof reason) != 0)
        snprintf(reason, sizeof reason, "error %d", error_number);
    outlay_fail(err, OUTLAY_E_OUTPUT, "%s failed: %s", doing, reason);
    outlay_fail_where(err, "%s", path);
    outlay_fail_todo(err, "%s", what_to_do(error_number));
    return OUTLAY_E_OUTPUT;
}

enum outlay_status output_refuse(const char *path, bool overwrite,
                                 struct outlay_error *err)
{
    struct stat info;

    if (overwrite || stat(path, &info) != 0 ||
        !(S_ISREG(info.st_mode) || S_ISDIR(info.st_mode)))
        return OUTLAY_OK;
    outlay_fail(err, OUTLAY_E_OUTPUT, "the output exists");
    outlay_fail_where(err, "%s", path);
    outlay_fail_todo(err, "choose another name, or replace it by --overwrite");
    return OUTLAY_E_OUTPUT;
}

enum outlay_status output_check(const char *path, bool overwrite,
                                struct outlay_error *err)
{
    struct stat found;
    struct output *output = NULL;
    enum outlay_status status = output_refuse(path, overwrite, err);

    if (status != OUTLAY_OK || strcmp(path, "-") == 0 ||
        (stat(path, &found) == 0 && !S_ISREG(found.st_mode) && !S_ISDIR(found.st_mode)))
        return status;
    status = output_open(path, &output, err);
    output_abort(output);
    return status;
}

char *path_with(const char *path, const char *ending)
{
    size_t size = strlen(path) + strlen(ending) + 1;
    char *joined = malloc(size);

    if (joined)
        snprintf(joined, size, "%s%s", path, ending);
    return joined;
}

/* Sets path and, where a file can be renamed to it, partial. Only files have their
 * links resolved: a pipe under /dev/fd has no path of its own. */
static enum outlay_status choose_paths(struct output *output, const char *path,
                                       struct outlay_error *err)
{
    struct stat found;
    bool there = stat(path, &found) == 0;
    bool file = there && S_ISREG(found.st_mode);

    if (there && S_ISDIR(found.st_mode))
        return output_fail(err, EISDIR, "opening the output", path);
    output->path = file ? realpath(path, NULL) : path_with(path, "");
    if (!output->path)
        return output_fail(err, errno, "opening the output", path);
    if (there && !file)
        return OUTLAY_OK;
    output->partial = path_with(output->path, ".partial");
    if (!output->partial)
        return output_fail(err, errno, "opening the output", path);
    return OUTLAY_OK;
}

enum { OPEN_FLAGS = O_WRONLY | O_CLOEXEC | O_NOCTTY };

static int open_partial(const struct output *output)
{
    return open(output->partial, OPEN_FLAGS | O_CREAT | O_TRUNC | O_NOFOLLOW, 0666);
}

static enum outlay_status open_file(struct output *output, const char *path,
                                    struct outlay_error *err)
{
    enum outlay_status status = choose_paths(output, path, err);

    if (status != OUTLAY_OK)
        return status;
    output->file =
        output->partial ? open_partial(output) : open(output->path, OPEN_FLAGS);
    if (output->file < 0)
        return output_fail(err, errno, "opening the output", path);
    return OUTLAY_OK;
}

static void output_free(struct output *output)
{
    if (!output->standard && output->file >= 0)
        close(output->file);
    free(output->path);
    free(output->partial);
    free(output->buffer);
    free(output);
}

enum outlay_status output_open(const char *path, struct output **out,
                               struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    struct output *output = calloc(1, sizeof *output);

    *out = NULL;
    if (!output) {
        outlay_fail(err, OUTLAY_E_MEMORY, "opening %s", path);
        return OUTLAY_E_MEMORY;
    }
    output->file = -1;
    output->standard = strcmp(path, "-") == 0;
    output->buffer = malloc(BUFFER_SIZE);
    if (!output->buffer) {
        status = outlay_fail(err, OUTLAY_E_MEMORY, "opening %s", path);
    } else if (output->standard) {
        output->file = STDOUT_FILENO;
        output->path = path_with("standard output", "");
        if (!output->path)
            status = outlay_fail(err, OUTLAY_E_MEMORY, "opening %s", path);
    } else {
        status = open_file(output, path, err);
    }
    if (status == OUTLAY_OK)
        *out = output;
    else
        output_free(output);
    return status;
}

static enum outlay_status write_all(struct output *output, const char *bytes,
                                    size_t length, struct outlay_error *err)
{
    while (length > 0) {
        ssize_t written = write(output->file, bytes, length);

        if (written < 0 && errno == EINTR)
            continue;
        if (written < 0)
            return output_fail(err, errno, "writing", output->path);
        bytes += written;
        length -= (size_t)written;
    }
    return OUTLAY_OK;
}

enum outlay_status output_flush(struct output *output, struct outlay_error *err)
{
    size_t length = output->length;

    output->length = 0;
    return write_all(output, output->buffer, length, err);
}

enum outlay_status output_write(struct output *output, const char *bytes, size_t length,
                                struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    if (length > BUFFER_SIZE - output->length)
        status = output_flush(output, err);
    if (status != OUTLAY_OK)
        return status;
    if (length > BUFFER_SIZE)
        return write_all(output, bytes, length, err);
    if (length > 0)
        memcpy(output->buffer + output->length, bytes, length);
    output->length += length;
    return OUTLAY_OK;
}

enum outlay_status output_text(struct output *output, const struct text *text,
                               struct outlay_error *err)
{
    if (text->failed) {
        outlay_fail(err, OUTLAY_E_MEMORY, "making the text to write");
        outlay_fail_where(err, "%s", output->path);
        return OUTLAY_E_MEMORY;
    }
    return output_write(output, text->data, text->length, err);
}

/* The next row of a CSV file, whose cells may hold line ends between quotes.
 * @return false at the end and where it can't be read: ferror() */
static bool read_row(FILE *in, struct text *row)
{
    bool quoted = false;
    int c;

    text_clear(row);
    while ((c = getc(in)) != EOF) {
        text_putc(row, (char)c);
        quoted = quoted != (c == '"');
        if (c == '\n' && !quoted)
            break;
    }
    return row->length > 0;
}

static bool ends_in(const struct text *row, const struct text *ending)
{
    return row->length >= ending->length &&
           memcmp(row->data + row->length - ending->length, ending->data,
                  ending->length) == 0;
}

/* Rows that stay move to the front: they are written behind where rows are read. */
static enum outlay_status keep_rows(struct output *output, FILE *in,
                                    const struct text *ending, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    struct text row = TEXT_INIT;
    off_t end = 0;

    while (status == OUTLAY_OK && read_row(in, &row)) {
        if (!row.failed && ends_in(&row, ending))
            continue;
        end += (off_t)row.length;
        status = output_text(output, &row, err);
    }
    text_release(&row);
    if (status == OUTLAY_OK && ferror(in))
        status = output_fail(err, EIO, "reading it again", output->path);
    if (status == OUTLAY_OK)
        status = output_flush(output, err);
    if (status == OUTLAY_OK && ftruncate(output->file, end) != 0)
        status = output_fail(err, errno, "shortening it", output->path);
    return status;
}

enum outlay_status output_drop_rows(struct output *output, const struct text *ending,
                                    struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    FILE *in = NULL;

    if (ending->failed)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    if (!output->partial)
        return OUTLAY_OK;
    status = output_flush(output, err);
    if (status != OUTLAY_OK)
        return status;
    in = fopen(output->partial, "r");
    if (!in || lseek(output->file, 0, SEEK_SET) != 0)
        status = output_fail(err, errno, "reading it again", output->path);
    if (status == OUTLAY_OK)
        status = keep_rows(output, in, ending, err);
    if (in)
        fclose(in);
    return status;
}

/* Copies the text up to the next blank, and fills that. */
static enum outlay_status fill_blanks(struct output *output, FILE *in,
                                      output_filler *fill, const void *context,
                                      struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    struct text value = TEXT_INIT;
    char *piece = NULL;
    size_t room = 0, skipped = 0;
    ssize_t length;

    for (size_t blank = 0;
         status == OUTLAY_OK && (length = getdelim(&piece, &room, '\t', in)) > 0;
         blank++) {
        bool ends = piece[length - 1] == '\t';

        status = output_write(output, piece + skipped,
                              (size_t)length - skipped - (ends ? 1 : 0), err);
        if (status != OUTLAY_OK || !ends)
            break;
        text_clear(&value);
        fill(&value, blank, context);
        status = output_text(output, &value, err);
        skipped = sizeof OUTPUT_BLANK - 2; /* without the tab and the NUL */
    }
    if (status == OUTLAY_OK && !feof(in))
        status = output_fail(err, errno, "reading it again", output->path);
    free(piece);
    text_release(&value);
    return status;
}

/* The text so far stays readable as *in while the place is written anew. */
static enum outlay_status begin_again(struct output *output, FILE **in,
                                      struct outlay_error *err)
{
    enum outlay_status status = output_flush(output, err);

    *in = NULL;
    if (status != OUTLAY_OK)
        return status;
    *in = fopen(output->partial, "r");
    if (!*in || unlink(output->partial) != 0)
        return output_fail(err, errno, "reading it again", output->path);
    close(output->file);
    output->file = open_partial(output);
    if (output->file < 0)
        return output_fail(err, errno, "opening the output", output->path);
    return OUTLAY_OK;
}

enum outlay_status output_fill(struct output *output, output_filler *fill,
                               const void *context, struct outlay_error *err)
{
    FILE *in = NULL;
    enum outlay_status status = OUTLAY_OK;

    if (!output->partial)
        return OUTLAY_OK;
    status = begin_again(output, &in, err);
    if (status == OUTLAY_OK)
        status = fill_blanks(output, in, fill, context, err);
    if (in)
        fclose(in);
    return status;
}

/* Pipes and terminals have nothing to bring to a disk. */
static bool synchronise(int file)
{
    return fsync(file) == 0 || errno == EINVAL || errno == ENOTSUP || errno == EROFS;
}

bool output_synchronise(const char *path)
{
    int file = open(path, O_RDONLY | O_CLOEXEC);
    bool done = file >= 0 && fsync(file) == 0;

    return file >= 0 && close(file) == 0 && done;
}

/* Closes the file: some file systems tell only then that it didn't fit. A copy of
 * standard output is closed instead of itself. */
static bool close_checked(struct output *output)
{
    int file = output->standard ? dup(output->file) : output->file;

    if (!output->standard)
        output->file = -1;
    return file >= 0 && close(file) == 0;
}

enum outlay_status output_finish(struct output *output, struct outlay_error *err)
{
    enum outlay_status status = output_flush(output, err);

    if (status == OUTLAY_OK && !synchronise(output->file))
        status = output_fail(err, errno, "bringing it to the disk", output->path);
    if (status == OUTLAY_OK && !close_checked(output))
        status = output_fail(err, errno, "closing", output->path);
    if (status == OUTLAY_OK) {
        free(output->buffer);
        output->buffer = NULL;
    }
    return status;
}

enum outlay_status output_commit(struct output *output, struct outlay_error *err)
{
    enum outlay_status status = output->buffer ? output_finish(output, err) : OUTLAY_OK;

    if (status == OUTLAY_OK && output->partial &&
        rename(output->partial, output->path) != 0)
        status = output_fail(err, errno, "renaming the finished file", output->path);
    if (status == OUTLAY_OK)
        output_free(output);
    else
        output_abort(output);
    return status;
}

void output_abort(struct output *output)
{
    if (!output)
        return;
    if (output->partial)
        unlink(output->partial); /* failing, it is overwritten by the next run */
    output_free(output);
}

enum outlay_status output_end(struct output *output, enum outlay_status status,
                              struct outlay_error *err)
{
    if (status == OUTLAY_OK)
        return output_commit(output, err);
    output_abort(output);
    return status;
}

enum outlay_status output_whole(const char *path, const struct text *text,
                                struct outlay_error *err)
{
    struct output *output = NULL;
    enum outlay_status status = output_open(path, &output, err);

    if (status == OUTLAY_OK)
        status = output_text(output, text, err);
    return output_end(output, status, err);
}
