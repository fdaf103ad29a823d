/* The overlay: partitions that are exact, valid and the same whatever the order. */

#include "geometry.h"

#include <stdlib.h>

static void add(struct fixture *f, struct layer_rings *rings, struct ring ring, int layer)
{
    assert_true(layer_rings_add(f->arena, rings, ring, layer));
}

static struct region positive(struct fixture *f, const struct layer_rings *rings)
{
    struct region out = {NULL, 0};

    arranged(f, rings, label_positive, NULL, 1, &out);
    assert_valid(f->geos, &out);
    return out;
}

static size_t hole_count(const struct region *region)
{
    size_t sum = 0;

    for (size_t i = 0; i < region->polygon_count; i++)
        sum += region->polygons[i].ring_count - 1;
    return sum;
}

/* ---- Shapes that touch ------------------------------------- */

static void rings_without_area_give_nothing(void **state)
{
    struct fixture *f = *state;
    struct layer_rings none = {NULL, 0, 0};
    struct layer_rings flat = {NULL, 0, 0};
    const double there_and_back[][2] = {{0, 0}, {5, 1}, {10, 2}, {5, 1}};
    struct region out = positive(f, &none);

    assert_int_equal(out.polygon_count, 0);
    add(f, &flat, ring_made(f->arena, there_and_back), 0);
    out = positive(f, &flat);
    assert_int_equal(out.polygon_count, 0);
}

static void clockwise_alone_is_not_positive(void **state)
{
    struct fixture *f = *state;
    struct layer_rings rings = {NULL, 0, 0};
    struct region out;

    add(f, &rings, ring_turned_round(f->arena, box_ring(f->arena, 0, 0, 3, 4)), 0);
    out = positive(f, &rings);
    assert_int_equal(out.polygon_count, 0);
}

static void figure_eight_comes_apart_at_its_point(void **state)
{
    struct fixture *f = *state;
    /* both lobes counter-clockwise, touching at (0, 0) */
    const double xy[][2] = {{0, 0}, {4, -2}, {4, 2}, {0, 0}, {-4, 2}, {-4, -2}};
    struct layer_rings rings = {NULL, 0, 0};
    struct region out;

    add(f, &rings, ring_made(f->arena, xy), 0);
    out = positive(f, &rings);
    near(region_area(&out), 16, 1e-6);
    assert_int_equal(out.polygon_count, 2);
    assert_int_equal(hole_count(&out), 0);
}

static void holes_that_touch_their_shell_stay_holes(void **state)
{
    struct fixture *f = *state;
    /* a diamond with a corner on the edge, and one with two corners on two edges */
    const double once[][2] = {{5, 0}, {4, 1}, {5, 2}, {6, 1}};
    const double twice[][2] = {{0, 5}, {5, 10}, {6, 5}};
    struct layer_rings one = {NULL, 0, 0};
    struct layer_rings two = {NULL, 0, 0};
    struct region out;

    add(f, &one, box_ring(f->arena, 0, 0, 10, 10), 0);
    add(f, &one, ring_made(f->arena, once), 0);
    out = positive(f, &one);
    near(region_area(&out), 98, 1e-6);
    assert_int_equal(out.polygon_count, 1);
    assert_int_equal(hole_count(&out), 1);
    add(f, &two, box_ring(f->arena, 0, 0, 10, 10), 0);
    add(f, &two, ring_made(f->arena, twice), 0);
    out = positive(f, &two);
    near(region_area(&out), 100 - 15, 1e-6);
    assert_int_equal(out.polygon_count, 2);
    assert_int_equal(hole_count(&out), 0);
}

static void holes_that_touch_each_other(void **state)
{
    struct fixture *f = *state;
    const double ways[][2] = {{0, 0}, {1, 0}, {1, 1}, {0, 1}};
    struct layer_rings rings = {NULL, 0, 0};
    struct region out;

    /* four courts in a ring of corners enclose an island of their own */
    add(f, &rings, box_ring(f->arena, 0, 0, 30, 30), 0);
    for (size_t k = 0; k < 4; k++) {
        double x = 5 + 10 * ways[k][0];
        double y = 5 + 10 * ways[k][1];
        const double diamond[][2] = {
            {x, y + 5}, {x + 5, y + 10}, {x + 10, y + 5}, {x + 5, y}};

        add(f, &rings, ring_made(f->arena, diamond), 0);
    }
    out = positive(f, &rings);
    near(region_area(&out), 900 - 4 * 50, 1e-5);
    assert_int_equal(out.polygon_count, 2);
}

