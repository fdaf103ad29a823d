/* What is at the edges of roofs: by the heights of sections, else by what they give. */

#include "site.h"

#include "roof/edges.h"

static void zone(struct site *site)
{
    struct zoning_settings settings = settings_of("asce7-22");

    site_zone(site, &settings);
}

static struct roof *box(struct site *site, double x, double width, double above_grade)
{
    return site_ring(site, box_ring(site->f->arena, x, 0, width, 50), above_grade);
}

static const struct problem *problem_of(const struct roof *roof, enum problem_code code)
{
    const struct problem *problem = roof->problems;

    while (problem && problem->code != code)
        problem = problem->next;
    return problem;
}

/* The lower of two sections has a wall as high as the other is higher; nothing is at the
 * wall's foot. The higher one has its own edge all around. */
static void sections_of_two_heights(void **state)
{
    struct site site = site_empty(*state);
    const struct roof *low = box(&site, 0, 30, 6);
    const struct roof *high = box(&site, 30.2, 40, 11);

    zone(&site);
    near(edges_length(low, EDGE_WALL), 50, 1e-6);
    near(edges_length(low, EDGE_METAL), 110, 1e-6);
    near(edges_length(high, EDGE_METAL), 180, 1e-6);
    assert_int_equal(high->edge_sum_count, 1);
    for (size_t k = 0; k < low->edge_count; k++) {
        const struct edge *edge = &low->edges[k];

        assert_int_equal(edge->kind == EDGE_WALL, edge->from.x == 30 && edge->to.x == 30);
        if (edge->kind == EDGE_WALL) {
            near(edge->height, 5, 1e-9);
            assert_int_equal(edge->source, EDGE_BY_HEIGHTS);
        }
    }
}

/* A side is cut where the section beside it begins and ends. */
static void a_section_beside_a_part(void **state)
{
    struct fixture *f = *state;
    struct site site = site_empty(f);
    const struct roof *low = box(&site, 0, 30, 6);

    site_ring(&site, box_ring(f->arena, 30, 10, 20, 15), 9);
    zone(&site);
    near(edges_length(low, EDGE_WALL), 15, 1e-6);
    assert_int_equal(low->edge_count, 6);
    near(low->edges[1].to.y, 10, 1e-9);
    near(low->edges[2].to.y, 25, 1e-9);
}

/* Within 0.3 m a roof goes on, assumed; within 0.9 m with a change of slope; beyond there
 * is a wall, even where a third section makes them one level. */
static void by_rise(void **state)
{
    static const struct {
        double rise;
        enum edge_kind kind;
        enum edge_source source;
        bool slope_change;
    } cases[] = {{0, EDGE_CONTINUOUS, EDGE_ASSUMED, false},
                 {0.3, EDGE_CONTINUOUS, EDGE_ASSUMED, false},
                 {0.31, EDGE_CONTINUOUS, EDGE_BY_HEIGHTS, true},
                 {0.9, EDGE_CONTINUOUS, EDGE_BY_HEIGHTS, true},
                 {0.95, EDGE_WALL, EDGE_BY_HEIGHTS, false},
                 {-0.95, EDGE_METAL, EDGE_ASSUMED, false},
                 {NAN, EDGE_METAL, EDGE_ASSUMED, false}};

    for (size_t i = 0; i < LENGTH(cases); i++) {
        struct site site = site_empty(*state);
        const struct roof *roof = box(&site, 0, 30, 6);
        const struct edge *edge = NULL;

        box(&site, 30, 40, 6 + cases[i].rise);
        zone(&site);
        for (size_t k = 0; k < roof->edge_count; k++)
            if (roof->edges[k].from.x == 30 && roof->edges[k].to.x == 30)
                edge = &roof->edges[k];
        assert_non_null(edge);
        assert_int_equal(edge->kind, cases[i].kind);
        assert_int_equal(edge->source, cases[i].source);
        assert_int_equal(edge->slope_change, cases[i].slope_change);
        assert_int_equal(problem_of(roof, PROBLEM_SLOPE_CHANGE) != NULL,
                         cases[i].slope_change);
    }
}

