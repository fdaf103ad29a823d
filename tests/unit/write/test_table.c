#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "roof/caution.h"
#include "sample.h"
#include "write/table.h"

static size_t columns_of(const char *line, size_t length)
{
    size_t columns = 0;

    for (size_t i = 0; i < length; i++)
        columns += ((unsigned char)line[i] & 0xC0) != 0x80;
    return columns;
}

static void expect_narrow(const struct text *out)
{
    const char *line = out->data;

    assert_false(out->failed);
    while (*line) {
        size_t length = strcspn(line, "\n");

        if (columns_of(line, length) > 100)
            fail_msg("%zu columns: %.*s", columns_of(line, length), (int)length, line);
        line += length;
        assert_int_equal(*line, '\n');
        line++;
    }
}

static void expect_in(const struct text *out, const char *part)
{
    if (!strstr(out->data, part))
        fail_msg("no \"%s\" in\n%s", part, out->data);
}

static void print_roofs(struct text *out, const struct sample *sample, size_t most,
                        int times)
{
    struct roof_table table = roof_table_start(most);

    for (int i = 0; i < times; i++)
        roof_table_add(&table, &sample->building, &sample->set);
    roof_table_print(out, &table, &sample->set);
    roof_table_release(&table);
    roof_table_release(&table);
}

static void each_roof_is_a_row(void **state)
{
    struct sample sample;
    struct text out = TEXT_INIT;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    print_roofs(&out, &sample, 10, 1);
    expect_narrow(&out);
    expect_in(&out,
              "roof              height      area corner perim.  field inter. method"
              "           state       fasten.\n");
    expect_in(&out, "                      ft       ft2    psf    psf    psf    psf ");
    expect_in(&out, "W-1                 30.0   10763.9   83.5   62.7   41.8   20.9 "
                    "seam-fastened    not met         100\n");
    expect_in(&out, "=S,2                   -     215.3      -      -      -      - "
                    "-                unknown           -\n");
    assert_null(strstr(out.data, "more"));
    assert_null(strstr(out.data, "~"));
    text_release(&out);
}

static void the_rest_is_counted(void **state)
{
    struct sample sample;
    struct text out = TEXT_INIT;

    (void)state;
    sample_fill(&sample, &unit_system_si);
    print_roofs(&out, &sample, 3, 5);
    expect_narrow(&out);
    expect_in(&out, "\n\xE2\x80\xA6 and 7 more\n");
    text_release(&out);
}

static void long_and_wild_names_stay_in_their_column(void **state)
{
    struct sample sample;
    struct text out = TEXT_INIT;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    sample.roofs[0].id = "longer than a column is wide \xC3\xA9t\x1B[31m\xC2\x9B\xFF";
    sample.roofs[0].area = 1e6;
    print_roofs(&out, &sample, 10, 1);
    expect_narrow(&out);
    expect_in(&out, "\xE2\x80\xA6 wide \xC3\xA9t?[31m?? ");
    expect_in(&out, " 10763910 "); /* a number is never cut */
    assert_null(strchr(out.data, '\x1B'));
    text_release(&out);
}

static void an_estimated_height_is_marked_and_explained(void **state)
{
    struct sample sample;
    struct text out = TEXT_INIT;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    sample.roofs[0].estimated |= 1u << ESTIMATE_HEIGHT;
    print_roofs(&out, &sample, 10, 1);
    expect_in(&out, "  ~30.0 ");
    expect_in(&out, "~ estimated from storeys\n");
    text_release(&out);
}

static void no_roofs_no_table(void **state)
{
    struct sample sample;
    struct text out = TEXT_INIT;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    print_roofs(&out, &sample, 10, 0);
    assert_int_equal(out.length, 0);
    text_release(&out);
}

static void totals_say_what_is_weak(void **state)
{
    struct sample sample;
    struct totals totals = {0};
    struct text out = TEXT_INIT;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    totals_add(&totals, &sample.building, &sample.set);
    table_print(&out, &totals, &sample.set);
    expect_narrow(&out);
    expect_in(&out, "roofs        2 on 1 building: 1 zoned, 1 left out\n");
    expect_in(&out, "attachment   1 not met, 1 unknown, 0 met assumed, 0 met\n");
    expect_in(&out, "area                  10979 ft2\n");
    expect_in(&out, "corner                 1076 ft2   10.0 %\n");
    expect_in(&out, "fasteners    100 seam-fastened (by area, not from a layout)\n");
    expect_in(&out, "estimated    storeys (1)\n");
    expect_in(&out, "assumed      to find on site: exposure (1), pullout-untested (1)\n");
    expect_in(&out, "problems     1 error\n");
    expect_in(&out, "Planning figures, not a design");
    expect_in(&out, "invented");
    text_release(&out);
}

/* Everything weak at once, and nothing counted. */
static void long_lists_are_wrapped(void **state)
{
    struct sample sample;
    struct totals totals = {.roofs = 1000000, .zoned = 999999, .uncounted = 999999};
    struct text out = TEXT_INIT;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    for (int i = 0; i < ASSUMPTIONS; i++)
        totals.assumptions[i] = 123456;
    table_print(&out, &totals, &sample.set);
    expect_narrow(&out);
    expect_in(&out, "fasteners    none counted; 999999 zoned roofs without a count\n");
    expect_in(&out, "\n             ");
    for (int i = 0; i < ASSUMPTIONS; i++)
        expect_in(&out, assumption_name(i));
    text_release(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_roof_is_a_row),
        cmocka_unit_test(the_rest_is_counted),
        cmocka_unit_test(long_and_wild_names_stay_in_their_column),
        cmocka_unit_test(an_estimated_height_is_marked_and_explained),
        cmocka_unit_test(no_roofs_no_table),
        cmocka_unit_test(totals_say_what_is_weak),
        cmocka_unit_test(long_lists_are_wrapped),
    };

    return cmocka_run_group_tests_name("write/table", tests, NULL, NULL);
}
