#define _XOPEN_SOURCE 700 /* nftw() */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>

#include "scratch.h"
#include "write/output.h"

static struct output *opened(const char *path)
{
    struct output *output = NULL;
    struct outlay_error err = {0};

    if (output_open(path, &output, &err) != OUTLAY_OK)
        fail_msg("%s: %s", err.where, err.what);
    return output;
}

static void put(struct output *output, const char *text)
{
    assert_int_equal(output_write(output, text, strlen(text), NULL), OUTLAY_OK);
}

static void a_file_appears_when_it_is_whole(void **state)
{
    struct output *output = opened("a.csv");

    (void)state;
    put(output, "one\n");
    put(output, "two\n");
    assert_false(scratch_is_there("a.csv"));
    assert_true(scratch_is_there("a.csv.partial"));
    assert_int_equal(output_commit(output, NULL), OUTLAY_OK);
    scratch_expect("a.csv", "one\ntwo\n");
    assert_int_equal(scratch_count("."), 1);
}

static void an_aborted_file_leaves_nothing(void **state)
{
    struct output *output = opened("a.csv");

    (void)state;
    put(output, "one\n");
    output_abort(output);
    output_abort(NULL);
    assert_int_equal(scratch_count("."), 0);
}

/* A pipe in particular isn't opened: that would wait for its reader, or end its input. */
static void checking_changes_nothing(void **state)
{
    struct outlay_error err = {0};

    (void)state;
    assert_int_equal(output_check("-", false, &err), OUTLAY_OK);
    assert_int_equal(output_check("a.csv", false, &err), OUTLAY_OK);
    assert_int_equal(scratch_count("."), 0);
    assert_int_equal(mkfifo("pipe", 0600), 0);
    assert_int_equal(output_check("pipe", false, &err), OUTLAY_OK);
    scratch_write("a.csv", "one\n");
    assert_int_equal(output_check("a.csv", false, &err), OUTLAY_E_OUTPUT);
    assert_string_equal(err.what, "the output exists");
    assert_int_equal(output_check("a.csv", true, &err), OUTLAY_OK);
    scratch_expect("a.csv", "one\n");
    assert_int_equal(output_check("none/a.csv", true, &err), OUTLAY_E_OUTPUT);
    assert_string_equal(err.todo, "make the folder first");
    assert_int_equal(output_check(".", true, &err), OUTLAY_E_OUTPUT);
    assert_string_equal(err.todo, "name a file, not a folder");
    assert_int_equal(scratch_count("."), 2);
}

static void what_stood_there_stands_until_the_commit(void **state)
{
    struct output *output = NULL;

    (void)state;
    scratch_write("a.csv", "old");
    output = opened("a.csv");
    put(output, "new");
    scratch_expect("a.csv", "old");
    output_abort(output);
    scratch_expect("a.csv", "old");
    output = opened("a.csv");
    put(output, "new");
    assert_int_equal(output_commit(output, NULL), OUTLAY_OK);
    scratch_expect("a.csv", "new");
}

static void a_leftover_is_overwritten(void **state)
{
    struct output *output = NULL;

    (void)state;
    scratch_write("a.csv.partial", "left over from a run that was stopped");
    output = opened("a.csv");
    put(output, "new");
    assert_int_equal(output_commit(output, NULL), OUTLAY_OK);
    scratch_expect("a.csv", "new");
    assert_int_equal(scratch_count("."), 1);
}

static void a_link_keeps_pointing(void **state)
{
    struct output *output = NULL;
    struct stat found;

    (void)state;
    assert_int_equal(mkdir("real", 0777), 0);
    scratch_write("real/a.csv", "old");
    assert_int_equal(symlink("real/a.csv", "link.csv"), 0);
    output = opened("link.csv");
    put(output, "new");
    assert_int_equal(output_commit(output, NULL), OUTLAY_OK);
    scratch_expect("real/a.csv", "new");
    assert_int_equal(lstat("link.csv", &found), 0);
    assert_true(S_ISLNK(found.st_mode));
}

static void more_than_the_buffer_arrives_in_order(void **state)
{
    enum { PIECE = 70001, PIECES = 12 };
    char *piece = malloc(PIECE);
    char *big = malloc(PIECE * PIECES);
    struct output *output = opened("big");
    FILE *file = NULL;

    (void)state;
    assert_non_null(piece);
    assert_non_null(big);
    for (int i = 0; i < PIECES; i++) {
        memset(piece, 'a' + i, PIECE);
        assert_int_equal(output_write(output, piece, PIECE, NULL), OUTLAY_OK);
    }
    memset(big, 'z', PIECE * PIECES);
    assert_int_equal(output_write(output, big, PIECE * PIECES, NULL), OUTLAY_OK);
    assert_int_equal(output_commit(output, NULL), OUTLAY_OK);
    file = fopen("big", "r");
    assert_non_null(file);
    for (int i = 0; i < 2 * PIECES; i++) {
        int expected = i < PIECES ? 'a' + i : 'z';

        assert_int_equal(fread(piece, 1, PIECE, file), PIECE);
        assert_int_equal(piece[0], expected);
        assert_int_equal(piece[PIECE - 1], expected);
    }
    assert_int_equal(fgetc(file), EOF);
    fclose(file);
    free(piece);
    free(big);
}

