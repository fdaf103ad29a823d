/* What holds for seam-fastened layouts of any outline: random stars and rooms with a
 * court, in both styles. */

#include "../../unit/takeoff/seam_bench.h"

#include <stdlib.h>

#include "roof/fixtures.h"
#include "takeoff/seam.h"

static const double pi = 3.14159265358979323846;

enum { ROOFS = 60, POINTS_MAX = 16, SAMPLES = 300 };

static uint64_t next_random(uint64_t *state)
{
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    return *state;
}

/* 0 to 1 */
static double chance(uint64_t *state)
{
    return (double)(next_random(state) >> 11) / 9007199254740992.0;
}

/* How a roof is made, so that it can be made again, started elsewhere or turned. */
struct plan {
    uint64_t seed;
    size_t first;  /* vertex */
    double turned; /* radians */
    enum edge_style style;
    size_t drains; /* at random places */
    bool blind;    /* the layout doesn't know of them */
};

enum { DRAINS_MAX = 4 };

struct site {
    struct seam_bench bench;
    struct point points[POINTS_MAX];
    struct point court[4];
    struct fixture drains[DRAINS_MAX];
};

static struct point turn(struct point p, double angle)
{
    return (struct point){p.x * cos(angle) - p.y * sin(angle),
                          p.x * sin(angle) + p.y * cos(angle)};
}

static int label_zone(const int winding[ARRANGE_LAYERS], const void *user)
{
    (void)user;
    return winding[0] <= 0 ? -1 : winding[1] > 0 ? 1 : 0;
}

/* A perimeter strip 4 m deep, where half rows are needed, and the field. */
static void zones_make(struct seam_bench *b)
{
    struct layer_rings rings = {NULL, 0, 0};
    struct region zones[2];
    struct overlay overlay = {.rings = &rings, .label = label_zone, .label_count = 2};

    assert_true(layer_rings_add_region(b->building.arena, &rings, &b->roof.outline, 0));
    for (size_t k = 0; k < b->polygon.ring_count; k++) {
        struct ring inset;

        assert_int_equal(ring_inset(b->building.arena, b->rings[k], 4, &inset),
                         OUTLAY_OK);
        assert_true(layer_rings_add(b->building.arena, &rings, inset, 1));
    }
    overlay.grid = grid_for(&rings, 0);
    assert_int_equal(arrange(b->ctx, b->building.arena, &overlay, zones, NULL),
                     OUTLAY_OK);
    seam_zone(b, ZONE_PERIMETER, zones[0], 4.5, 6);
    if (zones[1].polygon_count > 0)
        seam_zone(b, ZONE_FIELD, zones[1], 9.5, 12);
}

static struct point point_in(const struct seam_bench *b, uint64_t *random)
{
    struct box box = region_box(&b->roof.outline);
    struct point p;

    do {
        p.x = box.min_x + chance(random) * (box.max_x - box.min_x);
        p.y = box.min_y + chance(random) * (box.max_y - box.min_y);
    } while (!region_holds(&b->roof.outline, p));
    return p;
}

static void drains_make(struct site *s, const struct plan *plan)
{
    uint64_t random = plan->seed + 99;

    for (size_t k = 0; k < plan->drains; k++)
        s->drains[k] = (struct fixture){.kind = k % 2 ? FIXTURE_PIPE : FIXTURE_DRAIN,
                                        .id = "x",
                                        .at = point_in(&s->bench, &random),
                                        .width = k % 2 ? 0.1 : (double)NAN,
                                        .length = NAN};
    s->bench.roof.fixtures = s->drains;
    s->bench.roof.fixture_count = plan->blind ? 0 : plan->drains;
}

static void site_make(struct site *s, const struct plan *plan)
{
    uint64_t random = plan->seed * 0x9e3779b97f4a7c15u + 1;
    size_t count = 5 + next_random(&random) % (POINTS_MAX - 5);
    bool court = next_random(&random) % 2 == 0;
    double size = 8 + 30 * chance(&random);
    struct ring hole = {s->court, 4};

    for (size_t k = 0; k < count; k++) {
        double angle = 2 * pi * ((double)k + 0.6 * chance(&random)) / (double)count;
        double r = size * (0.6 + 0.6 * chance(&random));

        s->points[(k + count - plan->first % count) % count] =
            turn((struct point){r * cos(angle), r * sin(angle)}, plan->turned);
    }
    for (int k = 0; k < 4; k++) /* clockwise */
        s->court[k] = turn((struct point){size * 0.15 * (k == 0 || k == 3 ? -1 : 1),
                                          size * 0.15 * (k < 2 ? 1 : -1)},
                           plan->turned);
    seam_bench_init(&s->bench, (struct ring){s->points, count}, court ? &hole : NULL);
    s->bench.roof.level.short_side = size;
    s->bench.roof.half_sheets = 1 + (int)(next_random(&random) % 2);
    s->bench.roof.given.deck_bearing = fmod(3600 - plan->turned * 180 / pi, 360);
    s->bench.settings.style = plan->style;
    zones_make(&s->bench);
    drains_make(s, plan);
    seam_bench_run(&s->bench);
}

