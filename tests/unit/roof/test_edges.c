/* Stretches of a roof's boundary, summed up. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>

#include "roof/edges.h"

static struct arena *arena;

static int arena_open(void **state)
{
    (void)state;
    arena = arena_new();
    return arena ? 0 : -1;
}

static int arena_close(void **state)
{
    (void)state;
    arena_free(arena);
    return 0;
}

/* An ell: 20 x 20 m without its upper right quarter. */
static struct roof ell(struct edge edges[6], enum edge_kind lower, enum edge_kind others)
{
    static const struct point at[] = {{0, 0},   {20, 0},  {20, 10},
                                      {10, 10}, {10, 20}, {0, 20}};
    struct roof roof = {.given = attributes_missing(), .edges = edges, .edge_count = 6};

    for (size_t k = 0; k < 6; k++)
        edges[k] = (struct edge){.from = at[k],
                                 .to = at[(k + 1) % 6],
                                 .kind = k == 0 ? lower : others,
                                 .source = EDGE_BY_COLUMN,
                                 .height = NAN,
                                 .thickness = NAN};
    return roof;
}

static void test_lengths_and_corners(void **state)
{
    struct edge edges[6];
    struct roof roof = ell(edges, EDGE_METAL, EDGE_METAL);

    (void)state;
    assert_int_equal(edges_sum(arena, &roof), OUTLAY_OK);
    assert_int_equal(roof.edge_sum_count, 1);
    assert_true(roof.edge_sums[0].length == 80);
    assert_int_equal(roof.edge_sums[0].convex, 5);
    assert_int_equal(roof.edge_sums[0].reentrant, 1);
}

/* Where a wall and edge metal meet, neither turns a corner. */
static void test_corners_belong_to_one_kind(void **state)
{
    struct edge edges[6];
    struct roof roof = ell(edges, EDGE_WALL, EDGE_METAL);

    (void)state;
    assert_int_equal(edges_sum(arena, &roof), OUTLAY_OK);
    assert_true(edges_length(&roof, EDGE_WALL) == 20);
    assert_true(edges_length(&roof, EDGE_METAL) == 60);
    assert_int_equal(roof.edge_sums[0].convex, 0);
    assert_int_equal(roof.edge_sums[1].convex, 3);
    assert_int_equal(roof.edge_sums[1].reentrant, 1);
}

/* A wall and a parapet meet in two corners: flashing goes round them, coping doesn't. */
static void test_corners_of_a_wall_and_a_parapet(void **state)
{
    struct edge edges[6];
    struct roof roof = ell(edges, EDGE_WALL, EDGE_PARAPET);

    (void)state;
    assert_int_equal(edges_sum(arena, &roof), OUTLAY_OK);
    assert_int_equal(roof.edge_sums[0].kind, EDGE_WALL);
    assert_int_equal(roof.edge_sums[0].convex, 2);
    assert_int_equal(roof.edge_sums[1].convex, 3);
    assert_int_equal(roof.edge_sums[1].reentrant, 1);
}

/* A parapet along the first 12 m of the lower side, then what is said. */
static struct edge_sum parapet_before(enum edge_kind beyond, double thickness)
{
    struct edge edges[7];
    struct roof roof = ell(edges, beyond, EDGE_METAL);

    roof.edge_count = 7;
    edges[6] = edges[5];
    for (size_t k = 5; k > 0; k--)
        edges[k] = edges[k - 1];
    edges[0].to = edges[1].from = (struct point){12, 0};
    edges[0].kind = EDGE_PARAPET;
    edges[1].thickness = thickness;
    assert_int_equal(edges_sum(arena, &roof), OUTLAY_OK);
    assert_int_equal(roof.edge_sums[0].kind, EDGE_PARAPET);
    return roof.edge_sums[0];
}

