#include "roof/spread.h"

#include <math.h>

const char *driven_name(int kind)
{
    static const char *const names[] = {"force", "cost"};

    return kind >= 0 && kind < DRIVEN_KINDS ? names[kind] : NULL;
}

enum driven spread_driven(const struct roof_spread *spread)
{
    return isfinite(spread->cost.low) ? DRIVEN_COST : DRIVEN_FORCE;
}