static int sheets_over(const struct seam_bench *b, struct point p)
{
    int count = 0;

    for (size_t k = 0; k < b->layout.sheet_count; k++)
        count += b->layout.sheets[k].kind != SHEET_COVER_STRIP &&
                 region_holds(&b->layout.sheets[k].region, p);
    return count;
}

static void check_cover(const struct seam_bench *b, uint64_t seed)
{
    uint64_t random = seed + 7;

    for (int k = 0; k < SAMPLES; k++) {
        struct point p = point_in(b, &random);

        if (sheets_over(b, p) == 0)
            fail_msg("roof %d: no sheet at %.3f, %.3f", (int)seed, p.x, p.y);
    }
}

/* Both sides of a seam lie under two sheets as far as half the lap goes. */
static void check_laps(const struct seam_bench *b, uint64_t seed)
{
    for (size_t k = 0; k < b->layout.row_count; k++) {
        const struct row_piece *row = &b->layout.rows[k];
        double length = point_distance(row->from, row->to);
        struct point n = {(row->from.y - row->to.y) / length,
                          (row->to.x - row->from.x) / length};

        if (row->base || row->intermediate)
            continue;
        for (int side = -1; side <= 1; side += 2) {
            double off = side * (b->assembly.lap / 2 - 0.001);
            struct point p = point_between(row->from, row->to, 0.5);

            p.x += off * n.x;
            p.y += off * n.y;
            if (region_holds(&b->roof.outline, p) && sheets_over(b, p) < 2)
                fail_msg("roof %d: no lap at %.3f, %.3f", (int)seed, p.x, p.y);
        }
    }
}

static void check_rows(const struct seam_bench *b, uint64_t seed)
{
    size_t sum = 0;

    for (size_t k = 0; k < b->layout.row_count; k++) {
        const struct row_piece *row = &b->layout.rows[k];

        sum += (size_t)row->fasteners;
        assert_true(point_distance(row->from, row->to) > 1e-7);
        if (row->base)
            continue;
        assert_true(isnan(row->load)); /* uplift isn't known */
        for (int end = 1; end <= 9; end += 4)
            if (!region_holds(&b->roof.outline,
                              point_between(row->from, row->to, end / 10.0)))
                fail_msg("roof %d: row %zu leaves the roof", (int)seed, row->row);
    }
    assert_int_equal(sum, b->layout.plate_count);
}

/* Every sheet can be cut from its roll. */
static void check_sheets(const struct seam_bench *b, uint64_t seed)
{
    for (size_t k = 0; k < b->layout.sheet_count; k++)
        if (b->layout.sheets[k].kind != SHEET_COVER_STRIP &&
            !sheet_fits(&b->layout, &b->layout.sheets[k]))
            fail_msg("roof %d: sheet %zu is larger than given", (int)seed, k);
}

/* Distance to a row beside the point, infinite past its ends. */
static double distance_to_row(const struct row_piece *row, struct point p)
{
    struct point d = {row->to.x - row->from.x, row->to.y - row->from.y};
    struct point to = {p.x - row->from.x, p.y - row->from.y};
    double t = dot(to, d) / dot(d, d);

    return t < 0 || t > 1 ? INFINITY
                          : point_distance(p, point_between(row->from, row->to, t));
}

/* Rows that run along each other, within 20 degrees, keep their distance. */
static void check_apart(const struct seam_bench *b, uint64_t seed)
{
    for (size_t i = 0; i < b->layout.row_count; i++)
        for (size_t k = 0; k < b->layout.row_count; k++) {
            const struct row_piece *row = &b->layout.rows[i];
            const struct row_piece *other = &b->layout.rows[k];
            struct point d = {row->to.x - row->from.x, row->to.y - row->from.y};
            struct point e = {other->to.x - other->from.x, other->to.y - other->from.y};
            struct point middle = point_between(row->from, row->to, 0.5);

            if (row->base || row->row == other->row ||
                fabs(dot(d, e)) < 0.94 * sqrt(dot(d, d) * dot(e, e)))
                continue;
            if (distance_to_row(other, middle) < ROW_APART - 1e-6)
                fail_msg("roof %d: rows %zu and %zu are too near", (int)seed, row->row,
                         other->row);
        }
}

static void every_roof(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= ROOFS; seed++)
        for (int style = EDGES_FRAMES; style <= EDGES_LINES; style++) {
            struct plan plan = {.seed = seed, .style = (enum edge_style)style};
            struct site s;

            site_make(&s, &plan);
            check_cover(&s.bench, seed);
            check_laps(&s.bench, seed);
            check_rows(&s.bench, seed);
            check_sheets(&s.bench, seed);
            check_apart(&s.bench, seed);
            seam_bench_release(&s.bench);
        }
}

