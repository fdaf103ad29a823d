#ifndef OUTLAY_TESTS_BOARD_BENCH_H
#define OUTLAY_TESTS_BOARD_BENCH_H

/* A roof on which boards are laid, and what is asked of every layout. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <string.h>

#include "base/units.h"
#include "edges_around.h"
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

static inline void near_to(double value, double expected, int line)
{
    if (!(fabs(value - expected) <= 1e-9 * fmax(1, fabs(expected)))) {
        print_error("%.15g isn't %.15g\n", value, expected);
        _fail(__FILE__, line);
    }
}

#define near(value, expected) near_to(value, expected, __LINE__)

static inline void bench_init(struct bench *b, const struct point *points, size_t count)
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
    edges_around(b->building.arena, &b->roof, EDGE_PARAPET);
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
    b->roof.assembly = &b->assembly;
    b->settings.place_plates = true;
    b->layout.method = METHOD_INDUCTION_WELDED;
}

static inline void bench_rectangle(struct bench *b, double length, double width)
{
    const struct point points[] = {{0, 0}, {length, 0}, {length, width}, {0, width}};

    bench_init(b, points, 4);
}

static inline void add_hole(struct bench *b, const struct point *points, size_t count)
{
    memcpy(b->points[1], points, count * sizeof *points);
    b->rings[1] = (struct ring){b->points[1], count};
    ring_reverse(b->rings[1]);
    b->polygon.ring_count = 2;
    edges_around(b->building.arena, &b->roof, EDGE_PARAPET);
    b->roof.zones[0].area = region_area(&b->roof.outline);
}

static inline void lay(struct bench *b)
{
    assert_int_equal(
        board_layout(&b->building, &b->roof, &b->settings, b->ctx, &b->layout, NULL),
        OUTLAY_OK);
}

static inline void bench_release(struct bench *b)
{
    arena_free(b->building.arena);
    geo_ctx_free(b->ctx);
}

static inline size_t whole_boards(const struct layout *layout)
{
    size_t count = 0;

    for (size_t i = 0; i < layout->board_count; i++)
        count += layout->boards[i].whole;
    return count;
}

static inline double board_area(const struct layout *layout)
{
    double area = 0;

    for (size_t i = 0; i < layout->board_count; i++)
        area += layout->boards[i].area;
    return area;
}

static inline bool inside(const struct region *region, struct point p)
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

static inline double boundary_distance(const struct region *region, struct point p)
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
 * cut piece is no sparser than its pattern, but for a joint of 2 mm all around. */
static inline void check_plates(const struct bench *b)
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
        assert_true(board->plates * 4 * FT2 >
                    board->area - 0.004 * (board->cut_length + board->cut_width) - 1e-9);
    }
    assert_int_equal(layout->plate_count, expected);
}

#endif
