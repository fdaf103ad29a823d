/* From rings as traced to valid regions, and what the repair says it changed. */

#include "geometry.h"

#include "geo/repair.h"

static struct region repaired(struct fixture *f, struct region raw, struct repair *report)
{
    struct region out;
    struct outlay_error error = {.what = ""};

    if (outline_repair(f->ctx, f->arena, &raw, &out, report, &error) != OUTLAY_OK) {
        print_error("%s\n", error.what);
        fail();
    }
    assert_valid(f->geos, &out);
    near(report->area_after, region_area(&out), 0);
    assert_int_equal(report->changed, report->reason[0] != '\0');
    return out;
}

static struct region repaired_ring(struct fixture *f, struct ring ring,
                                   struct repair *report)
{
    return repaired(f, region_made(f->arena, &ring, 1), report);
}

static void valid_outlines_are_left_alone(void **state)
{
    struct fixture *f = *state;
    const double hole[][2] = {{5, 5}, {5, 9}, {9, 9}, {9, 5}};
    struct ring rings[] = {
        box_ring(f->arena, 0, 0, 30, 20),
        ring_made(f->arena, hole),
    };
    struct region plain = region_made(f->arena, rings, 1);
    struct region holed = region_made(f->arena, rings, 2);
    struct repair report;
    struct region out = repaired(f, plain, &report);

    assert_false(report.changed);
    assert_true(region_same(&out, &plain));
    near(report.area_before, 600, 1e-12);
    out = repaired(f, holed, &report);
    assert_false(report.changed);
    assert_true(region_same(&out, &holed));
    near(report.area_before, 584, 1e-12);
    near(report.area_after, 584, 1e-12);
}

static void direction_is_no_fault(void **state)
{
    struct fixture *f = *state;
    struct ring rings[] = {
        ring_turned_round(f->arena, box_ring(f->arena, 0, 0, 30, 20)),
        box_ring(f->arena, 5, 5, 4, 4),
    };
    struct repair report;
    struct region out = repaired(f, region_made(f->arena, rings, 2), &report);

    assert_false(report.changed);
    near(region_area(&out), 584, 1e-12);
}

static void repeated_points_are_no_fault(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{0, 0},   {0, 0},  {30, 0}, {30, 0.00001},
                            {30, 20}, {0, 20}, {0, 20}, {0, 0}};
    struct repair report;
    struct region out = repaired_ring(f, ring_made(f->arena, xy), &report);

    assert_false(report.changed);
    assert_int_equal(region_points(&out), 4);
    near(region_area(&out), 600, 1e-3);
}

/* The outline that came in isn't touched: it belongs to the caller. */
static void the_input_stays_as_it_was(void **state)
{
    struct fixture *f = *state;
    struct ring bad = ring_turned_round(f->arena, box_ring(f->arena, 0, 0, 3, 2));
    struct ring copy = ring_copied(f->arena, bad);
    struct repair report;

    repaired_ring(f, bad, &report);
    assert_memory_equal(bad.points, copy.points, 4 * sizeof *bad.points);
}

static void a_bow_tie_keeps_both_wings(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{0, 0}, {10, 10}, {10, 0}, {0, 10}};
    struct repair report;
    struct region out = repaired_ring(f, ring_made(f->arena, xy), &report);

    assert_true(report.changed);
    near(region_area(&out), 50, 1e-6);
    assert_int_equal(out.polygon_count, 2);
    assert_non_null(strstr(report.reason, "16.4 ft (5.0 m) east, 16.4 ft (5.0 m) north"));
}

static void spikes_go(void **state)
{
    struct fixture *f = *state;
    const double outward[][2] = {{0, 0},  {10, 0},  {10, 5}, {25, 5},
                                 {10, 5}, {10, 10}, {0, 10}};
    const double inward[][2] = {{0, 0},  {10, 0},  {10, 5}, {4, 5},
                                {10, 5}, {10, 10}, {0, 10}};
    struct repair report;
    struct region out = repaired_ring(f, ring_made(f->arena, outward), &report);

    assert_true(report.changed);
    near(region_area(&out), 100, 1e-9);
    near(region_box(&out).max_x, 10, 0);
    out = repaired_ring(f, ring_made(f->arena, inward), &report);
    assert_true(report.changed);
    near(region_area(&out), 100, 1e-9);
}

