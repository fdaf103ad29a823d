/* What roofs buy together: their bills put together line by line, in whole packs. */

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/grow.h"
#include "order/orders_private.h"

/* ---- Lines ---- */

static struct order_line *same_line(const struct order *order, enum method method,
                                    const struct bill_item *item)
{
    for (size_t i = 0; i < order->count; i++) {
        struct order_line *line = &order->lines[i];

        if (line->method == method && bill_same_goods(&line->item, item))
            return line;
    }
    return NULL;
}

/* Texts of bills end with their building. */
static const char *keep(struct arena *arena, const char *text)
{
    return text ? arena_text(arena, text, strlen(text)) : NULL;
}

struct order_line *order_line_of(struct arena *arena, struct order *order,
                                 enum method method, const struct bill_item *item)
{
    struct order_line *line = same_line(order, method, item), *lines = NULL;
    const char *name = line ? NULL : keep(arena, item->item);

    if (line && isnan(item->ordered) && !line->item.note)
        line->item.note = keep(arena, item->note);
    if (line || !name)
        return line;
    lines = grow_in(arena, order->lines, order->count, 1, &order->room, sizeof *lines);
    if (!lines)
        return NULL;
    order->lines = lines;
    line = &lines[order->count++];
    *line = (struct order_line){
        .method = method,
        .item = {.use = item->use,
                 .item = name,
                 .pack = keep(arena, item->pack),
                 .note = isnan(item->ordered) ? keep(arena, item->note) : NULL,
                 .paid = item->paid,
                 .holds = item->holds,
                 .bundle = item->bundle,
                 .thickness = item->thickness,
                 .price = item->price}};
    line->item.net = line->item.laps = line->item.laid = line->item.cuts = NAN;
    line->item.spare = line->item.rounding = line->item.ordered = NAN;
    line->item.packs = NAN;
    return line;
}

static double plus(double sum, double more)
{
    return isnan(sum) ? more : sum + more;
}

void order_line_add(struct order_line *line, const struct bill_item *item)
{
    struct bill_item *sum = &line->item;

    line->roofs++;
    sum->too_short += item->too_short;
    if (isnan(item->ordered)) {
        line->uncounted++;
        return;
    }
    sum->laid = plus(sum->laid, item->laid);
    sum->cuts = plus(sum->cuts, item->cuts);
    sum->spare = plus(sum->spare, item->spare);
    sum->ordered = plus(sum->ordered, item->ordered);
}

bool order_add(struct arena *arena, struct order *order, enum method method,
               const struct bill *bill)
{
    for (size_t i = 0; i < bill->count; i++) {
        const struct bill_item *item = &bill->items[i];
        struct order_line *line = NULL;

        if (item->use >= USE_WELD_SIDE)
            continue;
        line = order_line_of(arena, order, method, item);
        if (!line)
            return false;
        order_line_add(line, item);
    }
    return true;
}

void order_meet(struct order *order, enum zone_state state, uint64_t assumed)
{
    order->state = order->roofs == 0 ? state : zone_state_worse(order->state, state);
    order->assumed |= assumed;
    order->roofs++;
}

bool order_add_roof(struct arena *arena, struct order *order, const struct roof *roof)
{
    if (roof->layout_count == 0 || roof->bills[0].count == 0)
        return true;
    order_meet(order, roof->state, roof->assumed);
    return order_add(arena, order, roof->layouts[0].method, &roof->bills[0]);
}

static int by_method(const void *of_a, const void *of_b)
{
    const struct order_line *a = of_a, *b = of_b;
    const struct bill_item *x = &a->item, *y = &b->item;
    int order = (a->method > b->method) - (a->method < b->method);

    if (order == 0)
        order = (x->use > y->use) - (x->use < y->use);
    if (order == 0)
        order = strcmp(x->item, y->item);
    if (order == 0)
        order = x->paid - y->paid;
    if (order == 0)
        order = isnan(x->price) - isnan(y->price);
    return order ? order : (x->price > y->price) - (x->price < y->price);
}

void order_close(struct order *order)
{
    for (size_t i = 0; i < order->count; i++)
        order_round(&order->lines[i].item);
    if (order->count > 0)
        qsort(order->lines, order->count, sizeof *order->lines, by_method);
}

/* ---- The orders of a building ---- */

static bool order_of(struct building *building, size_t first, size_t count,
                     const char *id)
{
    struct order *order = &building->orders[building->order_count];

    *order = (struct order){.id = id, .building = building->name, .year = MISSING};
    for (size_t i = first; i < first + count; i++)
        if (!order_add_roof(building->arena, order, &building->roofs[i]))
            return false;
    order_close(order);
    building->order_count += order->count > 0;
    return true;
}

enum outlay_status orders_run(struct building *building,
                              const struct order_settings *settings,
                              struct outlay_error *err)
{
    bool by_roof = settings->order_by == ORDER_BY_ROOF;
    size_t step = by_roof ? 1 : building->roof_count;
    bool made = true;

    if (!by_roof && settings->order_by != ORDER_BY_BUILDING)
        return OUTLAY_OK;
    building->orders = arena_array(building->arena, building->roof_count / step,
                                   sizeof *building->orders);
    made = building->orders != NULL;
    for (size_t i = 0; made && i < building->roof_count; i += step)
        made =
            order_of(building, i, step,
                     by_roof || !building->name ? building->roofs[i].id : building->name);
    return made ? OUTLAY_OK
                : outlay_fail(err, OUTLAY_E_MEMORY, "putting orders together");
}
