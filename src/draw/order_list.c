/* On the right: what to order and the work, from the roof's bill. */

#include <math.h>
#include <string.h>

#include "base/plural.h"
#include "draw/plan_page.h"
#include "write/bill_unit.h"

/* Right ends of the columns of numbers, from the left of the side column. */
enum { NET_AT = 270, ORDERED_AT = 332, UNIT_AT = 336, PACKS_AT = 436 };

/* Before the notes, pt. */
enum { GAP = 6 };

static void put_head(struct plan_page *page, double y)
{
    double x = page->side.x;
    plan_cell(page, SMALL_PRINT, x + 10, y, 150, ALIGN_LEFT, "item");
    plan_cell(page, SMALL_PRINT, x + NET_AT - 50, y, 50, ALIGN_RIGHT, "net");
    plan_cell(page, SMALL_PRINT, x + ORDERED_AT - 50, y, 50, ALIGN_RIGHT, "ordered");
    plan_cell(page, SMALL_PRINT, x + PACKS_AT - 70, y, 70, ALIGN_RIGHT, "packs");
}

static void put_value(struct plan_page *page, double right, double y, double value,
                      const struct bill_unit *unit, struct lettering lettering)
{
    struct text *text = plan_scratch(page);
    if (isfinite(value))
        text_grouped(text, value / unit->factor, unit->decimals);
    else
        text_puts(text, "-");
    plan_cell(page, lettering, right - 56, y, 56, ALIGN_RIGHT, plan_text(page));
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
    plan_cell(page, PLAIN, x + 10, y, NET_AT - 56 - 12, ALIGN_LEFT, plan_text(page));
    put_value(page, x + NET_AT, y, item->net, &unit, PLAIN);
    put_value(page, x + ORDERED_AT, y, item->ordered, &unit, STRONG);
    plan_cell(page, PLAIN, x + UNIT_AT, y, 26, ALIGN_LEFT, figure_unit(unit.name));
    text = plan_scratch(page);
    if (item->pack && isfinite(item->packs)) {
        text_grouped(text, item->packs, 0);
        text_printf(text, " %s%s", item->pack, packs_end(item));
    }
    plan_cell(page, PLAIN, x + PACKS_AT - 72, y, 72, ALIGN_RIGHT, plan_text(page));
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

/* Whether an item says what one of its use before it said. */
static bool said_before(const struct bill *bill, size_t i)
{
    for (size_t k = i; k-- > 0 && bill->items[k].use == bill->items[i].use;)
        if (bill->items[k].note && strcmp(bill->items[k].note, bill->items[i].note) == 0)
            return true;
    return false;
}

/* What was assumed of items or doesn't fit, as far as there is room; a line is kept to
 * count the rest. */
static void put_notes(struct plan_page *page, double y)
{
    const struct bill *bill = page->bill;
    double left = page->side.x + 10, width = page->side.width - 20;
    double bottom = page->side.y + page->side.height - LINE - 3;
    bool headed = false;
    size_t left_out = 0;
    for (size_t i = 0; i < bill->count; i++) {
        const struct bill_item *item = &bill->items[i];
        if (!item->note || !*item->note || said_before(bill, i))
            continue;
        struct text *text = plan_scratch(page);
        text_printf(text, "%s: ", item_use_name((int)item->use));
        units_choose(text, item->note, page->set->units);
        double height =
            canvas_paragraph_height(page->canvas, PLAIN, width, plan_text(page)) + 0.5;
        if (left_out > 0 || y + height + (headed ? 0 : 2 * LINE) > bottom) {
            left_out++;
            continue;
        }
        canvas_paragraph(page->canvas, PLAIN,
                         (struct area){left, y + (headed ? 0 : LINE + 6), width, height},
                         plan_text(page));
        if (!headed)
            y = side_heading(page, y, "Notes to the order") + 1.4;
        headed = true;
        y += height + 0.8;
    }
    if (left_out == 0)
        return;
    text_printf(plan_scratch(page), "%zu further note%s: see materials.csv", left_out,
                PLURAL(left_out));
    put_line(page, y, plan_text(page));
}

void order_list_draw(struct plan_page *page)
{
    double y = page->side.y + 6;
    const struct bill *bill = page->bill;
    double bottom = page->side.y + page->side.height;
    size_t count = bill ? bill->count : 0, shown = 0;
    y = side_heading(page, y, "To order, and the work");
    if (count == 0) {
        put_line(page, y, "nothing laid out");
        return;
    }
    put_head(page, y);
    y += LINE;
    /* Three lines are kept for what is said below, and the gap before notes. */
    for (; shown < count && y + 4 * LINE + GAP <= bottom; shown++) {
        put_item(page, y, &bill->items[shown]);
        y += LINE;
    }
    if (shown < count) {
        text_printf(plan_scratch(page), "%zu further item%s: see materials.csv",
                    count - shown, PLURAL(count - shown));
        y = put_line(page, y, plan_text(page));
    }
    if (rounds_elsewhere(bill))
        y = put_line(
            page, y,
            "Packs without a number are shared with other roofs: see orders.csv");
    put_notes(page, y + GAP);
}
