#include <math.h>

#include "order/order.h"

void order_whole_packs(struct bill *bill)
{
    for (size_t i = 0; i < bill->count; i++) {
        struct bill_item *item = &bill->items[i];
        double packs = item->ordered / item->holds;

        item->packs = fabs(packs - round(packs)) < 1e-9 ? round(packs) : (double)NAN;
    }
}

void order_round(struct bill_item *item)
{
    double needed = item->laid + item->cuts + item->spare;

    if (!isfinite(item->holds) || !isfinite(item->ordered))
        return;
    item->packs = bill_packs(item->ordered, item->holds);
    item->ordered = item->packs * item->holds;
    item->rounding = fmax(item->ordered - needed, 0);
}

void order_packs(struct bill *bill)
{
    for (size_t i = 0; i < bill->count; i++)
        order_round(&bill->items[i]);
}
