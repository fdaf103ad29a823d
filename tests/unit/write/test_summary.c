/* The summary as a grid: cell by cell what summary.csv says. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "sample.h"
#include "write/tables.h"

static void expect_the_file(const struct unit_system *units)
{
    struct sample sample;
    struct arena *arena = arena_new();
    struct text wanted = TEXT_INIT;
    struct text found = TEXT_INIT;
    struct text caution = TEXT_INIT;
    struct grid *grid = NULL;

    sample_fill(&sample, units);
    assert_non_null(arena);
    grid = grid_new(summary_sheet(arena), &sample.set);
    assert_non_null(grid);
    summary_header(&wanted, &sample.set);
    summary_rows(&wanted, &sample.building, &sample.set);
    for (size_t i = 0; i < SAMPLE_ROOFS; i++)
        summary_of_roof(grid, &sample.roofs[i], &sample.set);
    caution_print(&caution, true);
    grid_csv_header(&found, grid, caution.data);
    grid_csv_rows(&found, grid);
    assert_string_equal(found.data, wanted.data);
    text_release(&wanted);
    text_release(&found);
    text_release(&caution);
    grid_free(grid);
    arena_free(arena);
}

static void test_both_unit_systems(void **state)
{
    (void)state;
    expect_the_file(&unit_system_us);
    expect_the_file(&unit_system_si);
}

/* Areas may be added up over roofs, heights and pressures mustn't. */
static void test_only_sums_are_summed(void **state)
{
    struct arena *arena = arena_new();
    const struct grid_sheet *sheet = summary_sheet(arena);

    (void)state;
    assert_non_null(sheet);
    for (size_t i = 0; i < sheet->column_count; i++) {
        const struct grid_column *column = &sheet->columns[i];

        if (column->measure == MEASURE_AREA)
            assert_true(column->summed);
        if (column->kind == GRID_TEXT || column->measure == MEASURE_PRESSURE ||
            column->measure == MEASURE_SMALL || strcmp(column->name, "height") == 0)
            assert_false(column->summed);
    }
    arena_free(arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_both_unit_systems),
        cmocka_unit_test(test_only_sums_are_summed),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
