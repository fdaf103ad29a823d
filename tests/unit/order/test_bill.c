/* Bills of layouts made by hand: one rectangle counted on paper, others by chance. */

#include "bill_site.h"

static void test_rectangle(void **state)
{
    struct site *site = *state;
    struct bill bill;
    const struct bill_item *sheets = NULL;

    rectangle(site);
    bill = count(site);
    order_packs(&bill);
    sheets = need(&bill, USE_FIELD_SHEET);
    near(sheets->net, 9550 * FT2);
    near(sheets->laps, 450 * FT2);
    near(sheets->packs, 10);
    near(sheets->ordered, 10000 * FT2);
    near(sheets->cuts + sheets->rounding + sheets->spare, 0);
    assert_non_null(strstr(sheets->item, "roll 10 ft x 100 ft"));
    near(need(&bill, USE_SEAM_PLATE)->net, 900);
    near(need(&bill, USE_SEAM_PLATE)->spare, 27); /* 3 % */
    /* 2 in + 3/4 in: the next in stock is 3-1/4 in */
    assert_string_equal(need(&bill, USE_SEAM_SCREW)->item,
                        "membrane screw #15, 3-1/4 in");
    near(need(&bill, USE_WELD_SIDE)->net, 900 * FT);
    near(need(&bill, USE_EDGE_METAL)->net, 391 * FT);
    assert_null(find(&bill, USE_COPING));
    assert_null(find(&bill, USE_T_JOINT));
    assert_null(find(&bill, USE_HALF_SHEET));
}

/* A ring of base securement whose shortest edge lies between two screws: the screws are
 * those that the layout counted. */
static void test_edge_without_a_screw(void **state)
{
    struct site *site = *state;
    struct bill bill;

    rectangle(site);
    for (size_t i = 0; i < 3; i++)
        site->rows[9 + i] = (struct row_piece){.row = 9,
                                               .base = true,
                                               .closed = true,
                                               .to = {i == 1 ? 0.1 : 3, 0},
                                               .spacing = 12 * M_PER_IN,
                                               .fasteners = i == 1 ? 0 : 10};
    site->layout.row_count = 12;
    bill = count(site);
    near(need(&bill, USE_SEAM_PLATE)->net, 920);
    near(need(&bill, USE_SEAM_SCREW)->net, 920);
}

/* A lap of 6 in on a sheet of 10 ft is 5 % of what is laid (common practice, no
 * source), 3 in 2.5 %: n sheets side by side, without the edge's own. */
static void test_lap_share(void **state)
{
    struct site *site = *state;

    for (int lap = 3; lap <= 6; lap += 3) {
        struct bill bill;
        const struct bill_item *sheets = NULL;

        rectangle(site);
        site->roof.area = 10 * (10 - lap / 12.0) * 100 * FT2;
        bill = count(site);
        sheets = need(&bill, USE_FIELD_SHEET);
        near(sheets->laps / sheets->laid, lap / 120.0);
    }
}

/* A curb of 4 x 4 ft isn't deducted, one of 10 x 10 ft is. */
static void test_openings(void **state)
{
    struct site *site = *state;

    for (int size = 4; size <= 10; size += 6) {
        struct bill bill;
        double hole = size * size * FT2;

        rectangle(site);
        square(site->hole, size * FT, size * FT);
        site->rings[1] = (struct ring){site->hole, 4};
        site->polygon.ring_count = 2;
        site->roof.area = 9550 * FT2 - hole;
        site->sheets[0].area = 1000 * FT2 - hole;
        bill = count(site);
        near(need(&bill, USE_FIELD_SHEET)->net,
             size == 4 ? 9550 * FT2 : 9550 * FT2 - hole);
    }
}

/* 14 whole boards and 4 halves a layer, each half traced 2 mm too long: two layers of
 * 2 in from 2 x (14 + 2) boards. What they cover is the roof. */
static void test_boards(void **state)
{
    struct site *site = *state;
    struct bill bill;
    const struct bill_item *boards = NULL;

    rectangle(site);
    site->roof.area = 511 * FT2;
    site->roof.given.stack = 4 * M_PER_IN;
    site->layout.board_count = 18;
    for (size_t i = 0; i < 18; i++) {
        struct board *board = &site->boards[i];

        board->whole = i < 14;
        board->cut_length = board->whole ? 8 * FT - 1e-3 : 4 * FT + 2e-3;
        board->cut_width = 4 * FT;
        board->area = board->cut_length * board->cut_width;
        board->plates = 5;
    }
    bill = count(site);
    boards = need(&bill, USE_BOARD);
    assert_string_equal(boards->item, "insulation board 4 ft x 8 ft x 2 in");
    near(boards->packs, 32);
    near(boards->ordered, 32 * 32 * FT2);
    near(boards->net, 2 * 511 * FT2);
    assert_non_null(strstr(boards->note, "14 whole and 4 cut pieces a layer"));
    near(need(&bill, USE_BOARD_PLATE)->net, 90); /* once, through both layers */
    assert_string_equal(need(&bill, USE_BOARD_SCREW)->item,
                        "insulation screw #12, 5 in"); /* 4 + 3/4 in */
}

