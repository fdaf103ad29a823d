#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <stdio.h>
#include <stdlib.h>

#include "roof/caution.h"
#include "sample.h"

enum { CELLS = 80, CELL_SIZE = 600 };

/* One record of RFC 4180. */
struct record {
    size_t count;
    char cells[CELLS][CELL_SIZE];
};

static void add_byte(struct record *record, size_t *length, char byte)
{
    assert_true(*length + 1 < CELL_SIZE);
    record->cells[record->count][(*length)++] = byte;
}

/* Reads the record at `at`; returns where the next one starts. */
static const char *read_record(struct record *record, const char *at)
{
    size_t length = 0;
    bool quoted = false;

    memset(record, 0, sizeof *record);
    for (; *at; at++) {
        if (quoted && *at == '"' && at[1] == '"') {
            add_byte(record, &length, *at++);
        } else if (*at == '"') {
            quoted = !quoted;
        } else if (!quoted && (*at == ',' || *at == '\n')) {
            record->count++;
            length = 0;
            if (*at == '\n')
                return at + 1;
            assert_true(record->count < CELLS);
        } else {
            add_byte(record, &length, *at);
        }
    }
    fail_msg("a record without an end");
    return at;
}

static const char *cell(const struct record *header, const struct record *row,
                        const char *name)
{
    assert_int_equal(header->count, row->count);
    for (size_t i = 0; i < header->count; i++)
        if (strcmp(header->cells[i], name) == 0)
            return row->cells[i];
    fail_msg("no column %s", name);
    return NULL;
}

struct table {
    struct record header;
    struct record rows[4];
};

static void read_summary(struct table *table, const struct sample *sample)
{
    struct text out = TEXT_INIT;
    const char *at = NULL;

    summary_header(&out, &sample->set);
    summary_rows(&out, &sample->building, &sample->set);
    assert_false(out.failed);
    at = read_record(&table->header, out.data);
    for (size_t i = 0; i < SAMPLE_ROOFS; i++)
        at = read_record(&table->rows[i], at);
    assert_string_equal(at, "");
    text_release(&out);
}

static int table_setup(void **state)
{
    *state = malloc(sizeof(struct table));
    return *state ? 0 : -1;
}

static int table_teardown(void **state)
{
    free(*state);
    return 0;
}

static void the_first_line_is_the_header(void **state)
{
    static const char *const first[] = {
        "roof_id",        "name",       "building",      "height_ft", "storeys",
        "area_ft2",       "corner_ft2", "perimeter_ft2", "field_ft2", "interior_ft2",
        "edge_length_ft", "corners",    "zone_width_ft"};
    struct table *table = *state;
    struct sample sample;

    sample_fill(&sample, &unit_system_us);
    read_summary(table, &sample);
    for (size_t i = 0; i < sizeof first / sizeof first[0]; i++)
        assert_string_equal(table->header.cells[i], first[i]);
}

static void the_last_column_is_the_caution(void **state)
{
    struct table *table = *state;
    struct sample sample;
    const char *last = NULL;

    sample_fill(&sample, &unit_system_us);
    read_summary(table, &sample);
    last = table->header.cells[table->header.count - 1];
    assert_memory_equal(last, caution_text(), strlen(caution_text()));
    assert_non_null(strstr(last, "invented"));
    assert_string_equal(table->rows[0].cells[table->header.count - 1], "");
}

