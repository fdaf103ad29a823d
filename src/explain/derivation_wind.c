/* The derivation's sections on wind: from the speed to the rating that is asked for. */

#include <math.h>

#include "explain/derivation_parts.h"

/* ---- Velocity pressure ---------------------------------------------------------- */

static void put_speed(const struct derivation *derivation)
{
    const struct velocity *velocity = &derivation->roof->velocity;
    bool nominal = derivation->standard->allowable_factor >= 1.0;

    text_puts(derivation->out, "   wind speed V = ");
    put_quantity(derivation, velocity->speed, &derivation->units->speed);
    text_printf(derivation->out, ", 3-second gust, %s",
                nominal ? "nominal" : "strength level");
    put_assumed(derivation, ASSUME_NOMINAL_SPEED);
    text_putc(derivation->out, '\n');
}

static void put_kz(const struct derivation *derivation)
{
    const struct velocity *velocity = &derivation->roof->velocity;
    const struct standard *standard = derivation->standard;
    const struct unit *length = &derivation->units->length;
    struct text *out = derivation->out;

    text_printf(out, "   exposure %s", exposure_name(velocity->exposure));
    put_assumed(derivation, ASSUME_EXPOSURE);
    put_assumed(derivation, ASSUME_ROUGHNESS);
    text_puts(out, ": alpha = ");
    text_number(out, velocity->alpha, 1);
    text_puts(out, ", zg = ");
    put_quantity(derivation, velocity->zg, length);
    text_printf(out, " (%s)",
                coefficient_basis_name(standard->exposures[velocity->exposure].basis));
    put_source(derivation, standard->kz_source);
    if (velocity->height > derivation->roof->level.height) {
        put_words(derivation, "   z = h, but at least 15 ft (4.6 m): ");
        put_quantity(derivation, velocity->height, length);
        text_putc(out, '\n');
    }
    if (velocity->kz_floored) {
        text_puts(out, "   Kz = ");
        text_fixed(out, velocity->kz, 3);
        put_words(derivation, ", the least value in exposure B below 30 ft (9.1 m)");
    } else if (velocity->height > velocity->zg) {
        text_puts(out, "   z is above zg: Kz = ");
        text_fixed(out, velocity->kz, 3);
    } else {
        text_printf(out, "   Kz = %.2f (z / zg)^(2 / alpha) = %.2f x (",
                    standard->kz_scale, standard->kz_scale);
        put_quantity(derivation, velocity->height, length);
        text_puts(out, " / ");
        put_quantity(derivation, velocity->zg, length);
        text_puts(out, ")^(2 / ");
        text_number(out, velocity->alpha, 1);
        text_puts(out, ") = ");
        text_fixed(out, velocity->kz, 3);
    }
    put_assumed(derivation, ASSUME_KZ_FLOOR);
    text_putc(out, '\n');
}

static void put_factors(const struct derivation *derivation)
{
    const struct velocity *velocity = &derivation->roof->velocity;
    const struct standard *standard = derivation->standard;
    struct text *out = derivation->out;

    text_puts(out, "   topographic factor Kzt = ");
    text_number(out, velocity->kzt, 3);
    put_assumed(derivation, ASSUME_TOPOGRAPHY);
    put_assumed(derivation, ASSUME_HILL);
    text_puts(out, "\n   directionality factor Kd = ");
    text_number(out, velocity->kd, 3);
    text_puts(out,
              standard->kd_outside ? ", with the coefficients (step 4)" : ", within qh");
    put_source(derivation, standard->kd_source);
    if (standard->has_ke) {
        text_puts(out, "   ground elevation factor Ke = ");
        if (isfinite(velocity->elevation)) {
            text_printf(out,
                        "exp(-0.0000362 x %.0f ft) = ", velocity->elevation / M_PER_FT);
        }
        text_fixed(out, velocity->ke, 3);
        put_assumed(derivation, ASSUME_ELEVATION);
        put_source(derivation, standard->ke_source);
    }
    if (standard->has_importance) {
        text_puts(out, "   importance factor I = ");
        text_number(out, velocity->importance, 3);
        text_putc(out, '\n');
    }
}

static void put_factor(struct text *out, double factor)
{
    text_puts(out, " x ");
    text_fixed(out, factor, 3);
}

