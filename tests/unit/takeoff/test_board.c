/* Boards on outlines made by hand and by chance. */

#include "board_bench.h"

#include <time.h>

/* 32 x 16 ft: four rows. Rows 0 and 2 hold four whole boards, rows 1 and 3 a half, three
 * whole ones and a half: 14 whole, 4 halves of 16 ft2. Eight plates on a whole board,
 * ceil(8 x 16 / 32) = 4 on a half: 14 x 8 + 4 x 4 = 128. */
static void rectangle_by_hand(void **state)
{
    struct bench b;

    (void)state;
    bench_rectangle(&b, 32 * FT, 16 * FT);
    lay(&b);
    assert_int_equal(b.layout.board_count, 18);
    assert_int_equal(whole_boards(&b.layout), 14);
    assert_int_equal(b.layout.plate_count, 128);
    near(board_area(&b.layout), 512 * FT2);
    check_plates(&b);
    for (size_t i = 0; i < b.layout.board_count; i++) {
        near(b.layout.boards[i].cut_width, 4 * FT);
        near(b.layout.boards[i].cut_length, b.layout.boards[i].whole ? 8 * FT : 4 * FT);
    }
    bench_release(&b);
}

/* Four rows of 4 ft and 0.1 m more: the grid moves so that no row is 0.1 m. */
static void slivers_are_shifted_away(void **state)
{
    struct bench b;

    (void)state;
    bench_rectangle(&b, 32 * FT + 0.05, 16 * FT + 0.1);
    lay(&b);
    near(board_area(&b.layout), b.roof.zones[0].area);
    for (size_t i = 0; i < b.layout.board_count; i++) {
        assert_true(b.layout.boards[i].cut_width >= 0.15 - 1e-9);
        assert_true(b.layout.boards[i].cut_length >= 0.15 - 1e-9);
    }
    check_plates(&b);
    bench_release(&b);
}

/* 10.8 ft2: max(ceil(8 x 10.8 / 32), 4) = 4. 2.7 ft2: 2. A strip of 3 x 0.2 m is cut
 * at the board's end; its pieces have 2.44 x 0.2 m = 5.3 ft2 and less: 2 each. */
static void smaller_than_a_board(void **state)
{
    struct bench b;

    (void)state;
    bench_rectangle(&b, 1, 1);
    lay(&b);
    assert_int_equal(b.layout.board_count, 1);
    assert_int_equal(b.layout.plate_count, 4);
    check_plates(&b);
    bench_release(&b);
    bench_rectangle(&b, 0.5, 0.5);
    lay(&b);
    assert_int_equal(b.layout.plate_count, 2);
    check_plates(&b);
    bench_release(&b);
    bench_rectangle(&b, 3, 0.2);
    lay(&b);
    assert_int_equal(b.layout.board_count, 2);
    assert_int_equal(b.layout.plate_count, 4);
    check_plates(&b);
    bench_release(&b);
}

/* Traced to 1 mm, a roof of 32 x 16 ft is 3 mm too long and 1 mm too narrow: the boards
 * are the same 14 whole ones and 4 halves, and no shred is laid. */
static void traced_to_a_millimetre(void **state)
{
    struct bench b;

    (void)state;
    bench_rectangle(&b, 32 * FT + 0.003, 16 * FT - 0.001);
    lay(&b);
    assert_int_equal(whole_boards(&b.layout), 14);
    assert_int_equal(b.layout.board_count, 18);
    assert_int_equal(b.layout.plate_count, 128);
    check_plates(&b);
    bench_release(&b);
    /* 24 mm are filled, 26 mm are a board: of 32 ft + 26 mm, rows 0 and 2 by themselves
     * or, moved, all rows by a wider piece */
    bench_rectangle(&b, 32 * FT + 0.024, 16 * FT);
    lay(&b);
    assert_int_equal(b.layout.board_count, 18);
    near(b.layout.unboarded, 8 * FT * 0.024); /* at the end of rows 0 and 2 */
    bench_release(&b);
    bench_rectangle(&b, 32 * FT + 0.026, 16 * FT);
    lay(&b);
    assert_true(b.layout.board_count > 18);
    for (size_t i = 0; i < b.layout.board_count; i++)
        assert_true(b.layout.boards[i].cut_length > 0.15);
    bench_release(&b);
}

/* A step of the outline at a joint between boards, traced 0.4 mm beyond it: what is left
 * along the joint makes no piece longer than it is, and no shred a board. */
static void hairlines_are_no_boards(void **state)
{
    const struct point points[] = {{0, 0},
                                   {32 * FT, 0},
                                   {32 * FT, 8 * FT + 0.0004},
                                   {26.04 * FT, 8 * FT + 0.0004},
                                   {26.04 * FT, 16 * FT},
                                   {0, 16 * FT}};
    struct bench b;

    (void)state;
    bench_init(&b, points, 6);
    lay(&b);
    assert_int_equal(whole_boards(&b.layout), 4 + 3 + 3 + 2);
    for (size_t i = 0; i < b.layout.board_count; i++) {
        const struct board *board = &b.layout.boards[i];

        assert_true(board->area > 0.99 * board->cut_length * board->cut_width);
        assert_true(board->cut_width > 0.3 * FT);
    }
    bench_release(&b);
}

