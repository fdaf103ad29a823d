#ifndef OUTLAY_UPLIFT_UPLIFT_H
#define OUTLAY_UPLIFT_UPLIFT_H

/**
 * @file uplift/uplift.h
 * Stage `uplift`: the chain from wind speed to required rating, for each zone. Needs
 * roof.level and roof.zones; gives roof.velocity and zone.uplift. Every intermediate
 * value is kept in roof.velocity, so that the derivation is printed, not recomputed.
 *
 * A roof without wind speed (own attribute or setting) keeps velocity.known false.
 * Doesn't fail; threads: any.
 */

#include "base/units.h"
#include "roof/roof.h"
#include "standard/standard.h"

struct uplift_settings {
    const struct standard *standard;
    double wind_speed;               /**< m/s; NAN: only roofs that bring their own */
    enum velocity_constant constant; /**< of these two; VELOCITY_SI */
    enum exposure exposure;   /**< for roofs without their own; NOT_GIVEN: C, assumed */
    enum enclosure enclosure; /**< likewise; NOT_GIVEN: enclosed, assumed */
    double elevation;         /**< m; NAN: ground elevation factor 1, assumed */
    double topographic;       /**< Kzt; NAN: 1, assumed */
    double wind_area;         /**< effective wind area, m2; 10 ft2 */
    double safety_factor;     /**< 2.0 */
    double importance;        /**< 1; only editions before 7-10 use it */
    bool kz_floor;            /**< where the edition leaves it open: Kz >= 0.70 in
                                   exposure B below 30 ft; true */
};

struct uplift_settings uplift_defaults(void);

/** Works out velocity and uplift of each zoned roof of the building. */
void uplift_run(struct building *building, const struct uplift_settings *settings);

/** Exposure coefficient and how it came about. */
struct exposure_factor {
    double kz;
    double z;     /**< height used, m: at least 15 ft */
    bool floored; /**< kz is the floor of exposure B below 30 ft, not the formula */
};

/** Kz at height z (m) for a standard; kz_floor as in the settings. */
struct exposure_factor velocity_kz(const struct standard *standard,
                                   enum exposure exposure, double z, bool kz_floor);

/** Ke = exp(-0.0000362 ze), ze in ft (ASCE/SEI 7-22 Table 26.9-1 note); elevation m. */
double velocity_ke(double elevation);

/**
 * qh, Pa: 0.613 Kz Kzt Ke V2 of the SI form, or 0.00256 Kz Kzt Ke V2 of the US form
 * (V in mph, psf) as velocity.constant says; times Kd where the edition has it inside
 * (kd_outside is 1) and the importance factor.
 */
double velocity_pressure(const struct velocity *velocity);

#endif
