#define _XOPEN_SOURCE 700 /* nftw() */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "scratch.h"
#include "write/folder.h"

static struct folder *opened(const char *path, bool overwrite)
{
    struct folder *folder = NULL;
    struct outlay_error err = {0};

    if (folder_open(path, overwrite, &folder, &err) != OUTLAY_OK)
        fail_msg("%s: %s", err.where, err.what);
    return folder;
}

static void add(struct folder *folder, const char *name, const char *content)
{
    char *path = folder_file(folder, name);

    assert_non_null(path);
    scratch_write(path, content);
    free(path);
}

static void expect_refused(const char *path, bool overwrite, const char *todo)
{
    struct folder *folder = NULL;
    struct outlay_error err = {0};

    assert_int_equal(folder_open(path, overwrite, &folder, &err), OUTLAY_E_OUTPUT);
    assert_null(folder);
    assert_string_equal(err.where, path);
    assert_string_equal(err.todo, todo);
}

static void a_folder_appears_when_it_is_whole(void **state)
{
    struct folder *folder = opened("out/", false);

    (void)state;
    add(folder, "run.json", "{}");
    assert_false(scratch_is_there("out"));
    scratch_expect("out.partial/run.json", "{}");
    assert_int_equal(folder_commit(folder, NULL), OUTLAY_OK);
    scratch_expect("out/run.json", "{}");
    assert_int_equal(scratch_count("."), 1);
}

static void an_aborted_folder_leaves_nothing(void **state)
{
    struct folder *folder = opened("out", false);

    (void)state;
    add(folder, "run.json", "{}");
    add(folder, "zones.geojson.partial", "{");
    folder_abort(folder);
    folder_abort(NULL);
    assert_int_equal(scratch_count("."), 0);
}

static void make_results(const char *path, const char *content)
{
    struct folder *folder = opened(path, false);

    add(folder, "run.json", content);
    add(folder, "other.csv", content);
    assert_int_equal(folder_commit(folder, NULL), OUTLAY_OK);
}

static void an_existing_folder_is_kept_unless_told(void **state)
{
    (void)state;
    make_results("out", "old");
    expect_refused("out", false, "name another one, or replace it with --overwrite");
    scratch_expect("out/run.json", "old");
    assert_int_equal(scratch_count("."), 1);
}

static void old_results_go_once_the_new_ones_stand(void **state)
{
    struct folder *folder = NULL;

    (void)state;
    make_results("out", "old");
    folder = opened("out", true);
    add(folder, "run.json", "new");
    scratch_expect("out/run.json", "old");
    assert_int_equal(folder_commit(folder, NULL), OUTLAY_OK);
    scratch_expect("out/run.json", "new");
    assert_int_equal(scratch_count("out"), 1);
    assert_int_equal(scratch_count("."), 1);
}

static void an_aborted_replacement_keeps_the_old_results(void **state)
{
    struct folder *folder = NULL;

    (void)state;
    make_results("out", "old");
    folder = opened("out", true);
    add(folder, "run.json", "new");
    folder_abort(folder);
    scratch_expect("out/run.json", "old");
    scratch_expect("out/other.csv", "old");
    assert_int_equal(scratch_count("."), 1);
}

static void what_no_run_wrote_is_never_replaced(void **state)
{
    (void)state;
    assert_int_equal(mkdir("mine", 0777), 0);
    scratch_write("mine/letter.txt", "dear");
    expect_refused("mine", true, "name another one");
    make_results("out", "old");
    assert_int_equal(mkdir("out/photos", 0777), 0);
    expect_refused("out", true, "move them, or name another one");
    scratch_write("file", "");
    expect_refused("file", true, "name another one");
    scratch_expect("mine/letter.txt", "dear");
    scratch_expect("out/run.json", "old");
    assert_int_equal(scratch_count("."), 3);
}

static void an_empty_folder_may_be_replaced(void **state)
{
    struct folder *folder = NULL;

    (void)state;
    assert_int_equal(mkdir("out", 0777), 0);
    folder = opened("out", true);
    add(folder, "run.json", "new");
    assert_int_equal(folder_commit(folder, NULL), OUTLAY_OK);
    scratch_expect("out/run.json", "new");
    assert_int_equal(scratch_count("."), 1);
}

static void leftovers_are_cleared(void **state)
{
    struct folder *folder = NULL;

    (void)state;
    assert_int_equal(mkdir("out.partial", 0777), 0);
    scratch_write("out.partial/zones.geojson", "half");
    folder = opened("out", false);
    add(folder, "run.json", "new");
    assert_int_equal(folder_commit(folder, NULL), OUTLAY_OK);
    assert_int_equal(scratch_count("out"), 1);
}

static void results_moved_aside_by_a_stopped_run_are_not_lost(void **state)
{
    struct folder *folder = NULL;
    struct outlay_error err = {0};

    (void)state;
    make_results("out.old", "older");
    make_results("out", "old");
    assert_int_equal(folder_open("out", true, &folder, &err), OUTLAY_E_OUTPUT);
    assert_string_equal(err.where, "out.old");
    scratch_expect("out.old/run.json", "older");
    scratch_expect("out/run.json", "old");
}

/* Something takes the place after the folder was opened. */
static void a_commit_that_fails_removes_only_its_own(void **state)
{
    struct folder *folder = opened("out", false);
    struct outlay_error err = {0};

    (void)state;
    add(folder, "run.json", "new");
    scratch_write("out", "in the way");
    assert_int_equal(folder_commit(folder, &err), OUTLAY_E_OUTPUT);
    assert_string_equal(err.where, "out");
    scratch_expect("out", "in the way");
    assert_int_equal(scratch_count("."), 1);
}

static void the_place_must_exist(void **state)
{
    struct folder *folder = NULL;
    struct outlay_error err = {0};

    (void)state;
    assert_int_equal(folder_open("no/out", false, &folder, &err), OUTLAY_E_OUTPUT);
    assert_string_equal(err.todo, "make the folder first");
}

#define IN_SCRATCH(test) \
    cmocka_unit_test_setup_teardown(test, scratch_enter, scratch_leave)

int main(void)
{
    const struct CMUnitTest tests[] = {
        IN_SCRATCH(a_folder_appears_when_it_is_whole),
        IN_SCRATCH(an_aborted_folder_leaves_nothing),
        IN_SCRATCH(an_existing_folder_is_kept_unless_told),
        IN_SCRATCH(old_results_go_once_the_new_ones_stand),
        IN_SCRATCH(an_aborted_replacement_keeps_the_old_results),
        IN_SCRATCH(what_no_run_wrote_is_never_replaced),
        IN_SCRATCH(an_empty_folder_may_be_replaced),
        IN_SCRATCH(leftovers_are_cleared),
        IN_SCRATCH(results_moved_aside_by_a_stopped_run_are_not_lost),
        IN_SCRATCH(a_commit_that_fails_removes_only_its_own),
        IN_SCRATCH(the_place_must_exist),
    };

    return cmocka_run_group_tests_name("write/folder", tests, NULL, NULL);
}
