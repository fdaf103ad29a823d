/* What an overlay says of the room around its nodes, and whether rings need one. */

#include "geometry.h"

static void add(struct fixture *f, struct layer_rings *rings, struct ring ring, int layer)
{
    assert_true(layer_rings_add(f->arena, rings, ring, layer));
}

static int not_zero(const int winding[ARRANGE_LAYERS], const void *user)
{
    (void)user;
    return winding[0] != 0 ? 0 : -1;
}

static struct ring random_ring(struct fixture *f, struct chance *chance, size_t n,
                               double size)
{
    struct ring ring = ring_new(f->arena, n);

    for (size_t k = 0; k < n; k++)
        ring.points[k] = chance_point(chance, (struct box){0, 0, size, size});
    return ring;
}

/* Least distance of a vertex from an edge of the rings that doesn't end there. */
static double least_clearance(const struct region *region)
{
    double least = INFINITY;

    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++) {
            struct ring ring = region->polygons[i].rings[j];

            for (size_t k = 0; k < ring.count; k++)
                for (size_t m = 0; m < ring.count; m++) {
                    struct point a = ring.points[m];
                    struct point b = ring.points[(m + 1) % ring.count];

                    if (point_distance(ring.points[k], a) > 1e-6 &&
                        point_distance(ring.points[k], b) > 1e-6)
                        least = fmin(least, distance_to_edge(ring.points[k], a, b));
                }
        }
    return least;
}

/* Clear is never said of a tight overlay, and it is said of a roomy one. */
static void clear_is_never_said_in_vain(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {20};
    int said = 0;

    for (int i = 0; i < 2000; i++) {
        struct layer_rings rings = {NULL, 0, 0};
        struct region out;
        struct overlay overlay = {
            .rings = &rings, .label = not_zero, .label_count = 1, .clearance = 0.05};

        add(f, &rings, random_ring(f, &chance, 3 + chance_below(&chance, 6), 10), 0);
        overlay.grid = grid_for(&rings, 0);
        assert_int_equal(arrange(f->ctx, f->arena, &overlay, &out, NULL), OUTLAY_OK);
        said += overlay.clear;
        if (overlay.clear)
            assert_true(least_clearance(&out) >= 0.05 - 1e-6);
        arena_reset(f->arena);
    }
    assert_true(said > 100);
}

static void settled_rings_are_told_from_others(void **state)
{
    struct fixture *f = *state;
    const double bow[][2] = {{0, 0}, {10, 10}, {10, 0}, {0, 10}};
    const double touching[][2] = {{0, 0}, {10, 0}, {10, 10}, {5, 0}, {0, 10}};
    const double spike[][2] = {{0, 0}, {10, 0}, {15, 0}, {10, 0}, {10, 10}};
    const double waist[][2] = {{0, 0}, {5, 5}, {10, 0}, {10, 10}, {5, 5}, {0, 10}};
    const double fine[][2] = {{0, 0}, {10, 0}, {10, 10}, {5, 1}, {0, 10}};
    struct {
        struct ring ring;
        bool settled;
    } cases[] = {
        {ring_made(f->arena, bow), false},   {ring_made(f->arena, touching), false},
        {ring_made(f->arena, spike), false}, {ring_made(f->arena, waist), false},
        {ring_made(f->arena, fine), true},   {ring_regular(f->arena, 50, 20, 0), true},
    };

    for (size_t i = 0; i < LENGTH(cases); i++) {
        struct layer_rings rings = {NULL, 0, 0};
        struct snap_grid grid;
        bool settled = !cases[i].settled;

        add(f, &rings, cases[i].ring, 0);
        grid = grid_for(&rings, 0);
        assert_int_equal(rings_settled(f->ctx, &rings, &grid, &settled, NULL), OUTLAY_OK);
        assert_int_equal(settled, cases[i].settled);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(clear_is_never_said_in_vain),
        geometry_test(settled_rings_are_told_from_others),
    };

    return cmocka_run_group_tests_name("geo/clearance", tests, NULL, NULL);
}
