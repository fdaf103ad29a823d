#include "survey/entries.h"

#include <math.h>

#include "roof/pullout.h"
#include "roof/spread.h"

#define BIT(what) ASSUMPTION_BIT(ASSUME_##what)

/* What a finding closes, and what hangs on it. */
struct closes {
    uint64_t assumptions; /* of ASSUMPTION_BIT() */
    unsigned estimates;   /* 1u << ESTIMATE_... */
    const char *decides;
};

static const struct closes closes[FINDING_KINDS] = {
    [FINDING_PULLOUT] = {BIT(PULLOUT) | BIT(PULLOUT_FEW), 0,
                         "decides how many fasteners hold, or whether any do"},
    [FINDING_STACK] = {BIT(STACK), 0, "decides layers of boards and length of screws"},
    [FINDING_COVERS] = {BIT(COVER), 0,
                        "decides between recover and tear-off, and debris"},
    [FINDING_EXISTING] = {BIT(COVER), 0,
                          "decides between recover and tear-off, and debris"},
    [FINDING_WET] = {0, 0, "wet insulation is torn off"},
    [FINDING_WET_SHARE] = {0, 0, "wet insulation is torn off"},
    [FINDING_HEIGHT] = {BIT(LEVEL_HEIGHT), 1u << ESTIMATE_HEIGHT | 1u << ESTIMATE_STOREYS,
                        "decides the width of all zones and the uplift"},
    [FINDING_EDGE] = {BIT(EDGE) | BIT(PARAPET_AROUND), 0,
                      "decides edge metal or flashing; a parapet all around shelters "
                      "corners"},
    [FINDING_PARAPET] = {BIT(PARAPET), 0, "from 3 ft (0.9 m) on it shelters corners"},
    [FINDING_PARAPET_THICKNESS] = {BIT(PARAPET_THICKNESS), 0,
                                   "decides coping, and where sheets end"},
    [FINDING_DECK] = {BIT(DECK), 0, "decides which assemblies suit, and the screws"},
    [FINDING_DECK_BEARING] = {BIT(RIBS), 0,
                              "rows have to cross the ribs of a steel deck"},
    [FINDING_DRAINS] = {0, 0, "targets and sumps to order"},
    [FINDING_PENETRATIONS] = {0, 0, "boots to order"},
    [FINDING_EXPOSURE] = {BIT(EXPOSURE) | BIT(ROUGHNESS), 0, "decides the uplift"},
    [FINDING_ENCLOSURE] = {BIT(ENCLOSURE), 0, "decides the pressure from within"},
    [FINDING_TOPOGRAPHIC] = {BIT(TOPOGRAPHY) | BIT(HILL), 0, "a hill adds to the uplift"},
    [FINDING_HOLES] = {BIT(HOLES), 0, "a court has wind zones of its own"},
    [FINDING_TRIAL_WELD] = {0, 0, "shows that machine, sheet and weather fit"},
    [FINDING_PHOTO] = {0, 0, "for whoever checks the figures"},
};

bool entry_enough_pullouts(const struct roof *roof)
{
    const struct pullout *pullout = roof->pullout;

    return pullout && !pullout->unknown && (int)pullout->count >= pullout->needed;
}

bool entry_applies(const struct roof *roof, enum finding_kind kind)
{
    return kind != FINDING_DECK_BEARING || roof->basis.deck == DECK_STEEL;
}

static bool lacks(const struct roof *roof, enum finding_kind kind)
{
    switch (kind) {
    case FINDING_WET:
    case FINDING_WET_SHARE:
        return isnan(roof->given.wet_share);
    case FINDING_DRAINS:
        return roof->given.drains == MISSING && roof->fixture_count == 0;
    case FINDING_PENETRATIONS:
        return roof->given.penetrations == MISSING && roof->fixture_count == 0;
    default:
        return false;
    }
}

static bool sampled(const struct roof *roof, enum finding_kind kind)
{
    for (size_t i = 0; i < roof->sample_count; i++)
        if (name_same(roof->samples[i].role, finding_kind_name((int)kind)))
            return true;
    return false;
}

/* Three: a state hangs on it; two: something is open for want of it; one: an order takes
 * the test in any case; none: it confirms what is given. */
static int weight_of(const struct roof *roof, enum finding_kind kind)
{
    uint64_t open = roof->assumed & closes[kind].assumptions;
    unsigned estimated = roof->estimated & closes[kind].estimates;

    if (kind == FINDING_PULLOUT && roof->basis.pullout_unknown)
        return 3;
    for (int i = 0; i < ASSUMPTIONS; i++)
        if (open & ASSUMPTION_BIT(i) && assumption_weakens((enum assumption)i))
            return 3;
    if (estimated & 1u << ESTIMATE_HEIGHT || sampled(roof, kind))
        return 3;
    if (open || estimated || lacks(roof, kind))
        return 2;
    return kind == FINDING_PULLOUT || finding_letter(kind) == 'C';
}

static const char *why_of(const struct roof *roof, enum finding_kind kind)
{
    uint64_t open = roof->assumed & closes[kind].assumptions;

    if (kind == FINDING_PULLOUT && roof->basis.pullout_unknown)
        return roof->basis.pullout_unknown;
    if (roof->estimated & closes[kind].estimates & 1u << ESTIMATE_HEIGHT)
        return estimate_reason(ESTIMATE_HEIGHT);
    for (int i = 0; i < ASSUMPTIONS; i++)
        if (open & ASSUMPTION_BIT(i))
            return assumption_reason(i);
    return closes[kind].decides;
}

/* Of the spread of the force on the roof, what a finding takes away. */
static double share_of(const struct roof *roof, enum finding_kind kind)
{
    const struct driver *drivers =
        roof->spread ? roof->spread->drivers[DRIVEN_FORCE] : NULL;

    if (drivers && kind == FINDING_HEIGHT)
        return fmax(
            fmax(drivers[SPREAD_HEIGHT].share, drivers[SPREAD_STOREY_HEIGHT].share), 0);
    return drivers && kind == FINDING_EXPOSURE ? fmax(drivers[SPREAD_EXPOSURE].share, 0)
                                               : 0;
}

struct survey_entry entry_of(const struct roof *roof, size_t place,
                             enum finding_kind kind)
{
    int weight = weight_of(roof, kind);

    return (struct survey_entry){.place = place,
                                 .kind = kind,
                                 .why = why_of(roof, kind),
                                 .open = weight >= 2,
                                 .weight = weight,
                                 .share = share_of(roof, kind)};
}

bool survey_decisive(const struct roof *roof)
{
    for (int kind = 0; kind < FINDING_KINDS; kind++)
        if (weight_of(roof, (enum finding_kind)kind) == 3)
            return true;
    return false;
}

struct survey_entry entry_of_height(void)
{
    return (struct survey_entry){.kind = FINDING_HEIGHT,
                                 .why = "no height and no storeys: the roof is left out "
                                        "of all results",
                                 .open = true,
                                 .weight = 3};
}