/* What nobody counted stays open, what was counted as none isn't there. */
static void test_details(void **state)
{
    struct site *site = *state;
    struct bill bill;

    rectangle(site);
    site->roof.given.penetrations = 0;
    bill = count(site);
    assert_null(find(&bill, USE_BOOT));
    assert_true(isnan(need(&bill, USE_TARGET)->ordered));
    assert_non_null(need(&bill, USE_TARGET)->note);
    site->roof.given.drains = 3;
    bill = count(site);
    near(need(&bill, USE_TARGET)->ordered, 3);
    near(need(&bill, USE_SUMP)->ordered, 3);
}

/* Gravel-surfaced, 5.5 psf on two covers: 9,550 x 11 lb; 2,400 lb/yd3. Under them 2 in of
 * boards: 9,550 x 1 lb, 9,550 / 6 ft3 and 30 % more when loose. */
static void test_debris(void **state)
{
    struct site *site = *state;
    struct bill bill;

    rectangle(site);
    site->roof.given.covers = 2;
    site->roof.given.existing = EXISTING_GRAVEL_SURFACED;
    bill = count(site);
    near(need(&bill, USE_TEAR_OFF)->net, 2 * 9550 * FT2);
    near(need(&bill, USE_DEBRIS_WEIGHT)->net, (105050 + 9550) * KG_PER_LB);
    near(need(&bill, USE_DEBRIS_VOLUME)->net,
         (105050.0 / 2400 + 9550.0 / 6 / 27 * 1.3) * M3_PER_YD3);
    site->roof.given.covers = 0;
    bill = count(site);
    assert_null(find(&bill, USE_TEAR_OFF));
}

/* Where the old cover stays, nothing is torn off, one recover board goes on top and
 * screws pass the old 2 in too: 2 + 1/2 + 3/4 in = 3-1/4 in. */
static void test_recover(void **state)
{
    struct site *site = *state;
    struct bill bill;
    const struct bill_item *board = NULL;

    rectangle(site);
    site->roof.given.covers = 1;
    site->roof.given.wet_share = 0;
    site->roof.scope = SCOPE_RECOVER;
    site->boards[0] = (struct board){.area = 32 * FT2, .whole = true, .plates = 5};
    site->layout.board_count = 1;
    bill = count(site);
    assert_null(find(&bill, USE_TEAR_OFF));
    assert_null(find(&bill, USE_DEBRIS_WEIGHT));
    assert_null(find(&bill, USE_DEBRIS_VOLUME));
    board = need(&bill, USE_BOARD);
    assert_non_null(strstr(board->item, "recover board"));
    near(board->net, 32 * FT2);
    near(board->thickness, 0.5 * M_PER_IN);
    assert_string_equal(need(&bill, USE_SEAM_SCREW)->item,
                        "membrane screw #15, 3-1/4 in");
    /* a wet tenth is torn off below the local limit */
    site->roof.given.wet_share = 0.1;
    bill = count(site);
    near(need(&bill, USE_TEAR_OFF)->net, 955 * FT2);
    /* and filled up: 955 ft2 take 30 boards of 32 */
    near(need(&bill, USE_BOARD)->net + bill.items[1 + index_of(&bill, USE_BOARD)].net,
         (32 + 955) * FT2);
    near(need(&bill, USE_BOARD)->packs + bill.items[1 + index_of(&bill, USE_BOARD)].packs,
         1 + 30);
}

/* R-30 in zone 5 at an inch: 5.3 in, two layers; 5.3 + 3/4 in: the next screw has
 * 7 in. Old boards that are thicker stay the measure. */
static void test_climate_zone(void **state)
{
    struct site *site = *state;
    struct bill bill;

    rectangle(site);
    site->settings.climate_zone = 5;
    site->roof.scope = SCOPE_TEAR_OFF;
    site->boards[0] = (struct board){.area = 32 * FT2, .whole = true, .plates = 5};
    site->layout.board_count = 1;
    bill = count(site);
    near(need(&bill, USE_BOARD)->net, 2 * 32 * FT2);
    near(need(&bill, USE_BOARD)->thickness, 2.65 * M_PER_IN);
    assert_string_equal(need(&bill, USE_SEAM_SCREW)->item, "membrane screw #15, 7 in");
    site->roof.given.stack = 6 * M_PER_IN;
    bill = count(site);
    near(need(&bill, USE_BOARD)->thickness, 3 * M_PER_IN);
    site->roof.given.stack = 0; /* not heated below */
    bill = count(site);
    assert_null(find(&bill, USE_BOARD));
}

