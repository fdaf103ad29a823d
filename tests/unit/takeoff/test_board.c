/* Boards, plates and sheets on outlines made by hand and by chance. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <string.h>
#include <time.h>

#include "base/units.h"
#include "takeoff/board.h"
#include "takeoff/board_grid.h"

#define FT M_PER_FT
#define FT2 M2_PER_FT2
#define MOST_POINTS 400

struct bench {
    struct geo_ctx *ctx;
    struct building building;
    struct roof roof;
    struct assembly assembly;
    struct takeoff_settings settings;
    struct layout layout;
    struct ring rings[2];
    struct polygon polygon;
    struct point points[2][MOST_POINTS];
};

static void near_to(double value, double expected, int line)
{
    if (!(fabs(value - expected) <= 1e-9 * fmax(1, fabs(expected)))) {
        print_error("%.15g isn't %.15g\n", value, expected);
        _fail(__FILE__, line);
    }
}

#define near(value, expected) near_to(value, expected, __LINE__)

static void bench_init(struct bench *b, const struct point *points, size_t count)
{
    memset(b, 0, sizeof *b);
    assert_int_equal(geo_ctx_new(&b->ctx, NULL), OUTLAY_OK);
    b->building.arena = arena_new();
    assert_non_null(b->building.arena);
    memcpy(b->points[0], points, count * sizeof *points);
    b->rings[0] = (struct ring){b->points[0], count};
    b->polygon = (struct polygon){b->rings, 1};
    b->roof.given = attributes_missing();
    b->roof.outline = (struct region){&b->polygon, 1};
    b->roof.zone_count = 1;
    b->roof.zones[0].role = ZONE_FIELD;
    b->roof.zones[0].region = b->roof.outline;
    b->roof.zones[0].area = region_area(&b->roof.outline);
    b->roof.zones[0].attachment.per_board = 8;
    b->roof.zones[0].attachment.ribbon_spacing = NAN;
    b->assembly = (struct assembly){
        .board_length = 8 * FT,
        .board_width = 4 * FT,
        .board_edge = 0.5 * FT,
        .board_fasteners = 5,
        .sheet_width = 10 * FT,
        .lap = 0.25 * FT,
    };
    b->settings.place_plates = true;
    b->layout.method = METHOD_INDUCTION_WELDED;
}

static void bench_rectangle(struct bench *b, double length, double width)
{
    const struct point points[] = {{0, 0}, {length, 0}, {length, width}, {0, width}};

    bench_init(b, points, 4);
}

static void add_hole(struct bench *b, const struct point *points, size_t count)
{
    memcpy(b->points[1], points, count * sizeof *points);
    b->rings[1] = (struct ring){b->points[1], count};
    ring_reverse(b->rings[1]);
    b->polygon.ring_count = 2;
    b->roof.zones[0].area = region_area(&b->roof.outline);
}

static void lay(struct bench *b)
{
    assert_int_equal(board_layout(&b->building, &b->roof, &b->assembly, &b->settings,
                                  b->ctx, &b->layout, NULL),
                     OUTLAY_OK);
}

static void bench_release(struct bench *b)
{
    arena_free(b->building.arena);
    geo_ctx_free(b->ctx);
}

static size_t whole_boards(const struct layout *layout)
{
    size_t count = 0;

    for (size_t i = 0; i < layout->board_count; i++)
        count += layout->boards[i].whole;
    return count;
}

static double board_area(const struct layout *layout)
{
    double area = 0;

    for (size_t i = 0; i < layout->board_count; i++)
        area += layout->boards[i].area;
    return area;
}

static bool inside(const struct region *region, struct point p)
{
    bool in = false;

    for (size_t i = 0; i < region->polygon_count; i++) {
        for (size_t r = 0; r < region->polygons[i].ring_count; r++) {
            struct ring ring = region->polygons[i].rings[r];

            for (size_t k = 0; k < ring.count; k++) {
                struct point a = ring.points[k];
                struct point c = ring.points[(k + 1) % ring.count];

                if ((a.y > p.y) != (c.y > p.y) &&
                    p.x < a.x + (p.y - a.y) / (c.y - a.y) * (c.x - a.x))
                    in = !in;
            }
        }
    }
    return in;
}

static double boundary_distance(const struct region *region, struct point p)
{
    double least = INFINITY;

    for (size_t i = 0; i < region->polygon_count; i++) {
        for (size_t r = 0; r < region->polygons[i].ring_count; r++) {
            struct ring ring = region->polygons[i].rings[r];

            for (size_t k = 0; k < ring.count; k++) {
                struct point a = ring.points[k];
                struct point c = ring.points[(k + 1) % ring.count];
                double length = point_distance(a, c);
                double t = ((p.x - a.x) * (c.x - a.x) + (p.y - a.y) * (c.y - a.y)) /
                           (length * length);
                struct point foot;

                t = fmin(1, fmax(0, t));
                foot = (struct point){a.x + t * (c.x - a.x), a.y + t * (c.y - a.y)};
                least = fmin(least, point_distance(p, foot));
            }
        }
    }
    return least;
}

/* Every plate is on its board and in the roof, boards have as many as they say, and a
 * cut piece is no sparser than its pattern. */