/* Sections must adjoin over 1 m, and no more than 0.3 m apart. */
static void sections_apart(void **state)
{
    struct fixture *f = *state;
    struct site site = site_empty(f);
    const struct roof *low = box(&site, 0, 30, 6);

    box(&site, 30.31, 40, 11);
    site_ring(&site, box_ring(f->arena, -20, 49.1, 20, 20), 11);
    zone(&site);
    near(edges_length(low, EDGE_WALL), 0, 0);
    near(edges_length(low, EDGE_METAL), 160, 1e-6);
}

static void holes_by_their_kind(void **state)
{
    static const struct {
        enum hole_kind given;
        double size;
        enum edge_kind kind;
        enum edge_source source;
    } cases[] = {{HOLES_COURT, 2, EDGE_PARAPET, EDGE_BY_COLUMN},
                 {HOLES_PENTHOUSE, 10, EDGE_WALL, EDGE_BY_COLUMN},
                 {HOLES_NOT_GIVEN, 2, EDGE_CURB, EDGE_ASSUMED},
                 {HOLES_NOT_GIVEN, 10, EDGE_PARAPET, EDGE_BY_COLUMN}};
    struct fixture *f = *state;

    for (size_t i = 0; i < LENGTH(cases); i++) {
        struct site site = site_empty(f);
        double size = cases[i].size;
        struct ring rings[] = {box_ring(f->arena, 0, 0, 60, 50),
                               box_ring(f->arena, 20, 20, size, size)};
        struct roof *roof = NULL;

        ring_reverse(rings[1]);
        roof = site_add(&site, region_made(f->arena, rings, 2), 6);
        roof->given.parapet = 0.6;
        roof->given.parapet_thickness = 0.25;
        roof->given.holes = cases[i].given;
        zone(&site);
        assert_int_equal(roof->edge_count, 8);
        for (size_t k = 0; k < 8; k++) {
            const struct edge *edge = &roof->edges[k];

            assert_int_equal(edge->ring, k / 4);
            assert_int_equal(edge->kind, k < 4 ? EDGE_PARAPET : cases[i].kind);
            assert_int_equal(edge->source, k < 4 ? EDGE_BY_COLUMN : cases[i].source);
            assert_true(edge->kind != EDGE_PARAPET ||
                        (edge->height == 0.6 && edge->thickness == 0.25));
        }
    }
}

/* A penthouse traced as a roof of its own, in a hole: a wall as high as it is. */
static void a_section_in_a_hole(void **state)
{
    struct fixture *f = *state;
    struct site site = site_empty(f);
    struct ring rings[] = {box_ring(f->arena, 0, 0, 60, 50),
                           box_ring(f->arena, 20, 20, 10, 8)};
    const struct roof *roof = NULL;

    ring_reverse(rings[1]);
    roof = site_add(&site, region_made(f->arena, rings, 2), 6);
    site_ring(&site, box_ring(f->arena, 20, 20, 10, 8), 9.5);
    zone(&site);
    near(edges_length(roof, EDGE_WALL), 36, 1e-6);
    near(roof->edge_sums[1].height, 3.5, 1e-9);
    assert_int_equal(roof->edge_sums[1].source, EDGE_BY_HEIGHTS);
    assert_int_equal(roof->edge_sums[1].reentrant, 4);
}

static void what_is_assumed(void **state)
{
    struct site site = site_empty(*state);
    struct roof *roofs[] = {box(&site, 0, 30, 6), box(&site, 100, 30, 6),
                            box(&site, 200, 30, 6)};

    roofs[1]->given.edge = EDGE_METAL;
    roofs[2]->given.edge = EDGE_PARAPET;
    zone(&site);
    assert_true(roof_assumes(roofs[0], ASSUME_EDGE));
    assert_false(roof_assumes(roofs[1], ASSUME_EDGE));
    assert_false(roof_assumes(roofs[0], ASSUME_PARAPET_THICKNESS));
    assert_true(roof_assumes(roofs[2], ASSUME_PARAPET_THICKNESS));
}

/* ---- Lines of a layer ---- */

/* Zones with these lines. */
static void zone_by(struct site *site, struct edge_line *lines, size_t count)
{
    site->building.lines = lines;
    site->building.line_count = count;
    zone(site);
}

static double length_by_layer(const struct roof *roof, enum edge_kind kind)
{
    double sum = 0;

    for (size_t i = 0; i < roof->edge_sum_count; i++)
        if (roof->edge_sums[i].source == EDGE_BY_LAYER && roof->edge_sums[i].kind == kind)
            sum += roof->edge_sums[i].length;
    return sum;
}

