/* Round scales and the lengths of scale bars. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/units.h"
#include "draw/canvas.h"
#include "draw/scale.h"

/* What a square roof is drawn to on 700 x 500 pt. */
static const char *drawn_to(bool si, double side)
{
    return scale_fitting(si, side, side, 700, 500, CANVAS_FULL)->text;
}

static void test_us(void **state)
{
    (void)state;
    /* 100 ft on 500 pt, 13.9 in at full size: 1/8 in takes 12.5 in, 3/16 in 18.8 in. */
    assert_string_equal(drawn_to(false, 100 * M_PER_FT), "1/8 in = 1 ft");
    assert_string_equal(drawn_to(false, 5), "3/4 in = 1 ft");
    assert_string_equal(drawn_to(false, 1000 * M_PER_FT), "1 in = 80 ft");
    assert_string_equal(drawn_to(false, 1e6), "1 in = 5000 ft");
}

static void test_si(void **state)
{
    (void)state;
    /* 500 pt are 353 mm at full size. */
    assert_string_equal(drawn_to(true, 5), "1:20");
    assert_string_equal(drawn_to(true, 17), "1:50");
    assert_string_equal(drawn_to(true, 304.8), "1:1000");
}

static void test_points(void **state)
{
    (void)state;
    /* One foot at 1/8 in is 9 pt at full size. */
    const struct scale *scale = scale_fitting(false, 30, 30, 700, 500, CANVAS_FULL);
    assert_string_equal(scale->text, "1/8 in = 1 ft");
    assert_true(fabs(scale_points(scale, CANVAS_FULL) * M_PER_FT - 4.5) < 1e-9);
}

static void test_bars_are_round_and_fit(void **state)
{
    (void)state;
    for (int si = 0; si < 2; si++)
        for (double side = 0.5; side < 5000; side *= 1.07) {
            const struct scale *scale =
                scale_fitting(si, side, side, 700, 500, CANVAS_FULL);
            double unit = si ? 1 : M_PER_FT;
            double length = scale_bar(scale_points(scale, CANVAS_FULL), unit, 140);
            double first = length / pow(10, floor(log10(length) + 1e-9));
            assert_true(fabs(first - 1) < 1e-9 || fabs(first - 2) < 1e-9 ||
                        fabs(first - 5) < 1e-9);
            assert_true(length * unit * scale_points(scale, CANVAS_FULL) <= 140 + 1e-6);
            assert_true(length * unit * scale_points(scale, CANVAS_FULL) >= 140 / 2.6);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_us),
        cmocka_unit_test(test_si),
        cmocka_unit_test(test_points),
        cmocka_unit_test(test_bars_are_round_and_fit),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