static void islands_nest(void **state)
{
    struct fixture *f = *state;
    struct layer_rings rings = {NULL, 0, 0};
    struct region out;
    double area = 0;

    for (int k = 0; k < 10; k++) {
        struct ring box = box_ring(f->arena, k, k, 40 - 2 * k, 40 - 2 * k);

        if (k % 2)
            ring_reverse(box);
        add(f, &rings, box, 0);
        area += ring_area(box);
    }
    out = positive(f, &rings);
    near(region_area(&out), area, 1e-5);
    assert_int_equal(out.polygon_count, 5);
    assert_int_equal(hole_count(&out), 5);
    for (size_t i = 0; i < out.polygon_count; i++)
        assert_int_equal(out.polygons[i].ring_count, 2);
}

/* Boxes that meet along edges become one; those that meet at corners don't. */
static void shared_edges_join_and_shared_corners_do_not(void **state)
{
    struct fixture *f = *state;
    struct layer_rings rings = {NULL, 0, 0};
    struct region out;

    add(f, &rings, box_ring(f->arena, 0, 0, 10, 10), 0);
    add(f, &rings, box_ring(f->arena, 10, 2, 10, 5), 0);
    add(f, &rings, box_ring(f->arena, 20, 7, 3, 3), 0);
    out = positive(f, &rings);
    near(region_area(&out), 159, 1e-6);
    assert_int_equal(out.polygon_count, 2);
}

/* Court walls of four sections around a yard: the yard is a hole, not covered. */
static void sections_around_a_yard_leave_a_hole(void **state)
{
    struct fixture *f = *state;
    struct layer_rings rings = {NULL, 0, 0};
    struct region out;

    add(f, &rings, box_ring(f->arena, 0, 0, 30, 10), 0);
    add(f, &rings, box_ring(f->arena, 20, 10, 10, 20), 0);
    add(f, &rings, box_ring(f->arena, 0, 20, 20, 10), 0);
    add(f, &rings, box_ring(f->arena, 0, 10, 10, 10), 0);
    out = positive(f, &rings);
    near(region_area(&out), 800, 1e-6);
    assert_int_equal(out.polygon_count, 1);
    assert_int_equal(hole_count(&out), 1);
}

static void coincident_edges_of_layers_cancel_nothing(void **state)
{
    struct fixture *f = *state;
    struct layer_rings rings = {NULL, 0, 0};
    struct region out;

    /* the same ring five times, once backwards: wound four times */
    for (int k = 0; k < 5; k++)
        add(f, &rings, ring_regular(f->arena, 9, 7, 0.1), 0);
    add(f, &rings, ring_turned_round(f->arena, ring_regular(f->arena, 9, 7, 0.1)), 0);
    out = positive(f, &rings);
    near_share(region_area(&out), ring_area(ring_regular(f->arena, 9, 7, 0.1)), 1e-8);
    assert_int_equal(region_points(&out), 9);
}

/* ---- Partitions ------------------------------------- */

enum { BANDS = 9 };

/* Label by winding number, -BANDS / 2 to BANDS / 2. */
static int by_winding(const int winding[ARRANGE_LAYERS], const void *user)
{
    (void)user;
    return winding[0] == 0 || abs(winding[0]) > BANDS / 2 ? -1 : winding[0] + BANDS / 2;
}

static struct ring random_ring(struct fixture *f, struct chance *chance, size_t n,
                               double size)
{
    struct ring ring = ring_new(f->arena, n);

    for (size_t k = 0; k < n; k++)
        ring.points[k] = chance_point(chance, (struct box){0, 0, size, size});
    return ring;
}

