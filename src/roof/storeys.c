#include "roof/storeys.h"

#include <math.h>

#include "base/units.h"

static const double first_storey = 18 * M_PER_FT, further_storey = 13 * M_PER_FT;

double height_of_storeys(double storeys)
{
    return isnan(storeys) ? NAN : first_storey + further_storey * fmax(storeys - 1, 0);
}

double storeys_of_height(double height)
{
    return 1 + fmax(round((height - first_storey) / further_storey), 0);
}
