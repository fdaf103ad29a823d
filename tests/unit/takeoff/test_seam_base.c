/* Base securement by what is at the edges. */

#include "roof/fixtures.h"
#include "seam_bench.h"

/* 100 x 47.5 ft at 20 psf, sheets along the 100 ft. */
static void hall(struct seam_bench *b, struct point points[4], enum edge_kind kind)
{
    points[0] = (struct point){0, 0};
    points[1] = (struct point){100 * FT, 0};
    points[2] = (struct point){100 * FT, 47.5 * FT};
    points[3] = (struct point){0, 47.5 * FT};
    seam_bench_init(b, (struct ring){points, 4}, NULL);
    seam_zone(b, ZONE_FIELD, b->roof.outline, 9.5, 12);
    b->roof.zones[0].uplift.known = true;
    b->roof.zones[0].uplift.allowable = 20 * PA_PER_PSF;
    b->roof.half_sheets = 1;
    edges_around(b->building.arena, &b->roof, kind);
}

/* Length of base securement, ft, and its screws. */
static double base_feet(struct seam_bench *b, int *count)
{
    double length = 0;

    *count = 0;
    for (size_t k = 0; k < b->layout.row_count; k++) {
        const struct row_piece *row = &b->layout.rows[k];

        length += row->base ? point_distance(row->from, row->to) : 0;
        *count += row->base ? row->fasteners : 0;
    }
    assert_true(fabs(length - b->layout.base_length) < 1e-9);
    return length / FT;
}

static void by_kind(void **state)
{
    static const struct {
        enum edge_kind kind;
        bool slope_change;
        double feet;
        int screws;
    } cases[] = {{EDGE_PARAPET, false, 295, 295},  {EDGE_WALL, false, 295, 295},
                 {EDGE_CURB, false, 295, 295},     {EDGE_METAL, false, 0, 0},
                 {EDGE_GUTTER, false, 0, 0},       {EDGE_CONTINUOUS, false, 0, 0},
                 {EDGE_CONTINUOUS, true, 295, 295}};

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct seam_bench b;
        struct point points[4];
        int count;

        hall(&b, points, cases[i].kind);
        for (size_t k = 0; k < 4; k++)
            b.roof.edges[k].slope_change = cases[i].slope_change;
        seam_bench_run(&b);
        assert_true(fabs(base_feet(&b, &count) - cases[i].feet) < 1e-6);
        assert_int_equal(count, cases[i].screws);
        assert_int_equal(b.layout.plate_count, count + screws(&b, false, -1));
        seam_bench_release(&b);
    }
}

/* A wall along 100 ft, edge metal along the rest: one open row, 100 screws. */
static void a_wall_alone(void **state)
{
    struct seam_bench b;
    struct point points[4];
    int count;

    (void)state;
    hall(&b, points, EDGE_METAL);
    b.roof.edges[2].kind = EDGE_WALL;
    seam_bench_run(&b);
    assert_true(fabs(base_feet(&b, &count) - 100) < 1e-6);
    assert_int_equal(count, 100);
    seam_bench_release(&b);
}

/* Edge metal holds the sheet as a row would: the other rows are the same, screw by screw,
 * and carry the same. */
static void metal_holds_as_a_row(void **state)
{
    struct seam_bench b[2];
    struct point points[2][4];
    size_t at[2] = {0, 0};

    (void)state;
    for (int i = 0; i < 2; i++) {
        hall(&b[i], points[i], i ? EDGE_METAL : EDGE_PARAPET);
        seam_bench_run(&b[i]);
    }
    for (; at[0] < b[0].layout.row_count; at[0]++) {
        const struct row_piece *row = &b[0].layout.rows[at[0]];
        const struct row_piece *other = &b[1].layout.rows[at[1]];

        if (row->base)
            continue;
        assert_true(at[1]++ < b[1].layout.row_count);
        assert_true(row->from.x == other->from.x && row->to.y == other->to.y);
        assert_true(row->load == other->load && row->load > 0);
        assert_int_equal(row->fasteners, other->fasteners);
    }
    assert_int_equal(at[1], b[1].layout.row_count);
    for (int i = 0; i < 2; i++)
        seam_bench_release(&b[i]);
}

