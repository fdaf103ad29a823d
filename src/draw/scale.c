#include "draw/scale.h"

#include <math.h>
#include <stddef.h>

#include "base/units.h"

#define POINTS_PER_INCH 72.0

static const struct scale us_scales[] = {
    {4, "3 in = 1 ft"},        {8, "1-1/2 in = 1 ft"},    {12, "1 in = 1 ft"},
    {16, "3/4 in = 1 ft"},     {24, "1/2 in = 1 ft"},     {32, "3/8 in = 1 ft"},
    {48, "1/4 in = 1 ft"},     {64, "3/16 in = 1 ft"},    {96, "1/8 in = 1 ft"},
    {128, "3/32 in = 1 ft"},   {192, "1/16 in = 1 ft"},   {240, "1 in = 20 ft"},
    {300, "1 in = 25 ft"},     {360, "1 in = 30 ft"},     {480, "1 in = 40 ft"},
    {600, "1 in = 50 ft"},     {720, "1 in = 60 ft"},     {960, "1 in = 80 ft"},
    {1200, "1 in = 100 ft"},   {1800, "1 in = 150 ft"},   {2400, "1 in = 200 ft"},
    {3600, "1 in = 300 ft"},   {4800, "1 in = 400 ft"},   {6000, "1 in = 500 ft"},
    {12000, "1 in = 1000 ft"}, {24000, "1 in = 2000 ft"}, {60000, "1 in = 5000 ft"},
};

static const struct scale si_scales[] = {
    {5, "1:5"},       {10, "1:10"},       {20, "1:20"},       {25, "1:25"},
    {50, "1:50"},     {75, "1:75"},       {100, "1:100"},     {125, "1:125"},
    {150, "1:150"},   {200, "1:200"},     {250, "1:250"},     {300, "1:300"},
    {400, "1:400"},   {500, "1:500"},     {750, "1:750"},     {1000, "1:1000"},
    {1250, "1:1250"}, {1500, "1:1500"},   {2000, "1:2000"},   {2500, "1:2500"},
    {5000, "1:5000"}, {10000, "1:10000"}, {20000, "1:20000"}, {50000, "1:50000"},
};

double scale_points(const struct scale *scale, double full)
{
    return POINTS_PER_INCH / full / M_PER_IN / scale->ratio;
}

const struct scale *scale_fitting(bool si, double width, double height, double room_width,
                                  double room_height, double full)
{
    const struct scale *scales = si ? si_scales : us_scales;
    size_t count = si ? sizeof si_scales / sizeof si_scales[0]
                      : sizeof us_scales / sizeof us_scales[0];
    for (size_t i = 0; i < count; i++) {
        double points = scale_points(&scales[i], full);
        if (width * points <= room_width && height * points <= room_height)
            return &scales[i];
    }
    return &scales[count - 1];
}

double scale_bar(double points, double unit, double most)
{
    double longest = most / (points * unit);
    double power = pow(10, floor(log10(longest) + 1e-9));
    double steps = longest / power + 1e-9;
    return power * (steps >= 5 ? 5 : steps >= 2 ? 2 : 1);
}
