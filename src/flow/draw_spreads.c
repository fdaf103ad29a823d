#include "flow/draw_spreads.h"

#include <math.h>
#include <string.h>

#include "roof/finding.h"
#include "spread/normal.h"

static bool was_found(const struct roof *roof, enum finding_kind kind)
{
    return roof->verified & 1u << kind;
}

static double sampled_spread(const struct roof *roof)
{
    for (size_t i = 0; i < roof->sample_count; i++)
        if (strcmp(roof->samples[i].role, "height") == 0)
            return roof->samples[i].spread / NORMAL_P10_TO_P90;
    return NAN;
}

static double height_spread(const struct roof *roof, double option)
{
    double own = roof->given.spreads[SPREAD_HEIGHT];

    if (was_found(roof, FINDING_HEIGHT) || roof->estimated & 1u << ESTIMATE_HEIGHT)
        return 0;
    if (isnan(own))
        own = sampled_spread(roof);
    return isnan(own) ? option : own;
}

void draw_spreads_of(const struct roof *roof, const struct spread_values *options,
                     double of[SPREAD_INPUTS])
{
    for (int i = 0; i < SPREAD_INPUTS; i++) {
        double own = roof->given.spreads[i];

        of[i] = isnan(own) ? options->of[i] : own;
    }
    of[SPREAD_HEIGHT] = height_spread(roof, options->of[SPREAD_HEIGHT]);
    if (!(roof->estimated & 1u << ESTIMATE_HEIGHT))
        of[SPREAD_STOREY_HEIGHT] = 0;
    if (was_found(roof, FINDING_EXPOSURE))
        of[SPREAD_EXPOSURE] = 0;
    if (!roof->velocity.known)
        of[SPREAD_WIND_SPEED] = of[SPREAD_EXPOSURE] = 0;
    if (isnan(roof->given.condition))
        of[SPREAD_CONDITION] = 0;
    if (roof->given.installed == MISSING)
        of[SPREAD_SERVICE_LIFE] = 0;
    if (!roof->costs || !roof->costs[0].known)
        of[SPREAD_PRICE] = 0;
}

double draw_reach(const struct roof *roof, const double of[SPREAD_INPUTS])
{
    double storeys = of[SPREAD_STOREY_HEIGHT] > 0 ? roof->given.storeys : 0;

    return NORMAL_CUT * (of[SPREAD_HEIGHT] + storeys * of[SPREAD_STOREY_HEIGHT]);
}