/* Signed area is the sum of winding number times area over all faces. */
static void windings_add_up_to_the_signed_area(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {11};

    for (int i = 0; i < 300; i++) {
        struct ring ring = random_ring(f, &chance, 3 + chance_below(&chance, 7), 100);
        struct layer_rings rings = {NULL, 0, 0};
        struct region bands[BANDS];
        double sum = 0;

        add(f, &rings, ring, 0);
        arranged(f, &rings, by_winding, NULL, BANDS, bands);
        for (int k = 0; k < BANDS; k++) {
            assert_valid(f->geos, &bands[k]);
            sum += (k - BANDS / 2) * region_area(&bands[k]);
        }
        near(sum, ring_area(ring), 1e-4);
        arena_reset(f->arena);
    }
}

enum { COMBINATIONS = 1 << ARRANGE_LAYERS };

static int by_combination(const int winding[ARRANGE_LAYERS], const void *user)
{
    int label = 0;

    (void)user;
    for (int k = 0; k < ARRANGE_LAYERS; k++)
        label |= (winding[k] > 0) << k;
    return label > 0 ? label : -1;
}

/* Simple rings of some layers, on a coarse lattice so that many edges and vertices
 * coincide. */
static void lattice_rings(struct fixture *f, struct chance *chance, size_t count,
                          struct layer_rings *rings)
{
    for (size_t k = 0; k < count; k++) {
        double x = (double)chance_below(chance, 12);
        double y = (double)chance_below(chance, 12);
        double w = 1 + (double)chance_below(chance, 6);
        double h = 1 + (double)chance_below(chance, 6);
        const double triangle[][2] = {{x, y}, {x + w, y}, {x, y + h}};
        struct ring ring = chance_below(chance, 3) ? box_ring(f->arena, x, y, w, h)
                                                   : ring_made(f->arena, triangle);

        add(f, rings, ring, (int)chance_below(chance, ARRANGE_LAYERS));
    }
}

static int label_of_point(const struct layer_rings *rings, struct point p)
{
    int winding[ARRANGE_LAYERS] = {0};

    for (size_t i = 0; i < rings->count; i++)
        winding[rings->items[i].layer] += ring_winding(rings->items[i].ring, p);
    return by_combination(winding, NULL);
}

static void every_point_gets_its_label_once(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {12};

    for (int i = 0; i < 200; i++) {
        struct layer_rings rings = {NULL, 0, 0};
        struct region parts[COMBINATIONS];

        lattice_rings(f, &chance, 2 + chance_below(&chance, 14), &rings);
        arranged(f, &rings, by_combination, NULL, COMBINATIONS, parts);
        for (int k = 0; k < COMBINATIONS; k++)
            assert_valid(f->geos, &parts[k]);
        for (int sample = 0; sample < 200; sample++) {
            /* off the lattice and off its diagonals */
            struct point p = chance_point(&chance, (struct box){-1, -1, 20, 20});
            int expected = label_of_point(&rings, p);

            for (int k = 0; k < COMBINATIONS; k++)
                assert_int_equal(region_holds(&parts[k], p), k == expected);
        }
        arena_reset(f->arena);
    }
}

/* Area of the union by GEOS, and no two parts share any. */
static void parts_fill_the_union_and_share_nothing(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {13};

    for (int i = 0; i < 60; i++) {
        struct layer_rings rings = {NULL, 0, 0};
        struct region parts[COMBINATIONS];
        struct region whole;
        struct region every = {NULL, 0};
        double sum = 0;

        for (int k = 0; k < 12; k++) {
            size_t n = 3 + chance_below(&chance, 9);
            double radius = chance_between(&chance, 2, 30);
            struct ring star = ring_regular(f->arena, n, radius, 0.1 * k);
            struct point at = chance_point(&chance, (struct box){0, 0, 50, 50});

            add(f, &rings, ring_moved(f->arena, star, 0, at.x, at.y),
                (int)chance_below(&chance, ARRANGE_LAYERS));
        }
        arranged(f, &rings, by_combination, NULL, COMBINATIONS, parts);
        every.polygons = arena_array(f->arena, 12, sizeof *every.polygons);
        for (size_t k = 0; k < 12; k++)
            every.polygons[every.polygon_count++] =
                region_made(f->arena, &rings.items[k].ring, 1).polygons[0];
        for (int k = 0; k < COMBINATIONS; k++)
            sum += region_area(&parts[k]);
        for (int k = 1; k < COMBINATIONS; k++)
            near(geos_area(f->geos, &parts[k], &parts[k - 1], AREA_SHARED), 0, 1e-5);
        for (size_t k = 0; k < rings.count; k++)
            rings.items[k].layer = 0;
        whole = positive(f, &rings);
        near(sum, region_area(&whole), 1e-4);
        arena_reset(f->arena);
    }
}

