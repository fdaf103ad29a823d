#include <math.h>

#include "roof/bill.h"
#include "roof/layout.h"
#include "write/bill_unit.h"
#include "write/grid.h"
#include "write/write.h"

void materials_header(struct text *out, const struct write_settings *set)
{
    struct text caution = TEXT_INIT;

    text_puts(out, "roof_id,name,building,method,assembly,state,use,item,unit,net,laps,"
                   "laid,cuts,spare,rounding,ordered,pack,pack_holds,packs,lap_share,"
                   "extra_share,note");
    grid_caution(&caution, set, false);
    text_putc(out, ',');
    if (caution.failed)
        out->failed = true;
    else
        text_csv(out, caution.data);
    text_putc(out, '\n');
    text_release(&caution);
}

static void put(struct text *out, double value, const struct bill_unit *unit)
{
    text_putc(out, ',');
    text_fixed(out, value / unit->factor, unit->decimals);
}

static void put_share(struct text *out, double share)
{
    text_putc(out, ',');
    text_fixed(out, share, 4);
}

/* All from `use` on. */
static void put_item(struct text *out, const struct bill_item *item,
                     const struct write_settings *set)
{
    struct bill_unit unit = bill_unit_of(item_use_measure(item->use), set);
    bool sheet = item->use == USE_FIELD_SHEET || item->use == USE_HALF_SHEET;

    text_csv(out, item_use_name((int)item->use));
    text_putc(out, ',');
    text_csv(out, item->item);
    text_printf(out, ",%s", unit.name);
    put(out, item->net, &unit);
    put(out, item->laps, &unit);
    put(out, item->laid, &unit);
    put(out, item->cuts, &unit);
    put(out, item->spare, &unit);
    put(out, item->rounding, &unit);
    put(out, item->ordered, &unit);
    text_putc(out, ',');
    text_csv(out, item->pack);
    put(out, item->pack ? item->holds : NAN, &unit);
    text_putc(out, ',');
    text_fixed(out, item->packs, 0);
    put_share(out, sheet && item->laid > 0 ? item->laps / item->laid : NAN);
    put_share(out, sheet && item->net > 0 ? item->laps / item->net : NAN);
    text_putc(out, ',');
    text_csv(out, item->note);
    text_puts(out, ",\n");
}

static enum zone_state worst_state(const struct roof *roof, const struct layout *layout)
{
    static const int ranks[] = {[STATE_UNKNOWN] = 2,
                                [STATE_MET] = 0,
                                [STATE_MET_ASSUMED] = 1,
                                [STATE_NOT_MET] = 3};
    enum zone_state worst = STATE_MET;

    for (size_t i = 0; i < roof->zone_count; i++) {
        enum zone_state state = layout->states[roof->zones[i].role];

        if (ranks[state] > ranks[worst])
            worst = state;
    }
    return worst;
}

static const char *why_not(const struct roof *roof, const struct layout *layout)
{
    for (size_t i = 0; i < roof->zone_count; i++)
        if (layout->reasons[roof->zones[i].role])
            return layout->reasons[roof->zones[i].role];
    return "no assembly of the catalogue serves";
}

/* All before `use`. */
static void put_start(struct text *out, const struct roof *roof,
                      const struct layout *layout)
{
    text_csv(out, roof->id);
    text_putc(out, ',');
    text_csv(out, roof->name);
    text_putc(out, ',');
    text_csv(out, roof->building);
    text_printf(out, ",%s,", method_name((int)layout->method));
    text_csv(out, layout->assembly);
    text_printf(out, ",%s,", zone_state_name((int)worst_state(roof, layout)));
}

static void put_roof(struct text *out, const struct roof *roof,
                     const struct layout *layout, const struct bill *bill,
                     const struct write_settings *set)
{
    for (size_t i = 0; i < bill->count; i++) {
        put_start(out, roof, layout);
        put_item(out, &bill->items[i], set);
    }
    if (bill->count == 0) {
        put_start(out, roof, layout);
        text_puts(out, ",nothing laid out,,,,,,,,,,,,,,");
        text_csv(out, why_not(roof, layout));
        text_puts(out, ",\n");
    }
}

/* Rows without a roof. */
static void put_rounding(struct text *out, const char *building, enum method method,
                         const struct bill *bill, const struct write_settings *set)
{
    for (size_t i = 0; i < bill->count; i++) {
        text_puts(out, ",,");
        text_csv(out, building);
        text_printf(out, ",%s,,,", method_name((int)method));
        put_item(out, &bill->items[i], set);
    }
}

void materials_rows(struct text *out, const struct building *building,
                    const struct write_settings *set)
{
    for (size_t i = 0; i < building->roof_count; i++) {
        const struct roof *roof = &building->roofs[i];

        for (size_t k = 0; k < roof->layout_count; k++)
            put_roof(out, roof, &roof->layouts[k], &roof->bills[k], set);
    }
    for (int method = 0; building->rounding && method < METHOD_KINDS; method++)
        put_rounding(out, building->name, (enum method)method,
                     &building->rounding[method], set);
}

void materials_rounding(struct text *out, enum method method, const struct bill *bill,
                        const struct write_settings *set)
{
    put_rounding(out, NULL, method, bill, set);
}