/* Each point of the roof lies in one board, each outside in none. */
static void check_cover(const struct bench *b, double step)
{
    struct box box = region_box(&b->roof.outline);
    struct box *boxes =
        arena_array(b->building.arena, b->layout.board_count, sizeof *boxes);

    assert_non_null(boxes);
    for (size_t i = 0; i < b->layout.board_count; i++)
        boxes[i] = region_box(&b->layout.boards[i].region);
    for (double y = box.min_y - 0.013; y < box.max_y + step; y += step) {
        for (double x = box.min_x - 0.017; x < box.max_x + step; x += step) {
            struct point p = {x, y};
            int covers = 0;

            if (boundary_distance(&b->roof.outline, p) < 0.003)
                continue;
            for (size_t i = 0; i < b->layout.board_count; i++) {
                if (x >= boxes[i].min_x && x <= boxes[i].max_x && y >= boxes[i].min_y &&
                    y <= boxes[i].max_y)
                    covers += inside(&b->layout.boards[i].region, p);
            }
            assert_int_equal(covers, inside(&b->roof.outline, p) ? 1 : 0);
        }
    }
}

/* Areas add up to the roof's; what is left out is given. */
static void check_partition(struct bench *b)
{
    struct board_job job = {.arena = b->building.arena, .ctx = b->ctx, .roof = &b->roof};
    struct layout layout = {.method = METHOD_ADHERED};
    double left_out = 0;

    job.grid = (struct board_grid){{{0, 0}, {0.8, 0.6}}, 8 * FT, 4 * FT, -0.3, -0.2};
    assert_int_equal(boards_lay(&job, &layout, &left_out, NULL), OUTLAY_OK);
    near(board_area(&layout) + left_out, b->roof.zones[0].area);
    assert_true(left_out < 1e-3 * b->roof.zones[0].area);
}

static double chance(uint64_t *seed)
{
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return (double)(*seed >> 11) / 9007199254740992.0;
}

/* Stars with deep notches, half of them around a court. */
static void random_outlines(void **state)
{
    uint64_t seed = 3;

    (void)state;
    for (int n = 0; n < 60; n++) {
        struct point points[40];
        size_t count = 5 + (size_t)(chance(&seed) * 30);
        struct bench b;

        for (size_t k = 0; k < count; k++) {
            double angle = 6.283185307179586 * (double)k / (double)count;
            double radius = 6 + 9 * chance(&seed);

            points[k] = (struct point){radius * cos(angle), radius * sin(angle)};
        }
        bench_init(&b, points, count);
        if (n % 2 == 1) {
            const struct point court[] = {{-2, -1}, {2.5, -1.2}, {2, 1.7}, {-1.1, 2}};

            add_hole(&b, court, 4);
        }
        lay(&b);
        check_plates(&b);
        check_cover(&b, 0.37);
        check_partition(&b);
        bench_release(&b);
    }
}

static void curved_edges(void **state)
{
    struct point points[200];
    struct bench b;

    (void)state;
    for (size_t k = 0; k < 200; k++) {
        double angle = 6.283185307179586 * (double)k / 200;

        points[k] = (struct point){30 * cos(angle), 20 * sin(angle)};
    }
    bench_init(&b, points, 200);
    lay(&b);
    check_plates(&b);
    check_cover(&b, 0.9);
    check_partition(&b);
    bench_release(&b);
}

/* What can be counted of a layout, for comparing two of one roof. */
static void check_same(const struct layout *a, const struct layout *b)
{
    assert_int_equal(a->board_count, b->board_count);
    assert_int_equal(whole_boards(a), whole_boards(b));
    assert_int_equal(a->plate_count, b->plate_count);
    assert_int_equal(a->sheet_count, b->sheet_count);
    for (size_t i = 0; i < a->board_count; i++) {
        assert_true(fabs(a->boards[i].area - b->boards[i].area) < 1e-6);
        assert_int_equal(a->boards[i].plates, b->boards[i].plates);
    }
    assert_true(fabs(a->side_lap - b->side_lap) < 1e-6);
}

/* An L of unlike legs, from every start and turned. */
static void start_and_rotation(void **state)
{
    const struct point l[] = {{0, 0},    {31.3, 0},  {31.3, 9.7},
                              {12, 9.7}, {12, 22.1}, {0, 22.1}};
    struct bench first;

    (void)state;
    bench_init(&first, l, 6);
    lay(&first);
    check_plates(&first);
    check_cover(&first, 0.31);
    for (size_t start = 0; start < 6; start++) {
        for (int turn = 0; turn < 5; turn++) {
            double angle = 1.234 * turn;
            struct point points[6];
            struct bench b;

            for (size_t k = 0; k < 6; k++) {
                struct point p = l[(start + k) % 6];

                points[k] = (struct point){p.x * cos(angle) - p.y * sin(angle),
                                           p.x * sin(angle) + p.y * cos(angle)};
            }
            bench_init(&b, points, 6);
            lay(&b);
            check_same(&first.layout, &b.layout);
            bench_release(&b);
        }
    }
    bench_release(&first);
}

