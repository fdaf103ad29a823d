/* ASCE/SEI 7-16. All from memory; Kz and q agree with published tables and a worked
 * example (testdata/vectors). */

#include "base/units.h"
#include "standard/figure.h"

#define FT2(area) ((area)*M2_PER_FT2)

static const char low_figure[] = "ASCE/SEI 7-16 Fig. 30.3-2A, from memory";
static const char tall_figure[] = "ASCE/SEI 7-16 Fig. 30.5-1, from memory";

static void figure(const struct figure_input *in, struct zone_figure *out)
{
    figure_route(in, out);
    if (out->tall) {
        figure_tall(in, out);
        out->source = tall_figure;
    } else {
        figure_low_by_height(in, out);
        out->source = low_figure;
    }
}

/* Up to small_area, ft2: GCp; from large_area on, ft2: GCp. */
const struct standard standard_asce7_16 = {
    .name = "asce7-16",
    .title = "ASCE/SEI 7-16",
    .offered = true,
    .figure = figure,
    .figure_low_rule = FIGURE_RULE_BY_HEIGHT,
    .figure_low_source = low_figure,
    .figure_tall_rule = FIGURE_RULE_TALL,
    .figure_tall_source = tall_figure,
    .low =
        {
            [ZONE_CORNER] = {FT2(10), -3.2, FT2(500), -1.4, BASIS_MEMORY, low_figure},
            [ZONE_PERIMETER] = {FT2(10), -2.3, FT2(500), -1.4, BASIS_MEMORY, low_figure},
            [ZONE_FIELD] = {FT2(10), -1.7, FT2(500), -1.0, BASIS_MEMORY, low_figure},
            [ZONE_INTERIOR] = {FT2(100), -0.9, FT2(1000), -0.4, BASIS_MEMORY, low_figure},
        },
    .tall =
        {
            [ZONE_CORNER] = {FT2(10), -3.2, FT2(500), -2.3, BASIS_MEMORY, tall_figure},
            [ZONE_PERIMETER] = {FT2(10), -2.3, FT2(500), -1.6, BASIS_MEMORY, tall_figure},
            [ZONE_FIELD] = {FT2(10), -1.4, FT2(500), -0.9, BASIS_MEMORY, tall_figure},
        },
    .kz_scale = 2.01,
    .kz_ceiling = 0.0,
    .exposures =
        {
            [EXPOSURE_B] = {7.0, 1200.0 * M_PER_FT, BASIS_MEMORY},
            [EXPOSURE_C] = {9.5, 900.0 * M_PER_FT, BASIS_MEMORY},
            [EXPOSURE_D] = {11.5, 700.0 * M_PER_FT, BASIS_MEMORY},
        },
    .kz_floor = KZ_FLOOR_OPEN,
    .kz_source = "ASCE/SEI 7-16 Table 26.10-1, from memory",
    .kd = 0.85,
    .kd_outside = false,
    .kd_source = "ASCE/SEI 7-16 Table 26.6-1, from memory",
    .has_ke = true,
    .ke_source = "ASCE/SEI 7-16 Table 26.9-1, from memory; "
                 "formula as 7-22's, transcribed",
    .has_importance = false,
    .gcpi_source = "ASCE/SEI 7-16 Table 26.13-1, from memory",
    .minimum = 16.0 * PA_PER_PSF,
    .nominal_speed = 90.0 * MPS_PER_MPH,
    .nominal_speed_too = true,
    .has_tornado = false,
    .allowable_factor = 0.6,
    .pressure_source = "ASCE/SEI 7-16 secs. 26.10.2 and 30.3.2, from memory",
    .minimum_source = "ASCE/SEI 7-16 sec. 30.2.2, from memory",
    .parapet_height = 3.0 * M_PER_FT,
    .parapet_source = "ASCE/SEI 7-16 Figs. 30.3-2A and 30.5-1, notes, from memory",
};