/* A hole outside is a part in the wrong place of the file: it is kept, and given. */
static void holes_outside_their_shell_are_parts(void **state)
{
    struct fixture *f = *state;
    struct ring rings[] = {
        box_ring(f->arena, 0, 0, 10, 10),
        ring_turned_round(f->arena, box_ring(f->arena, 20, 0, 5, 5)),
    };
    struct repair report;
    struct region out = repaired(f, region_made(f->arena, rings, 2), &report);

    assert_true(report.changed);
    near(report.area_before, 75, 1e-9);
    near(region_area(&out), 125, 1e-9);
    assert_int_equal(out.polygon_count, 2);
}

static void holes_across_their_shell_take_what_they_cover(void **state)
{
    struct fixture *f = *state;
    struct ring rings[] = {
        box_ring(f->arena, 0, 0, 10, 10),
        ring_turned_round(f->arena, box_ring(f->arena, 8, 2, 5, 5)),
    };
    struct repair report;
    struct region out = repaired(f, region_made(f->arena, rings, 2), &report);

    assert_true(report.changed);
    near(region_area(&out), 90, 1e-9);
}

static void overlapping_parts_are_joined(void **state)
{
    struct fixture *f = *state;
    struct ring shells[] = {box_ring(f->arena, 0, 0, 10, 10),
                            box_ring(f->arena, 6, 4, 10, 10)};
    struct repair report;
    struct region out = repaired(f, region_parts(f->arena, shells, 2), &report);

    assert_true(report.changed);
    near(report.area_before, 200, 1e-9);
    near(region_area(&out), 200 - 24, 1e-9);
    assert_int_equal(out.polygon_count, 1);
}

/* Parts with a common wall are one roof traced in two: the wall goes. */
static void adjoining_parts_are_joined(void **state)
{
    struct fixture *f = *state;
    struct ring shells[] = {box_ring(f->arena, 0, 0, 10, 10),
                            box_ring(f->arena, 10, 0, 10, 10)};
    struct repair report;
    struct region out = repaired(f, region_parts(f->arena, shells, 2), &report);

    assert_true(report.changed);
    near(region_area(&out), 200, 1e-9);
    assert_int_equal(out.polygon_count, 1);
}

static void nested_shells_are_one(void **state)
{
    struct fixture *f = *state;
    struct ring shells[] = {box_ring(f->arena, 0, 0, 10, 10),
                            box_ring(f->arena, 2, 2, 5, 5)};
    struct repair report;
    struct region out = repaired(f, region_parts(f->arena, shells, 2), &report);

    assert_true(report.changed);
    near(region_area(&out), 100, 1e-9);
    near(report.area_before, 125, 1e-9);
    assert_int_equal(out.polygon_count, 1);
}

/* The shell runs around a court and meets itself at one point: the court is a hole. */
static void rings_that_touch_themselves_are_told_apart(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{0, 0},  {20, 0},  {20, 20}, {0, 20}, {0, 10},
                            {5, 15}, {10, 10}, {5, 5},   {0, 10}};
    struct repair report;
    struct region out = repaired_ring(f, ring_made(f->arena, xy), &report);

    assert_true(report.changed);
    near(region_area(&out), 400 - 50, 1e-6);
}

/* A waist of no width: two parts that touch at a point. */
static void waists_come_apart(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{0, 0}, {5, 5}, {10, 0}, {10, 10}, {5, 5}, {0, 10}};
    struct repair report;
    struct region out = repaired_ring(f, ring_made(f->arena, xy), &report);

    assert_true(report.changed);
    near(region_area(&out), 50, 1e-6);
    assert_int_equal(out.polygon_count, 2);
}

/* A vertex of one wall lies in the middle of another. */
static void pinched_rings_are_repaired(void **state)
{
    struct fixture *f = *state;
    const double xy[][2] = {{0, 0}, {10, 0}, {10, 10}, {5, 0}, {0, 10}};
    struct repair report;
    struct region out = repaired_ring(f, ring_made(f->arena, xy), &report);

    assert_true(report.changed);
    near(region_area(&out), 50, 1e-6);
}

