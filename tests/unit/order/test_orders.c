/* What roofs buy together, put together at once and from the book of a plan. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <string.h>

#include "order/book.h"
#include "roof/layout.h"

/* Two roofs: one needs 900 screws and boards, the other 300 screws and nobody counted its
 * boots. Boxes hold 500. */
struct site {
    struct building building;
    struct roof roofs[2];
    struct layout layouts[2];
    struct bill bills[2];
    struct bill_item items[2][4];
};

static struct bill_item item(enum item_use use, const char *name, double laid,
                             double holds)
{
    return (struct bill_item){.use = use,
                              .item = name,
                              .pack = "box",
                              .holds = holds,
                              .net = laid,
                              .laid = laid,
                              .spare = laid / 10,
                              .ordered = laid * 1.1,
                              .packs = NAN,
                              .price = 4};
}

static int set_up(void **state)
{
    static struct site site;

    site = (struct site){.building = {.name = "W", .roofs = site.roofs, .roof_count = 2}};
    site.building.arena = arena_new();
    assert_non_null(site.building.arena);
    site.items[0][0] = item(USE_SEAM_SCREW, "screw, 4 in", 900, 500);
    site.items[0][1] = item(USE_BOOT, "boot", 5, 1);
    site.items[0][2] = item(USE_CREW, "crew hours", 12, NAN);
    site.items[1][0] = item(USE_SEAM_SCREW, "screw, 4 in", 300, 500);
    site.items[1][1] = item(USE_BOOT, "boot", NAN, 1);
    for (size_t i = 0; i < 2; i++) {
        site.layouts[i].method = METHOD_SEAM_FASTENED;
        site.bills[i] = (struct bill){.items = site.items[i], .count = i == 0 ? 3 : 2};
        site.roofs[i] = (struct roof){.id = i == 0 ? "a" : "b",
                                      .state = STATE_MET,
                                      .layouts = &site.layouts[i],
                                      .bills = &site.bills[i],
                                      .layout_count = 1};
    }
    site.roofs[1].state = STATE_NOT_MET;
    site.roofs[1].assumed = UINT64_C(1) << ASSUME_STACK;
    *state = &site;
    return 0;
}

static int tear_down(void **state)
{
    struct site *site = *state;

    arena_free(site->building.arena);
    return 0;
}

static void run(struct site *site, enum order_by order_by)
{
    struct order_settings settings = {.order_by = order_by};
    struct outlay_error err = {0};

    assert_int_equal(orders_run(&site->building, &settings, &err), OUTLAY_OK);
}

static void near(double value, double expected)
{
    if (!(fabs(value - expected) < 1e-9))
        fail_msg("%.9f, expected %.9f", value, expected);
}

/* 900 + 300 and a tenth more: 1,320 screws, three boxes. The boots of one roof count. */
static void expect_both(const struct order *order)
{
    const struct order_line *screws = &order->lines[0], *boots = &order->lines[1];

    assert_int_equal(order->roofs, 2);
    assert_int_equal(order->state, STATE_NOT_MET);
    assert_true(order->assumed == UINT64_C(1) << ASSUME_STACK);
    assert_int_equal(order->count, 2);
    assert_string_equal(screws->item.item, "screw, 4 in");
    near(screws->item.laid, 1200);
    near(screws->item.spare, 120);
    near(screws->item.rounding, 180);
    near(screws->item.ordered, 1500);
    near(screws->item.packs, 3);
    assert_int_equal(screws->roofs, 2);
    assert_int_equal(screws->uncounted, 0);
    near(boots->item.laid, 5);
    near(boots->item.packs, 6);
    assert_int_equal(boots->roofs, 2);
    assert_int_equal(boots->uncounted, 1);
    assert_int_equal(order_material(order, METHOD_SEAM_FASTENED), 1500 * 4 + 6 * 4);
    assert_int_equal(order_material(order, METHOD_ADHERED), 0);
}

static void test_building(void **state)
{
    struct site *site = *state;

    run(site, ORDER_BY_BUILDING);
    assert_int_equal(site->building.order_count, 1);
    assert_string_equal(site->building.orders[0].id, "W");
    expect_both(&site->building.orders[0]);
}

static void test_roof(void **state)
{
    struct site *site = *state;
    const struct order *orders = NULL;

    run(site, ORDER_BY_ROOF);
    orders = site->building.orders;
    assert_int_equal(site->building.order_count, 2);
    assert_string_equal(orders[1].id, "b");
    near(orders[0].lines[0].item.packs, 2);
    near(orders[1].lines[0].item.packs, 1);
    assert_true(isnan(orders[1].lines[1].item.packs)); /* nobody counted any */
    assert_int_equal(orders[1].lines[1].uncounted, 1);
}

/* A visit and the portfolio are put together later. */
static void test_later(void **state)
{
    struct site *site = *state;

    run(site, ORDER_BY_VISIT);
    run(site, ORDER_BY_PORTFOLIO);
    assert_int_equal(site->building.order_count, 0);
}

/* Goods that a cost of the roof's own pays for aren't in the packs of others. */
static void test_own_cost(void **state)
{
    struct site *site = *state;
    const struct order *order = NULL;

    site->items[1][0].price = NAN;
    run(site, ORDER_BY_BUILDING);
    order = &site->building.orders[0];
    assert_int_equal(order->count, 3);
    near(order->lines[0].item.packs, 2);
    near(order->lines[0].item.price, 4);
    near(order->lines[1].item.packs, 1);
    assert_true(isnan(order->lines[1].item.price));
    assert_int_equal(order_material(order, METHOD_SEAM_FASTENED), 1000 * 4 + 6 * 4);
}

/* The book gives what the roofs had, also once these are gone. */
static void test_book(void **state)
{
    struct site *site = *state;
    struct arena *arena = arena_new();
    struct order both = {0}, second = {0};
    struct order_book *book = NULL;
    struct outlay_error err = {0};
    char name[] = "screw, 4 in";

    assert_non_null(arena);
    site->items[0][0].item = site->items[1][0].item = name;
    assert_int_equal(order_book_new(&book, &err), OUTLAY_OK);
    assert_int_equal(order_book_add(book, &site->building, &err), OUTLAY_OK);
    memset(name, 'x', sizeof name - 1);
    assert_true(order_book_put(book, 0, arena, &both));
    assert_true(order_book_put(book, 1, arena, &both));
    assert_true(order_book_put(book, 1, arena, &second));
    order_close(&both);
    order_close(&second);
    expect_both(&both);
    assert_int_equal(second.roofs, 1);
    near(second.lines[0].item.packs, 1);
    order_book_free(book);
    arena_free(arena);
}

static void test_total(void **state)
{
    struct site *site = *state;
    struct order_total *total = NULL;
    struct outlay_error err = {0};

    assert_int_equal(order_total_new(&total, &err), OUTLAY_OK);
    assert_int_equal(order_total_add(total, &site->building, &err), OUTLAY_OK);
    order_total_close(total);
    assert_string_equal(order_total_own(total)->id, "portfolio");
    expect_both(order_total_own(total));
    near(order_total_methods(total)->lines[0].item.packs, 3);
    order_total_free(total);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_building, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_roof, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_later, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_own_cost, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_book, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_total, set_up, tear_down),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