static void test_screw_too_long(void **state)
{
    struct site *site = *state;
    struct bill bill;

    rectangle(site);
    site->roof.given.stack = 30 * M_PER_IN;
    bill = count(site);
    assert_non_null(strstr(need(&bill, USE_SEAM_SCREW)->note, "longer than"));
}

static const struct bill_item *line_of(const struct order *order, enum item_use use)
{
    for (size_t i = 0; i < order->count; i++)
        if (order->lines[i].item.use == use)
            return &order->lines[i].item;
    return NULL;
}

/* Two roofs of 900 plates each: 927 + 927 = 1,854, two boxes; alone one each. */
static void test_packs(void **state)
{
    struct site *site = *state;
    struct bill bill;
    struct order order = {0};

    rectangle(site);
    bill = count(site);
    assert_true(order_add(site->catalog.arena, &order, METHOD_SEAM_FASTENED, &bill));
    assert_true(order_add(site->catalog.arena, &order, METHOD_SEAM_FASTENED, &bill));
    order_close(&order);
    near(line_of(&order, USE_SEAM_PLATE)->packs, 2);
    near(line_of(&order, USE_SEAM_PLATE)->laid, 1800);
    near(line_of(&order, USE_SEAM_PLATE)->spare, 54);
    near(line_of(&order, USE_SEAM_PLATE)->rounding, 146);
    near(line_of(&order, USE_SEAM_PLATE)->ordered, 2000);
    near(line_of(&order, USE_FIELD_SHEET)->packs, 20);
    assert_null(line_of(&order, USE_CREW)); /* work isn't packed */
    order_packs(&bill);
    near(need(&bill, USE_SEAM_PLATE)->packs, 1);
    near(need(&bill, USE_SEAM_PLATE)->rounding, 73);
}

/* Two roofs with a sheet of 40 ft each: one roll for the building, one each alone. */
static void test_rest_of_a_roll(void **state)
{
    struct site *site = *state;
    struct bill bill;
    struct order order = {0};

    rectangle(site);
    site->layout.sheet_count = 1;
    site->sheets[0].length = 40 * FT;
    site->sheets[0].area = site->roof.area = 400 * FT2;
    bill = count(site);
    near(need(&bill, USE_FIELD_SHEET)->ordered, 400 * FT2);
    assert_true(order_add(site->catalog.arena, &order, METHOD_SEAM_FASTENED, &bill));
    assert_true(order_add(site->catalog.arena, &order, METHOD_SEAM_FASTENED, &bill));
    order_close(&order);
    near(line_of(&order, USE_FIELD_SHEET)->packs, 1);
    order_packs(&bill);
    near(need(&bill, USE_FIELD_SHEET)->packs, 1);
    near(need(&bill, USE_FIELD_SHEET)->rounding, 600 * FT2);
}

static void test_nothing_laid(void **state)
{
    struct site *site = *state;
    struct bill bill = count(site);

    assert_int_equal(bill.count, 0);
}

static double chance(uint32_t *seed, double least, double most)
{
    *seed = *seed * 1664525u + 1013904223u;
    return least + (double)(*seed >> 8) / (1 << 24) * (most - least);
}

static void by_chance(struct site *site, uint32_t *seed)
{
    size_t sheets = (size_t)chance(seed, 1, 64);
    double sheet_area = 0;

    rectangle(site);
    for (size_t i = 0; i < sheets; i++) {
        struct sheet *sheet = &site->sheets[i];

        sheet->kind = (enum sheet_kind)(i % 3);
        sheet->width = sheet->kind == SHEET_HALF ? 5 * FT : 10 * FT;
        sheet->length = chance(seed, 0.1, 120);
        sheet->area = sheet->length * sheet->width * chance(seed, 0.2, 1);
        sheet_area += sheet->kind == SHEET_COVER_STRIP ? 0 : sheet->area;
    }
    site->layout.sheet_count = sheets;
    site->roof.area = sheet_area * chance(seed, 0.7, 1.02);
    site->layout.board_count = (size_t)chance(seed, 0, 256);
    for (size_t i = 0; i < site->layout.board_count; i++) {
        struct board *board = &site->boards[i];

        board->whole = i % 4 != 0;
        board->cut_length = board->whole ? 8 * FT : chance(seed, 0.05, 8 * FT);
        board->cut_width = board->whole ? 4 * FT : chance(seed, 0.05, 4 * FT);
        board->area = board->cut_length * board->cut_width *
                      (board->whole ? 1 : chance(seed, 0.3, 1));
        board->plates = (int)chance(seed, 0, 32);
    }
    site->roof.given.stack = chance(seed, 0, 0.3);
    site->layout.ribbon_length = chance(seed, 0, 4000);
    site->layout.glued_area = chance(seed, 0, 4000);
    site->layout.base_length = chance(seed, 0, 400);
    site->layout.t_joints = (size_t)chance(seed, 0, 100);
}

