#include <math.h>
#include <string.h>

#include "roof/order.h"
#include "write/bill_unit.h"
#include "write/columns.h"
#include "write/tables.h"

static const struct grid_column columns[] = {
    TEXT_COLUMN("order"),
    TEXT_COLUMN("building"),
    COUNT_COLUMN("year"),
    TEXT_COLUMN("method"),
    TEXT_COLUMN("state"),
    TEXT_COLUMN("assumed"),
    TEXT_COLUMN("use"),
    TEXT_COLUMN("item"),
    TEXT_COLUMN("unit"),
    COUNT_COLUMN("roofs"),
    QUANTITY_COLUMN("needed"),
    QUANTITY_COLUMN("spare"),
    QUANTITY_COLUMN("rounding"),
    QUANTITY_COLUMN("ordered"),
    TEXT_COLUMN("pack"),
    QUANTITY_COLUMN("pack_holds"),
    COUNT_COLUMN("packs"),
    COUNT_COLUMN("bundle"),
    MONEY_COLUMN("unit_price"),
    TEXT_COLUMN("price_unit"),
    {"line_total", GRID_MONEY, MEASURE_NONE, {0, 0}, true},
    TEXT_COLUMN("note"),
};

const struct grid_sheet orders_sheet = {"orders", columns,
                                        sizeof columns / sizeof columns[0]};

static void put_assumed(struct grid *grid, uint64_t assumed)
{
    struct text names = TEXT_INIT;

    for (int bit = 0; bit < ASSUMPTIONS; bit++)
        if (assumed >> bit & 1)
            text_printf(&names, "%s%s", names.length ? "; " : "", assumption_name(bit));
    grid_made(grid, &names);
    text_release(&names);
}

static void put(struct grid *grid, double value, const struct bill_unit *unit)
{
    grid_exact(grid, value / unit->factor, unit->decimals);
}

static void put_amounts(struct grid *grid, const struct bill_item *item,
                        const struct bill_unit *unit)
{
    put(grid, item->laid + item->cuts, unit);
    put(grid, item->spare, unit);
    put(grid, item->rounding, unit);
    put(grid, item->ordered, unit);
    grid_text(grid, item->pack);
    put(grid, item->pack ? item->holds : NAN, unit);
    grid_number(grid, item->packs);
    grid_number(grid, item->bundle);
}

/* By the pack, where there is one. */
static void put_price(struct grid *grid, const struct bill_item *item,
                      const struct bill_unit *unit)
{
    double one = item->pack ? item->holds : unit->factor;
    bool priced = isfinite(item->price);

    grid_exact(grid, one * item->price, 2);
    grid_text(grid, !priced ? NULL : item->pack ? item->pack : unit->name);
    grid_number(grid, priced && isfinite(item->ordered)
                          ? (double)bill_money(item->ordered, item->price)
                          : NAN);
}

/* Notes of what isn't counted begin so, or with what the catalogue lacks. */
static void put_why_not(struct text *out, const char *why)
{
    static const char lead[] = "not counted";

    if (!why || strncmp(why, lead, sizeof lead - 1) != 0)
        text_printf(out, "%s%s", lead, why ? ": " : "");
    text_puts(out, why ? why : "");
}

static void put_note(struct grid *grid, const struct order_line *line)
{
    struct text note = TEXT_INIT;
    bool unpriced = isnan(line->item.price) && !line->item.paid;

    if (line->uncounted > 0 && line->uncounted < line->roofs)
        text_printf(&note, "on %zu of %zu roofs ", line->uncounted, line->roofs);
    if (line->uncounted > 0)
        put_why_not(&note, line->item.note);
    if (line->item.too_short > 0) {
        text_puts(&note, note.length ? "; " : "");
        text_grouped(&note, line->item.too_short, 0);
        text_puts(&note, " don't reach the deck, this one is the catalogue's longest");
    }
    if (!line->item.pack)
        text_printf(&note, "%sthe catalogue has none that suits%s",
                    note.length ? "; " : "", unpriced ? ": no price" : "");
    else if (unpriced)
        text_printf(&note, "%sno price", note.length ? "; " : "");
    if (line->item.paid)
        text_printf(&note, "%sin the cost that was given for the roof",
                    note.length ? "; " : "");
    grid_made(grid, &note);
    text_release(&note);
}

static void put_line(struct grid *grid, const struct order *order,
                     const struct order_line *line, const struct write_settings *set)
{
    const struct bill_item *item = &line->item;
    struct bill_unit unit = bill_unit_of(item_use_measure(item->use), set);

    grid_text(grid, order->id);
    grid_text(grid, order->building);
    grid_number(grid, order->year == MISSING ? NAN : (double)order->year);
    grid_text(grid, method_name((int)line->method));
    grid_text(grid, zone_state_name((int)order->state));
    put_assumed(grid, order->assumed);
    grid_text(grid, item_use_name((int)item->use));
    grid_text(grid, item->item);
    grid_text(grid, unit.name);
    grid_number(grid, (double)line->roofs);
    put_amounts(grid, item, &unit);
    put_price(grid, item, &unit);
    put_note(grid, line);
}

void orders_of(struct grid *grid, const struct order *orders, size_t count,
               const struct write_settings *set)
{
    for (size_t i = 0; i < count; i++)
        for (size_t k = 0; k < orders[i].count; k++)
            put_line(grid, &orders[i], &orders[i].lines[k], set);
}
