#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "roof/roof.h"

/* The list by hand, so that a wrong word in the table is noticed. */
static void weak_input_weakens_met(void **state)
{
    const unsigned weakening =
        1u << ASSUME_EXPOSURE | 1u << ASSUME_ENCLOSURE | 1u << ASSUME_TOPOGRAPHY |
        1u << ASSUME_HOLES | 1u << ASSUME_MID_RISE | 1u << ASSUME_KZ_FLOOR |
        1u << ASSUME_STEPPED | 1u << ASSUME_REENTRANT | 1u << ASSUME_PULLOUT |
        1u << ASSUME_DECK | 1u << ASSUME_RIBS | 1u << ASSUME_PARAPET_AROUND |
        1u << ASSUME_NOMINAL_SPEED | 1u << ASSUME_TORNADO | 1u << ASSUME_WIND_AREA |
        1u << ASSUME_LAYOUT | 1u << ASSUME_LEVEL_HEIGHT | 1u << ASSUME_OUTLINE |
        1u << ASSUME_ROUGHNESS | 1u << ASSUME_HILL | 1u << ASSUME_EDGE_METAL;
    struct roof roof = {0};

    (void)state;
    assert_int_equal(roof_state_held(&roof), STATE_MET);
    for (int i = 0; i < ASSUMPTIONS; i++) {
        roof.assumed = 1u << i;
        assert_int_equal(roof_state_held(&roof),
                         weakening & 1u << i ? STATE_MET_ASSUMED : STATE_MET);
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
