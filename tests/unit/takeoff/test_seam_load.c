/* What rows and base securement carry. */

#include "seam_bench.h"

/* The south 19 ft of a level 100 x 47.5 ft, sheets running east, at 10 psf. The ends of
 * the joint are at these heights, ft. */
static void section_lay(struct seam_bench *b, double west, double east, int half_sheets)
{
    struct point whole_points[] = {
        {0, 0}, {100 * FT, 0}, {100 * FT, 47.5 * FT}, {0, 47.5 * FT}};
    struct point points[] = {
        {0, 0}, {100 * FT, 0}, {100 * FT, east * FT}, {0, west * FT}};
    struct ring whole = {whole_points, 4};
    struct polygon polygon = {&whole, 1};
    struct region level = {&polygon, 1};

    seam_bench_init(b, (struct ring){points, 4}, NULL);
    seam_zone(b, ZONE_FIELD, b->roof.outline, 9.5, 12);
    b->roof.given.deck_bearing = 0; /* ribs run north */
    b->roof.zones[0].uplift.known = true;
    b->roof.zones[0].uplift.allowable = 10 * PA_PER_PSF;
    b->roof.level.outline = &level;
    b->roof.edges[2].kind = EDGE_CONTINUOUS;
    b->roof.half_sheets = half_sheets;
    seam_bench_run(b);
    b->roof.level.outline = NULL; /* it ends here */
}

/* Widest load width of a row, ft. */
static double widest(const struct seam_bench *b)
{
    double width = 0;

    for (size_t k = 0; k < b->layout.row_count; k++)
        if (!b->layout.rows[k].base)
            width = fmax(width, b->layout.rows[k].tributary / FT);
    return width;
}

/* Nothing holds the joint, so what lies beyond the only row goes to that row: half of
 * 9.5 ft and all of 9.5 ft, too wide however light the load: 142.5 lbf of 285. */
static void joint_along_the_sheets(void **state)
{
    struct seam_bench b;

    (void)state;
    section_lay(&b, 19, 19, 0);
    assert_true(fabs(widest(&b) - 14.25) < 1e-6);
    assert_int_equal(b.layout.states[ZONE_FIELD], STATE_NOT_MET);
    assert_non_null(strstr(b.layout.reasons[ZONE_FIELD], "a row carries 14.2 ft"));
    seam_bench_release(&b);
}

/* With half sheets along the edges the last row is near enough. */
static void half_sheets_along_a_joint(void **state)
{
    struct seam_bench b;

    (void)state;
    section_lay(&b, 19, 19, 1);
    assert_true(widest(&b) < 9.5 + 1e-6);
    assert_int_equal(b.layout.states[ZONE_FIELD], STATE_MET);
    seam_bench_release(&b);
}

/* Rows that end at a joint hold it, however little it slants: 40 ft at the south, 39.6 ft
 * at the north of 47.5 ft. */
static void rows_end_at_a_joint(void **state)
{
    struct point whole_points[] = {
        {0, 0}, {100 * FT, 0}, {100 * FT, 47.5 * FT}, {0, 47.5 * FT}};
    struct point points[] = {
        {0, 0}, {40 * FT, 0}, {39.6 * FT, 47.5 * FT}, {0, 47.5 * FT}};
    struct ring whole = {whole_points, 4};
    struct polygon polygon = {&whole, 1};
    struct region level = {&polygon, 1};
    struct seam_bench b;

    (void)state;
    seam_bench_init(&b, (struct ring){points, 4}, NULL);
    seam_zone(&b, ZONE_FIELD, b.roof.outline, 9.5, 12);
    b.roof.given.deck_bearing = 0;
    b.roof.level.outline = &level;
    b.roof.edges[1].kind = EDGE_CONTINUOUS;
    seam_bench_run(&b);
    assert_true(fabs(widest(&b) - 9.5) < 1e-6);
    assert_int_equal(b.layout.states[ZONE_FIELD], STATE_MET);
    seam_bench_release(&b);
}

/* The only piece of row at that height, ft. */
static const struct row_piece *row_at(const struct seam_bench *b, double height)
{
    for (size_t k = 0; k < b->layout.row_count; k++)
        if (!b->layout.rows[k].base &&
            fabs(b->layout.rows[k].from.y - height * FT) < 1e-6)
            return &b->layout.rows[k];
    fail_msg("no row at %g ft", height);
    return NULL;
}

