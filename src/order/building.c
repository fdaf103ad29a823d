/* The bills of a building, and where their packs are rounded up. */

#include <math.h>

#include "order/order.h"
#include "roof/basis.h"

/* What changes much of an order and nobody gave. */
static void assume_goods(struct roof *roof)
{
    const struct attributes *given = &roof->given;

    if (!roof_laid_out(roof))
        return;
    if (isnan(given->stack))
        roof_assume(roof, ASSUME_STACK);
    if (given->existing == EXISTING_NOT_GIVEN && given->covers != 0)
        roof_assume(roof, ASSUME_COVER);
}

static enum outlay_status bill_roof(struct building *building, struct roof *roof,
                                    const struct order_settings *settings, bool set_up,
                                    struct outlay_error *err)
{
    bool whole_packs =
        settings->order_by == ORDER_BY_ROOF ||
        (settings->order_by == ORDER_BY_BUILDING && building->roof_count == 1);
    enum outlay_status status = OUTLAY_OK;

    roof->bills = arena_array(building->arena, roof->layout_count, sizeof *roof->bills);
    if (!roof->bills && roof->layout_count > 0)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    assume_goods(roof);
    for (size_t k = 0; k < roof->layout_count && status == OUTLAY_OK; k++) {
        status = order_bill(building->arena, roof, &roof->layouts[k], settings, set_up,
                            &roof->bills[k], err);
        if (status == OUTLAY_OK && whole_packs)
            order_packs(&roof->bills[k]);
        else if (status == OUTLAY_OK)
            order_whole_packs(&roof->bills[k]);
    }
    return status;
}

/* Room for what the roofs' bills hold together. */
static bool sum_start(struct building *building, enum method method, struct bill *sum,
                      size_t *room)
{
    *room = 0;
    for (size_t i = 0; i < building->roof_count; i++)
        for (size_t k = 0; k < building->roofs[i].layout_count; k++)
            if (building->roofs[i].layouts[k].method == method)
                *room += building->roofs[i].bills[k].count;
    *sum = (struct bill){0};
    if (*room == 0)
        return true;
    sum->items = arena_array(building->arena, *room, sizeof *sum->items);
    return sum->items != NULL;
}

static enum outlay_status round_building(struct building *building,
                                         struct outlay_error *err)
{
    building->rounding =
        arena_array(building->arena, METHOD_KINDS, sizeof *building->rounding);
    if (!building->rounding)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    for (int method = 0; method < METHOD_KINDS; method++) {
        struct bill *sum = &building->rounding[method];
        size_t room = 0;

        if (!sum_start(building, (enum method)method, sum, &room))
            return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
        for (size_t i = 0; i < building->roof_count; i++)
            for (size_t k = 0; k < building->roofs[i].layout_count; k++)
                if (building->roofs[i].layouts[k].method == (enum method)method)
                    (void)order_add(sum, room, &building->roofs[i].bills[k]);
        order_rounding(sum);
    }
    return OUTLAY_OK;
}

/* The roof that carries the building's set-up, of those laid out; NULL for none. */
static const struct roof *set_up_roof(const struct building *building)
{
    const struct roof *best = NULL;

    for (size_t i = 0; i < building->roof_count; i++) {
        const struct roof *roof = &building->roofs[i];

        if (roof_laid_out(roof) && roof_pays_before(roof, best))
            best = roof;
    }
    return best;
}

enum outlay_status order_run(struct building *building,
                             const struct order_settings *settings,
                             struct outlay_error *err)
{
    const struct roof *set_up = set_up_roof(building);

    for (size_t i = 0; i < building->roof_count; i++) {
        struct roof *roof = &building->roofs[i];
        enum outlay_status status =
            bill_roof(building, roof, settings, roof == set_up, err);

        if (status != OUTLAY_OK)
            return status;
    }
    if (settings->order_by == ORDER_BY_BUILDING && building->roof_count > 1)
        return round_building(building, err);
    return OUTLAY_OK;
}
