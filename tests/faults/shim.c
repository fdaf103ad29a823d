/* Fails one call of a program that it is preloaded into:
 *
 *     FAULTS_KIND   files: calls that make, write, read or move files of the run
 *                   disk: those of them that need room on the disk
 *                   memory: allocations asked for by the program's own code
 *                   libraries: those asked for by libraries, but for FAULTS_SPARE
 *     FAULTS_AT     the call that fails, from 1 on; 0: none
 *     FAULTS_ON     set: all calls after it fail too
 *     FAULTS_SPARE  names of libraries between colons whose allocations succeed
 *     FAULTS_IN     folder: files elsewhere (fonts, grids of PROJ) aren't the run's, but
 *                   for standard input and output and for files without a name
 *     FAULTS_REPORT file that gets the number of calls and which one failed
 *
 * Variables are read once. Only glibc is served. */

#define _GNU_SOURCE

#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <link.h>
#include <stdarg.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/uio.h>
#include <unistd.h>

enum kind { KIND_NONE, KIND_FILES, KIND_DISK, KIND_MEMORY, KIND_LIBRARIES };

/* The program is one; what it loads may call from any thread. */
static struct {
    enum kind kind;
    unsigned long at;
    bool on;
    const char *spare, *in, *report;
    const char *program_start, *program_end;
    atomic_ulong calls;
    char failed[200]; /* what failed first */
} shim;

/* ---- The program's own code ----------------------------------------------------- */

static int first_object(struct dl_phdr_info *info, size_t size, void *data)
{
    (void)size;
    (void)data;
    for (int i = 0; i < info->dlpi_phnum; i++) {
        const ElfW(Phdr) *part = &info->dlpi_phdr[i];
        const char *start = (const char *)(info->dlpi_addr + part->p_vaddr);

        if (part->p_type == PT_LOAD && part->p_flags & PF_X) {
            shim.program_start = start;
            shim.program_end = start + part->p_memsz;
        }
    }
    return 1; /* the program comes first */
}

static bool is_own(const char *caller)
{
    return caller >= shim.program_start && caller < shim.program_end;
}

static const char *library_of(void *caller)
{
    struct dl_find_object found;
    const char *name = NULL;

    if (_dl_find_object(caller, &found) != 0 || !found.dlfo_link_map)
        return "?";
    name = strrchr(found.dlfo_link_map->l_name, '/');
    return name ? name + 1 : found.dlfo_link_map->l_name;
}

static bool is_spared(const char *library)
{
    const char *name = shim.spare;

    while (name && *name) {
        size_t length = strcspn(name, ":");

        if (length > 0 && strncmp(library, name, length) == 0)
            return true;
        name += length + (name[length] == ':');
    }
    return false;
}

/* ---- Counting ------------------------------------------------------------------- */

__attribute__((constructor)) static void start(void)
{
    const char *kind = getenv("FAULTS_KIND");
    const char *at = getenv("FAULTS_AT");

    dl_iterate_phdr(first_object, NULL);
    shim.at = at ? strtoul(at, NULL, 10) : 0;
    shim.on = getenv("FAULTS_ON") != NULL;
    shim.spare = getenv("FAULTS_SPARE");
    shim.in = getenv("FAULTS_IN");
    shim.report = getenv("FAULTS_REPORT");
    if (kind)
        shim.kind = strcmp(kind, "files") == 0       ? KIND_FILES
                    : strcmp(kind, "disk") == 0      ? KIND_DISK
                    : strcmp(kind, "memory") == 0    ? KIND_MEMORY
                    : strcmp(kind, "libraries") == 0 ? KIND_LIBRARIES
                                                     : KIND_NONE;
}

__attribute__((destructor)) static void finish(void)
{
    char line[300];
    int length =
        snprintf(line, sizeof line, "%lu %s\n", atomic_load(&shim.calls), shim.failed);
    long file = 0;

    shim.kind = KIND_NONE;
    if (!shim.report)
        return;
    file = syscall(SYS_openat, AT_FDCWD, shim.report, O_WRONLY | O_CREAT | O_TRUNC, 0666);
    if (file >= 0)
        syscall(SYS_write, file, line, (size_t)length);
}

/* Counts a call. @return whether it must fail */
static bool fails(const char *name, const char *about, void *caller)
{
    unsigned long call = atomic_fetch_add(&shim.calls, 1) + 1;

    if (call == shim.at)
        snprintf(shim.failed, sizeof shim.failed, "%s(%.100s) from %.60s", name, about,
                 library_of(caller));
    return shim.at > 0 && (call == shim.at || (shim.on && call > shim.at));
}

