/* Buildings of several levels: the least horizontal dimension that the figures mean is
 * the building's. A penthouse 39 ft wide on a block 197 ft wide: a = 19.7 ft, not 3.9. */

#include "site.h"

#define FT M_PER_FT

static const char *const by_width[] = {"asce7-05", "asce7-10"};
static const char *const all[] = {"asce7-05", "asce7-10", "asce7-16", "asce7-22"};

/* How the penthouse lies to the block. */
enum { STANDS_IN_A_HOLE, STANDS_IN_A_WIDER_HOLE, STANDS_ON_IT, STANDS_BESIDE_IT, PLACES };

/* Roof 0 is the block, 197 x 300 ft, roof 1 the penthouse, 39 x 60 ft. */
static struct site penthouse(struct fixture *f, int place, double low, double high)
{
    struct site site = site_empty(f);
    double margin = place == STANDS_IN_A_WIDER_HOLE ? 1 : 0;
    struct ring rings[] = {
        box_ring(f->arena, 0, 0, 300 * FT, 197 * FT),
        ring_turned_round(f->arena,
                          box_ring(f->arena, 100 * FT - margin, 80 * FT - margin,
                                   60 * FT + 2 * margin, 39 * FT + 2 * margin)),
    };
    double y = place == STANDS_BESIDE_IT ? 197 : 80;

    site_add(&site, region_made(f->arena, rings, place <= STANDS_IN_A_WIDER_HOLE ? 2 : 1),
             low * FT);
    site_ring(&site, box_ring(f->arena, 100 * FT, y * FT, 60 * FT, 39 * FT), high * FT);
    return site;
}

static struct site zoned(struct fixture *f, int place, double low, double high,
                         const char *standard, enum dimension_of whose)
{
    struct zoning_settings settings = settings_of(standard);
    struct site site = penthouse(f, place, low, high);

    settings.least_dimension = whose;
    site_zone(&site, &settings);
    return site;
}

/* Beside it, the rectangle around both is 300 x 236 ft. */
static double building_least(int place)
{
    return (place == STANDS_BESIDE_IT ? 236 : 197) * FT;
}

static void the_building_gives_the_least_dimension(void **state)
{
    for (size_t i = 0; i < LENGTH(all); i++)
        for (int place = 0; place < PLACES; place++)
            for (int given = DIMENSION_NOT_GIVEN; given <= DIMENSION_BUILDING; given++) {
                struct site site =
                    zoned(*state, place, 80, 100, all[i], (enum dimension_of)given);
                const struct roof *roof = &site.roofs[1];

                near(roof->level.least_dimension, building_least(place), 1e-9);
                near(roof->level.perimeter_depth, 0.1 * building_least(place), 1e-9);
                near(roof->level.short_side, 39 * FT, 1e-9);
                assert_int_equal(roof->level.whose, DIMENSION_BUILDING);
                near(site.roofs[0].level.least_dimension, building_least(place), 1e-9);
                near(zone_area(roof, ZONE_FIELD), 0, 0);
            }
}

static void the_level_does_as_a_setting(void **state)
{
    for (size_t i = 0; i < LENGTH(all); i++) {
        struct site site =
            zoned(*state, STANDS_IN_A_HOLE, 80, 100, all[i], DIMENSION_LEVEL);

        near(site.roofs[1].level.least_dimension, 39 * FT, 1e-9);
        near(site.roofs[1].level.perimeter_depth, 3.9 * FT, 1e-9);
        near(site.roofs[0].level.perimeter_depth, 19.7 * FT, 1e-9);
        assert_int_equal(site.roofs[1].level.whose, DIMENSION_LEVEL);
    }
}

