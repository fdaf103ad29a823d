#include "portfolio/condition.h"

#include <math.h>

static double scale_of(const struct condition_curve *curve)
{
    return curve->life / pow(log(100 / CONDITION_DUE), 1 / curve->shape);
}

double condition_at(const struct condition_curve *curve, double age)
{
    return 100 * exp(-pow(fmax(age, 0) / scale_of(curve), curve->shape));
}

double condition_age(const struct condition_curve *curve, double condition)
{
    double share = fmin(fmax(condition, 1), 100) / 100;

    if (isnan(condition))
        return NAN;
    return scale_of(curve) * pow(-log(share), 1 / curve->shape);
}