/* Ribs north to south: rows run along y, 24 ft of boards in rows of 4 ft. */
static void along_the_ribs(void **state)
{
    struct bench b;

    (void)state;
    bench_rectangle(&b, 32 * FT, 24 * FT);
    b.roof.given.deck_bearing = 0;
    lay(&b);
    /* 8 rows: 4 of three whole boards, 4 of a half, two whole ones and a half */
    assert_int_equal(whole_boards(&b.layout), 20);
    assert_int_equal(b.layout.board_count, 28);
    near(fabs(sin(b.layout.bearing)), 1);
    bench_release(&b);
}

/* The preliminary fasteners, placed nowhere: 14 x 5 + 4 x max(ceil(2.5), 4). */
static void insulation_under_sheets(void **state)
{
    struct bench b;
    int plates = 0;

    (void)state;
    bench_rectangle(&b, 32 * FT, 16 * FT);
    assert_int_equal(
        insulation_boards(&b.building, &b.roof, &b.settings, b.ctx, &b.layout, NULL),
        OUTLAY_OK);
    for (size_t i = 0; i < b.layout.board_count; i++)
        plates += b.layout.boards[i].plates;
    assert_int_equal(plates, 14 * 5 + 4 * 4);
    assert_int_equal(b.layout.plate_count, 0);
    assert_int_equal(b.layout.sheet_count, 0);
    bench_release(&b);
}

/* 2000 x 500 ft: 125 rows, 63 of 250 whole boards, 62 of 249 and two halves. */
/* Two zones side by side in a row 4 high; one of them ends at a slanted edge, the other
 * goes on below the row as far as 20. */
static void where_nothing_is_cut(void **state)
{
    struct arena *arena = arena_new();
    struct point left[] = {{0, 0}, {16, 0}, {16, 4}, {1, 4}};
    struct point right[] = {{16, -3}, {20, -3}, {20, 0}, {32, 0}, {32, 4}, {16, 4}};
    struct layer_rings zones[2] = {{NULL, 0, 0}, {NULL, 0, 0}}, row;
    struct row_edges edges = {NULL, 0, 0};

    (void)state;
    assert_non_null(arena);
    assert_true(layer_rings_add(arena, &zones[0], (struct ring){left, 4}, 0));
    assert_true(layer_rings_add(arena, &zones[1], (struct ring){right, 6}, 0));
    for (int i = 0; i < 2; i++) {
        assert_int_equal(rings_clip(arena, &zones[i], 1, 0, 4, &row), OUTLAY_OK);
        assert_true(row_edges_add(arena, &edges, &row, 0, 4, i));
    }
    assert_int_equal(row_zone(&edges, 0, 8), ROW_CUT);
    assert_int_equal(row_zone(&edges, 1, 8), 0);
    assert_int_equal(row_zone(&edges, 8, 16), 0);
    assert_int_equal(row_zone(&edges, 12, 20), ROW_CUT);
    assert_int_equal(row_zone(&edges, 16, 24), 1);
    assert_int_equal(row_zone(&edges, 24, 32), 1);
    assert_int_equal(row_zone(&edges, 28, 36), ROW_CUT);
    assert_int_equal(row_zone(&edges, 32, 40), ROW_OUTSIDE);
    arena_free(arena);
}

static void warehouse(void **state)
{
    struct bench b;
    struct timespec from;
    struct timespec to;
    double seconds;

    (void)state;
    bench_rectangle(&b, 2000 * FT, 500 * FT);
    timespec_get(&from, TIME_UTC);
    lay(&b);
    timespec_get(&to, TIME_UTC);
    seconds = (double)(to.tv_sec - from.tv_sec);
    seconds += 1e-9 * (double)(to.tv_nsec - from.tv_nsec);
    assert_int_equal(whole_boards(&b.layout), 63 * 250 + 62 * 249);
    assert_int_equal(b.layout.board_count, 63 * 250 + 62 * 251);
    assert_int_equal(b.layout.plate_count, (63 * 250 + 62 * 249) * 8 + 124 * 4);
    print_message("1,000,000 ft2: %.2f s\n", seconds);
    assert_true(seconds < 3);
    bench_release(&b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rectangle_by_hand),
        cmocka_unit_test(slivers_are_shifted_away),
        cmocka_unit_test(smaller_than_a_board),
        cmocka_unit_test(traced_to_a_millimetre),
        cmocka_unit_test(hairlines_are_no_boards),
        cmocka_unit_test(random_outlines),
        cmocka_unit_test(curved_edges),
        cmocka_unit_test(start_and_rotation),
        cmocka_unit_test(along_the_ribs),
        cmocka_unit_test(insulation_under_sheets),
        cmocka_unit_test(where_nothing_is_cut),
        cmocka_unit_test(warehouse),
    };

    return cmocka_run_group_tests_name("takeoff/board", tests, NULL, NULL);
}
