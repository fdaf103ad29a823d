/* Patterns of boards between zones, and states again. */

#include "board_bench.h"

/* The perimeter covers x < 8.2 ft of a 16 x 4 ft roof: 0.8 ft2 of the second board. At
 * 8.3 ft it covers 1.2 ft2. */
static void zone_needs_a_square_foot(void **state)
{
    const double reach[] = {8.2, 8.3};
    const int plates[] = {16 + 8, 16 + 16};

    (void)state;
    for (int i = 0; i < 2; i++) {
        double x = reach[i] * FT;
        struct point edge[] = {{0, 0}, {x, 0}, {x, 4 * FT}, {0, 4 * FT}};
        struct point rest[] = {{x, 0}, {16 * FT, 0}, {16 * FT, 4 * FT}, {x, 4 * FT}};
        struct ring rings[] = {{edge, 4}, {rest, 4}};
        struct polygon polygons[] = {{&rings[0], 1}, {&rings[1], 1}};
        struct bench b;

        bench_rectangle(&b, 16 * FT, 4 * FT);
        b.roof.zones[1] = b.roof.zones[0];
        b.roof.zones[0].role = ZONE_PERIMETER;
        b.roof.zones[0].attachment.per_board = 16;
        b.roof.zones[0].region = (struct region){&polygons[0], 1};
        b.roof.zones[1].region = (struct region){&polygons[1], 1};
        b.roof.zone_count = 2;
        lay(&b);
        assert_int_equal(b.layout.plate_count, plates[i]);
        assert_int_equal(b.layout.boards[0].zone, ZONE_PERIMETER);
        bench_release(&b);
    }
}

static void zone_pulls(struct bench *b, size_t zone, int count, double capacity,
                       double allowable)
{
    b->roof.zones[zone].attachment.per_board = count;
    b->roof.zones[zone].attachment.capacity = capacity;
    b->roof.zones[zone].attachment.state = STATE_MET;
    b->roof.zones[zone].uplift.known = true;
    b->roof.zones[zone].uplift.allowable = allowable;
}

/* The perimeter covers 0.8 ft2 of the second board, too little to give it its pattern.
 * The board carries (0.8 x 40 + 31.2 x 20) / 32 = 20.5 psf: more than the 20 psf that
 * eight fasteners hold, so it gets the perimeter's sixteen. Where these hold no more than
 * 20 psf either, both zones aren't met; where eight hold 21, it keeps them. */
static void board_beside_a_severer_zone(void **state)
{
    const double holds[][2] = {{40, 20}, {20, 20}, {40, 21}};
    const int plates[] = {16 + 16, 16 + 8, 16 + 8};
    double x = 8.2 * FT;
    struct point edge[] = {{0, 0}, {x, 0}, {x, 4 * FT}, {0, 4 * FT}};
    struct point rest[] = {{x, 0}, {16 * FT, 0}, {16 * FT, 4 * FT}, {x, 4 * FT}};
    struct ring rings[] = {{edge, 4}, {rest, 4}};
    struct polygon polygons[] = {{&rings[0], 1}, {&rings[1], 1}};

    (void)state;
    for (int i = 0; i < 3; i++) {
        struct bench b;

        bench_rectangle(&b, 16 * FT, 4 * FT);
        b.roof.zones[1] = b.roof.zones[0];
        b.roof.zones[0].role = ZONE_PERIMETER;
        zone_pulls(&b, 0, 16, holds[i][0] * PA_PER_PSF, 40 * PA_PER_PSF);
        zone_pulls(&b, 1, 8, holds[i][1] * PA_PER_PSF, 20 * PA_PER_PSF);
        b.roof.zones[0].region = (struct region){&polygons[0], 1};
        b.roof.zones[1].region = (struct region){&polygons[1], 1};
        b.roof.zone_count = 2;
        b.layout.states[ZONE_PERIMETER] = STATE_MET;
        b.layout.states[ZONE_FIELD] = STATE_UNKNOWN;
        lay(&b);
        assert_int_equal(b.layout.plate_count, plates[i]);
        assert_int_equal(b.layout.states[ZONE_PERIMETER],
                         i == 1 ? STATE_NOT_MET : STATE_MET);
        assert_int_equal(b.layout.states[ZONE_FIELD],
                         i == 1 ? STATE_NOT_MET : STATE_UNKNOWN);
        if (i == 1)
            assert_non_null(strstr(b.layout.reasons[ZONE_FIELD], "carries 20.5 psf"));
        bench_release(&b);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(zone_needs_a_square_foot),
        cmocka_unit_test(board_beside_a_severer_zone),
    };

    return cmocka_run_group_tests_name("takeoff/board_load", tests, NULL, NULL);
}