/* An edge is cut where the line ends, whichever way it runs; 0.9 m beside it counts,
 * 1.1 m doesn't, and the line's end near the corner reaches it. */
static void a_line_along_a_part(void **state)
{
    static const struct {
        double apart, from, to, length;
    } cases[] = {{0.9, 5, 25, 20},   {-0.9, 25, 5, 20},    {1.1, 5, 25, 0},
                 {0.5, 5, 29.5, 25}, {0.5, 5, 28.9, 23.9}, {0, 0, 40, 30},
                 {0, -9, 0.9, 0},    {0, -9, 1.1, 1.1},    {0, 9, 9.5, 0.5}};

    for (size_t i = 0; i < LENGTH(cases); i++) {
        struct site site = site_empty(*state);
        const struct roof *roof = box(&site, 0, 30, 6);
        struct edge_line line = {.from = {cases[i].from, cases[i].apart},
                                 .to = {cases[i].to, cases[i].apart},
                                 .kind = EDGE_PARAPET,
                                 .height = 1,
                                 .thickness = NAN};

        zone_by(&site, &line, 1);
        near(length_by_layer(roof, EDGE_PARAPET), cases[i].length, 1e-6);
        near(edges_length(roof, EDGE_METAL), 160 - cases[i].length, 1e-6);
        assert_int_equal(line.used != NULL, cases[i].length > 0);
    }
}

/* Within 15 degrees of the edge; then as far as it is within 1 m. */
static void a_line_at_an_angle(void **state)
{
    for (int degrees = 0; degrees < 30; degrees += 2) {
        struct site site = site_empty(*state);
        const struct roof *roof = box(&site, 0, 30, 6);
        double slope = tan(degrees * 3.14159265358979323846 / 180);
        struct edge_line line = {.from = {10, -slope},
                                 .to = {12, slope},
                                 .kind = EDGE_WALL,
                                 .height = NAN,
                                 .thickness = NAN};

        zone_by(&site, &line, 1);
        near(length_by_layer(roof, EDGE_WALL), degrees < 15 ? 2 : 0, 1e-6);
    }
}

/* A joint beats a level that goes on, for both; the nearer line beats another. */
static void a_joint_between_sections(void **state)
{
    struct site site = site_empty(*state);
    const struct roof *roofs[] = {box(&site, 0, 30, 6), box(&site, 30.2, 40, 6)};
    struct edge_line lines[] = {{.from = {30.1, 0},
                                 .to = {30.1, 50},
                                 .kind = EDGE_JOINT,
                                 .height = NAN,
                                 .thickness = NAN},
                                {.from = {30.9, 0},
                                 .to = {30.9, 50},
                                 .kind = EDGE_WALL,
                                 .height = NAN,
                                 .thickness = NAN}};

    zone_by(&site, lines, 2);
    for (size_t i = 0; i < 2; i++) {
        near(length_by_layer(roofs[i], EDGE_JOINT), 50, 1e-6);
        near(edges_length(roofs[i], EDGE_CONTINUOUS), 0, 0);
        assert_null(problem_of(roofs[i], PROBLEM_JOINT_ALONE));
    }
    assert_true(lines[0].used && !lines[1].used);
}

static void a_joint_with_nothing_beside_it(void **state)
{
    struct site site = site_empty(*state);
    const struct roof *roof = box(&site, 0, 30, 6);
    struct edge_line line = {.from = {30, 0},
                             .to = {30, 50},
                             .kind = EDGE_JOINT,
                             .height = NAN,
                             .thickness = NAN};

    zone_by(&site, &line, 1);
    near(edges_length(roof, EDGE_JOINT), 50, 1e-6);
    assert_non_null(problem_of(roof, PROBLEM_JOINT_ALONE));
}