/* The pressure in the unit of the constant, then in that of the output. */
static void put_pressure(const struct derivation *derivation)
{
    const struct velocity *velocity = &derivation->roof->velocity;
    const struct unit *shown = &derivation->units->pressure;
    bool us = velocity->constant == VELOCITY_US;
    double factor = us ? PA_PER_PSF : 1;

    text_fixed(derivation->out, velocity->pressure / factor, us ? 2 : 0);
    text_puts(derivation->out, us ? " psf" : " Pa");
    if (shown->factor != factor) {
        text_puts(derivation->out, " = ");
        put_quantity(derivation, velocity->pressure, shown);
    }
}

static void put_qh(const struct derivation *derivation)
{
    const struct velocity *velocity = &derivation->roof->velocity;
    const struct standard *standard = derivation->standard;
    const char *constant = velocity_constant_name((int)velocity->constant);
    bool us = velocity->constant == VELOCITY_US;
    struct text *out = derivation->out;

    text_printf(out, "   qh = %s Kz Kzt%s%s V^2%s (%s) = %s", constant,
                standard->kd_outside ? "" : " Kd", standard->has_ke ? " Ke" : "",
                standard->has_importance ? " I" : "", us ? "psf, mph" : "Pa, m/s",
                constant);
    put_factor(out, velocity->kz);
    put_factor(out, velocity->kzt);
    if (!standard->kd_outside) {
        put_factor(out, velocity->kd);
    }
    if (standard->has_ke) {
        put_factor(out, velocity->ke);
    }
    text_puts(out, " x ");
    text_fixed(out, us ? velocity->speed / MPS_PER_MPH : velocity->speed, 2);
    text_puts(out, "^2");
    if (standard->has_importance) {
        put_factor(out, velocity->importance);
    }
    text_puts(out, " = ");
    put_pressure(derivation);
    put_source(derivation, standard->pressure_source);
}

void put_velocity(const struct derivation *derivation)
{
    text_puts(derivation->out, "\n2. Velocity pressure\n");
    if (!derivation->roof->velocity.known) {
        text_puts(derivation->out, "   no wind speed was given: uplift is unknown\n");
        return;
    }
    put_speed(derivation);
    put_kz(derivation);
    put_factors(derivation);
    put_qh(derivation);
}

/* ---- Coefficients --------------------------------------------------------------- */

static void put_curve(const struct derivation *derivation, const struct zone *zone)
{
    const struct standard *standard = derivation->standard;
    const struct gcp_curve *curves =
        derivation->roof->level.tall ? standard->tall : standard->low;
    bool relief = zone->uplift.parapet_relief;
    const struct gcp_curve *curve = &curves[relief ? ZONE_PERIMETER : zone->role];
    struct text *out = derivation->out;

    put_zone(derivation, zone);
    if (relief) {
        text_puts(out, "taken as perimeter for the parapet; ");
    }
    text_printf(out, "%.1f at ", curve->gcp_small);
    put_quantity(derivation, curve->small_area, &derivation->units->area);
    text_printf(out, " to %.1f at ", curve->gcp_large);
    put_quantity(derivation, curve->large_area, &derivation->units->area);
    text_puts(out, ": GCp = ");
    text_fixed(out, zone->uplift.gcp, 3);
    text_printf(out, " (%s)", coefficient_basis_name(zone->uplift.basis));
    put_source(derivation, zone->uplift.source);
}

/* Why a parapet of the roof's own that is high enough relieves no corner. */
static void put_lost_relief(const struct derivation *derivation)
{
    const struct roof *roof = derivation->roof;

    if (!(roof->given.parapet >= derivation->standard->parapet_height) ||
        roof->zones[0].role != ZONE_CORNER || roof->zones[0].uplift.parapet_relief)
        return;
    text_puts(
        derivation->out,
        roof->level.step
            ? "   not here: another level, or a roof of unknown height, adjoins, so "
              "it may not go all around\n"
            : "   not here: a section of this level has a lower one or a metal "
              "edge, or none is given\n");
}

static void put_parapet(const struct derivation *derivation)
{
    const struct roof *roof = derivation->roof;
    struct text *out = derivation->out;

    text_puts(out, "   parapet: ");
    if (isnan(roof->given.parapet)) {
        text_puts(out, "none");
    } else {
        put_quantity(derivation, roof->given.parapet, &derivation->units->length);
    }
    put_assumed(derivation, ASSUME_PARAPET);
    put_assumed(derivation, ASSUME_PARAPET_AROUND);
    text_puts(out, "; from ");
    put_quantity(derivation, derivation->standard->parapet_height,
                 &derivation->units->length);
    text_puts(out, " on, all around, corners count as perimeter");
    put_source(derivation, derivation->standard->parapet_source);
    put_lost_relief(derivation);
}