/* Up to 60 ft, a = min(10 % LHD, 0.4 h), at least 4 % LHD: 0.4 h = 16 ft < 19.7 ft. */
static void low_buildings_by_width_too(void **state)
{
    for (size_t i = 0; i < LENGTH(by_width); i++) {
        struct site building =
            zoned(*state, STANDS_IN_A_HOLE, 20, 40, by_width[i], DIMENSION_NOT_GIVEN);
        struct site level =
            zoned(*state, STANDS_IN_A_HOLE, 20, 40, by_width[i], DIMENSION_LEVEL);

        near(building.roofs[1].level.perimeter_depth, 16 * FT, 1e-9);
        near(level.roofs[1].level.perimeter_depth, 3.9 * FT, 1e-9);
        near(building.roofs[0].level.perimeter_depth, 8 * FT, 1e-9);
    }
}

static struct zone_areas in_feet(double corner, double perimeter, double field,
                                 double interior)
{
    return (struct zone_areas){
        {corner * FT * FT, perimeter * FT * FT, field * FT * FT, interior * FT * FT}};
}

/* A tower 80 x 80 ft, 100 ft high, in the middle of a podium 400 x 300 ft, 20 ft high, by
 * 7-22 (from memory, as its row says). By hand, in ft and ft2:
 *
 * Tower, above 60 ft: a = 10 % of the least dimension; a corner is two legs, 2 a by a.
 *   The building's, 300: a = 30, and (80 - 2 x 30)^2 = 400 is left inside the strips.
 *     Legs of 60 from both ends of a side of 80 meet, so that the strips are corner,
 *     6400 - 400 = 6000.
 *   The level's, 80: a = 8. Inside (80 - 16)^2 = 4096; corners, whose legs share a square
 *     of a, 4 x 3 x 8 x 8 = 768; perimeter 6400 - 4096 - 768 = 1536.
 * Podium, up to 60 ft: by height, whichever dimension. Strips of 0.6 h = 12 and 1.2 h =
 *   24, legs 12 by 0.2 h = 4, which share 4 x 4: corners 4 x (2 x 12 x 4 - 16) = 320.
 *   The step to the tower is an edge too (ours), its corners re-entrant, so perimeter.
 *   Perimeter 400 x 300 - 376 x 276 - 320 + 104^2 - 80^2 = 20320, field 376 x 276 -
 *   352 x 252 + 128^2 - 104^2 = 20640, interior 352 x 252 - 128^2 = 72320. */
static void a_tower_on_a_podium_by_hand(void **state)
{
    struct fixture *f = *state;

    for (int given = DIMENSION_NOT_GIVEN; given <= DIMENSION_LEVEL; given++) {
        bool level = given == DIMENSION_LEVEL;
        struct zoning_settings settings = settings_of("asce7-22");
        struct site site = site_empty(f);
        struct ring tower = box_ring(f->arena, 160 * FT, 110 * FT, 80 * FT, 80 * FT);
        struct ring podium[] = {box_ring(f->arena, 0, 0, 400 * FT, 300 * FT),
                                ring_turned_round(f->arena, tower)};

        settings.least_dimension = (enum dimension_of)given;
        site_add(&site, region_made(f->arena, podium, 2), 20 * FT);
        site_ring(&site, tower, 100 * FT);
        site_zone(&site, &settings);
        near(site.roofs[0].level.perimeter_depth, 12 * FT, 1e-9);
        near(site.roofs[1].level.perimeter_depth, (level ? 8 : 30) * FT, 1e-9);
        assert_areas(&site.roofs[0], in_feet(320, 20320, 20640, 72320), 1e-3);
        assert_areas(&site.roofs[1],
                     level ? in_feet(768, 1536, 4096, 0) : in_feet(6000, 0, 400, 0),
                     1e-3);
    }
}

/* Assumed where the other reading would change a zone's depth, until somebody says that
 * the building's is meant. */
static void it_is_assumed_where_it_acts(void **state)
{
    static const struct {
        const char *standard;
        double low, high;
        bool acts; /* on the penthouse */
    } cases[] = {
        {"asce7-22", 20, 40, false}, {"asce7-22", 40, 62, true},
        {"asce7-10", 20, 40, true},  {"asce7-10", 20, 100, true},
        {"asce7-16", 80, 100, true}, {"asce7-16", 30, 60, false},
    };

    for (size_t i = 0; i < LENGTH(cases); i++)
        for (int given = DIMENSION_NOT_GIVEN; given <= DIMENSION_LEVEL; given++) {
            struct site site =
                zoned(*state, STANDS_IN_A_HOLE, cases[i].low, cases[i].high,
                      cases[i].standard, (enum dimension_of)given);

            assert_int_equal(roof_assumes(&site.roofs[1], ASSUME_STEPPED),
                             cases[i].acts && given != DIMENSION_BUILDING);
            assert_false(roof_assumes(&site.roofs[0], ASSUME_STEPPED));
        }
}

