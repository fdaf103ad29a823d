#include "uplift/limits.h"

#include <math.h>

#include "base/units.h"

/* A limit that is reached stays reached after a conversion or two. */
static const double noise = 1e-9;

static const double steep = 0.12278456090290459;   /* tan 7 degrees */
static const double degree = 0.017453292519943295; /* rad */

/* How far from the edge the zone begins, m. */
static double zone_start(const struct level *level, enum zone_role role)
{
    if (role == ZONE_INTERIOR)
        return level->field_depth;
    return role == ZONE_FIELD ? level->perimeter_depth : 0;
}

/* Zones that begin within reach of the edge, m, lie outside. The first reason stays. */
static void exclude(struct roof *roof, double reach, const char *reason)
{
    for (size_t i = 0; i < roof->zone_count; i++) {
        struct zone *zone = &roof->zones[i];

        if (zone_start(&roof->level, zone->role) < reach && !zone->uplift.outside)
            zone->uplift.outside = reason;
    }
}

static void check_slope(struct arena *arena, struct roof *roof)
{
    if (!(roof->given.slope > steep * (1 + noise)))
        return;
    exclude(roof, INFINITY,
            "slope above 7 degrees: the standard has other coefficients for it; have an "
            "engineer rate the roof");
    if (isinf(roof->given.slope)) /* reported where it was read */
        return;
    roof_problem(arena, roof, PROBLEM_STEEP,
                 "zoned as a flat roof, state unknown; correct the slope, or have an "
                 "engineer rate the roof",
                 "slope of %.2f degrees is above 7", atan(roof->given.slope) / degree);
}

static void check_enclosure(struct arena *arena, struct roof *roof)
{
    if (!roof->velocity.known || roof->velocity.enclosure != ENCLOSURE_OPEN)
        return;
    exclude(roof, INFINITY,
            "open building: the standard has other coefficients for it; have an engineer "
            "rate the roof");
    roof_problem(arena, roof, PROBLEM_OPEN,
                 "rated by the coefficients of closed buildings, state unknown; correct "
                 "the enclosure, or have an engineer rate the roof",
                 "an open building has net coefficients of its own");
}

static void check_overhang(struct arena *arena, struct roof *roof)
{
    double overhang = roof->given.overhang;

    if (!(overhang > 0))
        return;
    exclude(roof, overhang,
            "overhang: wind from below adds to the uplift, which isn't rated; have an "
            "engineer rate it");
    roof_problem(arena, roof, PROBLEM_OVERHANG,
                 "rated as if there were none, corner and perimeter unknown; have an "
                 "engineer rate them",
                 "the roof overhangs by %.1f ft (%.2f m)", overhang / M_PER_FT, overhang);
}

static void check_speed(struct arena *arena, struct roof *roof,
                        const struct standard *standard)
{
    double speed = roof->velocity.speed, nominal = standard->nominal_speed;
    double limit = nominal * (standard->nominal_speed_too ? 1 + noise : 1 - noise);

    if (!(speed <= limit))
        return;
    roof_assume(roof, ASSUME_NOMINAL_SPEED);
    roof_problem(arena, roof, PROBLEM_LOW_SPEED,
                 "used as it is, met counts as met assumed; take the speed from the map "
                 "of the standard: 3-second gust, strength level",
                 "wind speed %.1f mph (%.1f m/s) is %s %.0f mph (%.1f m/s): probably a "
                 "nominal speed of an old map",
                 speed / MPS_PER_MPH, speed,
                 standard->nominal_speed_too ? "not above" : "under",
                 nominal / MPS_PER_MPH, nominal);
}

static void check_tornado(struct arena *arena, struct roof *roof,
                          const struct standard *standard)
{
    if (!standard->has_tornado || roof->given.risk < 3)
        return;
    roof_assume(roof, ASSUME_TORNADO);
    roof_problem(arena, roof, PROBLEM_TORNADO,
                 "met counts as met assumed; have them checked if the building stands in "
                 "the tornado-prone region (about east of the Continental Divide)",
                 "risk category %s: tornado loads may govern and aren't checked",
                 roof->given.risk == 3 ? "III" : "IV");
}

/* No fastener or plate holds much more than 10 ft2; coefficients of a larger area are
 * milder than what acts on one. */
static void check_area(struct arena *arena, struct roof *roof)
{
    double area = roof->velocity.wind_area, usual = 10 * M2_PER_FT2;

    if (!roof->velocity.known || area <= usual * (1 + noise))
        return;
    roof_assume(roof, ASSUME_WIND_AREA);
    roof_problem(
        arena, roof, PROBLEM_WIND_AREA,
        "used as it is, met counts as met assumed; leave --wind-area out unless "
        "an engineer chose it",
        "the effective wind area of %.1f ft2 (%.2f m2) is more than the %.0f ft2 "
        "(%.2f m2) that one fastener or plate holds (ours), and its "
        "coefficients are milder",
        area / M2_PER_FT2, area, usual / M2_PER_FT2, usual);
}

void limits_check(struct arena *arena, struct roof *roof, const struct standard *standard)
{
    check_slope(arena, roof);
    check_enclosure(arena, roof);
    check_overhang(arena, roof);
    check_speed(arena, roof, standard);
    check_tornado(arena, roof, standard);
    check_area(arena, roof);
}