/* Each reason why these coefficients don't cover a zone, once. */
static void put_limits(const struct derivation *derivation)
{
    const struct roof *roof = derivation->roof;
    const char *said = NULL;

    for (size_t i = 0; i < roof->zone_count; i++) {
        const char *outside = roof->zones[i].uplift.outside;

        if (outside && outside != said) {
            text_puts(derivation->out, "   not covered, state unknown: ");
            put_words(derivation, outside);
            text_putc(derivation->out, '\n');
        }
        said = outside;
    }
}

void put_coefficients(const struct derivation *derivation)
{
    const struct roof *roof = derivation->roof;
    struct text *out = derivation->out;

    text_puts(out, "\n3. Coefficients\n   enclosure: ");
    text_puts(out, enclosure_name(roof->velocity.enclosure));
    put_assumed(derivation, ASSUME_ENCLOSURE);
    text_printf(out, ": GCpi = %.2f", roof->velocity.gcpi);
    put_source(derivation, derivation->standard->gcpi_source);
    put_limits(derivation);
    put_parapet(derivation);
    text_puts(out, "   effective wind area = ");
    put_quantity(derivation, roof->velocity.wind_area, &derivation->units->area);
    text_puts(out, "; coefficients run straight over the logarithm of the area\n");
    for (size_t i = 0; i < roof->zone_count; i++) {
        put_curve(derivation, &roof->zones[i]);
    }
}

/* ---- Pressures ------------------------------------------------------------------ */

static void put_net(const struct derivation *derivation, const struct zone *zone)
{
    const struct velocity *velocity = &derivation->roof->velocity;
    const struct unit *pressure = &derivation->units->pressure;
    struct text *out = derivation->out;

    put_zone(derivation, zone);
    put_quantity(derivation, velocity->pressure, pressure);
    if (derivation->standard->kd_outside) {
        put_factor(out, velocity->kd_outside);
    }
    text_printf(out, " x (%.3f + %.2f) = ", fabs(zone->uplift.gcp), velocity->gcpi);
    put_quantity(derivation, zone->uplift.net, pressure);
    text_puts(out, "; uplift = ");
    put_quantity(derivation, zone->uplift.uplift, pressure);
    text_puts(out, zone->uplift.net < velocity->minimum ? " (the minimum)\n" : "\n");
}

void put_pressures(const struct derivation *derivation)
{
    const struct roof *roof = derivation->roof;
    struct text *out = derivation->out;

    text_printf(out, "\n4. Uplift, away from the roof\n   net = qh%s (|GCp| + GCpi)",
                derivation->standard->kd_outside ? " Kd" : "");
    put_source(derivation, derivation->standard->pressure_source);
    text_puts(out, "   uplift = max(net, ");
    put_quantity(derivation, roof->velocity.minimum, &derivation->units->pressure);
    text_putc(out, ')');
    put_source(derivation, derivation->standard->minimum_source);
    for (size_t i = 0; i < roof->zone_count; i++) {
        put_net(derivation, &roof->zones[i]);
    }
    if (roof->assumed & ASSUMPTION_BIT(ASSUME_TORNADO)) {
        text_puts(out, "   tornado loads: not checked");
        put_assumed(derivation, ASSUME_TORNADO);
        text_putc(out, '\n');
    }
}

void put_ratings(const struct derivation *derivation)
{
    const struct roof *roof = derivation->roof;
    const struct unit *pressure = &derivation->units->pressure;
    struct text *out = derivation->out;

    text_puts(out, "\n5. Allowable uplift and required rating\n   allowable = ");
    text_number(out, derivation->standard->allowable_factor, 2);
    text_puts(out, " x uplift; required ultimate rating = ");
    text_number(out, roof->velocity.safety_factor, 2);
    text_puts(out, " x allowable\n");
    for (size_t i = 0; i < roof->zone_count; i++) {
        put_zone(derivation, &roof->zones[i]);
        text_puts(out, "allowable ");
        put_quantity(derivation, roof->zones[i].uplift.allowable, pressure);
        text_puts(out, ", required ");
        put_quantity(derivation, roof->zones[i].uplift.required, pressure);
        text_putc(out, '\n');
    }
}
