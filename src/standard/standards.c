#include <math.h>
#include <string.h>

#include "standard/standard.h"

const struct standard *const standards[] = {
    &standard_asce7_22, &standard_asce7_16, &standard_asce7_10, &standard_asce7_05, NULL,
};

const struct standard *standard_find(const char *name)
{
    for (size_t i = 0; standards[i] != NULL; i++) {
        if (strcmp(standards[i]->name, name) == 0) {
            return standards[i];
        }
    }
    return NULL;
}

double gcp_at(const struct gcp_curve *curve, double area)
{
    double share;

    if (curve->small_area <= 0.0) {
        return NAN;
    }
    if (area <= curve->small_area) {
        return curve->gcp_small;
    }
    if (area >= curve->large_area) {
        return curve->gcp_large;
    }
    share = log(area / curve->small_area) / log(curve->large_area / curve->small_area);
    return curve->gcp_small + share * (curve->gcp_large - curve->gcp_small);
}

double gcpi_of(enum enclosure enclosure)
{
    switch (enclosure) {
    case ENCLOSURE_PARTIALLY_ENCLOSED:
        return 0.55;
    case ENCLOSURE_OPEN:
        return 0.0;
    case ENCLOSURE_NOT_GIVEN:
    case ENCLOSURE_ENCLOSED:
    case ENCLOSURE_PARTIALLY_OPEN:
        break;
    }
    return 0.18;
}
