#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <stdlib.h>

#include "sample.h"
#include "write/columns.h"

static const struct unit_system *const systems[] = {&unit_system_us, &unit_system_si};

static const struct column *find(const struct column *columns, size_t count, int units,
                                 const char *name)
{
    for (size_t i = 0; i < count; i++) {
        struct text found = TEXT_INIT;
        bool same = false;

        column_name(&found, &columns[i], units);
        same = strcmp(found.data, name) == 0;
        text_release(&found);
        if (same)
            return &columns[i];
    }
    fail_msg("no column %s", name);
    return NULL;
}

static void check_names(const struct column *columns, size_t count, int units)
{
    struct text names = TEXT_INIT;

    text_puts(&names, ",");
    for (size_t i = 0; i < count; i++) {
        struct text name = TEXT_INIT;
        struct text between = TEXT_INIT;
        const char *suffix = measure_suffix(columns[i].measure, systems[units]);

        column_name(&name, &columns[i], units);
        text_printf(&between, ",%s,", name.data);
        assert_null(strstr(names.data, between.data));
        text_puts(&names, between.data + 1);
        assert_true(name.length >= strlen(suffix));
        assert_string_equal(name.data + name.length - strlen(suffix), suffix);
        assert_int_equal(columns[i].keys[units].length, name.length + 4);
        assert_int_equal(strlen(columns[i].keys[units].json), name.length + 4);
        text_release(&name);
        text_release(&between);
    }
    text_release(&names);
}

static void names_are_unique_and_end_in_their_unit(void **state)
{
    (void)state;
    for (int units = 0; units < UNIT_SYSTEMS; units++) {
        check_names(zone_columns, zone_column_count, units);
        check_names(roof_columns, roof_column_count, units);
    }
}

static void expect_opening(const struct column *columns, size_t count, int units,
                           const char *expected)
{
    struct text names = TEXT_INIT;

    for (size_t i = 0; i < count && names.length < strlen(expected); i++) {
        if (i > 0)
            text_putc(&names, ' ');
        column_name(&names, &columns[i], units);
    }
    assert_string_equal(names.data, expected);
    text_release(&names);
}

static void zones_have_the_promised_columns_in_order(void **state)
{
    (void)state;
    expect_opening(zone_columns, zone_column_count, UNITS_US,
                   "roof_id name building zone standard standard_zone coefficients "
                   "area_ft2 share uplift_psf allowable_psf required_psf method assembly "
                   "state edge_rule quantity_basis fasteners row_spacing_ft "
                   "fastener_spacing_in per_board estimated assumed");
    expect_opening(zone_columns, zone_column_count, UNITS_SI,
                   "roof_id name building zone standard standard_zone coefficients "
                   "area_m2 share uplift_pa allowable_pa required_pa method assembly "
                   "state edge_rule quantity_basis fasteners row_spacing_m "
                   "fastener_spacing_mm per_board estimated assumed");
}

static void roofs_open_with_the_promised_columns(void **state)
{
    (void)state;
    expect_opening(roof_columns, roof_column_count, UNITS_US,
                   "roof_id name building height_ft storeys area_ft2 corner_ft2 "
                   "perimeter_ft2 field_ft2 interior_ft2 edge_length_ft corners "
                   "zone_width_ft");
}

static double zone_number(struct sample *sample, int units, const char *name, size_t zone)
{
    struct row row = row_start(&sample->set, &sample->roofs[0]);

    row.zone = &sample->roofs[0].zones[zone];
    return column_number(find(zone_columns, zone_column_count, units, name), &row);
}

static double roof_number(struct sample *sample, int units, const char *name, size_t roof)
{
    struct row row = row_start(&sample->set, &sample->roofs[roof]);

    return column_number(find(roof_columns, roof_column_count, units, name), &row);
}

static void expect_near(double value, double expected)
{
    if (!(fabs(value - expected) <= 1e-6 * fabs(expected)))
        fail_msg("%.9g isn't %.9g", value, expected);
}

