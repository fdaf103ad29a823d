/* On the right: what to order and the work, from the roof's bill. */

#include <math.h>
#include <string.h>

#include "base/plural.h"
#include "draw/plan_page.h"
#include "write/bill_unit.h"

/* What remains below for remarks, at the least, pt. */
#define REMARKS_ROOM 110

/* Right ends of the columns of numbers, from the left of the side column. */
enum { NET_AT = 240, ORDERED_AT = 296, UNIT_AT = 300, PACKS_AT = 384 };

static void put_head(struct plan_page *page, double y)
{
    double x = page->side.x;
    plan_cell(page, SMALL_PRINT, x + 10, y, 150, ALIGN_LEFT, "item");
    plan_cell(page, SMALL_PRINT, x + NET_AT - 50, y, 50, ALIGN_RIGHT, "net");
    plan_cell(page, SMALL_PRINT, x + ORDERED_AT - 50, y, 50, ALIGN_RIGHT, "ordered");
    plan_cell(page, SMALL_PRINT, x + PACKS_AT - 60, y, 60, ALIGN_RIGHT, "packs");
}

static void put_value(struct plan_page *page, double right, double y, double value,
                      const struct bill_unit *unit, struct lettering lettering)
{
    struct text *text = plan_scratch(page);
    if (isfinite(value))
        text_grouped(text, value / unit->factor, unit->decimals);
    else
        text_puts(text, "-");
    plan_cell(page, lettering, right - 52, y, 52, ALIGN_RIGHT, plan_text(page));
}

/* "1 roll", "2 rolls", "3 boxes", "4 pcs"; the names are those of the table of items. */
static const char *packs_end(const struct bill_item *item)
{
    size_t length = strlen(item->pack);
    char last = length > 0 ? item->pack[length - 1] : 's';
    if (item->packs == 1 || last == 's')
        return "";
    return last == 'x' ? "es" : "s";
}

static void put_item(struct plan_page *page, double y, const struct bill_item *item)
{
    struct bill_unit unit = bill_unit_of(item_use_measure(item->use), page->set);
    double x = page->side.x;
    struct text *text = plan_scratch(page);
    const char *use = item_use_name((int)item->use);
    text_puts(text, item->item && *item->item ? item->item : use);
    plan_cell(page, PLAIN, x + 10, y, NET_AT - 52 - 12, ALIGN_LEFT, plan_text(page));
    put_value(page, x + NET_AT, y, item->net, &unit, PLAIN);
    put_value(page, x + ORDERED_AT, y, item->ordered, &unit, STRONG);
    plan_cell(page, PLAIN, x + UNIT_AT, y, 22, ALIGN_LEFT, figure_unit(unit.name));
    text = plan_scratch(page);
    if (item->pack && isfinite(item->packs)) {
        text_grouped(text, item->packs, 0);
        text_printf(text, " %s%s", item->pack, packs_end(item));
    }
    plan_cell(page, PLAIN, x + PACKS_AT - 62, y, 62, ALIGN_RIGHT, plan_text(page));
}

/* Packs that are rounded for a whole of which this roof is a part. */
static bool rounds_elsewhere(const struct bill *bill)
{
    for (size_t i = 0; i < bill->count; i++)
        if (bill->items[i].pack && isfinite(bill->items[i].ordered) &&
            isnan(bill->items[i].packs))
            return true;
    return false;
}

static double put_line(struct plan_page *page, double y, const char *text)
{
    plan_cell(page, SMALL_PRINT, page->side.x + 10, y, page->side.width - 20, ALIGN_LEFT,
              text);
    return y + LINE;
}

double order_list_draw(struct plan_page *page, double y)
{
    const struct bill *bill = page->bill;
    double bottom = page->side.y + page->side.height - REMARKS_ROOM;
    size_t count = bill ? bill->count : 0, shown = 0;
    y = side_heading(page, y, "To order, and the work");
    if (count == 0)
        return put_line(page, y, "nothing laid out") + 6;
    put_head(page, y);
    y += LINE;
    /* Two lines are kept for what is said below. */
    for (; shown < count && y + 3 * LINE <= bottom; shown++) {
        put_item(page, y, &bill->items[shown]);
        y += LINE;
    }
    if (shown < count) {
        text_printf(plan_scratch(page), "%zu further item%s: see the table of materials",
                    count - shown, PLURAL(count - shown));
        y = put_line(page, y, plan_text(page));
    }
    if (rounds_elsewhere(bill))
        y = put_line(page, y,
                     "Packs without a number are shared with other roofs: see the table "
                     "of orders.");
    return y + 6;
}
