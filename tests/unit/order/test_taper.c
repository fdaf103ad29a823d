/* Tapered insulation in the bill: panels, fill, screws, nailers, R-values. */

#include "bill_site.h"

#include "base/text.h"
#include "roof/taper.h"

static struct taper_panel panels[64];
static struct edge border[4];
static double edge_most[4];
static struct point corners[4];
static struct taper_cell cell;
static struct taper taper;

/* 100 x 95.5 ft that rise from 0.5 in in the west to 25.5 in in the east, 1/4 in a foot:
 * 10 panels of each kind stand for them. */
static void tapered(struct site *site)
{
    const struct point ends[] = {
        {0, 0}, {100 * FT, 0}, {100 * FT, 95.5 * FT}, {0, 95.5 * FT}};

    rectangle(site);
    site->roof.given.stack = 3 * M_PER_IN;
    memset(panels, 0, sizeof panels);
    memcpy(corners, ends, sizeof corners);
    cell = (struct taper_cell){
        .ring = {corners, 4}, .base = 0.5 * M_PER_IN, .rise = {0.25 / 12, 0}};
    taper = (struct taper){.slope = 0.25 / 12,
                           .least = 0.5 * M_PER_IN,
                           .most = 25.5 * M_PER_IN,
                           .area = 9550 * FT2,
                           .volume = 9550 * FT2 * 13 * M_PER_IN,
                           .cells = &cell,
                           .cell_count = 1,
                           .edge_most = edge_most,
                           .format = {4 * FT, 4 * FT, 2 * M_PER_IN},
                           .cricket_format = {4 * FT, 4 * FT, 2 * M_PER_IN},
                           .panels = panels};
    for (int k = 0; k < 4; k++) {
        border[k] = (struct edge){
            .from = ends[k], .to = ends[(k + 1) % 4], .kind = EDGE_METAL, .height = NAN};
        edge_most[k] = (k == 3 ? 0.5 : 25.5) * M_PER_IN;
    }
    site->roof.edges = border;
    site->roof.edge_count = 4;
    site->roof.layouts = &site->layout;
    site->roof.layout_count = 1;
    site->roof.taper = &taper;
}

static struct taper_panel *add_panel(const char *letter, double thin, int fill)
{
    struct taper_panel *panel = &panels[taper.panel_count++];

    taper.fills = panels;
    taper.fill_count = taper.panel_count;
    *panel = (struct taper_panel){.letter = letter,
                                  .thin = thin * M_PER_IN,
                                  .thick = (thin + 1) * M_PER_IN,
                                  .fill = fill,
                                  .whole = true,
                                  .area = 16 * FT2,
                                  .length = 4 * FT,
                                  .width = 4 * FT};
    return panel;
}

static const struct bill_item *named(const struct bill *bill, enum item_use use,
                                     const char *start)
{
    for (size_t i = 0; i < bill->count; i++)
        if (bill->items[i].use == use &&
            strncmp(bill->items[i].item, start, strlen(start)) == 0)
            return &bill->items[i];
    fail_msg("no item \"%s\"", start);
    return NULL;
}

/* Two halves of a panel are cut from one only where they lie side by side across the
 * slope; the flat fill under them is cut either way. */
static void test_panels(void **state)
{
    struct site *site = *state;
    struct taper_panel *half = NULL;
    struct bill bill;

    tapered(site);
    for (int i = 0; i < 3; i++)
        add_panel("G", 0.5, i);
    for (int i = 0; i < 2; i++) { /* 4 ft along the slope, 2 ft across it */
        half = add_panel("H", 1.5, 1);
        half->whole = false;
        half->area = 8 * FT2;
        half->width = 2 * FT;
    }
    for (int i = 0; i < 2; i++) { /* 2 ft along the slope */
        half = add_panel("K", 1.5, 1);
        half->whole = false;
        half->area = 8 * FT2;
        half->length = 2 * FT;
    }
    bill = count(site);
    near(named(&bill, USE_TAPERED_PANEL, "tapered panel G 4 ft x 4 ft, 0.5 in to 1.5 in")
             ->packs,
         3);
    near(named(&bill, USE_TAPERED_PANEL, "tapered panel H")->packs, 1);
    near(named(&bill, USE_TAPERED_PANEL, "tapered panel K")->packs, 2);
    near(named(&bill, USE_TAPERED_PANEL, "tapered panel K")->cuts, 16 * FT2);
    near(named(&bill, USE_TAPERED_PANEL, "tapered panel K")->thickness, 2 * M_PER_IN);
    /* 1 + 2 whole, four halves */
    near(named(&bill, USE_TAPER_FILL, "taper fill board 4 ft x 4 ft x 2 in")->packs, 5);
    assert_null(find(&bill, USE_CRICKET_PANEL));
    for (size_t i = 0; i < bill.count; i++)
        if (item_use_is_board(bill.items[i].use))
            near(bill.items[i].packs * bill.items[i].holds, bill.items[i].ordered);
}