/* Around a drain that isn't said to be crowded lies one sheet alone, and no screw. */
static void check_clear(const struct seam_bench *b, const struct fixture *drain,
                        uint64_t seed)
{
    double radius = fixture_radius(drain) + FIXTURE_CLEAR;

    for (int k = 0; k < 400; k++) {
        double r = radius * (k % 20 + 1) / 20.1, angle = pi * (k / 20) / 10;
        struct point p = {drain->at.x + r * cos(angle), drain->at.y + r * sin(angle)};

        if (region_holds(&b->roof.outline, p) && sheets_over(b, p) != 1)
            fail_msg("roof %d: a seam near the drain at %.3f, %.3f", (int)seed,
                     drain->at.x, drain->at.y);
    }
    for (size_t k = 0; k < b->layout.plate_count; k++)
        if (point_distance(b->layout.plates[k].at, drain->at) < radius - 1e-9)
            fail_msg("roof %d: a screw near the drain at %.3f, %.3f", (int)seed,
                     drain->at.x, drain->at.y);
}

/* Checks a roof with drains. @return how many are said to be crowded */
static size_t crowded_of(const struct plan *plan)
{
    struct site s;
    size_t count = 0;

    site_make(&s, plan);
    s.bench.roof.fixture_count = plan->drains;
    assert_int_equal(layout_crowding_note(s.bench.building.arena, &s.bench.roof,
                                          &s.bench.roof.outline, &s.bench.layout, true,
                                          NULL),
                     OUTLAY_OK);
    for (size_t k = 0; k < plan->drains; k++) {
        count += s.drains[k].crowded;
        if (!s.drains[k].crowded)
            check_clear(&s.bench, &s.drains[k], plan->seed);
    }
    assert_int_equal(s.bench.roof.problems != NULL, count > 0);
    check_cover(&s.bench, plan->seed);
    check_laps(&s.bench, plan->seed);
    check_sheets(&s.bench, plan->seed);
    seam_bench_release(&s.bench);
    return count;
}

/* Seams keep 1 ft from drains and pipes, or it is said which; along edges rows and half
 * sheets can't move. */
static void drains_keep_clear(void **state)
{
    size_t crowded = 0, blind = 0, all = 0;

    (void)state;
    for (uint64_t seed = 1; seed <= ROOFS; seed++)
        for (int style = EDGES_FRAMES; style <= EDGES_LINES; style++) {
            struct plan plan = {.seed = seed,
                                .style = (enum edge_style)style,
                                .drains = 1 + seed % DRAINS_MAX};

            all += plan.drains;
            crowded += crowded_of(&plan);
            plan.blind = true;
            blind += crowded_of(&plan);
        }
    print_message("of %zu drains %zu are crowded, %zu where nothing moves\n", all,
                  crowded, blind);
    assert_true(3 * crowded < 2 * blind);
}

static void same(const struct plan *a, const struct plan *b, int reach)
{
    struct site s;
    struct site t;
    double area;

    site_make(&s, a);
    site_make(&t, b);
    area = sheet_area(&s.bench);
    if (abs(screws(&s.bench, false, -1) - screws(&t.bench, false, -1)) > reach ||
        fabs(area - sheet_area(&t.bench)) > 1e-6 * area ||
        fabs(s.bench.layout.side_lap - t.bench.layout.side_lap) > 1e-4)
        fail_msg("roof %d, style %d: %d and %d screws, %.6f and %.6f m2", (int)a->seed,
                 (int)a->style, screws(&s.bench, false, -1), screws(&t.bench, false, -1),
                 area, sheet_area(&t.bench));
    seam_bench_release(&s.bench);
    seam_bench_release(&t.bench);
}

/* Where a ring starts changes nothing. */
static void start_vertex(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= ROOFS; seed++)
        for (int style = EDGES_FRAMES; style <= EDGES_LINES; style++) {
            struct plan a = {.seed = seed, .style = (enum edge_style)style};
            struct plan b = {
                .seed = seed, .first = 1 + seed % 4, .style = (enum edge_style)style};

            same(&a, &b, 0);
        }
}

/* Nor does the way that the roof lies; a screw may fall on the other side of rounding. */
static void rotation(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= ROOFS; seed++)
        for (int style = EDGES_FRAMES; style <= EDGES_LINES; style++) {
            struct plan a = {.seed = seed, .style = (enum edge_style)style};
            struct plan b = {.seed = seed,
                             .turned = 0.1 * (double)seed,
                             .style = (enum edge_style)style};

            same(&a, &b, 1);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_roof),
        cmocka_unit_test(drains_keep_clear),
        cmocka_unit_test(start_vertex),
        cmocka_unit_test(rotation),
    };

    return cmocka_run_group_tests_name("takeoff/seam properties", tests, NULL, NULL);
}
