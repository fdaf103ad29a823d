/* Screws that don't reach the deck: what they should hold isn't met. */

#include "base/text.h"
#include "base/units.h"
#include "order/bill_private.h"

/* Whether the roof covering is held by screws of a use; else they only keep boards in
 * place. */
static bool holds_covering(enum method method, enum item_use use)
{
    return use == USE_SEAM_SCREW ||
           (use == USE_BOARD_SCREW && method == METHOD_ADHERED_FASTENED);
}

static bool is_screw(enum item_use use)
{
    return use == USE_SEAM_SCREW || use == USE_BOARD_SCREW;
}

static const char *why_not(struct arena *arena, const struct bill_item *item)
{
    struct text text = TEXT_INIT;
    const char *why = NULL;

    if (item->too_short > 0) {
        text_grouped(&text, item->too_short, 0);
        text_puts(&text, " of ");
        text_grouped(&text, item->net, 0);
        text_printf(&text,
                    " screws of the catalogue's longest kind, %s, don't reach the deck: "
                    "up to %.2f in (%.0f mm) needed",
                    item->item, item->need / M_PER_IN, item->need * 1000);
    } else {
        text_printf(&text, "the catalogue has no %s for the deck",
                    item_use_name(item->use));
    }
    if (!text.failed)
        why = arena_text(arena, text.data, text.length);
    text_release(&text);
    return why;
}

static void worsen(const struct roof *roof, struct layout *layout, enum zone_state state,
                   const char *why)
{
    for (size_t i = 0; i < roof->zone_count; i++) {
        enum zone_role role = roof->zones[i].role;

        if (zone_state_worse(layout->states[role], state) == layout->states[role])
            continue;
        layout->states[role] = state;
        layout->reasons[role] = why;
    }
}

static void take_over(struct roof *roof)
{
    for (size_t i = 0; i < roof->zone_count; i++) {
        struct zone *zone = &roof->zones[i];

        zone->attachment.state = roof->layouts[0].states[zone->role];
        zone->attachment.reason = roof->layouts[0].reasons[zone->role];
        roof->state = zone_state_worse(roof->state, zone->attachment.state);
    }
}

enum outlay_status check_screws(struct arena *arena, struct roof *roof, size_t number)
{
    const struct bill *bill = &roof->bills[number];
    struct layout *layout = &roof->layouts[number];

    for (size_t i = 0; i < bill->count; i++) {
        const struct bill_item *item = &bill->items[i];
        bool missing = is_screw(item->use) && !item->pack && item->net > 0;
        const char *why = NULL;

        if (!(item->too_short > 0) && !missing)
            continue;
        why = why_not(arena, item);
        if (!why)
            return OUTLAY_E_MEMORY;
        if (holds_covering(layout->method, item->use))
            worsen(roof, layout, missing ? STATE_UNKNOWN : STATE_NOT_MET, why);
        if (number == 0)
            roof_problem(arena, roof, missing ? PROBLEM_NO_SCREW : PROBLEM_SCREW_SHORT,
                         missing ? "none is ordered: add some to the items"
                                 : "the longest is ordered: add longer ones to the "
                                   "items, or choose a method without screws",
                         "%s", why);
    }
    if (number == 0 && roof_laid_out(roof))
        take_over(roof);
    return OUTLAY_OK;
}
