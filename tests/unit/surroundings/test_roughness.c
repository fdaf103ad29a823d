/* The table from classes to surface roughness: what is read and what is refused. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "catalog/table.h"
#include "surroundings/roughness.h"

static enum outlay_status parse(const char *csv, struct roughness_table *out,
                                struct outlay_error *err)
{
    struct arena *arena = arena_new();
    struct table table;
    enum outlay_status status;

    assert_non_null(arena);
    *err = (struct outlay_error){0};
    status = table_parse(arena, "roughness.csv", csv, &table, err);
    if (status == OUTLAY_OK)
        status = roughness_read(&table, out, err);
    arena_free(arena);
    return status;
}

static int set_up(void **state)
{
    *state = malloc(sizeof(struct roughness_table));
    return *state ? 0 : -1;
}

static int tear_down(void **state)
{
    free(*state);
    return 0;
}

static void classes_have_their_roughness(void **state)
{
    struct roughness_table *table = *state;
    struct outlay_error err;

    assert_int_equal(parse("name,Roughness,class\nwater,D,11\ntown, b ,24\nfield,C,0\n"
                           "last,D,65535\n",
                           table, &err),
                     OUTLAY_OK);
    assert_int_equal(roughness_of(table, 11), ROUGHNESS_D);
    assert_int_equal(roughness_of(table, 24), ROUGHNESS_B);
    assert_int_equal(roughness_of(table, 0), ROUGHNESS_C);
    assert_int_equal(roughness_of(table, 65535), ROUGHNESS_D);
}

/* Never C in silence. */
static void other_values_are_unknown(void **state)
{
    static const double others[] = {12, -1, 65536, 1e300, 11.5, NAN, -INFINITY};
    struct roughness_table *table = *state;
    struct outlay_error err;

    assert_int_equal(parse("class;roughness\n11;D\n", table, &err), OUTLAY_OK);
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        assert_int_equal(roughness_of(table, others[i]), ROUGHNESS_MISSING);
}

static void faults_are_named_by_place(void **state)
{
    static const struct {
        const char *csv, *what, *where;
    } rows[] = {
        {"class,cover\n1,B\n", "missing", "roughness.csv, row 1, column roughness"},
        {"klass,roughness\n1,B\n", "missing", "roughness.csv, row 1, column class"},
        {"class,roughness,class\n1,B,1\n", "twice", "row 1, column class"},
        {"class,roughness\n1,B\n2,E\n", "\"E\" isn't B, C or D",
         "row 3, column roughness"},
        {"class,roughness\n1,\n", "\"\" isn't B, C or D", "row 2, column roughness"},
        {"class,roughness\n1,B\n1,C\n", "\"1\" stands there twice",
         "row 3, column class"},
        {"class,roughness\n1.5,B\n", "\"1.5\" isn't a whole", "row 2, column class"},
        {"class,roughness\nwater,D\n", "\"water\" isn't a whole", "row 2, column class"},
        {"class,roughness\n-1,D\n", "\"-1\" isn't a whole", "row 2, column class"},
        {"class,roughness\n65536,D\n", "\"65536\" isn't a whole", "row 2, column class"},
        {"class,roughness\n", "no class", "row 1"},
    };
    struct outlay_error err;

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        assert_int_equal(parse(rows[i].csv, *state, &err), OUTLAY_E_USAGE);
        if (!strstr(err.what, rows[i].what) || !strstr(err.where, rows[i].where) ||
            !strstr(err.todo, "class and roughness"))
            fail_msg("%s: %s: %s: %s", rows[i].csv, err.what, err.where, err.todo);
    }
}

static void a_missing_file_says_what_to_give(void **state)
{
    struct arena *arena = arena_new();
    const struct roughness_table *table = NULL;
    struct outlay_error err = {0};

    (void)state;
    assert_non_null(arena);
    assert_int_equal(roughness_load(arena, "none/roughness.csv", &table, &err),
                     OUTLAY_E_USAGE);
    assert_string_equal(err.where, "none/roughness.csv");
    assert_non_null(strstr(err.todo, "class and roughness"));
    arena_free(arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(classes_have_their_roughness, set_up, tear_down),
        cmocka_unit_test_setup_teardown(other_values_are_unknown, set_up, tear_down),
        cmocka_unit_test_setup_teardown(faults_are_named_by_place, set_up, tear_down),
        cmocka_unit_test(a_missing_file_says_what_to_give),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
