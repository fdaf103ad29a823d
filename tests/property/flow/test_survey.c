/* Places of a survey on outlines by chance: inside their zones, clear of edges where
 * there is room, apart from each other, and the same whichever vertex a ring begins with
 * and whichever way it goes. */

#include "../zoning/outlines.h"

#include "flow/stages.h"
#include "roof/finding.h"
#include "survey/places.h"
#include "survey/survey.h"

enum { ROOFS = 1000 };

static const double hair = 1e-6; /* m */

/* ---- Roofs ------------------------------------------------------------------------ */

/* The same ring from another vertex on, and the other way round. */
static void turn_ring(struct fixture *f, struct ring *ring, size_t by)
{
    struct ring turned = ring_new(f->arena, ring->count);

    for (size_t k = 0; k < ring->count; k++)
        turned.points[k] = ring->points[(2 * ring->count - 1 - k + by) % ring->count];
    *ring = turned;
}

static struct region turned(struct fixture *f, const struct region *region, size_t by)
{
    struct region copy;

    assert_int_equal(region_copy(f->arena, region, &copy), OUTLAY_OK);
    for (size_t i = 0; i < copy.polygon_count; i++)
        for (size_t j = 0; j < copy.polygons[i].ring_count; j++)
            turn_ring(f, &copy.polygons[i].rings[j], by);
    return copy;
}

static const struct site_survey *survey(struct site *site, struct region lonlat,
                                        double height, const struct settings *settings)
{
    struct roof *roof = site_read(site, lonlat, NAN);
    struct outlay_error err = {0};

    roof->given.height = height;
    roof->given.wind_speed = 50;
    roof->given.deck = DECK_STEEL;
    site->building.roofs = site->roofs;
    if (stages_run(&site->building, settings, false, site->f->ctx, &err) != OUTLAY_OK)
        fail_msg("%s", err.what);
    assert_true(roof->zoned);
    return &site->building.surveys[0];
}

/* ---- What must hold ---------------------------------------------------------------- */

/* Corner; perimeter; field and interior. */
static int group_of(enum zone_role role)
{
    return role == ZONE_CORNER ? 0 : role == ZONE_PERIMETER ? 1 : 2;
}

struct group {
    double area;
    size_t count, at_edge;
    double least; /* distance of two places, m */
};

static const struct zone *zone_find(const struct roof *roof, enum zone_role role)
{
    for (size_t i = 0; i < roof->zone_count; i++)
        if (roof->zones[i].role == role)
            return &roof->zones[i];
    return NULL;
}

/* Inside, and marked where it isn't clear. */
static void expect_place(const struct roof *roof, const struct survey_place *place)
{
    const struct zone *zone = zone_find(roof, place->zone);
    double edge = region_distance(&roof->outline, place->at);

    assert_non_null(zone);
    assert_true(region_holds(&zone->region, place->at));
    assert_true(place->at_edge == (edge < PLACE_CLEAR) ||
                fabs(edge - PLACE_CLEAR) < hair);
}

static void add_to_groups(const struct site_survey *survey, size_t at,
                          struct group groups[3])
{
    const struct survey_place *place = &survey->places[at];
    struct group *group = &groups[group_of(place->zone)];

    group->count++;
    group->at_edge += place->at_edge;
    for (size_t i = 0; i < at; i++)
        if (survey->places[i].task == TASK_PULLOUT &&
            group_of(survey->places[i].zone) == group_of(place->zone))
            group->least =
                fmin(group->least, point_distance(survey->places[i].at, place->at));
}

/* Share of the group's zones that is clear of edges, by sampling. */
static double clear_share(const struct roof *roof, int group)
{
    struct box box = region_box(&roof->outline);
    double held = 0, clear = 0;

    for (int i = 0; i < 60; i++)
        for (int k = 0; k < 60; k++) {
            struct point p = {box.min_x + (box.max_x - box.min_x) * (i + 0.5) / 60,
                              box.min_y + (box.max_y - box.min_y) * (k + 0.5) / 60};

            for (size_t z = 0; z < roof->zone_count; z++)
                if (group_of(roof->zones[z].role) == group &&
                    region_holds(&roof->zones[z].region, p)) {
                    held++;
                    clear += region_distance(&roof->outline, p) >= PLACE_CLEAR;
                }
        }
    return held > 0 ? clear / held : 0;
}

