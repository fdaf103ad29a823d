/* Sides that small steps part; all rings by hand. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "geo/jogs.h"

enum { MOST = 16 };

/* Turned, and begun at another vertex: the same comes out. */
static void expect(const struct point *given, size_t count, const struct point *wanted,
                   size_t wanted_count)
{
    struct arena *arena = arena_new();

    assert_non_null(arena);
    for (size_t first = 0; first < count; first++) {
        double c = cos((double)first), s = sin((double)first), apart = 0;
        struct point points[MOST];
        struct ring ring = {points, count}, out;

        for (size_t k = 0; k < count; k++) {
            struct point p = given[(k + first) % count];

            points[k] = (struct point){c * p.x - s * p.y, s * p.x + c * p.y};
        }
        assert_int_equal(ring_without_jogs(arena, ring, 0.3, &out), OUTLAY_OK);
        assert_int_equal(out.count, wanted_count);
        for (size_t k = 0; k < wanted_count; k++) {
            struct point p = {c * wanted[k].x - s * wanted[k].y,
                              s * wanted[k].x + c * wanted[k].y};
            double least = INFINITY;

            for (size_t i = 0; i < out.count; i++)
                least = fmin(least, point_distance(p, out.points[i]));
            apart = fmax(apart, least);
        }
        assert_true(apart < 1e-9);
    }
    arena_free(arena);
}

#define EXPECT(given, wanted)                              \
    expect(given, sizeof(given) / sizeof *(given), wanted, \
           sizeof(wanted) / sizeof *(wanted))

static const struct point hall[] = {{0, 0}, {20, 0}, {20, 10}, {0, 10}};

static void test_none(void **state)
{
    static const struct point step[] = {{0, 0},     {12, 0},  {12, 0.31},
                                        {20, 0.31}, {20, 10}, {0, 10}};
    static const struct point short_side[] = {{0, 0},    {19.8, 0}, {19.8, 0.2},
                                              {20, 0.2}, {20, 10},  {0, 10}};
    static const struct point slanting[] = {{0, 0},    {12, 0},  {12.25, 0.1},
                                            {20, 0.1}, {20, 10}, {0, 10}};

    (void)state;
    EXPECT(hall, hall);
    EXPECT(step, step);
    EXPECT(short_side, short_side);
    EXPECT(slanting, slanting);
}

/* The outer line goes on, whichever side is the longer one. */
static void test_a_step(void **state)
{
    for (double at = 4; at < 20; at += 4) {
        const struct point out[] = {{0, 0},    {at, 0},  {at, 0.2},
                                    {20, 0.2}, {20, 10}, {0, 10}};
        const struct point in[] = {{0, 0.2}, {at, 0.2}, {at, 0},
                                   {20, 0},  {20, 10},  {0, 10}};

        EXPECT(out, hall);
        EXPECT(in, hall);
    }
    (void)state;
}

/* To where it meets a side that isn't square to it; straight over one that goes on. */
static void test_beyond(void **state)
{
    static const struct point slanting[] = {{0, 0},    {12, 0},   {12, 0.2},
                                            {20, 0.2}, {25, 5.2}, {0, 10}};
    static const struct point met[] = {{0, 0}, {19.8, 0}, {25, 5.2}, {0, 10}};
    static const struct point flat[] = {{0, 0},    {12, 0},  {12, 0.2}, {20, 0.2},
                                        {30, 1.2}, {30, 10}, {0, 10}};
    static const struct point over[] = {{0, 0}, {20, 0}, {30, 1.2}, {30, 10}, {0, 10}};

    (void)state;
    EXPECT(slanting, met);
    EXPECT(flat, over);
}

/* What stands out of a side takes it along, a niche is bridged. */
static void test_bumps(void **state)
{
    static const struct point bump[] = {{0, 0.2}, {8, 0.2},  {8, 0},   {9, 0},
                                        {9, 0.2}, {20, 0.2}, {20, 10}, {0, 10}};
    static const struct point niche[] = {{0, 0}, {8, 0},  {8, 0.2}, {9, 0.2},
                                         {9, 0}, {20, 0}, {20, 10}, {0, 10}};
    static const struct point bridged[] = {{0, 0}, {8, 0}, {20, 0}, {20, 10}, {0, 10}};

    (void)state;
    EXPECT(bump, hall);
    EXPECT(niche, bridged);
}

/* Of steps in a row none takes a side further out than a jog is deep. */
static void test_stairs(void **state)
{
    static const struct point stairs[] = {{0, 0},    {9, 0},    {9, 0.2}, {15, 0.2},
                                          {15, 0.4}, {20, 0.4}, {20, 10}, {0, 10}};
    static const struct point joined[] = {{0, 0},    {15, 0},  {15, 0.4},
                                          {20, 0.4}, {20, 10}, {0, 10}};

    (void)state;
    EXPECT(stairs, joined);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_none),   cmocka_unit_test(test_a_step),
        cmocka_unit_test(test_beyond), cmocka_unit_test(test_bumps),
        cmocka_unit_test(test_stairs),
    };

    return cmocka_run_group_tests_name("geo/jogs", tests, NULL, NULL);
}
