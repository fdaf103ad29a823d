#include "roof/roof.h"

#include <math.h>
#include <string.h>

struct attributes attributes_missing(void)
{
    return (struct attributes){
        .height = NAN,
        .storeys = NAN,
        .parapet = NAN,
        .parapet_thickness = NAN,
        .overhang = NAN,
        .slope = NAN,
        .taper = NAN,
        .deck_bearing = NAN,
        .wind_speed = NAN,
        .risk = MISSING,
        .elevation = NAN,
        .topographic = NAN,
        .covers = MISSING,
        .wet_share = NAN,
        .installed = MISSING,
        .condition = NAN,
        .rating = NAN,
        .pullout = NAN,
        .edge_condition = NAN,
        .wall_length = NAN,
        .penetrations = MISSING,
        .drains = MISSING,
        .stack = NAN,
        .earliest = MISSING,
        .latest = MISSING,
        .fixed_year = MISSING,
        .replacement_value = NAN,
        .cost = NAN,
        .cost_per_area = NAN,
        .spreads = {NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN},
    };
}

int building_use_category(enum building_use use)
{
#define X(code, name, category) [BUILDING_##code] = (category),
    static const int categories[BUILDING_USES] = { MISSING, BUILDING_USE_MAP(X) };
#undef X

    return categories[use];
}

enum zone_state zone_state_worse(enum zone_state a, enum zone_state b)
{
    static const int ranks[] = {[STATE_MET] = 0,
                                [STATE_MET_ASSUMED] = 1,
                                [STATE_UNKNOWN] = 2,
                                [STATE_NOT_MET] = 3};

    return ranks[a] >= ranks[b] ? a : b;
}

enum zone_state roof_state_held(const struct roof *roof)
{
#define X(code, name, weakens, how) (unsigned)(weakens) << ESTIMATE_##code |
    static const unsigned estimates = ESTIMATE_MAP(X) 0u;
#undef X
#define X(code, name, sort, weakens, how) (uint64_t)(weakens) << ASSUME_##code |
    static const uint64_t assumptions = ASSUMPTION_MAP(X) 0;
#undef X
    bool weak = roof->estimated & estimates || roof->assumed & assumptions;

    return weak ? STATE_MET_ASSUMED : STATE_MET;
}

const struct closing *roof_closing(const struct roof *roof, enum assumption what,
                                   const char *name)
{
    for (size_t i = 0; i < roof->closing_count; i++) {
        const struct closing *closing = &roof->closings[i];

        if (closing->what == what &&
            (!closing->name || (name && strcmp(closing->name, name) == 0)))
            return closing;
    }
    return NULL;
}

uint64_t roof_open(const struct roof *roof)
{
    return roof->estimated | roof->assumed << ESTIMATES;
}
