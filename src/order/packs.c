#include <math.h>
#include <string.h>

#include "order/order.h"

/* Boards are whole already; work isn't packed. */
static bool open_packs(const struct bill_item *item)
{
    return isfinite(item->holds) && isfinite(item->ordered) && isnan(item->packs);
}

void order_whole_packs(struct bill *bill)
{
    for (size_t i = 0; i < bill->count; i++) {
        struct bill_item *item = &bill->items[i];
        double packs = item->ordered / item->holds;

        if (open_packs(item) && fabs(packs - round(packs)) < 1e-9)
            item->packs = round(packs);
    }
}

static void round_up(struct bill_item *item)
{
    double needed = item->laid + item->cuts + item->spare;

    if (!open_packs(item))
        return;
    item->packs = ceil(item->ordered / item->holds - 1e-9);
    item->rounding = fmax(item->packs * item->holds - needed, 0);
    item->ordered = needed + item->rounding;
}

void order_packs(struct bill *bill)
{
    for (size_t i = 0; i < bill->count; i++)
        round_up(&bill->items[i]);
}

static struct bill_item *same_item(struct bill *sum, const struct bill_item *item)
{
    for (size_t i = 0; i < sum->count; i++)
        if (sum->items[i].use == item->use && strcmp(sum->items[i].item, item->item) == 0)
            return &sum->items[i];
    return NULL;
}

bool order_add(struct bill *sum, size_t room, const struct bill *bill)
{
    for (size_t i = 0; i < bill->count; i++) {
        const struct bill_item *item = &bill->items[i];
        struct bill_item *into = NULL;

        if (!open_packs(item))
            continue;
        into = same_item(sum, item);
        if (into) {
            into->ordered += item->ordered;
            continue;
        }
        if (sum->count == room)
            return false;
        sum->items[sum->count++] = *item;
    }
    return true;
}

void order_rounding(struct bill *sum)
{
    for (size_t i = 0; i < sum->count; i++) {
        struct bill_item *item = &sum->items[i];
        double ordered = item->ordered;

        item->packs = ceil(ordered / item->holds - 1e-9);
        item->net = item->laps = item->laid = item->cuts = item->spare = 0;
        item->rounding = fmax(item->packs * item->holds - ordered, 0);
        item->ordered = item->rounding;
        item->note = "rounding up to packs";
    }
}
