#include <stdlib.h>

#include "order/order.h"

struct order_total {
    struct arena *arena; /* owned; lines and texts */
    struct order methods, own;
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
    total->own = (struct order){.id = "portfolio", .year = MISSING};
    *out = total;
    return OUTLAY_OK;
}

static bool add_roof(struct order_total *total, const struct roof *roof)
{
    bool added = order_add_roof(total->arena, &total->own, roof);

    for (size_t k = 0; added && k < roof->layout_count; k++)
        added = order_add(total->arena, &total->methods, roof->layouts[k].method,
                          &roof->bills[k]);
    return added;
}

enum outlay_status order_total_add(struct order_total *total,
                                   const struct building *building,
                                   struct outlay_error *err)
{
    bool added = true;

    for (size_t i = 0; added && i < building->roof_count; i++)
        added = add_roof(total, &building->roofs[i]);
    return added ? OUTLAY_OK
                 : outlay_fail(err, OUTLAY_E_MEMORY, "summing up the portfolio");
}

void order_total_close(struct order_total *total)
{
    order_close(&total->own);
    order_close(&total->methods);
}

const struct order *order_total_methods(const struct order_total *total)
{
    return &total->methods;
}

const struct order *order_total_own(const struct order_total *total)
{
    return &total->own;
}

void order_total_free(struct order_total *total)
{
    if (!total)
        return;
    arena_free(total->arena);
    free(total);
}