static void check_plates(const struct bench *b)
{
    const struct layout *layout = &b->layout;
    size_t expected = 0;
    size_t k = 0;

    for (size_t i = 0; i < layout->board_count; i++) {
        const struct board *board = &layout->boards[i];

        expected += (size_t)board->plates;
        for (int n = 0; n < board->plates; n++, k++) {
            const struct plate *plate = &layout->plates[k];

            assert_true(k < layout->plate_count);
            assert_int_equal(plate->of, i);
            assert_true(inside(&board->region, plate->at) ||
                        boundary_distance(&board->region, plate->at) < 1e-7);
            assert_true(inside(&b->roof.outline, plate->at) ||
                        boundary_distance(&b->roof.outline, plate->at) < 1e-7);
            if (board->whole)
                assert_true(boundary_distance(&board->region, plate->at) >
                            0.5 * FT - 1e-9);
        }
        assert_true(board->plates / board->area >= 8 / (32 * FT2) * (1 - 1e-8));
    }
    assert_int_equal(layout->plate_count, expected);
}

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

static void counts_of_pieces(void **state)
{
    (void)state;
    assert_int_equal(board_count(8, 32 * FT2, 32 * FT2), 8);
    assert_int_equal(board_count(8, 16.1 * FT2, 32 * FT2), 5);
    assert_int_equal(board_count(8, 8 * FT2, 32 * FT2), 4);
    assert_int_equal(board_count(8, 7.9 * FT2, 32 * FT2), 2);
    assert_int_equal(board_count(32, 7.9 * FT2, 32 * FT2), 8);
    assert_int_equal(board_count(0, 7.9 * FT2, 32 * FT2), 0);
}

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

/* Areas add up to the roof's; what is left out is told. */
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

/* Patterns are the same from both ends and keep the edge distance; 32 on a board of
 * 8 x 4 ft is 8 by 4, a foot apart and half a foot from the edges. */
static void patterns_by_rule(void **state)
{
    const struct box box = {0, 0, 8 * FT, 4 * FT};
    struct point points[40];

    (void)state;
    for (int n = 1; n <= 40; n++) {
        plates_on_rectangle(box, n, 0.5 * FT, points);
        for (int i = 0; i < n; i++) {
            bool mirrored = false;

            assert_true(points[i].x > 0.5 * FT - 1e-9 && points[i].x < 7.5 * FT + 1e-9);
            assert_true(points[i].y > 0.5 * FT - 1e-9 && points[i].y < 3.5 * FT + 1e-9);
            for (int k = 0; k < n; k++) {
                struct point turned = {8 * FT - points[k].x, 4 * FT - points[k].y};

                mirrored |= point_distance(turned, points[i]) < 1e-9;
                assert_true(k == i || point_distance(points[k], points[i]) > 0.3 * FT);
            }
            assert_true(mirrored);
        }
    }
    plates_on_rectangle(box, 32, 0.5 * FT, points);
    near(points[0].x, 0.5 * FT);
    near(points[1].x, 1.5 * FT);
    near(points[8].y, 1.5 * FT);
    /* 6: two rows of three, 32 in apart in rows of 24 in */
    plates_on_rectangle(box, 6, 0.5 * FT, points);
    near(points[1].x - points[0].x, 8.0 / 3 * FT);
    near(points[3].y - points[0].y, 2 * FT);
}

/* 120 x 50 ft, sheets of 10 ft every 9.75 ft: five whole ones and, from 48.75 ft on,
 * 1.25 ft. Side laps: 5 x 120 ft. */
static void sheets_by_hand(void **state)
{
    struct bench b;
    double area = 0;
    int screws = 0;

    (void)state;
    bench_rectangle(&b, 120 * FT, 50 * FT);
    b.roof.edge_length = 340 * FT;
    b.roof.inner_length = 30 * FT;
    lay(&b);
    assert_int_equal(b.layout.sheet_count, 6);
    for (size_t i = 0; i < 6; i++)
        area += b.layout.sheets[i].area;
    near(area, (5 * 10 + 1.25) * 120 * FT2);
    near(b.layout.side_lap, 600 * FT);
    near(b.layout.end_lap, 0); /* what rolls bring is counted with the rolls */
    near(b.layout.base_length, 340 * FT);
    near(b.layout.metal_edge, 340 * FT);
    near(b.layout.wall_edge, 30 * FT);
    for (size_t i = 0; i < b.layout.row_count; i++)
        screws += b.layout.rows[i].fasteners;
    assert_int_equal(screws, 340); /* a foot apart around 340 ft */
    near(b.layout.glued_area, 0);
    bench_release(&b);
}

/* The preliminary fasteners, placed nowhere: 14 x 5 + 4 x max(ceil(2.5), 4). */
static void insulation_under_sheets(void **state)
{
    struct bench b;
    int plates = 0;

    (void)state;
    bench_rectangle(&b, 32 * FT, 16 * FT);
    assert_int_equal(insulation_boards(&b.building, &b.roof, &b.assembly, &b.settings,
                                       b.ctx, &b.layout, NULL),
                     OUTLAY_OK);
    for (size_t i = 0; i < b.layout.board_count; i++)
        plates += b.layout.boards[i].plates;
    assert_int_equal(plates, 14 * 5 + 4 * 4);
    assert_int_equal(b.layout.plate_count, 0);
    assert_int_equal(b.layout.sheet_count, 0);
    bench_release(&b);
}

/* 2000 x 500 ft: 125 rows, 63 of 250 whole boards, 62 of 249 and two halves. */
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
        cmocka_unit_test(counts_of_pieces),
        cmocka_unit_test(zone_needs_a_square_foot),
        cmocka_unit_test(random_outlines),
        cmocka_unit_test(curved_edges),
        cmocka_unit_test(start_and_rotation),
        cmocka_unit_test(along_the_ribs),
        cmocka_unit_test(patterns_by_rule),
        cmocka_unit_test(sheets_by_hand),
        cmocka_unit_test(insulation_under_sheets),
        cmocka_unit_test(warehouse),
    };

    return cmocka_run_group_tests_name("takeoff/board", tests, NULL, NULL);
}
