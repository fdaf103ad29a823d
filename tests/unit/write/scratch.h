#ifndef OUTLAY_TESTS_WRITE_SCRATCH_H
#define OUTLAY_TESTS_WRITE_SCRATCH_H

/* A folder of a test's own, entered for the time of the test, and small files in it. */

#include <dirent.h>
#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "../temporary.h"

static inline int scratch_enter(void **state)
{
    char *name = malloc(TEMPORARY_MOST);

    *state = name;
    return name && mkdtemp(temporary_name(name, "outlay-test-XXXXXX")) && chdir(name) == 0
               ? 0
               : -1;
}

static inline int scratch_remove_one(const char *path, const struct stat *found, int kind,
                                     struct FTW *place)
{
    (void)found;
    (void)kind;
    (void)place;
    return remove(path);
}

static inline int scratch_leave(void **state)
{
    int failed =
        chdir("/") != 0 || nftw(*state, scratch_remove_one, 8, FTW_DEPTH | FTW_PHYS) != 0;

    free(*state);
    return failed ? -1 : 0;
}

static inline void scratch_write(const char *path, const char *content)
{
    FILE *file = fopen(path, "w");

    assert_non_null(file);
    assert_true(fputs(content, file) >= 0);
    assert_int_equal(fclose(file), 0);
}

static inline void scratch_expect(const char *path, const char *content)
{
    char buffer[256] = "";
    FILE *file = fopen(path, "r");

    if (!file)
        fail_msg("%s isn't there", path);
    buffer[fread(buffer, 1, sizeof buffer - 1, file)] = '\0';
    fclose(file);
    assert_string_equal(buffer, content);
}

/* Number of entries of a folder. */
static inline int scratch_count(const char *path)
{
    int count = 0;
    DIR *dir = opendir(path);

    assert_non_null(dir);
    while (readdir(dir))
        count++;
    closedir(dir);
    return count - 2;
}

static inline int scratch_is_there(const char *path)
{
    return access(path, F_OK) == 0;
}

#endif
