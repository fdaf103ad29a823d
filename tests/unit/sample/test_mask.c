/* Which pixels belong to an outline. */

#include "help.h"

#include "sample/mask.h"

enum { SIDE = 12 };

/* Pixels of half a metre, north up. */
static struct mask empty_mask(struct arena *arena)
{
    return (struct mask){.width = SIDE,
                         .height = SIDE,
                         .bits = arena_array(arena, SIDE * SIDE, 1),
                         .metres = {0.5, 0, 0, -0.5}};
}

static int count_bits(const struct mask *mask, unsigned looked, unsigned wanted)
{
    int count = 0;

    for (int i = 0; i < SIDE * SIDE; i++)
        count += (mask->bits[i] & looked) == wanted;
    return count;
}

static void test_centres_decide(void **state)
{
    /* from 1.4 to 8.6: the centres 1.5 to 8.5 */
    struct point points[] = {{1.4, 1.4}, {8.6, 1.4}, {8.6, 8.6}, {1.4, 8.6}};
    struct region outline = region_of(*state, points, 4);
    struct mask mask = empty_mask(*state);

    assert_true(mask_inside(&mask, &outline, *state));
    assert_int_equal(count_bits(&mask, MASK_INSIDE, MASK_INSIDE), 64);
    assert_int_equal(mask.bits[1 * SIDE + 1], MASK_INSIDE);
    assert_int_equal(mask.bits[0], 0);
}

static void test_the_direction_of_a_ring_does_not_matter(void **state)
{
    struct point points[] = {{1.4, 8.6}, {8.6, 8.6}, {8.6, 1.4}, {1.4, 1.4}};
    struct region outline = region_of(*state, points, 4);
    struct mask mask = empty_mask(*state);

    assert_true(mask_inside(&mask, &outline, *state));
    assert_int_equal(count_bits(&mask, MASK_INSIDE, MASK_INSIDE), 64);
}

static void test_what_lies_outside_of_the_window_is_cut(void **state)
{
    struct point points[] = {{-50, -50}, {50, -50}, {50, 50}, {-50, 50}};
    struct region outline = region_of(*state, points, 4);
    struct mask mask = empty_mask(*state);

    assert_true(mask_inside(&mask, &outline, *state));
    mask_near(&mask, &outline, 1, MASK_EDGE);
    assert_int_equal(count_bits(&mask, MASK_INSIDE | MASK_EDGE, MASK_INSIDE),
                     SIDE * SIDE);
}

/* Every pixel against the distance to a line through two corners. */
static void test_distances_are_in_metres(void **state)
{
    struct point points[] = {{2, 2}, {10, 2}, {10, 10}, {2, 10}};
    struct region outline = region_of(*state, points, 4);
    struct mask mask = empty_mask(*state);

    mask_near(&mask, &outline, 1.01, MASK_EDGE);
    for (int row = 0; row < SIDE; row++)
        for (int col = 0; col < SIDE; col++) {
            double x = fabs(col + 0.5 - 6), y = fabs(row + 0.5 - 6);
            double outside = hypot(fmax(x - 4, 0), fmax(y - 4, 0));
            double inside = 4 - fmax(x, y);
            bool near = 0.5 * (inside > 0 ? inside : outside) < 1.01;

            assert_int_equal(mask.bits[row * SIDE + col], near ? MASK_EDGE : 0);
        }
}

static void test_scales_have_inverses(void **state)
{
    const double metres[4] = {0.4, 0.3, 0.3, -0.4};
    const double flat[4] = {1, 1, 1, 1};
    double pixels[4];

    (void)state;
    assert_true(scale_invert(metres, pixels));
    assert_true(fabs(metres[0] * pixels[0] + metres[1] * pixels[2] - 1) < 1e-12);
    assert_true(fabs(metres[0] * pixels[1] + metres[1] * pixels[3]) < 1e-12);
    assert_false(scale_invert(flat, pixels));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_centres_decide),
        cmocka_unit_test(test_the_direction_of_a_ring_does_not_matter),
        cmocka_unit_test(test_what_lies_outside_of_the_window_is_cut),
        cmocka_unit_test(test_distances_are_in_metres),
        cmocka_unit_test(test_scales_have_inverses),
    };

    return cmocka_run_group_tests(tests, arena_open, arena_close);
}
