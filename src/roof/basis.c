#include "roof/basis.h"

#include <math.h>
#include <string.h>

struct basis_settings basis_defaults(void)
{
    return (struct basis_settings){
        .deck = DECK_NOT_GIVEN, .pullout = NAN, .rib_pitch = 6 * M_PER_IN};
}

static enum deck settle_deck(struct roof *roof, const struct basis_settings *settings)
{
    if (roof->given.deck != DECK_NOT_GIVEN)
        return roof->given.deck;
    if (settings->deck != DECK_NOT_GIVEN)
        return settings->deck;
    roof_assume(roof, ASSUME_DECK);
    return DECK_STEEL;
}

static void settle(struct roof *roof, const struct basis_settings *settings)
{
    const struct attributes *given = &roof->given;
    struct basis *basis = &roof->basis;

    basis->deck = settle_deck(roof, settings);
    basis->rib_pitch = basis->deck == DECK_STEEL ? settings->rib_pitch : 0;
    basis->pullout = isnan(given->pullout) ? settings->pullout : given->pullout;
    basis->stack = isnan(given->stack) ? STACK_USUAL : given->stack;
}

void basis_run(struct building *building, const struct basis_settings *settings)
{
    for (size_t i = 0; i < building->roof_count; i++)
        if (building->roofs[i].zoned)
            settle(&building->roofs[i], settings);
}

bool roof_pays_before(const struct roof *roof, const struct roof *other)
{
    return !other || roof->area > other->area ||
           (roof->area == other->area && strcmp(roof->id, other->id) < 0);
}
