#include "roof/roof.h"

#include <math.h>

struct attributes attributes_missing(void)
{
    return (struct attributes){
        .height = NAN,
        .storeys = NAN,
        .parapet = NAN,
        .slope = NAN,
        .deck_bearing = NAN,
        .wind_speed = NAN,
        .risk = MISSING,
        .elevation = NAN,
        .topographic = NAN,
        .covers = MISSING,
        .wet_share = NAN,
        .installed = MISSING,
        .condition = NAN,
        .rating = NAN,
        .pullout = NAN,
        .edge_condition = NAN,
        .wall_length = NAN,
        .penetrations = MISSING,
        .drains = MISSING,
        .stack = NAN,
        .earliest = MISSING,
        .latest = MISSING,
        .fixed_year = MISSING,
        .replacement_value = NAN,
    };
}