/* Drops the rows behind the first that end in `ending`. */
static void expect_dropped(const char *rows, const char *ending, const char *left)
{
    struct output *output = opened("rows.csv");
    struct text text = TEXT_INIT;

    text_puts(&text, ending);
    put(output, rows);
    assert_int_equal(output_drop_rows(output, &text, NULL), OUTLAY_OK);
    put(output, "last\n");
    assert_int_equal(output_commit(output, NULL), OUTLAY_OK);
    scratch_expect("rows.csv", left);
    text_release(&text);
}

static void rows_are_taken_out_again(void **state)
{
    (void)state;
    expect_dropped("id,x\na,1\nb,2\nc,1\n", ",1\n", "id,x\nb,2\nlast\n");
    expect_dropped("a,1\nb,1\n", ",1\n", "last\n");
    expect_dropped("a,1\nb,2\n", ",3\n", "a,1\nb,2\nlast\n");
    /* a line end within quotes ends no row */
    expect_dropped("\"a\n,1\n\",2\nb,\"\"\"\n\"\nc,1\n", ",1\n",
                   "\"a\n,1\n\",2\nb,\"\"\"\n\"\nlast\n");
    expect_dropped("", ",1\n", "last\n");
}

static void read_all(const char *path, struct text *out)
{
    FILE *file = fopen(path, "r");
    int c;

    assert_non_null(file);
    while ((c = fgetc(file)) != EOF)
        text_putc(out, (char)c);
    fclose(file);
}

/* Far more than any buffer holds: what is read isn't overwritten before. */
static void many_rows_are_taken_out_again(void **state)
{
    struct output *output = opened("rows.csv");
    struct text text = TEXT_INIT;
    struct text left = TEXT_INIT;

    (void)state;
    for (int i = 0; i < 100000; i++) {
        text_printf(&text, "%d,%s\n", i, i % 3 ? "one" : "another");
        if (i % 3 == 0)
            text_printf(&left, "%d,another\n", i);
    }
    put(output, text.data);
    text_clear(&text);
    text_puts(&text, ",one\n");
    assert_int_equal(output_drop_rows(output, &text, NULL), OUTLAY_OK);
    assert_int_equal(output_commit(output, NULL), OUTLAY_OK);
    text_clear(&text);
    read_all("rows.csv", &text);
    assert_string_equal(text.data, left.data);
    text_release(&text);
    text_release(&left);
}

static void expect_open_fails(const char *path, const char *todo)
{
    struct output *output = NULL;
    struct outlay_error err = {0};

    assert_int_equal(output_open(path, &output, &err), OUTLAY_E_OUTPUT);
    assert_null(output);
    assert_int_equal(err.status, OUTLAY_E_OUTPUT);
    assert_string_equal(err.where, path);
    assert_string_equal(err.todo, todo);
    assert_true(strlen(err.what) > 0);
}

static void places_that_cannot_be_written_are_refused(void **state)
{
    (void)state;
    expect_open_fails("no/such/a.csv", "make the folder first");
    assert_int_equal(mkdir("folder", 0777), 0);
    expect_open_fails("folder", "name a file, not a folder");
    scratch_write("file", "");
    expect_open_fails("file/a.csv", "a part of the path is a file: name another place");
    assert_int_equal(scratch_count("."), 2);
}

/* The device that is always full: nothing is renamed over it. */
static void a_full_disk_is_found_at_the_commit(void **state)
{
    struct output *output = opened("/dev/full");
    struct outlay_error err = {0};
    struct stat found;

    (void)state;
    put(output, "fits into the buffer");
    assert_int_equal(output_commit(output, &err), OUTLAY_E_OUTPUT);
    assert_string_equal(err.where, "/dev/full");
    assert_non_null(strstr(err.what, strerror(ENOSPC)));
    assert_string_equal(err.todo, "make room there or write somewhere else");
    assert_int_equal(stat("/dev/full", &found), 0);
    assert_true(S_ISCHR(found.st_mode));
    assert_false(scratch_is_there("/dev/full.partial"));
}

static void a_full_disk_is_found_on_writing(void **state)
{
    struct output *output = opened("/dev/full");
    struct outlay_error err = {0};
    char piece[4096];
    enum outlay_status status = OUTLAY_OK;

    (void)state;
    memset(piece, 'x', sizeof piece);
    for (int i = 0; i < 1000 && status == OUTLAY_OK; i++)
        status = output_write(output, piece, sizeof piece, &err);
    assert_int_equal(status, OUTLAY_E_OUTPUT);
    output_abort(output);
    output = opened("/dev/full");
    put(output, "line\n");
    assert_int_equal(output_flush(output, NULL), OUTLAY_E_OUTPUT);
    output_abort(output);
}