/* A U: a bar of 100 x 23 ft with legs of 20 ft from 15 and from 65 ft on. The row at
 * 19 ft has the edge 4 ft away at its ends and in its middle, and carries 6.75 ft there;
 * in the legs the next row is 9.5 ft away. At 32 psf that is 304 lbf of 285, so its
 * screws come 6 in apart. */
static void rows_that_start_in_between(void **state)
{
    const double plan[][2] = {{0, 0},   {100, 0}, {100, 23}, {85, 23}, {85, 57}, {65, 57},
                              {65, 23}, {35, 23}, {35, 57},  {15, 57}, {15, 23}, {0, 23}};
    struct point points[12];
    struct seam_bench b;

    (void)state;
    for (int k = 0; k < 12; k++)
        points[k] = (struct point){plan[k][0] * FT, plan[k][1] * FT};
    seam_bench_init(&b, (struct ring){points, 12}, NULL);
    seam_zone(&b, ZONE_FIELD, b.roof.outline, 9.5, 12);
    b.roof.given.deck_bearing = 0;
    b.roof.zones[0].uplift.known = true;
    b.roof.zones[0].uplift.allowable = 32 * PA_PER_PSF;
    seam_bench_run(&b);
    assert_true(fabs(row_at(&b, 19)->tributary / FT - 9.5) < 1e-6);
    assert_true(fabs(row_at(&b, 19)->load / N_PER_LBF - 152) < 1e-6);
    assert_true(fabs(row_at(&b, 19)->spacing - 6 * M_PER_IN) < 1e-9);
    assert_int_equal(b.layout.states[ZONE_FIELD], STATE_MET);
    seam_bench_release(&b);
}

/* A row at 9.5 ft of 100 x 19 ft, at 20 psf. From 20 to 40 ft along it, 2 to 4.5 ft
 * north of it, is a perimeter of 60 psf, away from its ends and its middle. */
static void zones_that_start_in_between(void **state)
{
    struct point points[] = {{0, 0}, {100 * FT, 0}, {100 * FT, 19 * FT}, {0, 19 * FT}};
    struct point box[] = {{20 * FT, 11.5 * FT},
                          {20 * FT, 14 * FT},
                          {40 * FT, 14 * FT},
                          {40 * FT, 11.5 * FT}};
    struct point turned[] = {box[3], box[2], box[1], box[0]};
    struct seam_bench b;
    struct ring rings[2];
    struct ring inner = {turned, 4};
    struct polygon field = {rings, 2};
    struct polygon edge = {&inner, 1};

    (void)state;
    seam_bench_init(&b, (struct ring){points, 4}, NULL);
    rings[0] = b.rings[0];
    rings[1] = (struct ring){box, 4};
    seam_zone(&b, ZONE_PERIMETER, (struct region){&edge, 1}, 9.5, 12);
    seam_zone(&b, ZONE_FIELD, (struct region){&field, 1}, 9.5, 12);
    b.roof.given.deck_bearing = 0;
    for (int k = 0; k < 2; k++) {
        b.roof.zones[k].uplift.known = true;
        b.roof.zones[k].uplift.allowable = (k == 0 ? 60 : 20) * PA_PER_PSF;
    }
    seam_bench_run(&b);
    /* south 4.75 ft of field; north 2 ft of it, 2.5 ft of perimeter, 0.25 ft of field */
    assert_true(fabs(row_at(&b, 9.5)->load / N_PER_LBF / row_at(&b, 9.5)->spacing * FT -
                     (4.75 * 20 + 2 * 20 + 2.5 * 60 + 0.25 * 20)) < 1e-6);
    seam_bench_release(&b);
}

/* Without a row base securement carries half the width, 4.7 ft: at 65 psf 305.5 lbf of
 * 285, so its screws come 6 in apart; at 125 psf 293.75 lbf even then. */