/* Every vertex of a part that lies on another part's boundary is a vertex there. */
static void neighbours_share_vertices(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {14};

    for (int i = 0; i < 40; i++) {
        struct layer_rings rings = {NULL, 0, 0};
        struct region parts[COMBINATIONS];

        for (int k = 0; k < 8; k++)
            add(f, &rings, random_ring(f, &chance, 3, 50), k % ARRANGE_LAYERS);
        arranged(f, &rings, by_combination, NULL, COMBINATIONS, parts);
        for (int a = 0; a < COMBINATIONS; a++)
            for (int b = 0; b < COMBINATIONS; b++)
                if (a != b)
                    assert_vertices_shared(&parts[a], &parts[b], 1e-9);
        arena_reset(f->arena);
    }
}

/* ---- The same whatever the order ------------------------------------- */

static void shuffle(struct chance *chance, struct layer_rings *rings)
{
    for (size_t k = rings->count; k > 1; k--) {
        size_t other = chance_below(chance, k);
        struct layer_ring item = rings->items[k - 1];

        rings->items[k - 1] = rings->items[other];
        rings->items[other] = item;
    }
}

static void order_and_start_do_not_matter(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {15};

    for (int i = 0; i < 100; i++) {
        struct layer_rings rings = {NULL, 0, 0};
        struct region first[COMBINATIONS];
        struct region again[COMBINATIONS];

        for (int k = 0; k < 12; k++)
            add(f, &rings, random_ring(f, &chance, 3 + chance_below(&chance, 5), 60),
                k % ARRANGE_LAYERS);
        arranged(f, &rings, by_combination, NULL, COMBINATIONS, first);
        for (int turn = 0; turn < 3; turn++) {
            shuffle(&chance, &rings);
            for (size_t k = 0; k < rings.count; k++)
                rings.items[k].ring = ring_started(f->arena, rings.items[k].ring, 1);
            arranged(f, &rings, by_combination, NULL, COMBINATIONS, again);
            for (int k = 0; k < COMBINATIONS; k++)
                assert_true(region_same(&first[k], &again[k]));
        }
        arena_reset(f->arena);
    }
}

static int not_zero(const int winding[ARRANGE_LAYERS], const void *user)
{
    (void)user;
    return winding[0] != 0 ? 0 : -1;
}

/* What winds at all is the same whichever way the rings run together. */
static void direction_does_not_matter_to_what_winds(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {16};

    for (int i = 0; i < 100; i++) {
        struct layer_rings rings = {NULL, 0, 0};
        struct region first;
        struct region again;

        for (int k = 0; k < 3; k++)
            add(f, &rings, random_ring(f, &chance, 8, 60), 0);
        arranged(f, &rings, not_zero, NULL, 1, &first);
        for (size_t k = 0; k < rings.count; k++)
            rings.items[k].ring = ring_turned_round(f->arena, rings.items[k].ring);
        arranged(f, &rings, not_zero, NULL, 1, &again);
        assert_true(region_same(&first, &again));
        arena_reset(f->arena);
    }
}

static void bearing_is_only_a_matter_of_rounding(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {17};

    for (int i = 0; i < 50; i++) {
        struct layer_rings rings = {NULL, 0, 0};
        struct region straight;
        struct region turned;
        struct overlay overlay = {.rings = &rings, .label = not_zero, .label_count = 1};

        add(f, &rings, random_ring(f, &chance, 12, 60), 0);
        arranged(f, &rings, not_zero, NULL, 1, &straight);
        overlay.grid = grid_for(&rings, chance_between(&chance, -4, 4));
        assert_int_equal(arrange(f->ctx, f->arena, &overlay, &turned, NULL), OUTLAY_OK);
        assert_valid(f->geos, &turned);
        near_share(region_area(&turned), region_area(&straight), 1e-7);
        arena_reset(f->arena);
    }
}