static void nothing_is_left_of_lines_and_points(void **state)
{
    struct fixture *f = *state;
    const double line[][2] = {{0, 0}, {10, 5}, {20, 10}};
    const double there_and_back[][2] = {{0, 0}, {10, 5}, {20, 10}, {10, 5}};
    const double point[][2] = {{3, 3}, {3, 3}, {3, 3}};
    const double two[][2] = {{3, 3}, {8, 8}};
    struct ring rings[] = {
        ring_made(f->arena, line),
        ring_made(f->arena, there_and_back),
        ring_made(f->arena, point),
        ring_made(f->arena, two),
    };

    for (size_t i = 0; i < LENGTH(rings); i++) {
        struct repair report;
        struct region out = repaired_ring(f, rings[i], &report);

        assert_int_equal(out.polygon_count, 0);
        near(report.area_after, 0, 0);
    }
}

static void rings_without_area_go_and_the_rest_stays(void **state)
{
    struct fixture *f = *state;
    const double point[][2] = {{3, 3}, {3, 3}, {3, 3}};
    struct ring rings[] = {box_ring(f->arena, 0, 0, 10, 10), ring_made(f->arena, point)};
    struct ring shells[] = {ring_made(f->arena, point), box_ring(f->arena, 0, 0, 4, 4)};
    struct repair report;
    struct region out = repaired(f, region_made(f->arena, rings, 2), &report);

    near(region_area(&out), 100, 1e-12);
    assert_int_equal(out.polygons[0].ring_count, 1);
    out = repaired(f, region_parts(f->arena, shells, 2), &report);
    near(region_area(&out), 16, 1e-12);
    assert_int_equal(out.polygon_count, 1);
}

static void rings_begin_in_the_west(void **state)
{
    struct fixture *f = *state;
    struct ring plain = box_ring(f->arena, 0, 0, 30, 20);
    struct region first = region_made(f->arena, &plain, 1);

    for (size_t start = 0; start < 4; start++) {
        struct ring ring = ring_new(f->arena, 4);
        struct repair report;
        struct region out;

        for (size_t k = 0; k < 4; k++)
            ring.points[k] = plain.points[(start + k) % 4];
        out = repaired_ring(f, ring, &report);
        assert_true(region_same(&out, &first));
    }
}

static void chance_scribbles_become_valid(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {51};

    for (int i = 0; i < 500; i++) {
        struct ring ring = ring_new(f->arena, 3 + chance_below(&chance, 20));
        double step = i % 2 ? 1 : 1e-6; /* half of them on a lattice: many touches */
        struct repair report;
        struct region out;

        for (size_t k = 0; k < ring.count; k++) {
            double x = chance_between(&chance, 0, 12);
            double y = chance_between(&chance, 0, 12);

            ring.points[k] =
                (struct point){floor(x / step) * step, floor(y / step) * step};
        }
        out = repaired_ring(f, ring, &report);
        assert_true(region_area(&out) <= 144);
        if (!report.changed)
            near(report.area_after, report.area_before, 0);
        arena_reset(f->arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(valid_outlines_are_left_alone),
        geometry_test(direction_is_no_fault),
        geometry_test(repeated_points_are_no_fault),
        geometry_test(the_input_stays_as_it_was),
        geometry_test(a_bow_tie_keeps_both_wings),
        geometry_test(spikes_go),
        geometry_test(holes_outside_their_shell_are_parts),
        geometry_test(holes_across_their_shell_take_what_they_cover),
        geometry_test(overlapping_parts_are_joined),
        geometry_test(adjoining_parts_are_joined),
        geometry_test(nested_shells_are_one),
        geometry_test(rings_that_touch_themselves_are_told_apart),
        geometry_test(waists_come_apart),
        geometry_test(pinched_rings_are_repaired),
        geometry_test(nothing_is_left_of_lines_and_points),
        geometry_test(rings_without_area_go_and_the_rest_stays),
        geometry_test(rings_begin_in_the_west),
        geometry_test(chance_scribbles_become_valid),
    };

    return cmocka_run_group_tests_name("geo/repair", tests, NULL, NULL);
}
