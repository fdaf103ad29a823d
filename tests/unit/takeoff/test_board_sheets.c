/* Sheets over boards, and base securement. */

#include "board_bench.h"

/* 120 x 50 ft, sheets of 10 ft every 9.75 ft: five whole ones would leave 1.25 ft, so
 * four are whole, the next is cut to 6.25 ft between seams and the last is half a sheet,
 * 4.75 ft. Side laps: 5 x 120 ft. */
static void sheets_by_hand(void **state)
{
    struct bench b;
    double area = 0;
    int screws = 0;

    (void)state;
    bench_rectangle(&b, 120 * FT, 50 * FT);
    lay(&b);
    assert_int_equal(b.layout.sheet_count, 6);
    for (size_t i = 0; i < 6; i++)
        area += b.layout.sheets[i].area;
    assert_true(fabs(area - (50 + 5 * 0.25) * 120 * FT2) < 1e-3);
    near(b.layout.side_lap, 600 * FT);
    near(b.layout.end_lap, 0); /* what rolls bring is counted with the rolls */
    near(b.layout.base_length, 340 * FT);
    for (size_t i = 0; i < b.layout.row_count; i++)
        screws += b.layout.rows[i].fasteners;
    assert_int_equal(screws, 340); /* a foot apart around 340 ft */
    near(b.layout.glued_area, 0);
    bench_release(&b);
}

/* No sheet of a rectangle is narrower than half a metre, whatever is left over. */
static void no_narrow_sheet(void **state)
{
    (void)state;
    for (double width = 4; width < 16; width += 0.097) {
        struct bench b;

        bench_rectangle(&b, 40, width);
        lay(&b);
        for (size_t i = 0; i < b.layout.sheet_count; i++) {
            struct box box = region_box(&b.layout.sheets[i].region);

            assert_true(box.max_y - box.min_y > 0.5);
            assert_true(box.max_y - box.min_y < b.layout.sheets[i].width + 1e-6);
        }
        bench_release(&b);
    }
}

/* A perimeter 3 m wide around a field: each edge of base securement lies in it; where the
 * zone at an edge changes the piece ends. */
static void base_in_its_zones(void **state)
{
    struct point left[] = {{0, 0}, {3, 0}, {3, 20}, {0, 20}};
    struct point right[] = {{3, 0}, {30, 0}, {30, 20}, {3, 20}};
    struct ring rings[] = {{left, 4}, {right, 4}};
    struct polygon polygons[] = {{&rings[0], 1}, {&rings[1], 1}};
    double lengths[ZONE_ROLES] = {0};
    struct bench b;

    (void)state;
    bench_rectangle(&b, 30, 20);
    b.roof.zones[1] = b.roof.zones[0];
    b.roof.zones[0].role = ZONE_CORNER;
    b.roof.zones[1].role = ZONE_PERIMETER;
    for (int i = 0; i < 2; i++)
        b.roof.zones[i].region = (struct region){&polygons[i], 1};
    b.roof.zone_count = 2;
    lay(&b);
    for (size_t i = 0; i < b.layout.row_count; i++)
        lengths[b.layout.rows[i].zone] +=
            point_distance(b.layout.rows[i].from, b.layout.rows[i].to);
    assert_true(fabs(lengths[ZONE_CORNER] - 26) < 0.01);
    assert_true(fabs(lengths[ZONE_PERIMETER] - 74) < 0.01);
    bench_release(&b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sheets_by_hand),
        cmocka_unit_test(no_narrow_sheet),
        cmocka_unit_test(base_in_its_zones),
    };

    return cmocka_run_group_tests_name("takeoff/board_sheets", tests, NULL, NULL);
}