/* A strip of a few feet can't have both; where nearly all of a group is clear it has. */
static int expect_spread(const struct roof *roof, const struct group groups[3],
                         uint64_t seed)
{
    int failures = 0;

    for (int i = 0; i < 3; i++) {
        double wanted = 0.5 * sqrt(groups[i].area / (double)groups[i].count);

        if (groups[i].count > 1 && groups[i].least < wanted) {
            print_error("roof %d, group %d: %.2f m apart, %.2f wanted\n", (int)seed, i,
                        groups[i].least, wanted);
            failures++;
        }
        if (groups[i].at_edge > 0 && clear_share(roof, i) > 0.95) {
            print_error("roof %d, group %d: at the edge without need\n", (int)seed, i);
            failures++;
        }
    }
    return failures;
}

static int expect_survey(const struct site_survey *survey,
                         const struct settings *settings, uint64_t seed)
{
    const struct roof *roof = survey->roof;
    struct group groups[3] = {
        {.least = INFINITY}, {.least = INFINITY}, {.least = INFINITY}};
    size_t tests = 0, cores = 0;

    for (size_t i = 0; i < roof->zone_count; i++)
        groups[group_of(roof->zones[i].role)].area += roof->zones[i].area;
    for (size_t i = 0; i < survey->place_count; i++) {
        const struct survey_place *place = &survey->places[i];

        if (place->placed)
            expect_place(roof, place);
        if (place->task == TASK_PULLOUT)
            add_to_groups(survey, i, groups);
        tests += place->task == TASK_PULLOUT;
        cores += place->task == TASK_CORE;
    }
    assert_int_equal(
        tests,
        survey_rule_count(survey_rule_of(&settings->rules, TASK_PULLOUT), roof->area));
    assert_int_equal(cores, ceil(roof->area / (10000 * M2_PER_FT2) - 1e-9));
    for (int i = 0; i < 3; i++)
        assert_true(groups[i].area <= 0 || groups[i].count > 0);
    return expect_spread(roof, groups, seed);
}

static void expect_same(const struct site_survey *a, const struct site_survey *b,
                        uint64_t seed)
{
    assert_int_equal(a->place_count, b->place_count);
    assert_int_equal(a->entry_count, b->entry_count);
    for (size_t i = 0; i < a->place_count; i++) {
        assert_string_equal(a->places[i].name, b->places[i].name);
        if (point_distance(a->places[i].at, b->places[i].at) > hair)
            fail_msg("roof %d: %s moved by %.2g m", (int)seed, a->places[i].name,
                     point_distance(a->places[i].at, b->places[i].at));
    }
}

static void places_are_inside_clear_and_apart(void **state)
{
    struct fixture *f = *state;
    struct outlay_error err = {0};
    struct settings settings;
    int failures = 0;

    settings_init(&settings);
    settings.surveys = true;
    assert_int_equal(settings_resolve(&settings, &err), OUTLAY_OK);
    for (uint64_t seed = 1; seed <= ROOFS; seed++) {
        struct chance chance = {seed * 7919};
        double size = chance_between(&chance, 15, 180);
        double height = chance_between(&chance, 4, 30);
        struct region shape = shape_of(f, &chance, (int)(seed % SHAPES), size);
        struct pose pose = pose_by_chance(&chance);
        struct region lonlat = put(f, &shape, &pose);
        struct site first = site_empty(f), second = site_empty(f);
        const struct site_survey *one = survey(&first, lonlat, height, &settings);
        const struct site_survey *two = survey(
            &second, turned(f, &lonlat, 1 + chance_below(&chance, 9)), height, &settings);

        failures += expect_survey(one, &settings, seed);
        expect_same(one, two, seed);
        arena_reset(f->arena);
    }
    settings_release(&settings);
    assert_int_equal(failures, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(places_are_inside_clear_and_apart),
    };

    return cmocka_run_group_tests_name("survey", tests, NULL, NULL);
}