static void numbers_come_in_the_unit_of_their_name(void **state)
{
    struct sample sample;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    expect_near(zone_number(&sample, UNITS_US, "area_ft2", 0), 1076.39104);
    expect_near(zone_number(&sample, UNITS_US, "uplift_psf", 0), 83.5417372);
    expect_near(zone_number(&sample, UNITS_US, "row_spacing_ft", 0), 9.5);
    expect_near(zone_number(&sample, UNITS_US, "fastener_spacing_in", 0), 6);
    expect_near(roof_number(&sample, UNITS_US, "height_ft", 0), 30);
    expect_near(roof_number(&sample, UNITS_US, "wind_speed_mph", 0), 115);
    sample_fill(&sample, &unit_system_si);
    expect_near(zone_number(&sample, UNITS_SI, "area_m2", 0), 100);
    expect_near(zone_number(&sample, UNITS_SI, "uplift_pa", 0), 4000);
    expect_near(zone_number(&sample, UNITS_SI, "fastener_spacing_mm", 0), 152.4);
    expect_near(zone_number(&sample, UNITS_SI, "share", 1), 0.25004);
}

static void a_roof_shows_each_zone_by_its_role(void **state)
{
    struct sample sample;

    (void)state;
    sample_fill(&sample, &unit_system_si);
    expect_near(roof_number(&sample, UNITS_SI, "corner_m2", 0), 100);
    expect_near(roof_number(&sample, UNITS_SI, "interior_m2", 0), 349.96);
    expect_near(roof_number(&sample, UNITS_SI, "perimeter_uplift_pa", 0), 3000);
    expect_near(roof_number(&sample, UNITS_SI, "field_required_pa", 0), 2400);
}

static void a_zone_that_a_zoned_roof_lacks_covers_nothing(void **state)
{
    struct sample sample;

    (void)state;
    sample_fill(&sample, &unit_system_si);
    sample.roofs[0].zone_count = 3;
    assert_true(roof_number(&sample, UNITS_SI, "interior_m2", 0) == 0);
    assert_true(isnan(roof_number(&sample, UNITS_SI, "interior_uplift_pa", 0)));
    assert_true(isnan(roof_number(&sample, UNITS_SI, "interior_row_spacing_m", 0)));
}

static void a_roof_that_was_left_out_has_no_results(void **state)
{
    static const char *const unknown[] = {"height_m",
                                          "storeys",
                                          "corner_m2",
                                          "interior_m2",
                                          "edge_length_m",
                                          "corners",
                                          "zone_width_m",
                                          "wind_speed_mps",
                                          "corner_uplift_pa",
                                          "fasteners",
                                          "board_fasteners",
                                          "half_sheets",
                                          "field_row_spacing_m",
                                          "corner_per_board"};
    struct sample sample;

    (void)state;
    sample_fill(&sample, &unit_system_si);
    for (size_t i = 0; i < sizeof unknown / sizeof unknown[0]; i++)
        assert_true(isnan(roof_number(&sample, UNITS_SI, unknown[i], 1)));
    expect_near(roof_number(&sample, UNITS_SI, "area_m2", 1), 20);
    expect_near(roof_number(&sample, UNITS_SI, "problems", 1), 1);
}

static void counts_need_an_assembly_in_every_zone(void **state)
{
    struct sample sample;

    (void)state;
    sample_fill(&sample, &unit_system_si);
    /* 10 + 25.004 + 30 + 34.996 and a quarter of it, zones rounded up one by one */
    expect_near(roof_number(&sample, UNITS_SI, "fasteners", 0), 100);
    expect_near(roof_number(&sample, UNITS_SI, "board_fasteners", 0), 25);
    expect_near(zone_number(&sample, UNITS_SI, "fasteners", 1), 26);
    sample.roofs[0].zones[2].attachment.assembly = NULL;
    sample.roofs[0].zones[2].attachment.fasteners = 0;
    assert_true(isnan(zone_number(&sample, UNITS_SI, "fasteners", 2)));
    assert_true(isnan(roof_number(&sample, UNITS_SI, "fasteners", 0)));
}

