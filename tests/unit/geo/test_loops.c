/* From walks along a border to shells and holes. */

#include "geometry.h"

#include "geo/loops.h"

static const struct snap_grid whole_metres = {{0, 0}, 1, 0};

static void add_walk(struct loops *loops, const int (*xy)[2], size_t count)
{
    loops_begin(loops);
    for (size_t k = 0; k < count; k++)
        assert_true(loops_add(loops, (struct node){xy[k][0], xy[k][1]}));
    assert_true(loops_end(loops));
}

#define walk(loops, xy) add_walk(loops, xy, LENGTH(xy))

static struct region region_of(struct fixture *f, const struct loops *loops)
{
    struct region out;

    assert_int_equal(loops_region(loops, f->arena, &whole_metres, &out), OUTLAY_OK);
    assert_valid(f->geos, &out);
    return out;
}

static void no_walk_no_region(void **state)
{
    struct fixture *f = *state;
    struct loops loops = {.scratch = f->arena};

    assert_int_equal(region_of(f, &loops).polygon_count, 0);
}

static void a_walk_there_and_back_holds_nothing(void **state)
{
    struct fixture *f = *state;
    const int line[][2] = {{0, 0}, {4, 2}};
    const int branched[][2] = {{0, 0}, {5, 0}, {9, 4}, {5, 0}};
    struct loops loops = {.scratch = f->arena};

    walk(&loops, line);
    walk(&loops, branched);
    assert_int_equal(region_of(f, &loops).polygon_count, 0);
}

static void walks_are_cut_where_they_meet_themselves(void **state)
{
    struct fixture *f = *state;
    /* a square with a square hole hung from its corner (0, 0), in one walk */
    const int hung[][2] = {{0, 0}, {9, 0}, {9, 9}, {0, 9},
                           {0, 0}, {2, 4}, {4, 4}, {4, 2}};
    /* three triangles at one node */
    const int leaves[][2] = {{50, 0}, {60, 0}, {60, 5},  {50, 0}, {45, 9},
                             {40, 9}, {50, 0}, {48, -9}, {52, -9}};
    struct loops loops = {.scratch = f->arena};
    struct region out;

    walk(&loops, hung);
    walk(&loops, leaves);
    out = region_of(f, &loops);
    assert_int_equal(out.polygon_count, 4);
    near(region_area(&out), 81 - 8 + 25 + 22.5 + 18, 1e-9);
    for (size_t i = 0; i < out.polygon_count; i++)
        assert_int_equal(out.polygons[i].ring_count,
                         ring_area(out.polygons[i].rings[0]) > 80 ? 2 : 1);
}

/* Long walks are searched in another way than short ones. */
static void long_walks_are_cut_too(void **state)
{
    struct fixture *f = *state;
    struct loops loops = {.scratch = f->arena};
    struct region out;

    /* 100 boxes in a chain, joined at corners: up the lower right, down the left */
    loops_begin(&loops);
    for (int k = 0; k < 100; k++) {
        assert_true(loops_add(&loops, (struct node){2 * k, 2 * k}));
        assert_true(loops_add(&loops, (struct node){2 * k + 2, 2 * k}));
    }
    for (int k = 100; k > 0; k--) {
        assert_true(loops_add(&loops, (struct node){2 * k, 2 * k}));
        assert_true(loops_add(&loops, (struct node){2 * k - 2, 2 * k}));
    }
    assert_true(loops_end(&loops));
    out = region_of(f, &loops);
    assert_int_equal(out.polygon_count, 100);
    near(region_area(&out), 400, 1e-9);
}

/* Each hole goes to the smallest shell around it, whatever the order. */
static void holes_find_their_shells(void **state)
{
    struct fixture *f = *state;
    const int hole_inner[][2] = {{14, 14}, {14, 16}, {16, 16}, {16, 14}};
    const int outer[][2] = {{0, 0}, {30, 0}, {30, 30}, {0, 30}};
    const int island[][2] = {{12, 12}, {18, 12}, {18, 18}, {12, 18}};
    const int hole_outer[][2] = {{10, 10}, {10, 20}, {20, 20}, {20, 10}};
    struct loops loops = {.scratch = f->arena};
    struct region out;

    walk(&loops, hole_inner);
    walk(&loops, outer);
    walk(&loops, island);
    walk(&loops, hole_outer);
    out = region_of(f, &loops);
    assert_int_equal(out.polygon_count, 2);
    near(region_area(&out), 900 - 100 + 36 - 4, 1e-9);
    for (size_t i = 0; i < 2; i++)
        assert_int_equal(out.polygons[i].ring_count, 2);
}

/* All corners of the hole lie on its shell. */
static void a_hole_inscribed_in_its_shell(void **state)
{
    struct fixture *f = *state;
    const int shell[][2] = {{0, 0}, {4, 0}, {8, 0}, {8, 4},
                            {8, 8}, {4, 8}, {0, 8}, {0, 4}};
    const int hole[][2] = {{4, 0}, {3, 3}, {4, 4}, {5, 3}};
    struct loops loops = {.scratch = f->arena};
    struct region out;

    walk(&loops, shell);
    walk(&loops, hole);
    out = region_of(f, &loops);
    assert_int_equal(out.polygon_count, 1);
    assert_int_equal(out.polygons[0].ring_count, 2);
}

static void the_grid_gives_the_place(void **state)
{
    struct fixture *f = *state;
    const int box[][2] = {{0, 0}, {8, 0}, {8, 4}, {0, 4}};
    const struct snap_grid turned = {{100, 50}, 2, PI / 2};
    struct loops loops = {.scratch = f->arena};
    struct region out;

    walk(&loops, box);
    assert_int_equal(loops_region(&loops, f->arena, &turned, &out), OUTLAY_OK);
    near(region_area(&out), 8, 1e-12);
    near(region_box(&out).min_x, 98, 1e-12);
    near(region_box(&out).max_y, 54, 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(no_walk_no_region),
        geometry_test(a_walk_there_and_back_holds_nothing),
        geometry_test(walks_are_cut_where_they_meet_themselves),
        geometry_test(long_walks_are_cut_too),
        geometry_test(holes_find_their_shells),
        geometry_test(a_hole_inscribed_in_its_shell),
        geometry_test(the_grid_gives_the_place),
    };

    return cmocka_run_group_tests_name("geo/loops", tests, NULL, NULL);
}