static void a_row_has_the_results(void **state)
{
    struct table *table = *state;
    const struct record *header = &table->header;
    const struct record *row = &table->rows[0];
    struct sample sample;

    sample_fill(&sample, &unit_system_us);
    read_summary(table, &sample);
    assert_string_equal(cell(header, row, "roof_id"), "W-1");
    assert_string_equal(cell(header, row, "name"), "North \"big\", warehouse");
    assert_string_equal(cell(header, row, "height_ft"), "30.0");
    assert_string_equal(cell(header, row, "area_ft2"), "10763.9");
    assert_string_equal(cell(header, row, "interior_ft2"), "3766.9");
    assert_string_equal(cell(header, row, "edge_length_ft"), "426.5");
    assert_string_equal(cell(header, row, "metal_edge_ft"), "328.1");
    assert_string_equal(cell(header, row, "wall_edge_ft"), "164.0");
    assert_string_equal(cell(header, row, "parapet_edge_ft"), "0.0");
    assert_string_equal(cell(header, row, "corners"), "4");
    assert_string_equal(cell(header, row, "zone_width_ft"), "18.00");
    assert_string_equal(cell(header, row, "wind_speed_mph"), "115");
    assert_string_equal(cell(header, row, "corner_uplift_psf"), "83.5");
    assert_string_equal(cell(header, row, "interior_required_psf"), "25.1");
    assert_string_equal(cell(header, row, "method"), "seam-fastened");
    assert_string_equal(cell(header, row, "state"), "not met");
    assert_string_equal(cell(header, row, "reason"), "12 psf short");
    assert_string_equal(cell(header, row, "quantity_basis"), "by area");
    assert_string_equal(cell(header, row, "fasteners"), "100");
    assert_string_equal(cell(header, row, "half_sheets"), "2");
    assert_string_equal(cell(header, row, "field_row_spacing_ft"), "9.50");
    assert_string_equal(cell(header, row, "corner_per_board"), "");
    assert_string_equal(cell(header, row, "estimated"), "storeys");
    assert_string_equal(cell(header, row, "assumed"), "exposure; pullout-untested");
    assert_string_equal(cell(header, row, "problems"), "0");
}

static void si_has_its_own_names_and_decimals(void **state)
{
    struct table *table = *state;
    struct sample sample;

    sample_fill(&sample, &unit_system_si);
    read_summary(table, &sample);
    assert_string_equal(cell(&table->header, &table->rows[0], "area_m2"), "1000.00");
    assert_string_equal(cell(&table->header, &table->rows[0], "height_m"), "9.14");
    assert_string_equal(cell(&table->header, &table->rows[0], "corner_uplift_pa"),
                        "4000");
    assert_string_equal(
        cell(&table->header, &table->rows[0], "field_fastener_spacing_mm"), "152");
}

static void a_roof_left_out_has_empty_cells(void **state)
{
    static const char *const empty[] = {"height_ft",     "corner_ft2",     "corners",
                                        "zone_width_ft", "wind_speed_mph", "method",
                                        "assembly",      "fasteners",      "half_sheets"};
    struct table *table = *state;
    struct sample sample;

    sample_fill(&sample, &unit_system_us);
    read_summary(table, &sample);
    for (size_t i = 0; i < sizeof empty / sizeof empty[0]; i++)
        assert_string_equal(cell(&table->header, &table->rows[1], empty[i]), "");
    assert_string_equal(cell(&table->header, &table->rows[1], "roof_id"), "'=S,2");
    assert_string_equal(cell(&table->header, &table->rows[1], "state"), "unknown");
    assert_string_equal(cell(&table->header, &table->rows[1], "reason"),
                        "no height, no storeys");
    assert_string_equal(cell(&table->header, &table->rows[1], "problems"), "1");
}

static void a_problem_is_a_row(void **state)
{
    struct table *table = *state;
    struct text out = TEXT_INIT;
    struct sample sample;
    const char *at = NULL;

    sample_fill(&sample, &unit_system_us);
    sample.problem.what = "height \"tall, very\"";
    problems_header(&out, &sample.set);
    problems_rows(&out, &sample.building, &sample.set);
    at = read_record(&table->header, out.data);
    at = read_record(&table->rows[0], at);
    assert_string_equal(at, "");
    assert_memory_equal(out.data, "roof_id,severity,code,message,done,", 35);
    assert_string_equal(cell(&table->header, &table->rows[0], "roof_id"), "'=S,2");
    assert_string_equal(cell(&table->header, &table->rows[0], "severity"), "error");
    assert_string_equal(cell(&table->header, &table->rows[0], "code"), "height-missing");
    assert_string_equal(cell(&table->header, &table->rows[0], "message"),
                        "height \"tall, very\"");
    assert_string_equal(cell(&table->header, &table->rows[0], "done"), "left out");
    assert_string_equal(cell(&table->header, &table->rows[0], caution_text()), "");
    text_release(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_first_line_is_the_header),
        cmocka_unit_test(the_last_column_is_the_caution),
        cmocka_unit_test(a_row_has_the_results),
        cmocka_unit_test(si_has_its_own_names_and_decimals),
        cmocka_unit_test(a_roof_left_out_has_empty_cells),
        cmocka_unit_test(a_problem_is_a_row),
    };

    return cmocka_run_group_tests_name("write/csv", tests, table_setup, table_teardown);
}