static bool is_in(const char *path)
{
    return shim.in && strncmp(path, shim.in, strlen(shim.in)) == 0;
}

/* Whether a file is of the run's. */
static bool is_ours(int file)
{
    char link[40];
    char path[300];
    ssize_t length = 0;

    if (file <= STDERR_FILENO)
        return file != STDERR_FILENO;
    snprintf(link, sizeof link, "/proc/self/fd/%d", file);
    length = readlink(link, path, sizeof path - 1);
    path[length > 0 ? length : 0] = '\0';
    return is_in(path) || strstr(path, " (deleted)");
}

/* error: ENOSPC for what needs room */
static bool file_fails(const char *name, const char *about, int error, void *caller)
{
    if (shim.kind != KIND_FILES && !(shim.kind == KIND_DISK && error == ENOSPC))
        return false;
    if (!fails(name, about, caller))
        return false;
    errno = error;
    return true;
}

static bool use_fails(const char *name, int file, int error, void *caller)
{
    return (shim.kind == KIND_FILES || shim.kind == KIND_DISK) && is_ours(file) &&
           file_fails(name, "", error, caller);
}

static bool memory_fails(const char *name, void *caller)
{
    if (shim.kind != KIND_MEMORY && shim.kind != KIND_LIBRARIES)
        return false;
    if (is_own(caller) != (shim.kind == KIND_MEMORY))
        return false;
    if (shim.kind == KIND_LIBRARIES && is_spared(library_of(caller)))
        return false;
    if (!fails(name, "", caller))
        return false;
    errno = ENOMEM;
    return true;
}

/* ---- Memory --------------------------------------------------------------------- */

extern void *__libc_malloc(size_t size);
extern void *__libc_calloc(size_t count, size_t size);
extern void *__libc_realloc(void *block, size_t size);
extern void *__libc_memalign(size_t alignment, size_t size);

#define CALLER __builtin_return_address(0)

void *malloc(size_t size)
{
    return memory_fails("malloc", CALLER) ? NULL : __libc_malloc(size);
}

void *calloc(size_t count, size_t size)
{
    return memory_fails("calloc", CALLER) ? NULL : __libc_calloc(count, size);
}

void *realloc(void *block, size_t size)
{
    return memory_fails("realloc", CALLER) ? NULL : __libc_realloc(block, size);
}

int posix_memalign(void **out, size_t alignment, size_t size)
{
    void *block =
        memory_fails("posix_memalign", CALLER) ? NULL : __libc_memalign(alignment, size);

    if (!block)
        return ENOMEM;
    *out = block;
    return 0;
}

/* ---- Files ---------------------------------------------------------------------- */

/* The function that is shadowed, of the type of its shadow. */
#define REAL(name) ((__typeof__(&name))real(#name))

static void *real(const char *name)
{
    return dlsym(RTLD_NEXT, name);
}

static bool open_fails(const char *name, const char *path, bool writes, void *caller)
{
    return (writes || is_in(path)) &&
           file_fails(name, path, writes ? ENOSPC : EACCES, caller);
}

static mode_t mode_of(int flags, va_list args)
{
    return flags & (O_CREAT | __O_TMPFILE) ? va_arg(args, mode_t) : 0;
}

