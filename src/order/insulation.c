#include "order/insulation.h"

#include <math.h>

#include "roof/basis.h"

double insulation_least(int climate_zone)
{
    static const double values[] = {0, 20, 25, 25, 30, 30, 30, 35, 35};
    int zones = (int)(sizeof values / sizeof values[0]);
    double value = climate_zone > 0 && climate_zone < zones ? values[climate_zone] : 0;

    return ceil(value / R_PER_IN * 10 - 1e-9) / 10 * M_PER_IN;
}
