/* The chain of ASCE/SEI 7's components and cladding: what an edition asks for is data
 * of standard/, the chain is the same for all that are built here. */

#include <math.h>

#include "base/units.h"
#include "uplift/limits.h"
#include "uplift/uplift.h"

/* A parapet of 3 ft stays one after a conversion or two. */
#define NOISE 1e-9

struct uplift_settings uplift_defaults(void)
{
    return (struct uplift_settings){
        .standard = standards[0],
        .wind_speed = NAN,
        .constant = VELOCITY_SI,
        .exposure = EXPOSURE_NOT_GIVEN,
        .enclosure = ENCLOSURE_NOT_GIVEN,
        .elevation = NAN,
        .topographic = NAN,
        .wind_area = 10.0 * M2_PER_FT2,
        .safety_factor = 2.0,
        .importance = 1.0,
        .kz_floor = true,
    };
}

/* ---- What the roof tells, else the settings, else an assumption ---------------- */

static double own_or(double own, double setting)
{
    return isfinite(own) ? own : setting;
}

static enum exposure choose_exposure(struct roof *roof,
                                     const struct uplift_settings *settings)
{
    if (roof->given.exposure != EXPOSURE_NOT_GIVEN) {
        return roof->given.exposure;
    }
    if (settings->exposure != EXPOSURE_NOT_GIVEN) {
        return settings->exposure;
    }
    roof_assume(roof, ASSUME_EXPOSURE);
    return EXPOSURE_C;
}

static enum enclosure choose_enclosure(struct roof *roof,
                                       const struct uplift_settings *settings)
{
    if (roof->given.enclosure != ENCLOSURE_NOT_GIVEN) {
        return roof->given.enclosure;
    }
    if (settings->enclosure != ENCLOSURE_NOT_GIVEN) {
        return settings->enclosure;
    }
    roof_assume(roof, ASSUME_ENCLOSURE);
    return ENCLOSURE_ENCLOSED;
}

static double choose_topographic(struct roof *roof,
                                 const struct uplift_settings *settings)
{
    double kzt = own_or(roof->given.topographic, settings->topographic);

    if (isfinite(kzt)) {
        return kzt;
    }
    roof_assume(roof, ASSUME_TOPOGRAPHY);
    return 1.0;
}

static void set_ke(struct roof *roof, const struct uplift_settings *settings)
{
    struct velocity *velocity = &roof->velocity;

    velocity->ke = 1.0;
    velocity->elevation = NAN;
    if (!settings->standard->has_ke) {
        return;
    }
    velocity->elevation = own_or(roof->given.elevation, settings->elevation);
    if (isfinite(velocity->elevation)) {
        velocity->ke = velocity_ke(velocity->elevation);
    } else {
        roof_assume(roof, ASSUME_ELEVATION);
    }
}

/* ---- Velocity pressure ---------------------------------------------------------- */

static void set_kz(struct roof *roof, const struct uplift_settings *settings)
{
    const struct standard *standard = settings->standard;
    struct velocity *velocity = &roof->velocity;
    enum exposure exposure = velocity->exposure;
    double height = roof->level.height;
    struct exposure_factor factor =
        velocity_kz(standard, exposure, height, settings->kz_floor);

    if (standard->kz_floor == KZ_FLOOR_OPEN &&
        velocity_kz(standard, exposure, height, true).floored) {
        roof_assume(roof, ASSUME_KZ_FLOOR);
    }
    velocity->height = factor.z;
    velocity->alpha = standard->exposures[exposure].alpha;
    velocity->zg = standard->exposures[exposure].zg;
    velocity->kz = factor.kz;
    velocity->kz_floored = factor.floored;
}

static void set_velocity(struct roof *roof, const struct uplift_settings *settings)
{
    const struct standard *standard = settings->standard;
    struct velocity *velocity = &roof->velocity;

    velocity->known = true;
    velocity->constant = settings->constant;
    velocity->exposure = choose_exposure(roof, settings);
    set_kz(roof, settings);
    velocity->kzt = choose_topographic(roof, settings);
    velocity->kd = standard->kd;
    velocity->kd_outside = standard->kd_outside ? standard->kd : 1.0;
    set_ke(roof, settings);
    velocity->importance = standard->has_importance ? settings->importance : 1.0;
    velocity->pressure = velocity_pressure(velocity);
    velocity->enclosure = choose_enclosure(roof, settings);
    velocity->gcpi = gcpi_of(velocity->enclosure);
    velocity->wind_area = settings->wind_area;
    velocity->minimum = standard->minimum;
    velocity->safety_factor = settings->safety_factor;
}

/* ---- Zones ---------------------------------------------------------------------- */

/* Whether a parapet goes all around the level, so that its corners have relief. */
static bool has_parapet(struct roof *roof, const struct standard *standard)
{
    const struct level *level = &roof->level;
    bool high = level->parapet >= standard->parapet_height * (1.0 - NOISE);

    if (isnan(roof->given.parapet))
        roof_assume(roof, ASSUME_PARAPET);
    if (!high || level->step)
        return false;
    if (!level->parapet_around)
        roof_assume(roof, ASSUME_PARAPET_AROUND);
    return true;
}

static void set_uplift(struct zone *zone, const struct roof *roof,
                       const struct standard *standard, bool parapet)
{
    const struct velocity *velocity = &roof->velocity;
    const struct gcp_curve *curves = roof->level.tall ? standard->tall : standard->low;
    struct zone_uplift *uplift = &zone->uplift;
    const struct gcp_curve *curve;

    uplift->parapet_relief = parapet && zone->role == ZONE_CORNER;
    curve = &curves[uplift->parapet_relief ? ZONE_PERIMETER : zone->role];
    uplift->gcp = gcp_at(curve, velocity->wind_area);
    uplift->basis = curve->basis;
    uplift->source = curve->source;
    uplift->net =
        velocity->pressure * velocity->kd_outside * (fabs(uplift->gcp) + velocity->gcpi);
    uplift->known = isfinite(uplift->net);
    uplift->uplift = uplift->known ? fmax(uplift->net, velocity->minimum) : NAN;
    uplift->allowable = standard->allowable_factor * uplift->uplift;
    uplift->required = velocity->safety_factor * uplift->allowable;
}

static void rate(struct roof *roof, const struct uplift_settings *settings)
{
    const struct standard *standard = settings->standard;
    bool parapet, memory;

    set_velocity(roof, settings);
    parapet = has_parapet(roof, standard);
    memory = standard->exposures[roof->velocity.exposure].basis == BASIS_MEMORY;
    for (size_t i = 0; i < roof->zone_count; i++) {
        set_uplift(&roof->zones[i], roof, standard, parapet);
        memory = memory || roof->zones[i].uplift.basis == BASIS_MEMORY;
    }
    if (memory) {
        roof_assume(roof, ASSUME_COEFFICIENTS);
    }
}

void uplift_run(struct building *building, const struct uplift_settings *settings)
{
    for (size_t i = 0; i < building->roof_count; i++) {
        struct roof *roof = &building->roofs[i];

        if (!roof->zoned) {
            continue;
        }
        roof->velocity.speed = own_or(roof->given.wind_speed, settings->wind_speed);
        if (isfinite(roof->velocity.speed)) {
            rate(roof, settings);
        } else {
            roof_problem(building->arena, roof, PROBLEM_NO_SPEED,
                         "uplift and ratings stay unknown; give --wind-speed 115mph, or "
                         "a column by --field wind_speed=COLUMN:mph",
                         "no wind speed");
        }
        limits_check(building->arena, roof, settings->standard);
    }
}
