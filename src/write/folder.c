#include "write/folder.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "write/output.h"

struct folder {
    char *path;    /* without slashes at its end */
    char *partial; /* being filled */
    char *old;     /* where an existing folder goes while it is replaced */
    bool replaces; /* there is an existing folder */
};

static void folder_free(struct folder *folder)
{
    free(folder->path);
    free(folder->partial);
    free(folder->old);
    free(folder);
}

static struct folder *folder_new(const char *path)
{
    struct folder *folder = calloc(1, sizeof *folder);
    size_t length = strlen(path);

    if (!folder)
        return NULL;
    folder->path = path_with(path, "");
    if (folder->path) {
        while (length > 1 && folder->path[length - 1] == '/')
            folder->path[--length] = '\0';
        folder->partial = path_with(folder->path, ".partial");
        folder->old = path_with(folder->path, ".old");
    }
    if (!folder->path || !folder->partial || !folder->old) {
        folder_free(folder);
        return NULL;
    }
    return folder;
}

static bool is_dot(const char *name)
{
    return strcmp(name, ".") == 0 || strcmp(name, "..") == 0;
}

static bool is_folder(int folder, const char *name)
{
    struct stat found;

    return fstatat(folder, name, &found, AT_SYMLINK_NOFOLLOW) == 0 &&
           S_ISDIR(found.st_mode);
}

/* What a folder holds. */
struct content {
    bool empty;
    bool folders; /* at least one */
    bool run;     /* the file that every run writes */
};

static bool look_into(const char *path, struct content *content)
{
    DIR *dir = opendir(path);

    *content = (struct content){.empty = true};
    if (!dir)
        return false;
    for (struct dirent *entry = readdir(dir); entry; entry = readdir(dir)) {
        if (is_dot(entry->d_name))
            continue;
        content->empty = false;
        if (is_folder(dirfd(dir), entry->d_name))
            content->folders = true;
        if (strcmp(entry->d_name, "run.json") == 0)
            content->run = true;
    }
    closedir(dir);
    return true;
}

/* Removes a folder and the files in it, but no folder in it. */
static bool remove_flat(const char *path)
{
    DIR *dir = opendir(path);

    if (!dir)
        return errno == ENOENT || errno == ENOTDIR;
    for (struct dirent *entry = readdir(dir); entry; entry = readdir(dir))
        if (!is_dot(entry->d_name) && unlinkat(dirfd(dir), entry->d_name, 0) != 0)
            break; /* rmdir() tells */
    closedir(dir);
    return rmdir(path) == 0;
}

static enum outlay_status refuse(struct outlay_error *err, const char *path,
                                 const char *what, const char *todo)
{
    outlay_fail(err, OUTLAY_E_OUTPUT, "%s", what);
    outlay_fail_where(err, "%s", path);
    outlay_fail_todo(err, "%s", todo);
    return OUTLAY_E_OUTPUT;
}

/* Whether the existing folder may be replaced. */
static enum outlay_status check_existing(const struct folder *folder, bool overwrite,
                                         struct outlay_error *err)
{
    const char *path = folder->path;
    struct content content;

    if (!overwrite)
        return refuse(err, path, "the output folder exists",
                      "name another one, or replace it with --overwrite");
    if (!look_into(path, &content))
        return output_fail(err, errno, "looking into the output folder", path);
    if (!content.empty && !content.run)
        return refuse(err, path, "the folder isn't one of results: it has no run.json",
                      "name another one");
    if (content.folders)
        return refuse(err, path, "the folder holds folders, which no run writes",
                      "move them, or name another one");
    if (access(folder->old, F_OK) == 0)
        return refuse(err, folder->old, "a run that was stopped left the older results",
                      "move them or remove them");
    return OUTLAY_OK;
}

static enum outlay_status prepare(struct folder *folder, bool overwrite,
                                  struct outlay_error *err)
{
    struct stat found;

    if (lstat(folder->path, &found) == 0) {
        enum outlay_status status = OUTLAY_OK;

        if (!S_ISDIR(found.st_mode))
            return refuse(err, folder->path, "what stands there isn't a folder",
                          "name another one");
        status = check_existing(folder, overwrite, err);
        if (status != OUTLAY_OK)
            return status;
        folder->replaces = true;
    }
    if (!remove_flat(folder->partial))
        return output_fail(err, errno, "removing what a stopped run left",
                           folder->partial);
    if (mkdir(folder->partial, 0777) != 0)
        return output_fail(err, errno, "making the output folder",
                           errno == EEXIST ? folder->partial : folder->path);
    return OUTLAY_OK;
}

enum outlay_status folder_open(const char *path, bool overwrite, struct folder **out,
                               struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    struct folder *folder = folder_new(path);

    *out = NULL;
    if (!folder)
        return outlay_fail(err, OUTLAY_E_MEMORY, "making the output folder %s", path);
    status = prepare(folder, overwrite, err);
    if (status == OUTLAY_OK)
        *out = folder;
    else
        folder_free(folder);
    return status;
}

char *folder_file(const struct folder *folder, const char *name)
{
    size_t size = strlen(folder->partial) + strlen(name) + 2;
    char *path = malloc(size);

    if (path)
        snprintf(path, size, "%s/%s", folder->partial, name);
    return path;
}

/* On failure errno tells and everything is as before. */
static bool put_in_place(struct folder *folder)
{
    int error_number = 0;

    if (folder->replaces && rename(folder->path, folder->old) != 0)
        return false;
    if (rename(folder->partial, folder->path) == 0)
        return true;
    error_number = errno;
    if (folder->replaces && rename(folder->old, folder->path) != 0)
        return false; /* the older results are safe where they were moved to */
    errno = error_number;
    return false;
}

enum outlay_status folder_commit(struct folder *folder, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    if (!put_in_place(folder)) {
        status = output_fail(err, errno, "renaming the finished folder", folder->path);
        folder_abort(folder);
        return status;
    }
    if (folder->replaces && !remove_flat(folder->old))
        status = output_fail(err, errno, "removing the older results", folder->old);
    folder_free(folder);
    return status;
}

void folder_abort(struct folder *folder)
{
    if (!folder)
        return;
    remove_flat(folder->partial); /* failing, the next run does it */
    folder_free(folder);
}