static void test_crickets(void **state)
{
    struct site *site = *state;
    struct bill bill;

    tapered(site);
    for (int i = 0; i < 2; i++) {
        struct taper_panel *panel = add_panel("L", 0.5, i);

        panel->cricket = true;
        panel->whole = false;
        panel->area = 100 * FT2;
        panel->length = panel->width = 0;
    }
    taper.cricket_count = 2;
    bill = count(site);
    near(need(&bill, USE_CRICKET_PANEL)->net, 200 * FT2);
    near(need(&bill, USE_CRICKET_PANEL)->packs, 13);
    near(need(&bill, USE_TAPER_FILL)->packs, 7); /* 100 ft2 */
    assert_non_null(strstr(need(&bill, USE_CRICKET_PANEL)->note, "2 crickets"));
}

/* Nine screws stand 10, 20 ... 90 ft east, through 3 in of boards and, of taper, 0.5 in
 * + 2.5 in for each 10 ft; 0.75 in stick in steel. So they need 6.75, 9.25, 11.75 and
 * 14.25 in; the rest is longer than the longest of 16 in. */
static void test_screws(void **state)
{
    struct site *site = *state;
    struct bill bill;

    tapered(site);
    site->roof.given.deck = DECK_STEEL;
    site->layout.row_count = 9;
    for (size_t i = 0; i < 9; i++) {
        double x = (double)(i + 1) * 10 * FT;

        site->rows[i] = (struct row_piece){
            .row = i, .fasteners = 1, .from = {x, 0}, .to = {x, 95.5 * FT}};
    }
    bill = count(site);
    near(named(&bill, USE_SEAM_SCREW, "membrane screw #15, 7 in")->net, 1);
    near(named(&bill, USE_SEAM_SCREW, "membrane screw #15, 10 in")->net, 1);
    near(named(&bill, USE_SEAM_SCREW, "membrane screw #15, 12 in")->net, 1);
    near(named(&bill, USE_SEAM_SCREW, "membrane screw #15, 16 in")->net, 6);
    near(need(&bill, USE_SEAM_PLATE)->net, 9);
    assert_non_null(strstr(need(&bill, USE_SEAM_SCREW)->note, "6.00 to 26.00 in"));
    assert_non_null(strstr(need(&bill, USE_SEAM_SCREW)->note, "longest"));
    near(named(&bill, USE_SEAM_SCREW, "membrane screw #15, 16 in")->too_short, 5);
    near(named(&bill, USE_SEAM_SCREW, "membrane screw #15, 16 in")->need / M_PER_IN,
         26.75);
    near(named(&bill, USE_SEAM_SCREW, "membrane screw #15, 12 in")->too_short, 0);
}

/* East of 50 ft no drain reaches: 3 in of boards and 0.75 in of steel, however thick the
 * nearest taper is. */
static void test_screws_without_a_drain(void **state)
{
    struct site *site = *state;
    struct bill bill;

    tapered(site);
    site->roof.given.deck = DECK_STEEL;
    corners[1].x = corners[2].x = 50 * FT;
    taper.unreached = 50 * 95.5 * FT2;
    site->layout.row_count = 2;
    for (size_t i = 0; i < 2; i++) {
        double x = (i ? 90 : 30) * FT;

        site->rows[i] = (struct row_piece){
            .row = i, .fasteners = 1 + (int)i, .from = {x, 0}, .to = {x, 95.5 * FT}};
    }
    bill = count(site);
    near(named(&bill, USE_SEAM_SCREW, "membrane screw #15, 4 in")->net, 2);
    near(named(&bill, USE_SEAM_SCREW, "membrane screw #15, 12 in")->net, 1);
    assert_non_null(strstr(need(&bill, USE_SEAM_SCREW)->note, "3.00 to 11.00 in"));
    near(taper_at(&taper, (struct point){50.5 * FT, FT}), 13.125 * M_PER_IN);
}

/* Screws of a board from 8 to 16 ft are as long as at 16 ft: 3 + 0.5 + 4 + 0.75 in. */
static void test_board_screws(void **state)
{
    struct site *site = *state;
    struct point at[] = {{8 * FT, 0}, {16 * FT, 0}, {16 * FT, 4 * FT}, {8 * FT, 4 * FT}};
    struct ring ring = {at, 4};
    struct polygon polygon = {&ring, 1};
    struct bill bill;

    tapered(site);
    site->roof.given.deck = DECK_STEEL;
    site->boards[0] = (struct board){
        .region = {&polygon, 1}, .area = 32 * FT2, .whole = true, .plates = 5};
    site->layout.board_count = 1;
    bill = count(site);
    near(named(&bill, USE_BOARD_SCREW, "insulation screw #12, 10 in")->net, 5);
}

/* 3 in + 25.5 in are 19 courses on three sides, 3.5 in are 3 on the fourth. */
static void test_nailers(void **state)
{
    struct site *site = *state;
    struct bill bill;

    tapered(site);
    bill = count(site);
    near(need(&bill, USE_NAILER)->net, (295.5 * 19 + 95.5 * 3) * FT);
    assert_non_null(strstr(need(&bill, USE_NAILER)->note, "3 to 19 courses"));
}

