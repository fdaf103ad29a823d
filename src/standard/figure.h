#ifndef OUTLAY_STANDARD_FIGURE_H
#define OUTLAY_STANDARD_FIGURE_H

/* Zone rules that several editions share. Included by the .c files of standard/ only.
 * Each fills the figure but its source. */

#include "standard/standard.h"

/* The rules below in words, for the derivation. */
#define FIGURE_RULE_BY_HEIGHT                                                         \
    "perimeter 0.6 h, field from there to 1.2 h, interior beyond; corner legs 0.6 h " \
    "long, 0.2 h deep"
#define FIGURE_RULE_BY_WIDTH                                                     \
    "a = min(10 % LHD, 0.4 h), at least 4 % LHD and 3 ft (0.9 m); perimeter a, " \
    "field beyond; corner where the strips of two edges cross"
#define FIGURE_RULE_TALL                                                           \
    "a = 10 % LHD, at least 3 ft (0.9 m); perimeter a, field beyond; corner legs " \
    "2 a long, a deep"

/** Whether the figure for tall buildings applies: above 60 ft, but between 60 ft and
 *  90 ft the low figure where h / LHD <= 1 and the setting asks for it. Fills tall and
 *  mid_rise_choice. */
void figure_route(const struct figure_input *in, struct zone_figure *out);

/** h <= 60 ft from 7-16 on: depths are multiples of h, corners are legs. */
void figure_low_by_height(const struct figure_input *in, struct zone_figure *out);

/** h <= 60 ft before 7-16: strips of width a, corners where they cross. */
void figure_low_by_width(const struct figure_input *in, struct zone_figure *out);

/** h > 60 ft, all editions: strips of width a, corners are legs of 2a. */
void figure_tall(const struct figure_input *in, struct zone_figure *out);

#endif
