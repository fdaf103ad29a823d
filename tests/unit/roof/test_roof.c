#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "roof/roof.h"

/* The list by hand, so that a wrong word in the table is noticed. */
static void weak_input_weakens_met(void **state)
{
    const uint64_t weakening =
        ASSUMPTION_BIT(ASSUME_EXPOSURE) | ASSUMPTION_BIT(ASSUME_ENCLOSURE) |
        ASSUMPTION_BIT(ASSUME_TOPOGRAPHY) | ASSUMPTION_BIT(ASSUME_HOLES) |
        ASSUMPTION_BIT(ASSUME_MID_RISE) | ASSUMPTION_BIT(ASSUME_KZ_FLOOR) |
        ASSUMPTION_BIT(ASSUME_STEPPED) | ASSUMPTION_BIT(ASSUME_REENTRANT) |
        ASSUMPTION_BIT(ASSUME_PULLOUT) | ASSUMPTION_BIT(ASSUME_DECK) |
        ASSUMPTION_BIT(ASSUME_RIBS) | ASSUMPTION_BIT(ASSUME_PARAPET_AROUND) |
        ASSUMPTION_BIT(ASSUME_NOMINAL_SPEED) | ASSUMPTION_BIT(ASSUME_TORNADO) |
        ASSUMPTION_BIT(ASSUME_WIND_AREA) | ASSUMPTION_BIT(ASSUME_LAYOUT) |
        ASSUMPTION_BIT(ASSUME_LEVEL_HEIGHT) | ASSUMPTION_BIT(ASSUME_OUTLINE) |
        ASSUMPTION_BIT(ASSUME_ROUGHNESS) | ASSUMPTION_BIT(ASSUME_HILL) |
        ASSUMPTION_BIT(ASSUME_EDGE_METAL) | ASSUMPTION_BIT(ASSUME_PULLOUT_FEW) |
        ASSUMPTION_BIT(ASSUME_COEFFICIENTS) | ASSUMPTION_BIT(ASSUME_RATINGS);
    struct roof roof = {0};

    (void)state;
    assert_int_equal(roof_state_held(&roof), STATE_MET);
    for (int i = 0; i < ASSUMPTIONS; i++) {
        roof.assumed = ASSUMPTION_BIT(i);
        assert_int_equal(roof_state_held(&roof),
                         weakening & ASSUMPTION_BIT(i) ? STATE_MET_ASSUMED : STATE_MET);
    }
    roof.assumed = 0;
    roof.estimated = 1u << ESTIMATE_STOREYS;
    assert_int_equal(roof_state_held(&roof), STATE_MET);
    roof.estimated = 1u << ESTIMATE_HEIGHT;
    assert_int_equal(roof_state_held(&roof), STATE_MET_ASSUMED);
}

static void the_worse_state_wins(void **state)
{
    const enum zone_state order[] = {STATE_MET, STATE_MET_ASSUMED, STATE_UNKNOWN,
                                     STATE_NOT_MET};

    (void)state;
    for (int a = 0; a < 4; a++)
        for (int b = 0; b < 4; b++)
            assert_int_equal(zone_state_worse(order[a], order[b]), order[a > b ? a : b]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(weak_input_weakens_met),
        cmocka_unit_test(the_worse_state_wins),
    };

    return cmocka_run_group_tests_name("roof/roof", tests, NULL, NULL);
}
