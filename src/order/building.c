/* The bills of a building, and where their packs are rounded up. */

#include <math.h>

#include "order/bill_private.h"
#include "roof/basis.h"

/* What changes much of an order and nobody gave. */
static void assume_goods(struct roof *roof)
{
    const struct attributes *given = &roof->given;

    if (!roof_laid_out(roof))
        return;
    roof_assume(roof, ASSUME_PACKS);
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
        (settings->order_by != ORDER_BY_PORTFOLIO && building->roof_count == 1);
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
        if (status == OUTLAY_OK && check_screws(building->arena, roof, k) != OUTLAY_OK)
            status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    }
    return status;
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

    building->shares_packs =
        building->roof_count > 1 &&
        (settings->order_by == ORDER_BY_BUILDING || settings->order_by == ORDER_BY_VISIT);
    for (size_t i = 0; i < building->roof_count; i++) {
        struct roof *roof = &building->roofs[i];
        enum outlay_status status =
            bill_roof(building, roof, settings, roof == set_up, err);

        if (status != OUTLAY_OK)
            return status;
        taper_check_walls(building->arena, roof, settings->flashing_height);
    }
    return OUTLAY_OK;
}
