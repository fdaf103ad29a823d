#ifndef OUTLAY_STANDARD_STANDARD_H
#define OUTLAY_STANDARD_STANDARD_H

/**
 * @file standard/standard.h
 * What the wind standards say, as data: how deep the zones are, which coefficients
 * apply, which constants enter the velocity pressure. zoning/ and uplift/ are engines
 * that know no edition. Adding a standard is one file here and one row in
 * standards.c.
 *
 * Units: metres, pascals, m2 of effective wind area; the printed values in feet and
 * square feet are converted in the tables' own initialisers.
 * Everything is constant data in static storage: safe from any thread.
 */

#include <stdbool.h>
#include <stddef.h>

#include "roof/roof.h"

enum corner_shape {
    CORNER_LEGS,   /**< two legs along the edges, joined: an L */
    CORNER_CROSSED /**< where the two edges' strips cross: a x a at a right angle */
};

/** The route between 60 ft and 90 ft where both readings are in use. */
enum mid_rise { MID_RISE_TALL, MID_RISE_LOW };

struct figure_input {
    double height;          /**< h, m; > 0 */
    double least_dimension; /**< LHD, m; > 0 */
    enum mid_rise mid_rise;
};

/** What a standard asks of one roof level. */
struct zone_figure {
    bool tall;            /**< the figure for tall buildings applies */
    bool mid_rise_choice; /**< the mid_rise setting decided it */
    enum corner_shape corner_shape;
    double leg_length;      /**< along the edge, m */
    double leg_depth;       /**< square to the edge, m */
    double perimeter_depth; /**< m */
    double field_depth;     /**< far side of the field strip, m; INFINITY: the field
                                  is all the rest and there is no interior */
    const char *labels[ZONE_ROLES]; /**< the standard's own, NULL where it has none */
    const char *source;             /**< figure */
};

/** External coefficient against effective wind area: constant up to small_area,
 *  log-linear between, constant from large_area on. */
struct gcp_curve {
    double small_area; /**< m2 */
    double gcp_small;
    double large_area; /**< m2 */
    double gcp_large;
    enum coefficient_basis basis;
    const char *source; /**< document, edition, figure, and "from memory" where so */
};

struct exposure_constants {
    double alpha; /**< power */
    double zg;    /**< gradient height, m */
    enum coefficient_basis basis;
};

enum kz_floor { KZ_FLOOR_NONE, KZ_FLOOR_STATED, KZ_FLOOR_OPEN };

struct standard {
    const char *name;  /**< "asce7-22", as users write it */
    const char *title; /**< "ASCE/SEI 7-22" */
    bool offered;      /**< on the command line; false: kept for checks only */
    void (*figure)(const struct figure_input *in, struct zone_figure *out);
    const char *figure_low_rule; /**< the depths in words, where it isn't tall */
    const char *figure_low_source;
    const char *figure_tall_rule;
    const char *figure_tall_source;
    struct gcp_curve low[ZONE_ROLES];  /**< h <= 60 ft; small_area 0: no such zone */
    struct gcp_curve tall[ZONE_ROLES]; /**< h > 60 ft; likewise */
    double kz_scale;   /**< 2.01 or 2.41 in Kz = scale (z / zg)^(2 / alpha) */
    double kz_ceiling; /**< Kz above zg; 0: the formula's value at zg */
    struct exposure_constants exposures[4]; /**< by enum exposure; [0] unused */
    enum kz_floor kz_floor;                 /**< exposure B below 30 ft: Kz >= 0.70? */
    const char *kz_source;
    double kd;       /**< directionality factor of components and cladding */
    bool kd_outside; /**< multiplies the coefficients, not qh */
    const char *kd_source;
    bool has_ke;           /**< ground elevation factor enters qh */
    const char *ke_source; /**< NULL without it */
    bool has_importance;
    const char *gcpi_source;
    double minimum;       /**< least net pressure, Pa, strength level (7-05: nominal) */
    double nominal_speed; /**< m/s: a slower wind is probably a nominal one, from a map of
                               before 7-10; 0: nominal ones are what is asked for */
    bool nominal_speed_too;  /**< so is a wind of just this speed */
    bool has_tornado;        /**< risk categories III and IV have tornado loads too */
    double allowable_factor; /**< strength to allowable: 0.6; 1: speeds are nominal */
    const char *pressure_source;
    const char *minimum_source;
    double parapet_height; /**< m; from here on, all around, corner counts as perimeter */
    const char *parapet_source;
};

extern const struct standard standard_asce7_22;
extern const struct standard standard_asce7_16;
extern const struct standard standard_asce7_10;
extern const struct standard standard_asce7_05;

/** The table, ended by NULL, the default first. */
extern const struct standard *const standards[];

/** @return NULL for an unknown name. */
const struct standard *standard_find(const char *name);

/** GCp of a curve at an effective wind area, m2 (> 0); NAN for an absent curve. */
double gcp_at(const struct gcp_curve *curve, double area);

/** Internal coefficient (positive size) of an enclosure; the same in all editions built
 *  here but that partially open is known from 7-16 on. */
double gcpi_of(enum enclosure enclosure);

#endif
