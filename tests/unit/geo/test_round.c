/* Written coordinates: rounded, valid, shared, cut at the antimeridian. */

#include "geometry.h"

#include "geo/round.h"

#define MAX_REGIONS 4

static const struct point places[] = {{-87.6, 41.8}, {13, 0}, {24.9, 69.9}, {-70, -80}};

static void assert_rounded(const struct region *region)
{
    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++)
            for (size_t k = 0; k < region->polygons[i].rings[j].count; k++) {
                struct point p = region->polygons[i].rings[j].points[k];

                assert_true(round(p.x * 1e8) / 1e8 == p.x);
                assert_true(round(p.y * 1e8) / 1e8 == p.y);
                assert_true(fabs(p.x) <= 180 && fabs(p.y) <= 90);
            }
}

/* Rounds a partition around a place; all that holds for every partition is checked. */
static void written(struct fixture *f, struct point place, const struct region *regions,
                    size_t count, struct region *out)
{
    struct outlay_error error = {.what = ""};
    struct frame frame;

    frame_init(&frame, f->ctx, place);
    if (regions_to_lonlat(f->ctx, f->arena, &frame, regions, count, false, out, &error) !=
        OUTLAY_OK) {
        print_error("%s\n", error.what);
        fail();
    }
    for (size_t i = 0; i < count; i++) {
        assert_rounded(&out[i]);
        assert_valid(f->geos, &out[i]);
        for (size_t j = 0; j < count; j++)
            if (i != j)
                assert_vertices_shared(&out[i], &out[j], 1e-10);
    }
    for (size_t i = 1; i < count; i++)
        near(geos_area(f->geos, &out[i - 1], &out[i], AREA_SHARED), 0, 0);
}

/* Back in metres. */
static double written_area(struct fixture *f, struct point place,
                           const struct region *lonlat)
{
    struct region copy;
    struct frame frame;

    frame_init(&frame, f->ctx, place);
    assert_int_equal(region_copy(f->arena, lonlat, &copy), OUTLAY_OK);
    for (size_t i = 0; i < copy.polygon_count; i++)
        for (size_t j = 0; j < copy.polygons[i].ring_count; j++)
            frame_to_local(&frame, f->ctx, copy.polygons[i].rings[j].points,
                           copy.polygons[i].rings[j].count);
    return region_area(&copy);
}

static void plain_outlines_keep_points_and_holes(void **state)
{
    struct fixture *f = *state;
    struct ring rings[] = {
        ring_regular(f->arena, 30, 40, 0.3),
        ring_turned_round(f->arena, box_ring(f->arena, -5, -5, 10, 10)),
    };
    struct region region = region_made(f->arena, rings, 2);

    for (size_t i = 0; i < LENGTH(places); i++) {
        struct region out;

        written(f, places[i], &region, 1, &out);
        assert_int_equal(region_points(&out), 34);
        assert_int_equal(out.polygons[0].ring_count, 2);
        /* a millimetre along the whole edge */
        near(written_area(f, places[i], &out), region_area(&region),
             1e-3 * (ring_length(rings[0]) + ring_length(rings[1])));
    }
}

static int by_layer(const int winding[ARRANGE_LAYERS], const void *user)
{
    (void)user;
    for (int k = MAX_REGIONS - 1; k >= 0; k--)
        if (winding[k] > 0)
            return k;
    return -1;
}

/* Ever thinner shells within shells: some are thinner than what can be written. */
static void slivers_vanish_and_the_rest_is_valid(void **state)
{
    struct fixture *f = *state;
    const double widths[] = {2e-2, 5e-3, 2e-3, 1e-3, 5e-4, 1e-4, 1e-5};

    for (size_t w = 0; w < LENGTH(widths); w++)
        for (size_t p = 0; p < LENGTH(places); p++) {
            struct layer_rings rings = {NULL, 0, 0};
            struct region regions[MAX_REGIONS];
            struct region out[MAX_REGIONS];

            for (int k = 0; k < MAX_REGIONS; k++)
                assert_true(layer_rings_add(
                    f->arena, &rings, ring_regular(f->arena, 17, 20 - k * widths[w], 0.2),
                    k));
            arranged(f, &rings, by_layer, NULL, MAX_REGIONS, regions);
            written(f, places[p], regions, MAX_REGIONS, out);
            assert_true(out[MAX_REGIONS - 1].polygon_count > 0);
            for (int k = 0; k < MAX_REGIONS; k++)
                near(written_area(f, places[p], &out[k]), region_area(&regions[k]),
                     1e-3 * 2 * PI * 20);
            arena_reset(f->arena);
        }
}

/* Teeth of less than a millimetre, gaps that close, points that meet. */
static void fine_combs_become_valid(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {61};

    for (int i = 0; i < 200; i++) {
        size_t teeth = 5 + chance_below(&chance, 40);
        double pitch = exp(chance_between(&chance, log(1e-4), log(0.1)));
        double turn = chance_between(&chance, 0, 2 * PI);
        struct ring ring = ring_new(f->arena, 4 * teeth + 2);
        double reach = 4 * (double)teeth * pitch;
        struct region regions[2];
        struct region out[2];
        struct layer_rings rings = {NULL, 0, 0};

        for (size_t k = 0; k < 4 * teeth; k++) {
            double high = k % 4 == 1 || k % 4 == 2 ? 3.0 : 1.0;

            ring.points[k] = (struct point){reach - (double)k * pitch, high};
        }
        ring.points[4 * teeth] = (struct point){0, 0};
        ring.points[4 * teeth + 1] = (struct point){reach, 0};
        assert_true(
            layer_rings_add(f->arena, &rings, ring_moved(f->arena, ring, turn, 1, 2), 1));
        assert_true(layer_rings_add(
            f->arena, &rings,
            ring_moved(f->arena, box_ring(f->arena, -1, -1, reach + 2, 5), turn, 1, 2),
            0));
        arranged(f, &rings, by_layer, NULL, 2, regions);
        written(f, places[(size_t)i % LENGTH(places)], regions, 2, out);
        arena_reset(f->arena);
    }
}

