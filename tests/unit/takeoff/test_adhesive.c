/* Adhesive by method, on zones whose numbers are round. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "takeoff/board_grid.h"

/* Ribbons 0.1 m apart on 20 m2 and 0.25 m apart on 100 m2: 200 + 400 m. */
static void ribbons_by_zone(void **state)
{
    struct roof roof = {.zone_count = 2};
    struct layout layout = {.method = METHOD_ADHERED};

    (void)state;
    roof.zones[0].area = 20;
    roof.zones[0].attachment.ribbon_spacing = 0.1;
    roof.zones[1].area = 100;
    roof.zones[1].attachment.ribbon_spacing = 0.25;
    adhesive_lay(&roof, &layout);
    assert_true(fabs(layout.ribbon_length - 600) < 1e-9);
    assert_true(fabs(layout.glued_area - 120) < 1e-9);
    assert_true(layout.full_cover == 0);
}

static void full_cover_has_no_ribbons(void **state)
{
    struct roof roof = {.zone_count = 1};
    struct layout layout = {.method = METHOD_ADHERED};

    (void)state;
    roof.zones[0].area = 20;
    roof.zones[0].attachment.ribbon_spacing = 0;
    adhesive_lay(&roof, &layout);
    assert_true(layout.ribbon_length == 0);
    assert_true(layout.glued_area == 20);
    assert_true(layout.full_cover == 20);
}

static void by_method(void **state)
{
    struct roof roof = {.zone_count = 1};
    struct layout fastened = {.method = METHOD_ADHERED_FASTENED};
    struct layout welded = {.method = METHOD_INDUCTION_WELDED};

    (void)state;
    roof.zones[0].area = 20;
    roof.zones[0].attachment.ribbon_spacing = NAN;
    adhesive_lay(&roof, &fastened);
    adhesive_lay(&roof, &welded);
    assert_true(fastened.glued_area == 20);
    assert_true(fastened.ribbon_length == 0);
    assert_true(welded.glued_area == 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ribbons_by_zone),
        cmocka_unit_test(full_cover_has_no_ribbons),
        cmocka_unit_test(by_method),
    };

    return cmocka_run_group_tests_name("takeoff/adhesive", tests, NULL, NULL);
}
