/* What rows beside a joint of two sections carry. */

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
    b->roof.half_sheets = half_sheets;
    seam_bench_run(b);
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
    seam_bench_run(&b);
    assert_true(fabs(widest(&b) - 9.5) < 1e-6);
    assert_int_equal(b.layout.states[ZONE_FIELD], STATE_MET);
    seam_bench_release(&b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(joint_along_the_sheets),
        cmocka_unit_test(half_sheets_along_a_joint),
        cmocka_unit_test(rows_end_at_a_joint),
    };

    return cmocka_run_group_tests_name("takeoff/seam_load", tests, NULL, NULL);
}
