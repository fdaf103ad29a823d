/* What holds for the order of every roof and method: outlines by chance, all stages run
 * with the built-in catalogue. Each case has a seed of its own. */

#include "../zoning/outlines.h"

#include "flow/stages.h"
#include "roof/bill.h"
#include "roof/field.h"
#include "roof/layout.h"

enum { ROOFS = 60 };

/* What people tell of a roof, or don't. */
static void tell_attributes(struct roof *roof, struct chance *chance)
{
    struct attributes *given = &roof->given;

    given->height = exp(chance_between(chance, log(3), log(25)));
    given->wind_speed = chance_between(chance, 38, 65);
    given->deck = (enum deck)chance_below(chance, DECK_KINDS);
    given->parapet = chance_below(chance, 2) ? chance_between(chance, 0, 1) : NAN;
    given->deck_bearing = chance_below(chance, 2) ? chance_between(chance, 0, 180) : NAN;
    given->covers = (int)chance_below(chance, 4) - 1;
    given->wet_share = chance_below(chance, 2) ? 0 : NAN;
    given->drains = (int)chance_below(chance, 5) - 1;
    given->penetrations = (int)chance_below(chance, 9) - 1;
    if (chance_below(chance, 3))
        given->stack = chance_below(chance, 3) ? chance_between(chance, 0.01, 0.3) : 0;
}

static bool same(double value, double expected)
{
    return fabs(value - expected) <= 1e-6 * fmax(1, fabs(expected));
}

static const char *item_wrong(const struct bill_item *item)
{
    if (isnan(item->net))
        return item->note ? NULL : "no quantity and no note";
    if (item->net < 0 || item->laps < 0 || item->cuts < 0 || item->spare < 0 ||
        item->rounding < -1e-9)
        return "a part is negative";
    if (item->laid < item->net || item->ordered < item->laid - 1e-9)
        return "less is ordered than laid, or laid than needed";
    if (!same(item->laid, item->net + item->laps) ||
        !same(item->ordered, item->laid + item->cuts + item->spare + item->rounding))
        return "the parts aren't the whole";
    if (isfinite(item->packs) && isfinite(item->holds) &&
        !same(item->ordered, item->packs * item->holds))
        return "packs don't hold what is ordered";
    return NULL;
}

static const struct bill_item *item_of(const struct bill *bill, enum item_use use)
{
    for (size_t i = 0; i < bill->count; i++)
        if (bill->items[i].use == use)
            return &bill->items[i];
    return NULL;
}

static double net_of(const struct bill *bill, enum item_use use)
{
    const struct bill_item *item = item_of(bill, use);

    return item ? item->net : 0;
}

/* Drawn and ordered are the same. */
static const char *layout_wrong(const struct roof *roof, const struct layout *layout,
                                const struct bill *bill)
{
    bool welded = layout->method == METHOD_INDUCTION_WELDED;
    double rows = 0;
    double boards = 0;
    double sheets = net_of(bill, USE_FIELD_SHEET) + net_of(bill, USE_HALF_SHEET);

    for (size_t i = 0; i < layout->row_count; i++)
        rows += layout->rows[i].fasteners;
    for (size_t i = 0; i < layout->board_count; i++)
        boards += layout->boards[i].plates;
    if (!same(net_of(bill, USE_SEAM_PLATE), rows))
        return "seam plates aren't those of the rows";
    if (!same(net_of(bill, welded ? USE_WELD_PLATE : USE_BOARD_PLATE), boards))
        return "plates aren't those of the boards";
    if ((layout->board_count > 0) != (item_of(bill, USE_BOARD) != NULL))
        return "boards are drawn or ordered alone";
    if (sheets < roof_field(roof).area * (1 - 1e-4))
        return "sheets don't cover the roof";
    return NULL;
}

static int roof_check(const struct roof *roof, uint64_t seed, int kind)
{
    int failures = 0;

    for (size_t k = 0; k < roof->layout_count; k++) {
        const struct layout *layout = &roof->layouts[k];
        const struct bill *bill = &roof->bills[k];
        const char *what = NULL;

        if (layout->sheet_count == 0)
            continue;
        what = layout_wrong(roof, layout, bill);
        for (size_t i = 0; i < bill->count && !what; i++) {
            what = item_wrong(&bill->items[i]);
            if (what)
                print_error("%s: ", bill->items[i].item);
        }
        if (what) {
            print_error("seed %llu, shape %d, %.1f m2, %s: %s\n",
                        (unsigned long long)seed, kind, roof->area,
                        method_name((int)layout->method), what);
            failures++;
        }
    }
    return failures;
}

static void settings_make(struct settings *settings, enum order_by order_by)
{
    struct outlay_error err = {0};

    settings_init(settings);
    settings->attach.methods = ~0u;
    settings->order.order_by = order_by;
    if (settings_resolve(settings, &err) != OUTLAY_OK)
        fail_msg("%s", err.what);
}

static void orders_hold(void **state)
{
    struct fixture *f = *state;
    size_t laid = 0;
    int failures = 0;

    for (int kind = 0; kind < SHAPES; kind++)
        for (uint64_t seed = 1; seed <= ROOFS; seed++) {
            struct chance chance = {seed * 1000003 + (uint64_t)kind};
            double size = exp(chance_between(&chance, log(2), log(60)));
            struct region shape = shape_of(f, &chance, kind, size);
            struct pose pose = pose_by_chance(&chance);
            struct site site = site_empty(f);
            struct settings settings;
            struct outlay_error err = {0};
            struct roof *roof = site_read(&site, put(f, &shape, &pose), NAN);

            settings_make(&settings, seed % 2 ? ORDER_BY_ROOF : ORDER_BY_PORTFOLIO);
            tell_attributes(roof, &chance);
            site.building.roofs = site.roofs;
            if (stages_run(&site.building, &settings, true, f->ctx, &err) != OUTLAY_OK)
                fail_msg("seed %llu, shape %d: %s", (unsigned long long)seed, kind,
                         err.what);
            laid += roof->layout_count;
            failures += roof_check(roof, seed, kind);
            settings_release(&settings);
            arena_reset(f->arena);
        }
    assert_true(laid > ROOFS * SHAPES * 3);
    assert_int_equal(failures, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(orders_hold),
    };

    return cmocka_run_group_tests_name("orders", tests, NULL, NULL);
}