static void base_securement_carries(void **state)
{
    const double pressures[] = {60, 65, 125};
    const double spacings[] = {12, 6, 6};

    (void)state;
    for (int k = 0; k < 3; k++) {
        struct point points[] = {
            {0, 0}, {30 * FT, 0}, {30 * FT, 9.4 * FT}, {0, 9.4 * FT}};
        struct seam_bench b;

        seam_bench_init(&b, (struct ring){points, 4}, NULL);
        seam_zone(&b, ZONE_PERIMETER, b.roof.outline, 9.5, 12);
        b.roof.given.deck_bearing = 0;
        b.roof.zones[0].uplift.known = true;
        b.roof.zones[0].uplift.allowable = pressures[k] * PA_PER_PSF;
        seam_bench_run(&b);
        assert_int_equal(b.layout.row_count, 4);
        assert_true(b.layout.rows[0].base);
        assert_true(fabs(b.layout.rows[0].tributary / FT - 4.7) < 1e-6);
        assert_true(fabs(b.layout.rows[0].spacing - spacings[k] * M_PER_IN) < 1e-9);
        assert_int_equal(b.layout.states[ZONE_PERIMETER],
                         k < 2 ? STATE_MET : STATE_NOT_MET);
        seam_bench_release(&b);
    }
}

/* Sheets of 100 x 47 ft run east, half ones along both edges; rows end on the base
 * securement at the west, 9.5 or 4.5 ft apart. What is nearer to a row than to the edge
 * is the row's: at 50 psf the edge carries at most 4.75 ft x 50 psf = 237.5 lbf. */
static void rows_end_on_base_securement(void **state)
{
    struct point points[] = {{0, 0}, {100 * FT, 0}, {100 * FT, 47 * FT}, {0, 47 * FT}};
    struct seam_bench b;

    (void)state;
    seam_bench_init(&b, (struct ring){points, 4}, NULL);
    seam_zone(&b, ZONE_FIELD, b.roof.outline, 9.5, 6);
    b.roof.given.deck_bearing = 0;
    b.roof.half_sheets = 1;
    b.roof.zones[0].uplift.known = true;
    b.roof.zones[0].uplift.allowable = 50 * PA_PER_PSF;
    seam_bench_run(&b);
    for (size_t k = 0; k < b.layout.row_count; k++) {
        const struct row_piece *row = &b.layout.rows[k];
        bool west = row->from.x < 1e-6 && row->to.x < 1e-6;

        if (row->base && west)
            assert_true(fabs(row->tributary / FT - 4.75) < 1e-6);
        if (row->base && !west && row->from.y < 1e-6 && row->to.y < 1e-6)
            assert_true(fabs(row->tributary / FT - 2.25) < 1e-6);
        if (row->base)
            assert_true(fabs(row->spacing - 12 * M_PER_IN) < 1e-9);
    }
    seam_bench_release(&b);
}

/* Rows 0.4 times the field's apart leave 2.5 spaces between seams: two rows, wherever
 * rounding puts the seams. */
static void rows_between_at_a_half(void **state)
{
    static const double off[] = {-1e-9, 0, 1e-9};
    struct point points[] = {{0, 0}, {12, 0}, {12, 6}, {0, 6}};

    (void)state;
    for (int k = 0; k < 3; k++) {
        struct seam_bench b;
        struct seam_work w = {.assembly = &b.assembly, .roof = &b.roof};

        seam_bench_init(&b, (struct ring){points, 4}, NULL);
        seam_zone(&b, ZONE_PERIMETER, b.roof.outline, 0.4 * 9.5, 12);
        w.zones[ZONE_PERIMETER] = &b.roof.zones[0];
        assert_int_equal(rows_between(&w, ZONE_PERIMETER, 9.5 * FT * (1 + off[k])), 2);
        seam_bench_release(&b);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_between_at_a_half),
        cmocka_unit_test(joint_along_the_sheets),
        cmocka_unit_test(half_sheets_along_a_joint),
        cmocka_unit_test(rows_end_at_a_joint),
        cmocka_unit_test(rows_that_start_in_between),
        cmocka_unit_test(zones_that_start_in_between),
        cmocka_unit_test(base_securement_carries),
        cmocka_unit_test(rows_end_on_base_securement),
    };

    return cmocka_run_group_tests_name("takeoff/seam_load", tests, NULL, NULL);
}