/* ---- Many, large and thin ------------------------------------- */

static void thousands_of_chords_settle(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {18};
    struct layer_rings rings = {NULL, 0, 0};
    struct region bands[BANDS];

    for (int k = 0; k < 30; k++)
        add(f, &rings, random_ring(f, &chance, 10, 100), 0);
    /* and thousands of short ones */
    for (int k = 0; k < 1500; k++) {
        struct ring ring = random_ring(f, &chance, 3, 2);
        struct point at = chance_point(&chance, (struct box){0, 0, 100, 100});

        add(f, &rings, ring_moved(f->arena, ring, 0, at.x, at.y), 0);
    }
    arranged(f, &rings, by_winding, NULL, BANDS, bands);
    for (int k = 0; k < BANDS; k++)
        assert_valid(f->geos, &bands[k]);
}

/* Slivers of a few grid units: edges collapse, what is left is valid and adds up. */
static void coarse_grids_settle(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {19};

    for (int i = 0; i < 300; i++) {
        struct layer_rings rings = {NULL, 0, 0};
        struct region bands[BANDS];
        struct overlay overlay = {
            .rings = &rings, .label = by_winding, .label_count = BANDS};

        for (int k = 0; k < 4; k++)
            add(f, &rings, random_ring(f, &chance, 12, 60), 0);
        overlay.grid = (struct snap_grid){{30, 30}, i % 3 ? 1 : 0.2, 0};
        assert_int_equal(arrange(f->ctx, f->arena, &overlay, bands, NULL), OUTLAY_OK);
        for (int k = 0; k < BANDS; k++)
            assert_valid(f->geos, &bands[k]);
        arena_reset(f->arena);
    }
}

static void what_leaves_the_grid_is_refused(void **state)
{
    struct fixture *f = *state;
    struct layer_rings rings = {NULL, 0, 0};
    struct overlay overlay = {.rings = &rings, .label = label_positive, .label_count = 1};
    struct region out;

    add(f, &rings, box_ring(f->arena, 0, 0, 1000, 1000), 0);
    overlay.grid = (struct snap_grid){{0, 0}, 1e6, 0};
    assert_int_equal(arrange(f->ctx, f->arena, &overlay, &out, NULL), OUTLAY_E_GEOMETRY);
    assert_int_equal(out.polygon_count, 0);
    rings.items[0].ring.points[0].x = NAN;
    overlay.grid = (struct snap_grid){{0, 0}, 1, 0};
    assert_int_equal(arrange(f->ctx, f->arena, &overlay, &out, NULL), OUTLAY_E_GEOMETRY);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(rings_without_area_give_nothing),
        geometry_test(clockwise_alone_is_not_positive),
        geometry_test(figure_eight_comes_apart_at_its_point),
        geometry_test(holes_that_touch_their_shell_stay_holes),
        geometry_test(holes_that_touch_each_other),
        geometry_test(islands_nest),
        geometry_test(shared_edges_join_and_shared_corners_do_not),
        geometry_test(sections_around_a_yard_leave_a_hole),
        geometry_test(coincident_edges_of_layers_cancel_nothing),
        geometry_test(windings_add_up_to_the_signed_area),
        geometry_test(every_point_gets_its_label_once),
        geometry_test(parts_fill_the_union_and_share_nothing),
        geometry_test(neighbours_share_vertices),
        geometry_test(order_and_start_do_not_matter),
        geometry_test(direction_does_not_matter_to_what_winds),
        geometry_test(bearing_is_only_a_matter_of_rounding),
        geometry_test(thousands_of_chords_settle),
        geometry_test(coarse_grids_settle),
        geometry_test(what_leaves_the_grid_is_refused),
    };

    return cmocka_run_group_tests_name("geo/arrange", tests, NULL, NULL);
}
