#ifndef OUTLAY_BASE_UNITS_H
#define OUTLAY_BASE_UNITS_H

/**
 * @file base/units.h
 * The only place that knows units other than SI. Values inside are metres, square
 * metres, pascals, metres per second, newtons, radians; they are converted where text
 * comes in (fields, options, tables) or goes out (columns, messages).
 *
 * All factors are exact by definition but those of the pound-force, which are rounded
 * from 4.4482216152605 N (exact: 0.45359237 kg x 9.80665 m/s2).
 */

#include <stdbool.h>

#include "base/text.h"

#define M_PER_FT 0.3048
#define M_PER_IN 0.0254
#define M_PER_MIL 0.0000254
#define M2_PER_FT2 (0.3048 * 0.3048)
#define MPS_PER_MPH 0.44704
#define KG_PER_LB 0.45359237
#define M3_PER_YD3 (0.9144 * 0.9144 * 0.9144)
#define N_PER_LBF 4.4482216152605
/** SI value, m2 K/W, of an R-value of 1 ft2 h F/Btu (from memory). */
#define RSI_PER_R 0.1761101838
#define PA_PER_PSF (4.4482216152605 / (0.3048 * 0.3048))

/** What a number measures, so that a unit of another kind is refused. */
enum quantity {
    QUANTITY_COUNT, /**< no unit */
    QUANTITY_LENGTH,
    QUANTITY_AREA,
    QUANTITY_SPEED,
    QUANTITY_PRESSURE,
    QUANTITY_FORCE,
    QUANTITY_SLOPE /**< rise over run */
};

/**
 * Finds a unit by the name that users write: ft, in, m, mm, cm, ft2, m2, mph, m/s,
 * km/h, kt, psf, Pa, kPa, lbf, N, kN, in/ft (of slopes "in" too, as in 1/4"), percent, %
 * (case matters only for Pa, N).
 * @param[out] factor  SI value of one unit.
 * @return false if no such unit measures that quantity.
 */
bool unit_find(const char *name, enum quantity quantity, double *factor);

/** The units of output: one row each for `us` and `si`. Divide an SI value by the
 *  factor; the suffix ends a column name (`area_ft2`, `area_m2`). */
struct unit {
    const char *suffix; /**< "ft2", "pa" */
    const char *label;  /**< as people write it: "ft2", "Pa" */
    double factor;      /**< SI value of one unit */
};

struct unit_system {
    const char *name;   /**< "us", "si" */
    struct unit length; /**< ft, m */
    struct unit small;  /**< in, mm */
    struct unit area;
    struct unit pressure;
    struct unit force;
    struct unit speed;
    struct unit volume;
    struct unit insulance; /**< R-value: R is 1 ft2 h F/Btu, RSI 1 m2 K/W */
};

extern const struct unit_system unit_system_us;
extern const struct unit_system unit_system_si;

/** Appends a text that was made before the units were known and so gives quantities in
 *  both, "60 ft (18.3 m)", with those of the system alone. */
void units_choose(struct text *out, const char *text, const struct unit_system *units);

/** The same as JSON, with its quotes. */
void units_choose_json(struct text *out, const char *text,
                       const struct unit_system *units);

#endif
