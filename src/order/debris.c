#include "order/debris.h"

#include "base/units.h"

double debris_weight(enum existing_kind existing)
{
    double psf = 5.5;

    switch (existing) {
    case EXISTING_SMOOTH:
        psf = 1.5;
        break;
    case EXISTING_SINGLE_PLY:
        psf = 0.7;
        break;
    case EXISTING_BALLASTED:
        psf = 12;
        break;
    case EXISTING_NOT_GIVEN:
    case EXISTING_GRAVEL_SURFACED:
    case EXISTING_KINDS:
        break;
    }
    return psf * KG_PER_LB / M2_PER_FT2;
}

double debris_board_density(void)
{
    return 0.5 * KG_PER_LB / M2_PER_FT2 / M_PER_IN;
}

double debris_board_bulking(void)
{
    return 1.3;
}

double debris_density(enum existing_kind existing)
{
    double lb_per_yd3 = existing == EXISTING_SINGLE_PLY ? 350 : 2400;

    return lb_per_yd3 * KG_PER_LB / M3_PER_YD3;
}
