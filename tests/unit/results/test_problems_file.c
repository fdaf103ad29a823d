#define _XOPEN_SOURCE 700 /* nftw(), mkdtemp() */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "../write/scratch.h"

#include "base/units.h"
#include "results/problems_file.h"

static const char problems[] = "z.problems.csv";

/* Problems of a run that replaces z.geojson, put in their place. */
static struct problems_file *committed(struct settings *settings, bool any)
{
    struct problems_file *file = NULL;
    struct text rows = TEXT_INIT;

    *settings = (struct settings){.output = "z.geojson", .overwrite = true};
    settings->write.units = &unit_system_us;
    scratch_write(problems, "old");
    assert_int_equal(problems_file_new(settings, &file, NULL), OUTLAY_OK);
    if (any)
        text_puts(&rows, "new\n");
    assert_int_equal(problems_file_put(file, &rows, NULL), OUTLAY_OK);
    text_release(&rows);
    assert_int_equal(problems_file_commit(file, NULL), OUTLAY_OK);
    return file;
}

/* Zones that couldn't be put in their place keep the problems that belong to them. */
static void old_problems_come_back(void **state)
{
    struct settings settings;

    (void)state;
    for (int any = 0; any < 2; any++) {
        struct problems_file *file = committed(&settings, any == 1);

        problems_file_undo(file);
        problems_file_abort(file);
        scratch_expect(problems, "old");
        assert_int_not_equal(access("z.problems.csv.previous", F_OK), 0);
    }
}

static void old_problems_go_when_all_stands(void **state)
{
    struct settings settings;

    (void)state;
    problems_file_abort(committed(&settings, true));
    assert_int_equal(access(problems, F_OK), 0);
    assert_int_not_equal(access("z.problems.csv.previous", F_OK), 0);
    problems_file_abort(committed(&settings, false));
    assert_int_not_equal(access(problems, F_OK), 0);
    assert_int_not_equal(access("z.problems.csv.previous", F_OK), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(old_problems_come_back),
        cmocka_unit_test(old_problems_go_when_all_stands),
    };

    return cmocka_run_group_tests_name("results/problems_file", tests, scratch_enter,
                                       scratch_leave);
}
