/* A grid holds what it was given, in printed units, and prints it as CSV. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>

#include "base/units.h"
#include "write/grid.h"

static const struct grid_column columns[] = {
    {"id", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"area", GRID_NUMBER, MEASURE_AREA, {0, 1}, true},
    {"total", GRID_MONEY, MEASURE_NONE, {0, 0}, true},
    {"cost", GRID_RATE, MEASURE_NONE, {0, 0}, false},
};
static const struct grid_sheet sheet = {"sample", columns, 4};

static struct grid *filled(const struct write_settings *set)
{
    struct grid *grid = grid_new(&sheet, set);

    assert_non_null(grid);
    grid_text(grid, "a,b");
    grid_number(grid, 1000 * M2_PER_FT2);
    grid_number(grid, 123456);
    grid_number(grid, 1500 / M2_PER_FT2);
    grid_text(grid, NULL);
    grid_number(grid, 500.4 * M2_PER_FT2);
    grid_number(grid, 44);
    grid_number(grid, NAN);
    return grid;
}

static void test_units_reach_names_and_numbers(void **state)
{
    struct write_settings us = {.units = &unit_system_us, .currency = "usd"};
    struct grid *grid = filled(&us);
    struct text out = TEXT_INIT;

    (void)state;
    grid_csv_header(&out, grid, "Take care, always.");
    grid_csv_rows(&out, grid);
    assert_string_equal(out.data,
                        "id,area_ft2,total_usd,cost_usd_per_ft2,\"Take care, always.\"\n"
                        "\"a,b\",1000,1234.56,15.00,\n"
                        ",500,0.44,,\n");
    text_release(&out);
    grid_free(grid);
}

static void test_json_is_what_csv_is(void **state)
{
    struct write_settings us = {.units = &unit_system_us, .currency = "usd"};
    struct grid *grid = filled(&us);
    struct text out = TEXT_INIT;

    (void)state;
    grid_json(&out, grid);
    assert_string_equal(
        out.data, "{\"name\":\"sample\",\"columns\":[\"id\",\"area_ft2\",\"total_usd\","
                  "\"cost_usd_per_ft2\"],\"decimals\":[null,0,2,2],\"rows\":[\n"
                  "[\"a,b\",1000,1234.56,15.00],\n"
                  "[null,500,0.44,null]\n]}");
    text_release(&out);
    grid_free(grid);
}

static void test_a_cleared_grid_starts_again(void **state)
{
    struct write_settings us = {.units = &unit_system_us, .currency = "usd"};
    struct grid *grid = filled(&us);

    (void)state;
    assert_int_equal(grid_rows(grid), 2);
    grid_clear(grid);
    assert_int_equal(grid_rows(grid), 0);
    grid_text(grid, "c");
    assert_int_equal(grid_rows(grid), 0);
    assert_false(grid_failed(grid));
    grid_free(grid);
}

static const struct grid_column mixed_columns[] = {
    {"unit", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"net", GRID_QUANTITY, MEASURE_NONE, {0, 0}, false},
};
static const struct grid_sheet mixed_sheet = {"mixed", mixed_columns, 2};

static void test_quantities_have_decimals_of_their_own(void **state)
{
    struct write_settings us = {.units = &unit_system_us, .currency = "usd"};
    struct grid *grid = grid_new(&mixed_sheet, &us);
    struct text out = TEXT_INIT;

    (void)state;
    assert_non_null(grid);
    grid_text(grid, "each");
    grid_quantity(grid, 12, 0);
    grid_text(grid, "ft");
    grid_quantity(grid, 12.04, 1);
    grid_csv_rows(&out, grid);
    assert_string_equal(out.data, "each,12,\nft,12.0,\n");
    assert_int_equal(grid_cell_decimals(grid, 1, 1), 1);
    text_release(&out);
    grid_free(grid);
}

static void test_a_text_may_stand_among_numbers(void **state)
{
    struct write_settings us = {.units = &unit_system_us, .currency = "usd"};
    static const struct grid_column year = {
        "year", GRID_NUMBER, MEASURE_NONE, {0, 0}, false};
    static const struct grid_sheet years = {"years", &year, 1};
    struct grid *grid = grid_new(&years, &us);
    struct text out = TEXT_INIT;

    (void)state;
    assert_non_null(grid);
    grid_number(grid, 2027);
    grid_text(grid, "all years");
    grid_number(grid, NAN);
    grid_csv_rows(&out, grid);
    grid_json_rows(&out, grid);
    assert_string_equal(out.data, "2027,\nall years,\n,\n"
                                  "[2027],\n[\"all years\"],\n[null]");
    text_release(&out);
    grid_free(grid);
}

static void test_packed_rows_come_back_as_they_were(void **state)
{
    struct write_settings si = {.units = &unit_system_si, .currency = "usd"};
    struct grid *grid = filled(&si);
    struct text packed = TEXT_INIT;
    struct text before = TEXT_INIT;
    struct text after = TEXT_INIT;
    struct text nothing = TEXT_INIT;

    (void)state;
    grid_csv_rows(&before, grid);
    grid_pack(&packed, grid);
    grid_clear(grid);
    grid_unpack(grid, &packed);
    grid_unpack(grid, &nothing);
    grid_csv_rows(&after, grid);
    assert_string_equal(after.data, before.data);
    text_release(&packed);
    text_release(&before);
    text_release(&after);
    grid_free(grid);
}

/* Memory may run out amid a cell. */
static void test_broken_rows_stay_packed(void **state)
{
    struct write_settings si = {.units = &unit_system_si, .currency = "usd"};
    struct grid *grid = filled(&si);
    struct text packed = TEXT_INIT;

    (void)state;
    grid_pack(&packed, grid);
    grid_clear(grid);
    packed.failed = true;
    grid_unpack(grid, &packed);
    assert_int_equal(grid_rows(grid), 0);
    assert_true(grid_failed(grid));
    text_release(&packed);
    grid_free(grid);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_units_reach_names_and_numbers),
        cmocka_unit_test(test_json_is_what_csv_is),
        cmocka_unit_test(test_a_cleared_grid_starts_again),
        cmocka_unit_test(test_quantities_have_decimals_of_their_own),
        cmocka_unit_test(test_a_text_may_stand_among_numbers),
        cmocka_unit_test(test_packed_rows_come_back_as_they_were),
        cmocka_unit_test(test_broken_rows_stay_packed),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