static void test_ends_of_parapets(void **state)
{
    static const struct {
        enum edge_kind beyond;
        double thickness;
        int ends, at_walls;
    } cases[] = {{EDGE_METAL, NAN, 1, 0},    {EDGE_WALL, NAN, 1, 1},
                 {EDGE_PARAPET, 0.1, 1, 1},  {EDGE_PARAPET, 0.2, 0, 0},
                 {EDGE_PARAPET, 0.21, 0, 0}, {EDGE_CONTINUOUS, NAN, 0, 0}};
    struct edge edges[6];
    struct roof roof = ell(edges, EDGE_METAL, EDGE_METAL);

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct edge_sum sum = parapet_before(cases[i].beyond, cases[i].thickness);

        assert_int_equal(sum.ends, cases[i].ends);
        assert_int_equal(sum.ends_at_walls, cases[i].at_walls);
    }
    /* where the outline turns into the roof, but not at its other end */
    edges[2].kind = EDGE_PARAPET;
    assert_int_equal(edges_sum(arena, &roof), OUTLAY_OK);
    assert_int_equal(roof.edge_sums[1].ends, 1);
    assert_int_equal(roof.edge_sums[1].ends_at_walls, 0);
}

/* Where the side goes on on another section, the end is that one's whose the parapet
 * is. */
static void test_an_end_between_sections(void **state)
{
    struct edge edges[6], others[6];
    struct roof metal = ell(edges, EDGE_METAL, EDGE_METAL);
    struct roof parapet = ell(others, EDGE_PARAPET, EDGE_PARAPET);

    (void)state;
    assert_int_equal(edges_sum(arena, &metal), OUTLAY_OK);
    assert_int_equal(edges_sum(arena, &parapet), OUTLAY_OK);
    others[0].from = (struct point){20, 0};
    others[0].to = (struct point){40, 0};
    edges_corner_add(&metal, &edges[0], &parapet, &others[0]);
    assert_int_equal(metal.edge_sums[0].ends, 0);
    assert_int_equal(parapet.edge_sums[0].ends, 1);
    edges_corner_add(&parapet, &others[0], &metal, &edges[0]);
    assert_int_equal(parapet.edge_sums[0].ends, 2);
    assert_int_equal(metal.edge_sum_count, 1);
}

/* A wall_length that no wall was found for is taken off the roof's own edge. */
static void test_walls_without_a_place(void **state)
{
    static const struct {
        double given, wall, metal;
    } cases[] = {{NAN, 20, 60}, {15, 20, 60}, {20.2, 20, 60}, {50, 50, 30}, {500, 80, 0}};

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct edge edges[6];
        struct roof roof = ell(edges, EDGE_WALL, EDGE_METAL);

        roof.given.edge = EDGE_METAL;
        roof.given.wall_length = cases[i].given;
        assert_int_equal(edges_sum(arena, &roof), OUTLAY_OK);
        assert_true(edges_length(&roof, EDGE_WALL) == cases[i].wall);
        assert_true(edges_length(&roof, EDGE_METAL) == cases[i].metal);
    }
}

static void test_own_kind(void **state)
{
    static const struct {
        enum edge_kind given;
        double parapet;
        bool option;
        enum edge_kind own;
        enum edge_source source;
    } cases[] = {{EDGE_NOT_GIVEN, NAN, false, EDGE_METAL, EDGE_ASSUMED},
                 {EDGE_NOT_GIVEN, 0, false, EDGE_METAL, EDGE_BY_COLUMN},
                 {EDGE_NOT_GIVEN, 0.5, false, EDGE_PARAPET, EDGE_BY_COLUMN},
                 {EDGE_NOT_GIVEN, 0.5, true, EDGE_PARAPET, EDGE_BY_OPTION},
                 {EDGE_METAL, 0.5, false, EDGE_METAL, EDGE_BY_COLUMN},
                 {EDGE_GUTTER, NAN, true, EDGE_GUTTER, EDGE_BY_OPTION}};

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct roof roof = {.given = attributes_missing()};
        enum edge_source source;

        roof.given.edge = cases[i].given;
        roof.given.parapet = cases[i].parapet;
        roof.edge_by_option = cases[i].option;
        assert_int_equal(edge_own_kind(&roof, &source), cases[i].own);
        assert_int_equal(source, cases[i].source);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_lengths_and_corners),
        cmocka_unit_test(test_corners_belong_to_one_kind),
        cmocka_unit_test(test_corners_of_a_wall_and_a_parapet),
        cmocka_unit_test(test_ends_of_parapets),
        cmocka_unit_test(test_an_end_between_sections),
        cmocka_unit_test(test_walls_without_a_place),
        cmocka_unit_test(test_own_kind),
    };

    return cmocka_run_group_tests_name("roof/edges", tests, arena_open, arena_close);
}
