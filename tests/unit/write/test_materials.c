/* materials.csv from bills made by hand. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>

#include "roof/layout.h"
#include "sample.h"

struct bills {
    struct sample sample;
    struct layout layouts[2];
    struct bill bills[2];
    struct bill_item items[2];
};

static void make(struct bills *made, const struct unit_system *units)
{
    struct roof *roof = &made->sample.roofs[0];

    *made = (struct bills){
        .layouts = {{.method = METHOD_SEAM_FASTENED, .assembly = "rows, \"10 ft\""},
                    {.method = METHOD_ADHERED}}};
    sample_fill(&made->sample, units);
    for (int role = 0; role < ZONE_ROLES; role++) {
        made->layouts[0].states[role] = STATE_MET;
        made->layouts[1].states[role] = STATE_NOT_MET;
    }
    made->layouts[0].states[ZONE_FIELD] = STATE_MET_ASSUMED;
    made->layouts[1].reasons[ZONE_CORNER] = "the deck, steel, doesn't suit";
    made->items[0] = (struct bill_item){.use = USE_FIELD_SHEET,
                                        .item = "sheet, roll 10 ft x 100 ft",
                                        .pack = "roll",
                                        .holds = 1000 * M2_PER_FT2,
                                        .net = 950 * M2_PER_FT2,
                                        .laps = 50 * M2_PER_FT2,
                                        .laid = 1000 * M2_PER_FT2,
                                        .ordered = 1000 * M2_PER_FT2,
                                        .packs = 1};
    made->items[1] = (struct bill_item){.use = USE_WALKWAY,
                                        .item = "walkway pad",
                                        .note = "not counted: 3 in (76 mm)",
                                        .holds = NAN,
                                        .net = NAN,
                                        .laps = NAN,
                                        .laid = NAN,
                                        .cuts = NAN,
                                        .spare = NAN,
                                        .rounding = NAN,
                                        .ordered = NAN,
                                        .packs = NAN};
    made->bills[0] = (struct bill){.items = made->items, .count = 2};
    roof->layouts = made->layouts;
    roof->bills = made->bills;
    roof->layout_count = 2;
}

static void expect(const struct text *out, const char *line)
{
    assert_false(out->failed);
    if (!strstr(out->data, line)) {
        print_error("%s\nisn't in\n%s\n", line, out->data);
        fail();
    }
}

static void test_rows(void **state)
{
    struct bills made;
    struct text out = TEXT_INIT;

    (void)state;
    make(&made, &unit_system_us);
    materials_rows(&out, &made.sample.building, &made.sample.set);
    /* The worst zone's state, the lap's share of the sheet and of what is covered. */
    expect(&out,
           ",seam-fastened,\"rows, \"\"10 ft\"\"\",met assumed,field sheet,\"sheet, "
           "roll 10 ft x 100 ft\",ft2,950.0,50.0,1000.0,0.0,0.0,0.0,1000.0,roll,"
           "1000.0,1,0.0500,0.0526,,\n");
    /* Nothing is shown as 0 that nobody counted. */
    expect(&out, ",walkway pad,walkway pad,each,,,,,,,,,,,,,not counted: 3 in,\n");
    expect(&out, ",adhered,,not met,,nothing laid out,,,,,,,,,,,,,,\"the deck, steel, "
                 "doesn't suit\",\n");
    text_release(&out);
}

static void test_si(void **state)
{
    struct bills made;
    struct text out = TEXT_INIT;

    (void)state;
    make(&made, &unit_system_si);
    materials_rows(&out, &made.sample.building, &made.sample.set);
    expect(&out, ",m2,88.257888,4.645152,92.90304,0.0,0.0,0.0,92.90304,roll,92.90304,1,");
    expect(&out, ",not counted: 76 mm,\n");
    text_release(&out);
}

/* A roof's share of packs that are rounded up for an order isn't whole. */
static void test_share_of_packs(void **state)
{
    struct bills made;
    struct text out = TEXT_INIT;

    (void)state;
    make(&made, &unit_system_us);
    made.items[0].net = made.items[0].laid = made.items[0].ordered = 750 * M2_PER_FT2;
    made.items[0].laps = 0;
    made.items[0].packs = NAN;
    materials_rows(&out, &made.sample.building, &made.sample.set);
    expect(&out, ",ft2,750.0,0.0,750.0,0.0,0.0,0.0,750.0,roll,1000.0,0.75,");
    text_release(&out);
}

static size_t commas(const char *line)
{
    size_t count = 0;
    bool quoted = false;

    for (; *line && *line != '\n'; line++) {
        quoted = *line == '"' ? !quoted : quoted;
        count += *line == ',' && !quoted;
    }
    return count;
}

static void test_header(void **state)
{
    struct bills made;
    struct text header = TEXT_INIT;
    struct text rows = TEXT_INIT;

    (void)state;
    make(&made, &unit_system_us);
    materials_header(&header, &made.sample.set);
    materials_rows(&rows, &made.sample.building, &made.sample.set);
    expect(&header, "not a design");
    expect(&header, "Pack sizes and crew rates are invented");
    for (const char *line = rows.data; line && *line; line = strchr(line, '\n') + 1)
        assert_int_equal(commas(line), commas(header.data));
    made.sample.set.items_built_in = false;
    text_clear(&header);
    materials_header(&header, &made.sample.set);
    assert_null(strstr(header.data, "Pack sizes"));
    text_release(&header);
    text_release(&rows);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_rows),
        cmocka_unit_test(test_si),
        cmocka_unit_test(test_share_of_packs),
        cmocka_unit_test(test_header),
    };

    return cmocka_run_group_tests_name("write/materials", tests, NULL, NULL);
}