#define OPEN(name)                                                            \
    int name(const char *path, int flags, ...)                                \
    {                                                                         \
        va_list args;                                                         \
        mode_t mode = 0;                                                      \
                                                                              \
        va_start(args, flags);                                                \
        mode = mode_of(flags, args);                                          \
        va_end(args);                                                         \
        if (open_fails(#name, path, (flags & O_ACCMODE) != O_RDONLY, CALLER)) \
            return -1;                                                        \
        return REAL(name)(path, flags, mode);                                 \
    }
OPEN(open)
OPEN(open64)

#define FOPEN(name)                                                        \
    FILE *name(const char *path, const char *mode)                         \
    {                                                                      \
        if (open_fails(#name, path, strpbrk(mode, "wa+") != NULL, CALLER)) \
            return NULL;                                                   \
        return REAL(name)(path, mode);                                     \
    }
FOPEN(fopen)
FOPEN(fopen64)

#define MOVING(result, name, failure, error, about, parameters, arguments) \
    result name parameters                                                 \
    {                                                                      \
        if (file_fails(#name, about, error, CALLER))                       \
            return failure;                                                \
        return REAL(name) arguments;                                       \
    }
MOVING(int, rename, -1, EACCES, to, (const char *from, const char *to), (from, to))
MOVING(int, mkdir, -1, ENOSPC, path, (const char *path, mode_t mode), (path, mode))
MOVING(int, mkstemp, -1, ENOSPC, path, (char *path), (path))
MOVING(int, mkstemp64, -1, ENOSPC, path, (char *path), (path))
MOVING(FILE *, tmpfile, NULL, ENOSPC, "", (void), ())
MOVING(FILE *, tmpfile64, NULL, ENOSPC, "", (void), ())
MOVING(FILE *, fdopen, NULL, EMFILE, "", (int file, const char *mode), (file, mode))

#define USING(result, name, error, parameters, arguments) \
    result name parameters                                \
    {                                                     \
        if (use_fails(#name, file, error, CALLER))        \
            return -1;                                    \
        return REAL(name) arguments;                      \
    }
USING(ssize_t, write, ENOSPC, (int file, const void *bytes, size_t size),
      (file, bytes, size))
USING(ssize_t, pwrite, ENOSPC, (int file, const void *bytes, size_t size, off_t at),
      (file, bytes, size, at))
USING(ssize_t, pwrite64, ENOSPC, (int file, const void *bytes, size_t size, off64_t at),
      (file, bytes, size, at))
USING(ssize_t, read, EIO, (int file, void *bytes, size_t size), (file, bytes, size))
USING(ssize_t, pread, EIO, (int file, void *bytes, size_t size, off_t at),
      (file, bytes, size, at))
USING(ssize_t, pread64, EIO, (int file, void *bytes, size_t size, off64_t at),
      (file, bytes, size, at))
USING(int, fsync, EIO, (int file), (file))
USING(int, fdatasync, EIO, (int file), (file))
USING(int, ftruncate, EIO, (int file, off_t size), (file, size))
USING(int, ftruncate64, EIO, (int file, off64_t size), (file, size))
USING(int, dup, EMFILE, (int file), (file))

/* A stream that failed says so when it is asked. */
static void mark(FILE *file)
{
    file->_flags |= _IO_ERR_SEEN;
}

#define MARKING(result, name, failure, error, file, parameters, arguments) \
    result name parameters                                                 \
    {                                                                      \
        if (use_fails(#name, fileno(file), error, CALLER)) {               \
            mark(file);                                                    \
            return failure;                                                \
        }                                                                  \
        return REAL(name) arguments;                                       \
    }
MARKING(size_t, fwrite, 0, ENOSPC, file,
        (const void *bytes, size_t size, size_t count, FILE *file),
        (bytes, size, count, file))
MARKING(size_t, fread, 0, EIO, file, (void *bytes, size_t size, size_t count, FILE *file),
        (bytes, size, count, file))
MARKING(int, fputs, EOF, ENOSPC, file, (const char *text, FILE *file), (text, file))
MARKING(int, fputc, EOF, ENOSPC, file, (int byte, FILE *file), (byte, file))
MARKING(int, putc, EOF, ENOSPC, file, (int byte, FILE *file), (byte, file))
MARKING(int, fseek, -1, EIO, file, (FILE * file, long at, int from), (file, at, from))
MARKING(int, fflush, EOF, ENOSPC, file, (FILE * file), (file))

int fprintf(FILE *file, const char *format, ...)
{
    va_list args;
    int length = -1;

    if (use_fails("fprintf", fileno(file), ENOSPC, CALLER)) {
        mark(file);
        return -1;
    }
    va_start(args, format);
    length = vfprintf(file, format, args);
    va_end(args);
    return length;
}

int __fprintf_chk(FILE *file, int flag, const char *format, ...)
{
    va_list args;
    int length = -1;

    (void)flag;
    if (use_fails("fprintf", fileno(file), ENOSPC, CALLER)) {
        mark(file);
        return -1;
    }
    va_start(args, format);
    length = vfprintf(file, format, args);
    va_end(args);
    return length;
}

/* What closes is closed, whatever it answers. */
int fclose(FILE *file)
{
    bool failing = use_fails("fclose", fileno(file), ENOSPC, CALLER);
    int result = REAL(fclose)(file);

    return failing ? EOF : result;
}

int close(int file)
{
    bool failing = use_fails("close", file, EIO, CALLER);
    int result = REAL(close)(file);

    return failing ? -1 : result;
}
