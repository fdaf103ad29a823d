/* ASCE/SEI 7-10. The coefficients up to 60 ft are recovered from a table of the 2018
 * International Residential Code; the rest is from memory. */

#include "base/units.h"
#include "standard/figure.h"

#define FT2(area) ((area)*M2_PER_FT2)

static const char low_figure[] =
    "ASCE/SEI 7-10 Fig. 30.4-2A; width a as reprinted from 7-02 and 7-05, "
    "shape of the corner from memory";
static const char tall_figure[] =
    "ASCE/SEI 7-10 Fig. 30.6-1; width a as reprinted from 7-05, legs as in a "
    "bulletin of 2020 on FM Data Sheet 1-28";
static const char tall_curves[] = "ASCE/SEI 7-10 Fig. 30.6-1, from memory";
static const char low_curves[] =
    "ASCE/SEI 7-10 Fig. 30.4-2A, recovered from the 2018 IRC Table R301.2(2)";

static void figure(const struct figure_input *in, struct zone_figure *out)
{
    figure_route(in, out);
    if (out->tall) {
        figure_tall(in, out);
        out->source = tall_figure;
    } else {
        figure_low_by_width(in, out);
        out->source = low_figure;
    }
}

/* Up to small_area, ft2: GCp; from large_area on, ft2: GCp. */
const struct standard standard_asce7_10 = {
    .name = "asce7-10",
    .title = "ASCE/SEI 7-10",
    .offered = true,
    .figure = figure,
    .figure_low_rule = FIGURE_RULE_BY_WIDTH,
    .figure_low_source = low_figure,
    .figure_tall_rule = FIGURE_RULE_TALL,
    .figure_tall_source = tall_figure,
    .low =
        {
            [ZONE_CORNER] = {FT2(10), -2.8, FT2(100), -1.1, BASIS_RECOVERED, low_curves},
            [ZONE_PERIMETER] = {FT2(10), -1.8, FT2(100), -1.1, BASIS_RECOVERED,
                                low_curves},
            [ZONE_FIELD] = {FT2(10), -1.0, FT2(100), -0.9, BASIS_RECOVERED, low_curves},
        },
    .tall =
        {
            [ZONE_CORNER] = {FT2(10), -3.2, FT2(500), -2.3, BASIS_MEMORY, tall_curves},
            [ZONE_PERIMETER] = {FT2(10), -2.3, FT2(500), -1.6, BASIS_MEMORY, tall_curves},
            [ZONE_FIELD] = {FT2(10), -1.4, FT2(500), -0.9, BASIS_MEMORY, tall_curves},
        },
    .kz_scale = 2.01,
    .kz_ceiling = 0.0,
    .exposures =
        {
            [EXPOSURE_B] = {7.0, 1200.0 * M_PER_FT, BASIS_MEMORY},
            [EXPOSURE_C] = {9.5, 900.0 * M_PER_FT, BASIS_MEMORY},
            [EXPOSURE_D] = {11.5, 700.0 * M_PER_FT, BASIS_MEMORY},
        },
    .kz_floor = KZ_FLOOR_STATED,
    .kz_source = "ASCE/SEI 7-10 Table 30.3-1, from memory",
    .kd = 0.85,
    .kd_outside = false,
    .kd_source = "ASCE/SEI 7-10 Table 26.6-1, from memory",
    .has_ke = false,
    .ke_source = NULL,
    .has_importance = false,
    .gcpi_source = "ASCE/SEI 7-10 Table 26.11-1, from memory",
    .minimum = 16.0 * PA_PER_PSF,
    .nominal_speed = 100.0 * MPS_PER_MPH,
    .nominal_speed_too = false,
    .has_tornado = false,
    .allowable_factor = 0.6,
    .pressure_source = "ASCE/SEI 7-10 secs. 30.3.2 and 30.4.2, from memory",
    .minimum_source = "ASCE/SEI 7-10 sec. 30.2.2, from memory",
    .parapet_height = 3.0 * M_PER_FT,
    .parapet_source = "ASCE/SEI 7-10 Figs. 30.4-2A and 30.6-1, notes, from memory",
};
