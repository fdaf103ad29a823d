#include <math.h>

#include "base/units.h"
#include "uplift/uplift.h"

static const double least_z = 15.0 * M_PER_FT;

/* Components and cladding in exposure B: editions up to 7-10 give one value of Kz up to
 * 30 ft, where the formula would go on falling. */
static const double floor_z = 30.0 * M_PER_FT;
static const double floor_kz = 0.70;

static bool has_floor(const struct standard *standard, bool setting)
{
    switch (standard->kz_floor) {
    case KZ_FLOOR_STATED:
        return true;
    case KZ_FLOOR_OPEN:
        return setting;
    case KZ_FLOOR_NONE:
        break;
    }
    return false;
}

struct exposure_factor velocity_kz(const struct standard *standard,
                                   enum exposure exposure, double z, bool kz_floor)
{
    const struct exposure_constants *constants = &standard->exposures[exposure];
    struct exposure_factor out = {.z = fmax(z, least_z)};

    if (out.z > constants->zg) {
        out.kz = standard->kz_ceiling > 0.0 ? standard->kz_ceiling : standard->kz_scale;
    } else {
        out.kz = standard->kz_scale * pow(out.z / constants->zg, 2.0 / constants->alpha);
    }
    if (exposure == EXPOSURE_B && out.z < floor_z && out.kz < floor_kz &&
        has_floor(standard, kz_floor)) {
        out.kz = floor_kz;
        out.floored = true;
    }
    return out;
}

double velocity_ke(double elevation)
{
    return exp(-0.0000362 * elevation / M_PER_FT);
}

/* Constant x V2, Pa. */
static double stagnation(const struct velocity *velocity)
{
    double mph = velocity->speed / MPS_PER_MPH;

    if (velocity->constant == VELOCITY_US) {
        return 0.00256 * mph * mph * PA_PER_PSF;
    }
    return 0.613 * velocity->speed * velocity->speed;
}

double velocity_pressure(const struct velocity *velocity)
{
    double kd_inside = velocity->kd / velocity->kd_outside;

    return stagnation(velocity) * velocity->kz * velocity->kzt * kd_inside *
           velocity->ke * velocity->importance;
}
