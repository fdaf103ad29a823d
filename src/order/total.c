#include <stdlib.h>
#include <string.h>

#include "order/order.h"

/* Items by name that a catalogue may bring together in one method. */
enum { TOTAL_ROOM = 512 };

struct order_total {
    struct arena *arena; /* owned, holds the texts */
    struct bill sums[METHOD_KINDS];
    struct bill_item items[METHOD_KINDS][TOTAL_ROOM];
};

enum outlay_status order_total_new(struct order_total **out, struct outlay_error *err)
{
    struct order_total *total = calloc(1, sizeof *total);

    *out = NULL;
    if (total)
        total->arena = arena_new();
    if (!total || !total->arena) {
        order_total_free(total);
        return outlay_fail(err, OUTLAY_E_MEMORY, "summing up the portfolio");
    }
    for (int method = 0; method < METHOD_KINDS; method++)
        total->sums[method].items = total->items[method];
    *out = total;
    return OUTLAY_OK;
}

/* The bill's texts end with its building. */
static bool keep_texts(struct order_total *total, struct bill_item *item)
{
    item->note = NULL;
    item->item = arena_text(total->arena, item->item, strlen(item->item));
    if (item->pack)
        item->pack = arena_text(total->arena, item->pack, strlen(item->pack));
    return item->item != NULL;
}

enum outlay_status order_total_add(struct order_total *total, enum method method,
                                   const struct bill *bill, struct outlay_error *err)
{
    struct bill *sum = &total->sums[method];
    size_t before = sum->count;
    bool kept = order_add(sum, TOTAL_ROOM, bill);

    for (size_t i = before; kept && i < sum->count; i++)
        kept = keep_texts(total, &sum->items[i]);
    if (!kept)
        return outlay_fail(err, OUTLAY_E_MEMORY, "summing up the portfolio");
    return OUTLAY_OK;
}

const struct bill *order_total_rounding(struct order_total *total, enum method method)
{
    order_rounding(&total->sums[method]);
    return &total->sums[method];
}

void order_total_free(struct order_total *total)
{
    if (!total)
        return;
    arena_free(total->arena);
    free(total);
}
