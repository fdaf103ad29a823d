#include "standard/figure.h"

#include <math.h>

#include "base/units.h"

/* A height of 60 ft stays 60 ft after a conversion or two. */
#define NOISE 1e-9

static const double low_limit = 60.0 * M_PER_FT;
static const double mid_rise_limit = 90.0 * M_PER_FT;
static const double least_strip = 3.0 * M_PER_FT;

static void set_labels(struct zone_figure *out, const char *interior)
{
    out->labels[ZONE_CORNER] = "3";
    out->labels[ZONE_PERIMETER] = "2";
    out->labels[ZONE_FIELD] = "1";
    out->labels[ZONE_INTERIOR] = interior;
}

void figure_route(const struct figure_input *in, struct zone_figure *out)
{
    bool above_low = in->height > low_limit * (1.0 + NOISE);
    bool below_limit = in->height < mid_rise_limit * (1.0 - NOISE);
    bool squat = in->height <= in->least_dimension * (1.0 + NOISE);

    out->mid_rise_choice = above_low && below_limit && squat;
    out->tall = above_low && !(out->mid_rise_choice && in->mid_rise == MID_RISE_LOW);
}

void figure_low_by_height(const struct figure_input *in, struct zone_figure *out)
{
    set_labels(out, "1'");
    out->corner_shape = CORNER_LEGS;
    out->leg_length = 0.6 * in->height;
    out->leg_depth = 0.2 * in->height;
    out->perimeter_depth = 0.6 * in->height;
    out->field_depth = 1.2 * in->height;
}

void figure_low_by_width(const struct figure_input *in, struct zone_figure *out)
{
    double a = fmin(0.1 * in->least_dimension, 0.4 * in->height);

    a = fmax(a, fmax(0.04 * in->least_dimension, least_strip));
    set_labels(out, NULL);
    out->corner_shape = CORNER_CROSSED;
    out->leg_length = 2.0 * a;
    out->leg_depth = a;
    out->perimeter_depth = a;
    out->field_depth = INFINITY;
}

void figure_tall(const struct figure_input *in, struct zone_figure *out)
{
    double a = fmax(0.1 * in->least_dimension, least_strip);

    set_labels(out, NULL);
    out->corner_shape = CORNER_LEGS;
    out->leg_length = 2.0 * a;
    out->leg_depth = a;
    out->perimeter_depth = a;
    out->field_depth = INFINITY;
}