/* A file that may not grow stands for a disk without room. */
static void a_file_that_does_not_fit_leaves_the_old_one(void **state)
{
    struct rlimit before;
    struct rlimit small;
    struct output *output = NULL;
    struct outlay_error err = {0};
    char piece[4096];

    (void)state;
    scratch_write("a.csv", "old");
    memset(piece, 'x', sizeof piece);
    signal(SIGXFSZ, SIG_IGN);
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &before), 0);
    small = before;
    small.rlim_cur = 6000;
    output = opened("a.csv");
    assert_int_equal(output_write(output, piece, sizeof piece, NULL), OUTLAY_OK);
    assert_int_equal(output_write(output, piece, sizeof piece, NULL), OUTLAY_OK);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &small), 0);
    assert_int_equal(output_commit(output, &err), OUTLAY_E_OUTPUT);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &before), 0);
    assert_non_null(strstr(err.what, strerror(EFBIG)));
    scratch_expect("a.csv", "old");
    assert_int_equal(scratch_count("."), 1);
}

static void incomplete_text_is_not_written(void **state)
{
    struct text text = TEXT_INIT;
    struct output *output = opened("a.csv");

    (void)state;
    text_puts(&text, "half");
    text.failed = true;
    assert_int_equal(output_text(output, &text, NULL), OUTLAY_E_MEMORY);
    text.failed = false;
    assert_int_equal(output_text(output, &text, NULL), OUTLAY_OK);
    assert_int_equal(output_commit(output, NULL), OUTLAY_OK);
    scratch_expect("a.csv", "half");
    text_release(&text);
}

/* Runs in a child, whose standard output is `path`. Returns the status. */
static int to_standard_output(const char *path, size_t repeats)
{
    int code = 0;
    pid_t child = fork();

    if (child == 0) {
        int file = open(path, O_WRONLY | O_CREAT | O_TRUNC, 0666);
        struct output *output = NULL;
        enum outlay_status status = OUTLAY_E_ARGUMENT;

        if (file < 0 || dup2(file, STDOUT_FILENO) < 0)
            _exit(99);
        status = output_open("-", &output, NULL);
        for (size_t i = 0; i < repeats && status == OUTLAY_OK; i++)
            status = output_write(output, "out\n", 4, NULL);
        if (status == OUTLAY_OK)
            status = output_commit(output, NULL);
        _exit((int)status);
    }
    assert_true(child > 0);
    assert_int_equal(waitpid(child, &code, 0), child);
    assert_true(WIFEXITED(code));
    return WEXITSTATUS(code);
}

static void a_dash_is_standard_output(void **state)
{
    (void)state;
    assert_int_equal(to_standard_output("copy", 2), OUTLAY_OK);
    scratch_expect("copy", "out\nout\n");
    assert_int_equal(scratch_count("."), 1);
    assert_int_equal(to_standard_output("/dev/full", 1), OUTLAY_E_OUTPUT);
    assert_int_equal(to_standard_output("/dev/null", 100000), OUTLAY_OK);
}

static void a_closed_pipe_is_an_error(void **state)
{
    int ends[2];
    char path[64];
    struct output *output = NULL;

    (void)state;
    signal(SIGPIPE, SIG_IGN);
    assert_int_equal(pipe(ends), 0);
    snprintf(path, sizeof path, "/proc/self/fd/%d", ends[1]);
    output = opened(path);
    put(output, "lost");
    close(ends[0]);
    assert_int_equal(output_commit(output, NULL), OUTLAY_E_OUTPUT);
    close(ends[1]);
}

#define IN_SCRATCH(test) \
    cmocka_unit_test_setup_teardown(test, scratch_enter, scratch_leave)

int main(void)
{
    const struct CMUnitTest tests[] = {
        IN_SCRATCH(a_file_appears_when_it_is_whole),
        IN_SCRATCH(an_aborted_file_leaves_nothing),
        IN_SCRATCH(checking_changes_nothing),
        IN_SCRATCH(what_stood_there_stands_until_the_commit),
        IN_SCRATCH(a_leftover_is_overwritten),
        IN_SCRATCH(a_link_keeps_pointing),
        IN_SCRATCH(rows_are_taken_out_again),
        IN_SCRATCH(many_rows_are_taken_out_again),
        IN_SCRATCH(more_than_the_buffer_arrives_in_order),
        IN_SCRATCH(places_that_cannot_be_written_are_refused),
        IN_SCRATCH(a_full_disk_is_found_at_the_commit),
        IN_SCRATCH(a_full_disk_is_found_on_writing),
        IN_SCRATCH(a_file_that_does_not_fit_leaves_the_old_one),
        IN_SCRATCH(incomplete_text_is_not_written),
        IN_SCRATCH(a_dash_is_standard_output),
        IN_SCRATCH(a_closed_pipe_is_an_error),
    };

    return cmocka_run_group_tests_name("write/output", tests, NULL, NULL);
}