/* t = 3.5 in to 28.5 in evenly: 1 / mean(1 / t) = 25 / ln(28.5 / 3.5). */
static void test_resistance(void **state)
{
    struct site *site = *state;

    tapered(site);
    site->roof.scope = SCOPE_TEAR_OFF;
    (void)count(site);
    near(taper.flat, 3 * M_PER_IN);
    near(taper.r_mean, 5.7 * 16 * RSI_PER_R);
    near(taper.r_effective, 5.7 * 25 / log(28.5 / 3.5) * RSI_PER_R);
    site->roof.scope = SCOPE_RECOVER; /* what the old boards are worth isn't known */
    (void)count(site);
    near(taper.flat, 0);
    near(taper.r_effective, 5.7 * 25 / log(25.5 / 0.5) * RSI_PER_R);
}

static void test_lacking(void **state)
{
    struct site *site = *state;
    struct bill bill;

    tapered(site);
    taper.lacking = "no drains";
    bill = count(site);
    assert_true(isnan(need(&bill, USE_TAPERED_PANEL)->ordered));
    assert_non_null(strstr(need(&bill, USE_TAPERED_PANEL)->note, "not counted"));
    assert_true(isnan(need(&bill, USE_TAPER_FILL)->ordered));
    assert_non_null(
        strstr(need(&bill, USE_NAILER)->note, "2 courses on each other; with"));
    assert_non_null(strstr(need(&bill, USE_SEAM_SCREW)->note, "without the taper"));
}

/* The note must be one that an order shows: of an item without a count. */
static void test_unreached(void **state)
{
    struct site *site = *state;
    struct bill bill;

    tapered(site);
    add_panel("G", 0.5, 0);
    bill = count(site);
    assert_true(isfinite(need(&bill, USE_TAPERED_PANEL)->ordered));
    taper.unreached = 100 * FT2;
    bill = count(site);
    near(named(&bill, USE_TAPERED_PANEL, "tapered panel G")->packs, 1);
    assert_true(isnan(need(&bill, USE_TAPERED_PANEL)->ordered));
    assert_string_equal(need(&bill, USE_TAPERED_PANEL)->item, "tapered panel");
    assert_string_equal(need(&bill, USE_TAPERED_PANEL)->note,
                        "not counted where no drain can be reached");
}

/* A wall of 2 ft whose foot rises by 25 in: 3 in of boards come and 3 in go. */
static void test_walls(void **state)
{
    struct site *site = *state;
    struct outlay_error err = {0};
    struct building building = {
        .arena = site->catalog.arena, .roofs = &site->roof, .roof_count = 1};
    struct basis_settings basis = basis_defaults();
    struct point foot[4];

    tapered(site);
    basis_run(&building, &basis);
    for (int k = 0; k < 4; k++)
        border[k].height = k == 1 ? 2 * FT : NAN;
    border[1].kind = EDGE_PARAPET;
    assert_int_equal(order_run(&building, &site->settings, &err), OUTLAY_OK);
    assert_non_null(site->roof.problems);
    assert_int_equal(site->roof.problems->code, PROBLEM_TAPER_WALL);
    assert_non_null(strstr(site->roof.problems->what,
                           "the taper ends 1.5 in (38 mm) above the top of a parapet, "));
    site->roof.problems = NULL;
    site->roof.problems_end = NULL;
    border[1].height = (25.5 + 8) * M_PER_IN;
    assert_int_equal(order_run(&building, &site->settings, &err), OUTLAY_OK);
    assert_null(site->roof.problems);
    /* the taper is 12.5 + 0.5 in thick under the far side of a unit's curb */
    for (int k = 0; k < 4; k++)
        foot[k] = (struct point){(k % 3 ? 50 : 46) * FT, (k < 2 ? 40 : 44) * FT};
    site->roof.fixtures = &(struct fixture){
        .kind = FIXTURE_UNIT, .footprint = {foot, 4}, .height = 20 * M_PER_IN};
    site->roof.fixture_count = 1;
    assert_int_equal(order_run(&building, &site->settings, &err), OUTLAY_OK);
    assert_non_null(site->roof.problems);
    assert_non_null(
        strstr(site->roof.problems->what, "leaves 7.0 in (178 mm) of a curb"));
}

int main(void)
{
#define TEST(name) cmocka_unit_test_setup_teardown(name, set_up, tear_down)
    const struct CMUnitTest tests[] = {
        TEST(test_screws_without_a_drain),
        TEST(test_panels),
        TEST(test_crickets),
        TEST(test_screws),
        TEST(test_board_screws),
        TEST(test_nailers),
        TEST(test_resistance),
        TEST(test_lacking),
        TEST(test_unreached),
        TEST(test_walls),
    };

    return cmocka_run_group_tests_name("order/taper", tests, NULL, NULL);
}
