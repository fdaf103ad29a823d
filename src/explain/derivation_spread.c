/* How far the roof's results may be off, and which inputs cause it. */

#include <math.h>

#include "base/plural.h"
#include "explain/derivation_parts.h"
#include "roof/cost.h"
#include "spread/inputs.h"
#include "write/spread_table.h"

static void put_range(const struct derivation *derivation, struct spread_range range,
                      const struct unit *unit)
{
    put_quantity(derivation, range.low, unit);
    text_puts(derivation->out, " to ");
    put_quantity(derivation, range.high, unit);
}

static void put_inputs(const struct derivation *derivation,
                       const struct roof_spread *spread)
{
    struct text *out = derivation->out;
    const char *before = " of ";

    text_printf(out, "   %zu draw%s", spread->draws, PLURAL(spread->draws));
    for (int i = 0; i < SPREAD_INPUTS; i++) {
        if (!(spread->of[i] > 0))
            continue;
        text_printf(out, "%s%s ", before, spread_inputs[i].name);
        spread_print(out, (enum spread_input)i, spread->of[i], derivation->units);
        before = ", ";
    }
    if (*before != ',')
        text_puts(out, ": no input of this roof has a spread");
    text_puts(out, "; P10 to P90:\n");
}

static void put_zone_spread(const struct derivation *derivation,
                            const struct roof_spread *spread, int role)
{
    struct text *out = derivation->out;

    if (!(spread->zone_area[role].high > 0))
        return;
    text_printf(out, "   %-10s area ", zone_role_name(role));
    put_range(derivation, spread->zone_area[role], &derivation->units->area);
    if (isfinite(spread->uplift[role].low)) {
        text_puts(out, ", uplift ");
        put_range(derivation, spread->uplift[role], &derivation->units->pressure);
    }
    if (isfinite(spread->met[role]))
        text_printf(out, ", met in %.1f %% of the draws", 100 * spread->met[role]);
    text_putc(out, '\n');
}

static void put_money_range(struct text *out, const char *currency,
                            struct spread_range range)
{
    text_printf(out, "   cost %s ", currency);
    text_grouped(out, range.low / 100, 0);
    text_puts(out, " to ");
    text_grouped(out, range.high / 100, 0);
    text_putc(out, '\n');
}

static void put_whole(const struct derivation *derivation,
                      const struct roof_spread *spread)
{
    struct text *out = derivation->out;

    if (isfinite(spread->fasteners.low))
        text_printf(out, "   fasteners by area %.0f to %.0f\n", spread->fasteners.low,
                    spread->fasteners.high);
    if (isfinite(spread->force.low)) {
        text_puts(out, "   force of the uplift on the roof ");
        put_range(derivation, spread->force, &derivation->units->force);
        text_putc(out, '\n');
    }
    if (isfinite(spread->cost.low))
        put_money_range(out, derivation->set->currency, spread->cost);
}

static void put_driver_shares(const struct derivation *derivation,
                              const struct driver drivers[SPREAD_INPUTS], int kind)
{
    struct text *out = derivation->out;
    int order[SPREAD_INPUTS];
    int count = drivers_sorted(drivers, order);

    for (int i = 0; i < count && drivers[order[i]].share >= 0.0005; i++) {
        const struct driver *driver = &drivers[order[i]];

        text_puts(out, i ? ", " : "   the ");
        if (i == 0)
            text_printf(out, "%s is moved by ", driven_name(kind));
        text_printf(out, "%s %.1f %%", spread_inputs[order[i]].name, 100 * driver->share);
        if (isfinite(driver->error))
            text_printf(out, " (standard error %.1f)", 100 * driver->error);
    }
    if (count == 0 || !(drivers[order[0]].share >= 0.0005))
        return;
    text_printf(out, ": %s first", spread_check((enum spread_input)order[0]));
    put_source(derivation, isfinite(drivers[order[0]].error)
                               ? "Sobol's first-order indices"
                               : "one at a time, from P10 to P90");
}

void put_spread(const struct derivation *derivation)
{
    const struct roof_spread *spread = derivation->roof->spread;

    if (!spread)
        return;
    text_puts(derivation->out, "\nHow sure\n");
    put_inputs(derivation, spread);
    for (int role = 0; role < ZONE_ROLES; role++)
        put_zone_spread(derivation, spread, role);
    put_whole(derivation, spread);
    for (int kind = 0; kind < DRIVEN_KINDS; kind++)
        put_driver_shares(derivation, spread->drivers[kind], kind);
    text_puts(derivation->out, "   A spread of inputs, not a reliability: how strong the "
                               "roof is isn't drawn.\n");
}
