#include "base/student.h"

#include <math.h>

static const double pi = 3.14159265358979323846;

/* P(|T| <= t): the series in powers of cos^2, from its term 1, or cos for odd freedom. */
static double within(double t, int freedom)
{
    double angle = atan2(t, sqrt(freedom));
    double s = sin(angle), c = cos(angle);
    int odd = freedom % 2;
    double term = odd ? c : 1, sum = 0;

    for (int i = odd; i < freedom - 1; i += 2) {
        sum += term;
        term *= c * c * (i + 1) / (i + 2);
    }
    return odd ? 2 / pi * (angle + s * sum) : s * sum;
}

double student_p(double t, int freedom)
{
    return t < 0 ? 0.5 - within(-t, freedom) / 2 : 0.5 + within(t, freedom) / 2;
}

double student_t(double p, int freedom)
{
    double low = 0, high = 1e5;

    while (high - low > 1e-12 * high) {
        double middle = (low + high) / 2;

        if (student_p(middle, freedom) < p)
            low = middle;
        else
            high = middle;
    }
    return (low + high) / 2;
}
