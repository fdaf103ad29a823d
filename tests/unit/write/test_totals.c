#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "roof/caution.h"
#include "sample.h"

static void expect_line(const struct text *out, const char *line)
{
    struct text between = TEXT_INIT;

    text_printf(&between, "\n%s,\n", line);
    if (!strstr(out->data, between.data))
        fail_msg("no line %s in\n%s", line, out->data);
    text_release(&between);
}

static void sums_stand_by_quantity(void **state)
{
    struct totals totals = {0};
    struct sample sample;
    struct text out = TEXT_INIT;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    totals_add(&totals, &sample.building, &sample.set);
    totals_add(&totals, &sample.building, &sample.set);
    totals_csv(&out, &totals, &sample.set);
    assert_memory_equal(out.data, "quantity,of,value,\"", 19);
    assert_non_null(strstr(out.data, "fall protection."));
    expect_line(&out, "buildings,all,2");
    expect_line(&out, "roofs,all,4");
    expect_line(&out, "roofs,zoned,2");
    expect_line(&out, "roofs,left out,2");
    expect_line(&out, "roofs,not met,2");
    expect_line(&out, "roofs,unknown,2");
    expect_line(&out, "roofs,met,0");
    expect_line(&out, "roofs,estimated,2");
    expect_line(&out, "area_ft2,all,21958.4");
    expect_line(&out, "area_ft2,corner,2152.8");
    expect_line(&out, "edge_length_ft,all,853.0");
    expect_line(&out, "fasteners,all,200");
    expect_line(&out, "fasteners,seam-fastened,200");
    expect_line(&out, "fasteners,adhered,0");
    expect_line(&out, "board_fasteners,all,50");
    expect_line(&out, "roofs_estimated,storeys,2");
    expect_line(&out, "roofs_estimated,height,0");
    expect_line(&out, "roofs_assumed,exposure,2");
    expect_line(&out, "problems,error,2");
    expect_line(&out, "problems,note,0");
    text_release(&out);
}

static void a_roof_without_a_count_is_told(void **state)
{
    struct totals totals = {0};
    struct sample sample;
    struct text out = TEXT_INIT;

    (void)state;
    sample_fill(&sample, &unit_system_si);
    totals_add(&totals, &sample.building, &sample.set);
    sample.roofs[0].zones[1].attachment.assembly = NULL;
    totals_add(&totals, &sample.building, &sample.set);
    totals_csv(&out, &totals, &sample.set);
    expect_line(&out, "roofs,without a fastener count,1");
    expect_line(&out, "fasteners,all,100");
    expect_line(&out, "area_m2,all,2040.00");
    text_release(&out);
}

static void nothing_counted_is_unknown_not_zero(void **state)
{
    struct totals totals = {0};
    struct sample sample;
    struct text out = TEXT_INIT;

    (void)state;
    sample_fill(&sample, &unit_system_si);
    sample.roofs[0].zones[1].attachment.assembly = NULL;
    totals_add(&totals, &sample.building, &sample.set);
    totals_csv(&out, &totals, &sample.set);
    expect_line(&out, "fasteners,all,");
    expect_line(&out, "fasteners,seam-fastened,");
    expect_line(&out, "board_fasteners,all,");
    text_release(&out);
}

static void problems_are_counted_by_code(void **state)
{
    struct totals totals = {0};
    struct sample sample;

    (void)state;
    sample_fill(&sample, &unit_system_si);
    totals_add(&totals, &sample.building, &sample.set);
    assert_int_equal(totals.problem_codes[PROBLEM_HEIGHT_MISSING], 1);
    assert_int_equal(totals.problem_codes[PROBLEM_REPAIRED], 0);
    assert_int_equal(totals.assumptions[ASSUME_PULLOUT], 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sums_stand_by_quantity),
        cmocka_unit_test(a_roof_without_a_count_is_told),
        cmocka_unit_test(nothing_counted_is_unknown_not_zero),
        cmocka_unit_test(problems_are_counted_by_code),
    };

    return cmocka_run_group_tests_name("write/totals", tests, NULL, NULL);
}