/* Five full sheets of 30 ft: two rolls, 10 and 40 ft left. Four half sheets of 20 ft: two
 * pairs side by side are 40 ft and come out of that rest, so no roll of 5 ft is ordered.
 * Six of them would take a third roll of 10 ft, no less than two of 5 ft. */
static void test_ripped(void **state)
{
    struct site *site = *state;
    struct bill bill;
    const struct bill_item *item = NULL;

    for (size_t i = 0; i < 11; i++)
        site->sheets[i] = (struct sheet){.kind = i < 5 ? SHEET_FULL : SHEET_HALF,
                                         .width = (i < 5 ? 10 : 5) * FT,
                                         .length = (i < 5 ? 30 : 20) * FT,
                                         .area = (i < 5 ? 300 : 100) * FT2};
    site->layout.sheet_count = 9;
    site->roof.area = 1800 * FT2;
    bill = count(site);
    order_packs(&bill);
    assert_null(find(&bill, USE_HALF_SHEET));
    item = need(&bill, USE_FIELD_SHEET);
    near(item->packs, 2);
    near(item->net, 1800 * FT2);
    near(item->laid, 1900 * FT2);
    assert_non_null(strstr(item->note, "9 sheets, of them 4 half, two side by side"));

    site->layout.sheet_count = 11;
    bill = count(site);
    order_packs(&bill);
    near(need(&bill, USE_HALF_SHEET)->packs, 2);
    near(need(&bill, USE_FIELD_SHEET)->packs, 2);
}

/* Spare of boards is ordered too, whoever rounds up. */
static void test_spare_boards(void **state)
{
    struct bill_item item = {.use = USE_BOARD,
                             .holds = 32,
                             .laid = 300 * 32,
                             .cuts = 20 * 32,
                             .spare = 16.5 * 32,
                             .ordered = 336.5 * 32,
                             .packs = 320};
    struct bill bill = {.items = &item, .count = 1};

    (void)state;
    order_whole_packs(&bill);
    assert_true(isnan(item.packs));
    order_packs(&bill);
    near(item.packs, 337);
    near(item.ordered, 337 * 32);
    near(item.rounding, 16);
}

/* What comes out whole is counted with its roof. */
static void test_whole_packs(void **state)
{
    struct site *site = *state;
    struct bill bill;
    const struct bill_item *sump = NULL;

    rectangle(site);
    site->roof.given.drains = 5;
    bill = count(site);
    order_whole_packs(&bill);
    sump = need(&bill, USE_SUMP);
    near(sump->ordered, 5);
    near(sump->packs, 5);
    assert_true(isnan(need(&bill, USE_SEAM_PLATE)->packs));
}

static void test_never_less(void **state)
{
    struct site *site = *state;
    uint32_t seed = 3;

    for (int round = 0; round < 400; round++) {
        struct bill bill;

        by_chance(site, &seed);
        bill = count(site);
        if (round % 2)
            order_packs(&bill);
        assert_true(bill.count > 0);
        for (size_t i = 0; i < bill.count; i++) {
            const struct bill_item *item = &bill.items[i];

            if (isnan(item->net))
                continue;
            assert_true(item->net >= 0 && item->laps >= 0 && item->cuts >= 0);
            assert_true(item->spare >= 0 && item->rounding >= -1e-9);
            assert_true(item->laid >= item->net);
            assert_true(item->ordered >= item->laid - 1e-9);
            near(item->laid, item->net + item->laps);
            near(item->ordered, item->laid + item->cuts + item->spare + item->rounding);
            if (isfinite(item->packs) && item->pack)
                near(item->ordered, item->packs * item->holds);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_rectangle, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_edge_without_a_screw, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_lap_share, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_openings, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_boards, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_details, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_debris, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_recover, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_climate_zone, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_screw_too_long, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_packs, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_rest_of_a_roll, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_nothing_laid, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_ripped, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_whole_packs, set_up, tear_down),
        cmocka_unit_test(test_spare_boards),
        cmocka_unit_test_setup_teardown(test_never_less, set_up, tear_down),
    };

    return cmocka_run_group_tests_name("order/bill", tests, NULL, NULL);
}