static void unknown_uplift_is_unknown(void **state)
{
    struct sample sample;
    struct row row;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    sample.roofs[0].zones[0].uplift = (struct zone_uplift){.known = false};
    assert_true(isnan(zone_number(&sample, UNITS_US, "uplift_psf", 0)));
    assert_true(isnan(zone_number(&sample, UNITS_US, "allowable_psf", 0)));
    assert_true(isnan(zone_number(&sample, UNITS_US, "required_psf", 0)));
    row = row_start(&sample.set, &sample.roofs[0]);
    row.zone = &sample.roofs[0].zones[0];
    assert_null(column_text(
        find(zone_columns, zone_column_count, UNITS_US, "coefficients"), &row));
}

static const char *roof_text(struct sample *sample, const char *name, size_t roof)
{
    struct row row = row_start(&sample->set, &sample->roofs[roof]);

    return column_text(find(roof_columns, roof_column_count, UNITS_US, name), &row);
}

static void a_roof_tells_its_worst(void **state)
{
    struct sample sample;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    assert_string_equal(roof_text(&sample, "state", 0), "not met");
    assert_string_equal(roof_text(&sample, "reason", 0), "12 psf short");
    sample.roofs[0].zones[0].uplift.basis = BASIS_PRINT;
    assert_string_equal(roof_text(&sample, "coefficients", 0), "from memory");
    assert_string_equal(roof_text(&sample, "reason", 1), "no height, no storeys");
    assert_string_equal(roof_text(&sample, "state", 1), "unknown");
    assert_null(roof_text(&sample, "method", 1));
}

static void assemblies_that_differ_are_said_to(void **state)
{
    struct sample sample;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    assert_string_equal(roof_text(&sample, "assembly", 0), "Seam-fastened, 10 ft \"A\"");
    sample.roofs[0].zones[3].attachment.assembly = "Other";
    assert_string_equal(roof_text(&sample, "assembly", 0), "differs by zone");
    sample.roofs[0].zones[3].attachment.assembly = NULL;
    assert_string_equal(roof_text(&sample, "assembly", 0), "differs by zone");
}

static void lists_name_their_bits(void **state)
{
    struct sample sample;
    struct text out = TEXT_INIT;
    struct row row;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    row = row_start(&sample.set, &sample.roofs[0]);
    column_names(&out, find(zone_columns, zone_column_count, UNITS_US, "assumed"), &row);
    assert_string_equal(out.data, "exposure; pullout-untested");
    text_release(&out);
}

static void dust_of_sums_costs_no_fastener(void **state)
{
    (void)state;
    assert_true(fasteners_whole(12 + 1e-12) == 12);
    assert_true(fasteners_whole(12.001) == 13);
    assert_true(fasteners_whole(0) == 0);
    assert_true(isnan(fasteners_whole(NAN)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(names_are_unique_and_end_in_their_unit),
        cmocka_unit_test(zones_have_the_promised_columns_in_order),
        cmocka_unit_test(roofs_open_with_the_promised_columns),
        cmocka_unit_test(numbers_come_in_the_unit_of_their_name),
        cmocka_unit_test(a_roof_shows_each_zone_by_its_role),
        cmocka_unit_test(a_zone_that_a_zoned_roof_lacks_covers_nothing),
        cmocka_unit_test(a_roof_that_was_left_out_has_no_results),
        cmocka_unit_test(counts_need_an_assembly_in_every_zone),
        cmocka_unit_test(unknown_uplift_is_unknown),
        cmocka_unit_test(a_roof_tells_its_worst),
        cmocka_unit_test(assemblies_that_differ_are_said_to),
        cmocka_unit_test(lists_name_their_bits),
        cmocka_unit_test(dust_of_sums_costs_no_fastener),
    };

    return cmocka_run_group_tests_name("write/columns", tests, NULL, NULL);
}
