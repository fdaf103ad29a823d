#include "results/problems_file.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "write/output.h"
#include "write/tables.h"

struct problems_file {
    const struct write_settings *set;
    char *path;            /* owned */
    char *previous;        /* owned; where that of the last run waits until the zones
                              stand; NULL: there was none */
    struct output *output; /* owned; opened by the first problem */
    bool any;              /* problems were put */
};

/* "dir/zones.gpkg" to "dir/zones.problems.csv". */
static char *problems_beside(const char *path)
{
    static const char ending[] = ".problems.csv";
    size_t stem = (size_t)(strrchr(path, '.') - path);
    char *beside = malloc(stem + sizeof ending);
    if (!beside)
        return NULL;
    memcpy(beside, path, stem);
    memcpy(beside + stem, ending, sizeof ending);
    return beside;
}

enum outlay_status problems_file_new(const struct settings *settings,
                                     struct problems_file **out, struct outlay_error *err)
{
    struct problems_file *file = calloc(1, sizeof *file);
    *out = NULL;
    if (!file || !(file->path = problems_beside(settings->output))) {
        free(file);
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    }
    file->set = &settings->write;
    enum outlay_status status = output_check(file->path, settings->overwrite, err);
    if (status == OUTLAY_OK)
        *out = file;
    else
        problems_file_abort(file);
    return status;
}

enum outlay_status problems_file_put(struct problems_file *file, const struct text *rows,
                                     struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    if (rows->length == 0 && !rows->failed)
        return OUTLAY_OK;
    if (!file->output) {
        struct text head = TEXT_INIT;
        problems_header(&head, file->set);
        file->any = true;
        status = output_open(file->path, &file->output, err);
        if (status == OUTLAY_OK)
            status = output_text(file->output, &head, err);
        text_release(&head);
    }
    return status == OUTLAY_OK ? output_text(file->output, rows, err) : status;
}

enum outlay_status problems_file_put_grid(struct problems_file *file,
                                          const struct grid *rows,
                                          struct outlay_error *err)
{
    struct text text = TEXT_INIT;
    grid_csv_rows(&text, rows);
    enum outlay_status status = problems_file_put(file, &text, err);
    text_release(&text);
    return status;
}

enum outlay_status problems_file_withdraw(struct problems_file *file,
                                          const struct grid *row,
                                          struct outlay_error *err)
{
    return file->output ? problems_withdraw(file->output, row, err) : OUTLAY_OK;
}

const char *problems_file_path(const struct problems_file *file)
{
    return file->any ? file->path : NULL;
}

static enum outlay_status problems_put_aside(struct problems_file *file,
                                             struct outlay_error *err)
{
    if (access(file->path, F_OK) != 0)
        return OUTLAY_OK;
    file->previous = path_with(file->path, ".previous");
    if (!file->previous)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    if (rename(file->path, file->previous) == 0)
        return OUTLAY_OK;
    output_fail(err, errno, "putting the old problems aside", file->path);
    free(file->previous);
    file->previous = NULL;
    return OUTLAY_E_OUTPUT;
}

enum outlay_status problems_file_commit(struct problems_file *file,
                                        struct outlay_error *err)
{
    enum outlay_status status = problems_put_aside(file, err);
    struct output *output = file->output;
    if (status != OUTLAY_OK)
        return status;
    file->output = NULL;
    if (output)
        status = output_commit(output, err);
    if (status != OUTLAY_OK)
        problems_file_undo(file);
    return status;
}

void problems_file_undo(struct problems_file *file)
{
    if (file->previous) /* failing, they are still there under that name */
        (void)rename(file->previous, file->path);
    else if (file->any)
        unlink(file->path);
    free(file->previous);
    file->previous = NULL;
}

void problems_file_abort(struct problems_file *file)
{
    if (!file)
        return;
    output_abort(file->output);
    if (file->previous)
        unlink(file->previous);
    free(file->previous);
    free(file->path);
    free(file);
}
