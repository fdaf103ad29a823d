#define _DEFAULT_SOURCE /* mkstemps */

/* The table of tapered panels: what is built in, and what the loader refuses. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/text.h"
#include "base/units.h"
#include "catalog/panels.h"

#include "../temporary.h"

static int set_up(void **state)
{
    *state = arena_new();
    return *state ? 0 : -1;
}

static int tear_down(void **state)
{
    arena_free(*state);
    return 0;
}

static void test_built_in(void **state)
{
    static const double slopes[] = {0.125, 0.1875, 0.25, 0.375, 0.5, 0.12, 0.24};
    struct outlay_error err = {0};
    struct panel_list list;
    struct panel_sequence quarter;

    assert_int_equal(panels_load(*state, NULL, &list, &err), OUTLAY_OK);
    quarter = panels_of_slope(&list, 0.25 / 12);
    assert_int_equal(quarter.count, 2);
    assert_true(fabs(panel_slope(&quarter.panels[1]) - 0.25 / 12) < 1e-9);
    assert_true(quarter.panels[1].thin == quarter.panels[0].thick);
    for (size_t i = 0; i < sizeof slopes / sizeof slopes[0]; i++) {
        assert_true(panels_of_slope(&list, slopes[i] / 12).count > 0);
        assert_true(panels_of_slope(&list, 2 * slopes[i] / 12).count > 0); /* crickets */
    }
    assert_int_equal(panels_of_slope(&list, 0.251 / 12).count, 0);
}

/* The built-in table with one piece of text put in another's place, as a user's file. */
static void expect_refused(struct arena *arena, const char *from, const char *to,
                           const char *what, const char *where)
{
    char path[TEMPORARY_MOST];
    struct outlay_error err = {0};
    struct panel_list list;
    struct text text = TEXT_INIT;
    const char *at = strstr(catalog_panels_csv, from);
    FILE *file = NULL;
    int descriptor = mkstemps(temporary_name(path, "outlay-panels-XXXXXX.csv"), 4);

    assert_non_null(at);
    text_append(&text, catalog_panels_csv, (size_t)(at - catalog_panels_csv));
    text_puts(&text, to);
    text_puts(&text, at + strlen(from));
    assert_false(text.failed);
    file = fdopen(descriptor, "w");
    assert_non_null(file);
    fputs(text.data, file);
    fclose(file);
    assert_int_equal(panels_load(arena, path, &list, &err), OUTLAY_E_USAGE);
    unlink(path);
    assert_non_null(strstr(err.what, what));
    assert_non_null(strstr(err.where, where));
    text_release(&text);
}

static void test_refusals(void **state)
{
    expect_refused(*state, "panel,thin", "panels,thin", "isn't known", "row 1");
    expect_refused(*state, "\nA,0.5,1,", "\n,0.5,1,", "panel", "row 2, column panel");
    expect_refused(*state, "\nB,1,1.5", "\nA,1,1.5", "no other row", "row 3");
    expect_refused(*state, "\nA,0.5,1,", "\nA,1,1,", "more than thin_in",
                   "row 2, column thick_in");
    expect_refused(*state, "\nA,0.5,1,4", "\nA,0.5,1,0", "0", "column length_ft");
    /* A gap, a second start, another size in one sequence. */
    expect_refused(*state, "\nC,1.5,2,", "\nC,1.6,2.1,", "thick edge", "row 4");
    expect_refused(*state, "\nE,0.5,1.25,", "\nE,0.5,1,", "thick edge", "row 6");
    expect_refused(*state, "\nB,1,1.5,4,4", "\nB,1,1.5,4,8", "one width",
                   "row 3, column width_ft");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_built_in, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_refusals, set_up, tear_down),
    };

    return cmocka_run_group_tests_name("catalog/panels", tests, NULL, NULL);
}
