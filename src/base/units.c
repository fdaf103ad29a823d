#include "base/units.h"

#include <stddef.h>
#include <string.h>

#include "base/ascii.h"

struct unit_name {
    const char *name;
    enum quantity quantity;
    double factor;
    bool exact_case; /* units named after people keep their capitals */
};

static const struct unit_name names[] = {
    {"ft", QUANTITY_LENGTH, M_PER_FT, false},
    {"in", QUANTITY_LENGTH, M_PER_IN, false},
    {"m", QUANTITY_LENGTH, 1.0, false},
    {"mm", QUANTITY_LENGTH, 0.001, false},
    {"cm", QUANTITY_LENGTH, 0.01, false},
    {"ft2", QUANTITY_AREA, M2_PER_FT2, false},
    {"m2", QUANTITY_AREA, 1.0, false},
    {"mph", QUANTITY_SPEED, MPS_PER_MPH, false},
    {"m/s", QUANTITY_SPEED, 1.0, false},
    {"km/h", QUANTITY_SPEED, 1000.0 / 3600.0, false},
    {"kt", QUANTITY_SPEED, 1852.0 / 3600.0, false},
    {"psf", QUANTITY_PRESSURE, PA_PER_PSF, false},
    {"Pa", QUANTITY_PRESSURE, 1.0, true},
    {"kPa", QUANTITY_PRESSURE, 1000.0, true},
    {"lbf", QUANTITY_FORCE, N_PER_LBF, false},
    {"N", QUANTITY_FORCE, 1.0, true},
    {"kN", QUANTITY_FORCE, 1000.0, true},
};

const struct unit_system unit_system_us = {
    .name = "us",
    .length = {"ft", M_PER_FT},
    .small = {"in", M_PER_IN},
    .area = {"ft2", M2_PER_FT2},
    .pressure = {"psf", PA_PER_PSF},
    .force = {"lbf", N_PER_LBF},
    .speed = {"mph", MPS_PER_MPH},
};

const struct unit_system unit_system_si = {
    .name = "si",
    .length = {"m", 1.0},
    .small = {"mm", 0.001},
    .area = {"m2", 1.0},
    .pressure = {"pa", 1.0},
    .force = {"n", 1.0},
    .speed = {"mps", 1.0},
};

static bool same_name(const char *a, const char *b, bool exact_case)
{
    return exact_case ? strcmp(a, b) == 0 : ascii_same(a, b);
}

bool unit_find(const char *name, enum quantity quantity, double *factor)
{
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        const struct unit_name *row = &names[i];

        if (row->quantity == quantity && same_name(row->name, name, row->exact_case)) {
            *factor = row->factor;
            return true;
        }
    }
    return false;
}