/* 60 ft < h < 90 ft: the low figure is for h / LHD <= 1, and 75 / 39 is more. */
static void the_route_goes_by_it(void **state)
{
    for (int given = DIMENSION_NOT_GIVEN; given <= DIMENSION_LEVEL; given++) {
        struct zoning_settings settings = settings_of("asce7-22");
        struct site site = penthouse(*state, STANDS_IN_A_HOLE, 40, 75);

        settings.mid_rise = MID_RISE_LOW;
        settings.least_dimension = (enum dimension_of)given;
        site_zone(&site, &settings);
        assert_int_equal(site.roofs[1].level.tall, given == DIMENSION_LEVEL);
        assert_int_equal(roof_assumes(&site.roofs[1], ASSUME_MID_RISE),
                         given != DIMENSION_LEVEL);
        assert_int_equal(roof_assumes(&site.roofs[1], ASSUME_STEPPED),
                         given != DIMENSION_BUILDING);
    }
}

/* Blocks that don't touch have a rectangle each, the largest least dimension counts;
 * what has only one level is as it was. In any order. */
static void separate_parts_have_their_own_rectangle(void **state)
{
    static const int orders[][3] = {{0, 1, 2}, {0, 2, 1}, {1, 0, 2},
                                    {1, 2, 0}, {2, 0, 1}, {2, 1, 0}};
    struct fixture *f = *state;

    for (size_t i = 0; i < LENGTH(orders); i++)
        for (int stepped = 0; stepped < 2; stepped++) {
            struct zoning_settings settings = settings_of("asce7-22");
            struct site site = site_empty(f);

            for (int r = 0; r < 3; r++) {
                int which = orders[i][r];

                /* 0 and 2 adjoin: 60 x 30 m around both; 1 is 40 x 40 m, apart */
                site_ring(&site,
                          which == 1 ? box_ring(f->arena, 100, 0, 40, 40)
                                     : box_ring(f->arena, 15 * which, 0, 30, 30),
                          which == 2 && stepped ? 40 : 30);
            }
            site_zone(&site, &settings);
            for (int r = 0; r < 3; r++) {
                near(site.roofs[r].level.least_dimension, 40, 1e-9);
                near(site.roofs[r].level.short_side, orders[i][r] == 1 ? 40 : 30, 1e-9);
            }
        }
}

static void outlines_of_one_level_are_as_before(void **state)
{
    struct fixture *f = *state;
    struct zoning_settings settings = settings_of("asce7-22");
    struct site site = site_empty(f);

    site_ring(&site, box_ring(f->arena, 0, 0, 30, 20), 30);
    site_ring(&site, box_ring(f->arena, 30, 0, 30, 20), 30);
    site_zone(&site, &settings);
    near(site.roofs[1].level.least_dimension, 20, 1e-9);
    assert_int_equal(site.roofs[1].level.whose, DIMENSION_NOT_GIVEN);
    assert_false(roof_assumes(&site.roofs[1], ASSUME_STEPPED));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(the_building_gives_the_least_dimension),
        geometry_test(the_level_does_as_a_setting),
        geometry_test(low_buildings_by_width_too),
        geometry_test(a_tower_on_a_podium_by_hand),
        geometry_test(it_is_assumed_where_it_acts),
        geometry_test(the_route_goes_by_it),
        geometry_test(separate_parts_have_their_own_rectangle),
        geometry_test(outlines_of_one_level_are_as_before),
    };

    return cmocka_run_group_tests_name("zoning/stepped", tests, NULL, NULL);
}