/* Where a setting asks for it, set in from edge metal by 6 in: 99 and 46.5 ft, twice; in
 * a corner that runs into the roof a row goes on by as much. */
static void set_in_from_metal(void **state)
{
    struct seam_bench b;
    struct point points[4];
    int count;

    (void)state;
    hall(&b, points, EDGE_METAL);
    b.settings.edge_row = 6 * M_PER_IN;
    seam_bench_run(&b);
    assert_true(fabs(base_feet(&b, &count) - 2 * (99 + 46.5)) < 1e-2);
    for (size_t k = 0; k < b.layout.row_count; k++)
        if (b.layout.rows[k].base) {
            struct point p = b.layout.rows[k].from;

            assert_true(p.x > 5.9 * M_PER_IN && p.x < 100 * FT - 5.9 * M_PER_IN);
            assert_true(p.y > 5.9 * M_PER_IN && p.y < 47.5 * FT - 5.9 * M_PER_IN);
        }
    seam_bench_release(&b);
}

static void set_in_round_a_niche(void **state)
{
    struct point points[] = {{0, 0},
                             {100 * FT, 0},
                             {100 * FT, 40 * FT},
                             {60 * FT, 40 * FT},
                             {60 * FT, 60 * FT},
                             {0, 60 * FT}};
    struct seam_bench b;
    int count;

    (void)state;
    seam_bench_init(&b, (struct ring){points, 6}, NULL);
    seam_zone(&b, ZONE_FIELD, b.roof.outline, 9.5, 12);
    edges_around(b.building.arena, &b.roof, EDGE_METAL);
    b.settings.edge_row = 6 * M_PER_IN;
    seam_bench_run(&b);
    assert_true(fabs(base_feet(&b, &count) - (320 - 4)) < 1e-2);
    seam_bench_release(&b);
}

/* A unit of 8 x 4 ft has 24 screws around it, with the roof on their left; rows stay as
 * they are, also the one through it. A drain has no curb, nor has a support. */
static void around_curbs(void **state)
{
    struct seam_bench b;
    struct point points[4];
    struct point middle = {34 * FT, 19 * FT};
    struct point corners[] = {
        {30 * FT, 17 * FT}, {38 * FT, 17 * FT}, {38 * FT, 21 * FT}, {30 * FT, 21 * FT}};
    struct fixture fixtures[] = {{.kind = FIXTURE_UNIT, .footprint = {corners, 4}},
                                 {.kind = FIXTURE_DRAIN, .at = {70 * FT, 26 * FT}},
                                 {.kind = FIXTURE_SUPPORT, .footprint = {corners, 4}}};
    int count = 0;
    int rows = 0;

    (void)state;
    hall(&b, points, EDGE_PARAPET);
    seam_bench_run(&b);
    rows = screws(&b, false, -1);
    seam_bench_release(&b);
    hall(&b, points, EDGE_PARAPET);
    b.roof.fixtures = fixtures;
    b.roof.fixture_count = 3;
    seam_bench_run(&b);
    assert_int_equal(screws(&b, false, -1), rows);
    assert_true(fabs(base_feet(&b, &count) - (295 + 24)) < 1e-6);
    assert_int_equal(count, 295 + 24);
    for (size_t k = b.layout.row_count - 4; k < b.layout.row_count; k++) {
        const struct row_piece *row = &b.layout.rows[k];

        assert_true(row->base && row->closed);
        assert_true((row->to.x - row->from.x) * (middle.y - row->from.y) <
                    (row->to.y - row->from.y) * (middle.x - row->from.x));
    }
    seam_bench_release(&b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(by_kind),
        cmocka_unit_test(a_wall_alone),
        cmocka_unit_test(metal_holds_as_a_row),
        cmocka_unit_test(set_in_from_metal),
        cmocka_unit_test(set_in_round_a_niche),
        cmocka_unit_test(around_curbs),
    };

    return cmocka_run_group_tests_name("takeoff/seam_base", tests, NULL, NULL);
}