/* Along a step a wall is the lower section's, and edge metal the higher one's. */
static void a_line_along_a_step(void **state)
{
    const enum edge_kind kinds[] = {EDGE_WALL, EDGE_METAL};

    for (size_t i = 0; i < 2; i++) {
        struct site site = site_empty(*state);
        const struct roof *low = box(&site, 0, 30, 6);
        const struct roof *high = box(&site, 30, 40, 12);
        struct edge_line line = {.from = {30, 0},
                                 .to = {30, 50},
                                 .kind = kinds[i],
                                 .height = NAN,
                                 .thickness = NAN};

        zone_by(&site, &line, 1);
        near(edges_length(low, EDGE_WALL), 50, 1e-6);
        near(edges_length(high, EDGE_WALL), 0, 0);
        near(length_by_layer(i == 0 ? low : high, kinds[i]), 50, 1e-6);
        assert_true(line.used);
    }
}

/* Both may be drawn there, whichever is nearer. */
static void two_lines_along_a_step(void **state)
{
    for (int i = 0; i < 2; i++) {
        struct site site = site_empty(*state);
        const struct roof *low = box(&site, 0, 30, 6);
        const struct roof *high = box(&site, 30, 40, 12);
        double x = 30 + (i == 0 ? 0.1 : -0.1);
        struct edge_line lines[] = {{.from = {30, 0},
                                     .to = {30, 50},
                                     .kind = EDGE_WALL,
                                     .height = 2,
                                     .thickness = NAN},
                                    {.from = {x, 0},
                                     .to = {x, 50},
                                     .kind = EDGE_PARAPET,
                                     .height = 1,
                                     .thickness = 0.3}};

        zone_by(&site, lines, 2);
        near(edges_length(low, EDGE_WALL), 50, 1e-6);
        near(edges_length(low, EDGE_PARAPET), 0, 0);
        near(edges_length(high, EDGE_PARAPET), 50, 1e-6);
        assert_true(lines[0].used && lines[1].used);
    }
}

/* What a line leaves open of a parapet the roof says; a jog goes with the line. */
static void a_line_past_a_jog(void **state)
{
    struct fixture *f = *state;
    struct site site = site_empty(f);
    struct point points[] = {{0, 0}, {15, 0}, {15, 0.2}, {30, 0.2}, {30, 50}, {0, 50}};
    struct roof *roof = site_ring(&site, (struct ring){points, 6}, 6);
    struct edge_line line = {.from = {0, 0.1},
                             .to = {30, 0.1},
                             .kind = EDGE_PARAPET,
                             .height = NAN,
                             .thickness = 0.3};

    roof->given.parapet = 0.7;
    roof->given.edge = EDGE_METAL;
    zone_by(&site, &line, 1);
    near(length_by_layer(roof, EDGE_PARAPET), 30.2, 1e-6);
    assert_true(roof->edge_sums[0].height == 0.7 && roof->edge_sums[0].thickness == 0.3);
}

/* A parapet has to be all around, and as high, for its relief. */
static void a_line_lowers_the_parapet(void **state)
{
    static const struct {
        enum edge_kind kind;
        double height, left;
    } cases[] = {{EDGE_PARAPET, 1.2, 1},
                 {EDGE_PARAPET, 0.4, 0.4},
                 {EDGE_METAL, NAN, 0},
                 {EDGE_WALL, NAN, 1}};

    for (size_t i = 0; i < LENGTH(cases); i++) {
        struct site site = site_empty(*state);
        struct roof *roof = box(&site, 0, 30, 6);
        struct edge_line line = {.from = {3, 0},
                                 .to = {9, 0},
                                 .kind = cases[i].kind,
                                 .height = cases[i].height,
                                 .thickness = NAN};

        roof->given.parapet = 1;
        roof->given.edge = EDGE_PARAPET;
        zone_by(&site, &line, 1);
        near(roof->level.parapet, cases[i].left, 1e-9);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(sections_of_two_heights),
        geometry_test(a_section_beside_a_part),
        geometry_test(by_rise),
        geometry_test(sections_apart),
        geometry_test(holes_by_their_kind),
        geometry_test(a_section_in_a_hole),
        geometry_test(what_is_assumed),
        geometry_test(a_line_along_a_part),
        geometry_test(a_line_at_an_angle),
        geometry_test(a_joint_between_sections),
        geometry_test(a_joint_with_nothing_beside_it),
        geometry_test(a_line_along_a_step),
        geometry_test(two_lines_along_a_step),
        geometry_test(a_line_past_a_jog),
        geometry_test(a_line_lowers_the_parapet),
    };

    return cmocka_run_group_tests_name("zoning/edges", tests, NULL, NULL);
}
