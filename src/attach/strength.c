/* From a tested rating to what may be carried. */

#include "attach/pattern.h"

double rating_allowable(const struct site *site, const struct assembly *assembly)
{
    if (assembly->rating_basis == RATING_ALLOWABLE)
        return assembly->rating;
    return assembly->rating / site->settings->safety_factor;
}

double fastener_allowable(const struct site *site, const struct assembly *assembly,
                          double tested_area, bool *by_pullout)
{
    double tested = rating_allowable(site, assembly) * tested_area;
    double pullout = site->roof->basis.pullout / site->settings->safety_factor;

    *by_pullout = pullout < tested; /* false while pull-out is NAN */
    return *by_pullout ? pullout : tested;
}

double density_limit(const struct assembly *assembly)
{
    return fmax(assembly->extrapolation, 1);
}