/* Random triangles overlaid: acute tips everywhere, some narrower than the rounding. */
static void random_partitions_stay_partitions(void **state)
{
    struct fixture *f = *state;
    struct chance chance = {62};

    for (int i = 0; i < 200; i++) {
        double size = i % 4 == 0 ? 0.02 : i % 4 == 1 ? 0.5 : 40;
        struct layer_rings rings = {NULL, 0, 0};
        struct region regions[MAX_REGIONS];
        struct region out[MAX_REGIONS];
        double before = 0;
        double after = 0;
        struct point place = places[(size_t)i % LENGTH(places)];

        for (int k = 0; k < 8; k++) {
            struct ring ring = ring_new(f->arena, 3);

            for (int p = 0; p < 3; p++)
                ring.points[p] = chance_point(&chance, (struct box){0, 0, size, size});
            if (ring_area(ring) < 0)
                ring_reverse(ring);
            assert_true(layer_rings_add(f->arena, &rings, ring, k % MAX_REGIONS));
        }
        arranged(f, &rings, by_layer, NULL, MAX_REGIONS, regions);
        written(f, place, regions, MAX_REGIONS, out);
        for (int k = 0; k < MAX_REGIONS; k++) {
            before += region_area(&regions[k]);
            after += written_area(f, place, &out[k]);
        }
        near(after, before, 24 * size * 1e-3);
        arena_reset(f->arena);
    }
}

static void nothing_is_written_of_nothing(void **state)
{
    struct fixture *f = *state;
    struct region nothing[2] = {{NULL, 0}, {NULL, 0}};
    struct region out[2];

    written(f, places[0], nothing, 2, out);
    assert_int_equal(out[0].polygon_count, 0);
    assert_int_equal(out[1].polygon_count, 0);
}

/* ---- The antimeridian ------------------------------------- */

/* Parts of a region left and right of the antimeridian, in polygons. */
static void count_sides(const struct region *region, size_t *west, size_t *east)
{
    *west = *east = 0;
    for (size_t i = 0; i < region->polygon_count; i++) {
        struct ring shell = region->polygons[i].rings[0];

        for (size_t k = 0; k < shell.count; k++)
            assert_true((shell.points[k].x > 0) == (shell.points[0].x > 0));
        *(shell.points[0].x > 0 ? west : east) += 1;
    }
}

static void outlines_are_cut_at_the_antimeridian(void **state)
{
    struct fixture *f = *state;
    const double longitudes[] = {180, -180, 179.9999, -179.9999};
    const double latitudes[] = {0, -17, 52, 70};

    for (size_t i = 0; i < LENGTH(longitudes); i++)
        for (size_t j = 0; j < LENGTH(latitudes); j++) {
            struct point place = {longitudes[i], latitudes[j]};
            struct ring rings[] = {
                ring_regular(f->arena, 24, 60, 0.1),
                ring_turned_round(f->arena, box_ring(f->arena, -30, -20, 60, 40)),
            };
            struct region region = region_made(f->arena, rings, 2);
            struct region out;
            size_t west = 0;
            size_t east = 0;

            written(f, place, &region, 1, &out);
            count_sides(&out, &west, &east);
            assert_true(west > 0 && east > 0);
            near(written_area(f, place, &out), region_area(&region), 0.5);
            arena_reset(f->arena);
        }
}

static void a_partition_is_cut_alike(void **state)
{
    struct fixture *f = *state;
    struct layer_rings rings = {NULL, 0, 0};
    struct region regions[2];
    struct region out[2];
    struct point place = {-180, -17};

    assert_true(layer_rings_add(f->arena, &rings, ring_regular(f->arena, 9, 40, 0.1), 0));
    assert_true(layer_rings_add(f->arena, &rings, ring_regular(f->arena, 7, 30, 0.3), 1));
    arranged(f, &rings, by_layer, NULL, 2, regions);
    written(f, place, regions, 2, out);
    for (int k = 0; k < 2; k++)
        near(written_area(f, place, &out[k]), region_area(&regions[k]), 0.3);
}

/* An edge along the antimeridian is no reason to cut. */
static void outlines_that_only_touch_stay_whole(void **state)
{
    struct fixture *f = *state;
    const double longitudes[] = {180, -180};

    for (int side = 0; side < 2; side++)
        for (size_t i = 0; i < 2; i++) {
            struct ring ring = box_ring(f->arena, side ? 0 : -50, -20, 50, 40);
            struct region region = region_made(f->arena, &ring, 1);
            struct region out;
            size_t west = 0;
            size_t east = 0;

            written(f, (struct point){longitudes[i], 30}, &region, 1, &out);
            count_sides(&out, &west, &east);
            assert_int_equal(west, side ? 0 : 1);
            assert_int_equal(east, side ? 1 : 0);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(plain_outlines_keep_points_and_holes),
        geometry_test(slivers_vanish_and_the_rest_is_valid),
        geometry_test(fine_combs_become_valid),
        geometry_test(random_partitions_stay_partitions),
        geometry_test(nothing_is_written_of_nothing),
        geometry_test(outlines_are_cut_at_the_antimeridian),
        geometry_test(a_partition_is_cut_alike),
        geometry_test(outlines_that_only_touch_stay_whole),
    };

    return cmocka_run_group_tests_name("geo/round", tests, NULL, NULL);
}
