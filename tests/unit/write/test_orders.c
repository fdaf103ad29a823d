/* orders.csv from orders made by hand. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>

#include "roof/order.h"
#include "sample.h"

static void expect(const struct text *out, const char *line)
{
    assert_false(out->failed);
    if (!strstr(out->data, line)) {
        print_error("%s\nisn't in\n%s\n", line, out->data);
        fail();
    }
}

/* 1,900 of the sheet in rolls of 1,000 ft2 at 0.85 a ft2; caulk, whose count one of two
 * roofs lacks; walkway pads that nobody counted; screws that a bid pays for; screws that
 * the catalogue lacks, priced by the box and by the piece. */
static void make(struct sample *sample, struct order *order, struct order_line lines[7],
                 const struct unit_system *units)
{
    lines[0] = (struct order_line){.method = METHOD_SEAM_FASTENED,
                                   .item = {.use = USE_FIELD_SHEET,
                                            .item = "sheet, roll 10 ft x 100 ft",
                                            .pack = "roll",
                                            .holds = 1000 * M2_PER_FT2,
                                            .laid = 1800 * M2_PER_FT2,
                                            .cuts = 100 * M2_PER_FT2,
                                            .rounding = 100 * M2_PER_FT2,
                                            .ordered = 2000 * M2_PER_FT2,
                                            .packs = 2,
                                            .bundle = 9,
                                            .price = 85 / M2_PER_FT2},
                                   .roofs = 2};
    lines[1] = lines[0];
    lines[1].item.use = USE_CAULK;
    lines[1].item.item = "caulk";
    lines[1].item.note = "the catalogue has none";
    lines[1].item.too_short = 1234;
    lines[1].uncounted = 1;
    lines[2] = (struct order_line){.method = METHOD_SEAM_FASTENED,
                                   .item = {.use = USE_WALKWAY,
                                            .item = "walkway pad",
                                            .pack = "piece",
                                            .note = "not counted: ways not given",
                                            .holds = 1,
                                            .laid = NAN,
                                            .cuts = NAN,
                                            .spare = NAN,
                                            .rounding = NAN,
                                            .ordered = NAN,
                                            .packs = NAN,
                                            .bundle = NAN,
                                            .price = 3200},
                                   .roofs = 2,
                                   .uncounted = 2};
    lines[3] = lines[0];
    lines[3].item.price = NAN;
    lines[3].item.paid = true;
    lines[4] = lines[0];
    lines[4].item.use = USE_SEAM_SCREW;
    lines[4].item.item = "membrane screw";
    lines[4].item.pack = NULL;
    lines[4].item.holds = lines[4].item.packs = lines[4].item.price = NAN;
    lines[5] = lines[4];
    lines[5].item.price = 24;
    lines[6] = lines[0];
    lines[6].item.price = NAN;
    *order = (struct order){.id = "W 2029",
                            .building = "W",
                            .year = 2029,
                            .roofs = 2,
                            .state = STATE_NOT_MET,
                            .assumed = UINT64_C(1) << ASSUME_STACK | UINT64_C(1)
                                                                         << ASSUME_EDGE,
                            .lines = lines,
                            .count = 7};
    sample_fill(sample, units);
    sample->building.orders = order;
    sample->building.order_count = 1;
}

static void test_rows(void **state)
{
    struct sample sample;
    struct order order;
    struct order_line lines[7];
    struct text out = TEXT_INIT;

    (void)state;
    make(&sample, &order, lines, &unit_system_us);
    orders_rows(&out, &sample.building, &sample.set);
    expect(&out, "W 2029,W,2029,seam-fastened,not met,");
    expect(&out, "stack");
    expect(&out, ",field sheet,\"sheet, roll 10 ft x 100 ft\",ft2,2,1900.0,0.0,100.0,"
                 "2000.0,roll,1000.0,2,9,850.00,roll,1700.00,,\n");
    expect(&out, ",\"on 1 of 2 roofs not counted: the catalogue has none; 1,234 don't "
                 "reach the deck, this one is the catalogue's longest\",\n");
    /* Nothing is shown as 0 that nobody counted. */
    expect(&out,
           ",walkway pad,walkway pad,each,2,,,,,piece,1,,,32.00,piece,,not counted: "
           "ways not given,\n");
    expect(&out, ",2000.0,roll,1000.0,2,9,,,,in the cost that was given for the roof,\n");
    expect(&out, ",2000.0,roll,1000.0,2,9,,,,no price,\n");
    expect(&out, ",,,,9,,,,the catalogue has none that suits: no price,\n");
    expect(&out, ",,,,9,0.24,each,44.59,the catalogue has none that suits,\n");
    text_release(&out);
}

static void test_si(void **state)
{
    struct sample sample;
    struct order order;
    struct order_line lines[7];
    struct text out = TEXT_INIT;

    (void)state;
    make(&sample, &order, lines, &unit_system_si);
    order.year = MISSING;
    orders_rows(&out, &sample.building, &sample.set);
    expect(&out, "W 2029,W,,seam-fastened,");
    expect(&out, ",m2,2,176.515776,0.0,9.290304,185.80608,roll,92.90304,2,9,850.00,roll,"
                 "1700.00,,\n");
    text_release(&out);
}

static void test_header(void **state)
{
    struct sample sample;
    struct text out = TEXT_INIT;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    orders_header(&out, &sample.set);
    expect(&out, "order,building,year,method,state,assumed,use,item,unit,roofs,needed,"
                 "spare,rounding,ordered,pack,pack_holds,packs,bundle,unit_price_usd,"
                 "price_unit,line_total_usd,note,");
    expect(&out, "not a design");
    expect(&out, "Prices are invented");
    text_release(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_rows),
        cmocka_unit_test(test_si),
        cmocka_unit_test(test_header),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
