/* Boxes on a page: which meet, which only touch. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "draw/boxes.h"

static struct quad at(double x, double y, double width, double height)
{
    return quad_of((struct area){x, y, width, height});
}

static void test_upright(void **state)
{
    (void)state;
    assert_true(quads_overlap(at(0, 0, 10, 10), at(9, 9, 10, 10), 0));
    assert_false(quads_overlap(at(0, 0, 10, 10), at(9, 9, 10, 10), 1.5));
    assert_false(quads_overlap(at(0, 0, 10, 10), at(10, 0, 10, 10), 0));
    assert_true(quads_overlap(at(0, 0, 10, 10), at(2, 2, 1, 1), 0));
}

static void test_turned(void **state)
{
    (void)state;
    /* A diamond whose box meets the square's, but not the diamond itself. */
    struct quad diamond = quad_turned((struct point){16, 16}, 10, 10, acos(0) / 2);
    assert_true(diamond.corners[0].y < 9.1 && diamond.corners[3].x < 9.1);
    assert_false(quads_overlap(at(0, 0, 10, 10), diamond, 0));
    assert_true(quads_overlap(at(0, 0, 13, 13), diamond, 0));
}

static void test_lines_keep_texts_off(void **state)
{
    (void)state;
    struct boxes *boxes = boxes_new();
    boxes_add_line(boxes, (struct point){0, 0}, (struct point){100, 50});
    assert_false(boxes_free_at(boxes, at(48, 20, 10, 10)));
    assert_true(boxes_free_at(boxes, at(48, 30, 10, 10)));
    assert_true(boxes_free_at(boxes, at(101, 0, 10, 100)));
    boxes_add_text(boxes, at(48, 30, 10, 10));
    assert_false(boxes_free_at(boxes, at(48, 30, 10, 10)));
    assert_int_equal(boxes_texts(boxes), 1);
    assert_int_equal(boxes_met(boxes, at(40, 10, 30, 30)), 2);
    assert_int_equal(boxes_met(boxes, at(48, 40, 30, 30)), 0);
    boxes_clear(boxes);
    assert_true(boxes_free_at(boxes, at(48, 20, 10, 10)));
    boxes_free(boxes);
}

static void test_inside(void **state)
{
    (void)state;
    struct area area = {0, 0, 100, 50};
    assert_true(area_holds(area, at(0, 0, 100, 50)));
    assert_false(area_holds(area, at(95, 0, 10, 10)));
    assert_false(area_holds(area, quad_turned((struct point){50, 25}, 90, 10, 1)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_upright),
        cmocka_unit_test(test_turned),
        cmocka_unit_test(test_lines_keep_texts_off),
        cmocka_unit_test(test_inside),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
