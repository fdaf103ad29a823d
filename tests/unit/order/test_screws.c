/* What screws that don't reach the deck should hold. */

#include "bill_site.h"

/* A roof of two zones, met by area, with a row of seven screws and a board of five. */
static struct roof *roof_with(struct site *site, double stack, enum method method)
{
    struct roof *roof = &site->roof;

    roof->given.deck = DECK_STEEL;
    roof->given.stack = stack;
    roof->scope = SCOPE_TEAR_OFF;
    roof->area = 100;
    roof->state = STATE_MET;
    roof->zone_count = 2;
    roof->zones[0].role = ZONE_CORNER;
    roof->zones[1].role = ZONE_FIELD;
    site->rows[0] = (struct row_piece){.fasteners = 7, .to = {20, 0}};
    site->boards[0] = (struct board){.whole = true, .area = 3, .plates = 5};
    site->layout.row_count = site->layout.board_count = 1;
    site->layout.sheet_count = 1;
    site->layout.method = method;
    site->layout.states[ZONE_CORNER] = STATE_NOT_MET;
    site->layout.reasons[ZONE_CORNER] = "weak";
    site->layout.states[ZONE_FIELD] = STATE_MET;
    roof->layouts = &site->layout;
    roof->layout_count = 1;
    return roof;
}

static void order_of(struct site *site)
{
    struct building building = {
        .arena = site->catalog.arena, .roofs = &site->roof, .roof_count = 1};
    struct basis_settings basis = basis_defaults();

    basis_run(&building, &basis);
    assert_int_equal(order_run(&building, &site->settings, NULL), OUTLAY_OK);
}

/* Through 18 in of boards and 3/4 in into steel: the catalogue's longest have 16 and
 * 12 in. What already wasn't met keeps its reason. */
static void test_too_short(void **state)
{
    struct site *site = *state;
    struct roof *roof = roof_with(site, 18 * M_PER_IN, METHOD_SEAM_FASTENED);

    order_of(site);
    assert_int_equal(roof->state, STATE_NOT_MET);
    assert_int_equal(roof->zones[1].attachment.state, STATE_NOT_MET);
    assert_string_equal(
        roof->zones[1].attachment.reason,
        "7 of 7 screws of the catalogue's longest kind, membrane screw "
        "#15, 16 in, don't reach the deck: up to 18.75 in (476 mm) needed");
    assert_string_equal(site->layout.reasons[ZONE_CORNER], "weak");
    assert_int_equal(roof->problems->code, PROBLEM_SCREW_SHORT);
}

/* 14 in: only those of the boards are too short, which hold the covering where that is
 * glued to the boards. */
static void test_board_screws(void **state)
{
    struct site *site = *state;
    struct roof *roof = roof_with(site, 14 * M_PER_IN, METHOD_SEAM_FASTENED);

    order_of(site);
    assert_int_equal(site->layout.states[ZONE_FIELD], STATE_MET);
    assert_int_equal(roof->problems->code, PROBLEM_SCREW_SHORT);
    roof_with(site, 14 * M_PER_IN, METHOD_ADHERED_FASTENED);
    order_of(site);
    assert_int_equal(site->layout.states[ZONE_FIELD], STATE_NOT_MET);
}

static void test_long_enough(void **state)
{
    struct site *site = *state;
    struct roof *roof = roof_with(site, 4 * M_PER_IN, METHOD_SEAM_FASTENED);

    order_of(site);
    assert_int_equal(site->layout.states[ZONE_FIELD], STATE_MET);
    assert_null(roof->problems);
}

/* A table of items that has no screw for the deck. */
static void test_none(void **state)
{
    struct site *site = *state;
    struct roof *roof = roof_with(site, 4 * M_PER_IN, METHOD_SEAM_FASTENED);

    site->items.count = 2;
    order_of(site);
    assert_int_equal(site->layout.states[ZONE_FIELD], STATE_UNKNOWN);
    assert_string_equal(site->layout.reasons[ZONE_FIELD],
                        "the catalogue has no membrane screw for the deck");
    assert_int_equal(roof->state, STATE_NOT_MET);
    assert_int_equal(roof->problems->code, PROBLEM_NO_SCREW);
}

int main(void)
{
#define TEST(name) cmocka_unit_test_setup_teardown(name, set_up, tear_down)
    const struct CMUnitTest tests[] = {
        TEST(test_too_short),
        TEST(test_board_screws),
        TEST(test_long_enough),
        TEST(test_none),
    };

    return cmocka_run_group_tests_name("order/screws", tests, NULL, NULL);
}
