/* The file of site sheets: kept or not, its pages and its bytes. */

#define _XOPEN_SOURCE 700 /* nftw(), mkdtemp() */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "../write/scratch.h"
#include "draw/site_sheets.h"

static const struct write_settings set = {
    .units = &unit_system_us, .currency = "usd", .title = ""};

static struct site_sheet_settings settings_of(bool overwrite)
{
    return (struct site_sheet_settings){.write = &set, .overwrite = overwrite};
}

static void add_roofs(struct site_sheets *sheets)
{
    struct roof roofs[] = {{.id = "R-1", .building = "Yard", .height = 9},
                           {.id = "R-2", .building = "Yard", .height = 9}};
    struct building building = {.name = "Yard", .roofs = roofs, .roof_count = 2};
    for (size_t i = 0; i < 2; i++) {
        struct survey_place place = {.task = TASK_HEIGHT, .name = "H1"};
        struct survey_entry entry = {.kind = FINDING_HEIGHT, .why = "wind"};
        struct site_survey survey = {&roofs[i], &place, 1, &entry, 1};
        assert_int_equal(site_sheets_add(sheets, &building, &survey, NULL), OUTLAY_OK);
    }
}

static void draw(const char *path, bool overwrite)
{
    struct site_sheet_settings settings = settings_of(overwrite);
    struct site_sheets *sheets = NULL;
    assert_int_equal(site_sheets_open(path, &settings, &sheets, NULL), OUTLAY_OK);
    add_roofs(sheets);
    assert_int_equal(site_sheets_finish(sheets, "a test", NULL), OUTLAY_OK);
    assert_int_equal(site_sheets_commit(sheets, NULL), OUTLAY_OK);
}

static size_t bytes_of(const char *path, char *out, size_t room)
{
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    size_t count = fread(out, 1, room, file);
    assert_int_equal(fclose(file), 0);
    return count;
}

static void test_same_bytes(void **state)
{
    static char first[200000], second[200000];
    (void)state;
    draw("a.pdf", false);
    draw("b.pdf", false);
    size_t count = bytes_of("a.pdf", first, sizeof first);
    assert_true(count > 1000 && count < sizeof first);
    assert_int_equal(bytes_of("b.pdf", second, sizeof second), count);
    assert_memory_equal(first, second, count);
    assert_memory_equal(first, "%PDF", 4);
}

static void test_a_file_that_exists(void **state)
{
    struct site_sheet_settings settings = settings_of(false);
    struct site_sheets *sheets = NULL;
    (void)state;
    draw("there.pdf", false);
    assert_int_equal(site_sheets_open("there.pdf", &settings, &sheets, NULL),
                     OUTLAY_E_OUTPUT);
    assert_null(sheets);
    draw("there.pdf", true);
}

static void test_abort_leaves_nothing(void **state)
{
    struct site_sheet_settings settings = settings_of(false);
    struct site_sheets *sheets = NULL;
    (void)state;
    for (int finished = 0; finished < 2; finished++) {
        assert_int_equal(site_sheets_open("gone.pdf", &settings, &sheets, NULL),
                         OUTLAY_OK);
        add_roofs(sheets);
        if (finished)
            assert_int_equal(site_sheets_finish(sheets, "a test", NULL), OUTLAY_OK);
        site_sheets_abort(sheets);
        assert_int_not_equal(access("gone.pdf", F_OK), 0);
        assert_int_not_equal(access("gone.pdf.partial", F_OK), 0);
    }
    site_sheets_abort(NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_same_bytes, scratch_enter, scratch_leave),
        cmocka_unit_test_setup_teardown(test_a_file_that_exists, scratch_enter,
                                        scratch_leave),
        cmocka_unit_test_setup_teardown(test_abort_leaves_nothing, scratch_enter,
                                        scratch_leave),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
