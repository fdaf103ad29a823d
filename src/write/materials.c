#include <math.h>

#include "roof/bill.h"
#include "roof/layout.h"
#include "write/bill_unit.h"
#include "write/columns.h"
#include "write/layout_state.h"
#include "write/tables.h"

static const struct grid_column columns[] = {
    TEXT_COLUMN("roof_id"),
    TEXT_COLUMN("name"),
    TEXT_COLUMN("building"),
    TEXT_COLUMN("method"),
    TEXT_COLUMN("assembly"),
    TEXT_COLUMN("state"),
    TEXT_COLUMN("use"),
    TEXT_COLUMN("item"),
    TEXT_COLUMN("unit"),
    QUANTITY_COLUMN("net"),
    QUANTITY_COLUMN("laps"),
    QUANTITY_COLUMN("laid"),
    QUANTITY_COLUMN("cuts"),
    QUANTITY_COLUMN("spare"),
    QUANTITY_COLUMN("rounding"),
    QUANTITY_COLUMN("ordered"),
    TEXT_COLUMN("pack"),
    QUANTITY_COLUMN("pack_holds"),
    QUANTITY_COLUMN("packs"),
    NUMBER_COLUMN("lap_share", MEASURE_NONE, 4),
    NUMBER_COLUMN("extra_share", MEASURE_NONE, 4),
    TEXT_COLUMN("note"),
};

enum { COLUMN_COUNT = sizeof columns / sizeof columns[0], COLUMN_USE = 6 };

const struct grid_sheet materials_sheet = {"materials", columns, COLUMN_COUNT};

static void put(struct grid *grid, double value, const struct bill_unit *unit)
{
    grid_exact(grid, value / unit->factor, unit->decimals);
}

/* Whole ones, or the share of an order's that the roof takes. */
static void put_packs(struct grid *grid, const struct bill_item *item)
{
    if (isfinite(item->packs) || !item->pack)
        grid_quantity(grid, item->packs, 0);
    else
        grid_exact(grid, item->ordered / item->holds, 2);
}

/* All from `use` on. */
static void put_item(struct grid *grid, const struct bill_item *item,
                     const struct write_settings *set)
{
    struct bill_unit unit = bill_unit_of(item_use_measure(item->use), set);
    bool sheet = item->use == USE_FIELD_SHEET || item->use == USE_HALF_SHEET;

    grid_text(grid, item_use_name((int)item->use));
    grid_text(grid, item->item);
    grid_text(grid, unit.name);
    put(grid, item->net, &unit);
    put(grid, item->laps, &unit);
    put(grid, item->laid, &unit);
    put(grid, item->cuts, &unit);
    put(grid, item->spare, &unit);
    put(grid, item->rounding, &unit);
    put(grid, item->ordered, &unit);
    grid_text(grid, item->pack);
    put(grid, item->pack ? item->holds : NAN, &unit);
    put_packs(grid, item);
    grid_number(grid, sheet && item->laid > 0 ? item->laps / item->laid : NAN);
    grid_number(grid, sheet && item->net > 0 ? item->laps / item->net : NAN);
    grid_words(grid, item->note);
}

/* All before `use`. */
static void put_start(struct grid *grid, const struct roof *roof,
                      const struct layout *layout)
{
    grid_text(grid, roof->id);
    grid_text(grid, roof->name);
    grid_text(grid, roof->building);
    grid_text(grid, method_name((int)layout->method));
    grid_text(grid, layout->assembly);
    grid_text(grid, zone_state_name((int)layout_state(roof, layout)));
}

static void put_nothing(struct grid *grid, const struct roof *roof,
                        const struct layout *layout)
{
    put_start(grid, roof, layout);
    grid_text(grid, NULL);
    grid_text(grid, "nothing laid out");
    for (int column = COLUMN_USE + 2; column < COLUMN_COUNT - 1; column++)
        grid_text(grid, NULL);
    grid_text(grid, layout_why_not(roof, layout));
}

void materials_of_roof(struct grid *grid, const struct roof *roof,
                       const struct write_settings *set)
{
    for (size_t k = 0; k < roof->layout_count; k++) {
        const struct bill *bill = &roof->bills[k];

        for (size_t i = 0; i < bill->count; i++) {
            put_start(grid, roof, &roof->layouts[k]);
            put_item(grid, &bill->items[i], set);
        }
        if (bill->count == 0)
            put_nothing(grid, roof, &roof->layouts[k]);
    }
}
