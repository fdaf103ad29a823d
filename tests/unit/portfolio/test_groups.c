/* Groups: every roof in one, no number of two measures, sums as a list's, and the same
 * whatever the order of the roofs. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <cmocka.h>

#include "roofs.h"

#include "portfolio/groups.h"

enum { ROOFS = 60 };

/* Roofs in a row to the east, 100 m or so apart, of three districts; every fifth one has
 * a rating, one is steep, one dry, one without an outline. */
struct town {
    struct roof roofs[ROOFS];
    struct point points[ROOFS][4];
    struct ring rings[ROOFS];
    struct polygon polygons[ROOFS];
    char ids[ROOFS][8];
    struct portfolio *portfolio;
    struct rank_settings settings;
    struct ranking ranking;
    struct groups *groups;
};

static void make_roof(struct town *town, size_t i, double west)
{
    static const char *const districts[] = {"north", "south", NULL};
    struct roof *roof = &town->roofs[i];
    double x = west + 0.0012 * (double)i;

    snprintf(town->ids[i], sizeof town->ids[i], "r%02zu", i);
    roof_sample(roof, town->ids[i]);
    roof->group = districts[i % 3];
    roof->area = 1000.04 + 0.013 * (double)i;
    roof->zones[0].uplift.uplift = 1000 + 10 * (double)i;
    roof->zones[0].uplift.required = 1.2 * roof->zones[0].uplift.uplift;
    if (i % 5 == 0)
        roof->given.rating = 1500;
    town->points[i][0] = (struct point){x, 40};
    town->points[i][1] = (struct point){x + 0.001, 40};
    town->points[i][2] = (struct point){x + 0.001, 40.001};
    town->points[i][3] = (struct point){x, 40.001};
    town->rings[i] = (struct ring){town->points[i], 4};
    town->polygons[i] = (struct polygon){&town->rings[i], 1};
    roof->lonlat = (struct region){&town->polygons[i], 1};
}

static void make_town(struct town *town, double west)
{
    for (size_t i = 0; i < ROOFS; i++)
        make_roof(town, i, west);
    town->roofs[7].given.slope = 0.5;
    town->roofs[8].zoned = false;
    town->roofs[8].zone_count = 0;
    town->roofs[9].whole = false;
}

/* @param step  1 or ROOFS - 1: which way the roofs come */
static void settle(struct town *town, const struct groups_settings *settings, size_t step)
{
    town->settings = rank_defaults();
    town->portfolio = portfolio_new(false);
    assert_int_equal(groups_new(settings, &town->groups, NULL), OUTLAY_OK);
    for (size_t i = 0, at = 0; i < ROOFS; i++, at = (at + step) % ROOFS) {
        struct building building = {.roofs = &town->roofs[at], .roof_count = 1};

        roof_add(town->portfolio, &town->roofs[at]);
        assert_int_equal(groups_add(town->groups, &building, NULL), OUTLAY_OK);
    }
    assert_int_equal(ranking_make(town->portfolio, &town->settings, &town->ranking, NULL),
                     OUTLAY_OK);
    assert_int_equal(groups_settle(town->groups, &town->ranking, 0.1, NULL), OUTLAY_OK);
}

static void release(struct town *town)
{
    groups_free(town->groups);
    ranking_release(&town->ranking);
    portfolio_free(town->portfolio);
}

static void check_sums(const struct town *town)
{
    size_t roofs = 0, apart = 0, unknown = 0, ranked[GROUP_MEASURES] = {0};
    double area = 0, printed = 0;

    for (size_t i = 0; i < groups_count(town->groups); i++) {
        const struct group *group = groups_at(town->groups, i);

        roofs += group->roofs;
        apart += group->apart;
        unknown += group->unknown;
        area += group->area;
        for (int k = 0; k < GROUP_MEASURES; k++)
            ranked[k] += group->measures[k].count;
    }
    for (size_t i = 0; i < ROOFS; i++)
        printed += town->roofs[i].whole ? round(town->roofs[i].area * 10) / 10 : 0;
    assert_int_equal(roofs, ROOFS);
    assert_int_equal(apart, town->ranking.counts[RANK_APART]);
    assert_int_equal(apart, 2);
    assert_int_equal(unknown, 1);
    assert_int_equal(ranked[RANK_RATED], town->ranking.counts[RANK_RATED]);
    assert_int_equal(ranked[RANK_EXPOSED], town->ranking.counts[RANK_EXPOSED]);
    assert_true(fabs(area - printed) < 1e-6);
}

static void test_groups_add_up(void **state)
{
    static const struct groups_settings settings[] = {
        {GROUPS_BY_COLUMN, 0, 0}, {GROUPS_BY_SQUARE, 500, 0}, {GROUPS_FITTED, 100, 7}};
    static struct town town;

    (void)state;
    for (size_t i = 0; i < 3; i++) {
        make_town(&town, -80);
        settle(&town, &settings[i], 1);
        check_sums(&town);
        release(&town);
    }
}

/* Mean, share and worst roof of each measure, against the roofs one by one. */
static void check_measure(const struct town *town, size_t index, int measure)
{
    const struct group_measure *found =
        &groups_at(town->groups, index)->measures[measure];
    uint32_t threshold = groups_threshold(town->groups, measure);
    size_t count = 0, above = 0, worst = SIZE_MAX;
    uint64_t scores = 0;

    for (size_t i = 0; i < ROOFS; i++) {
        size_t row = town->ranking.places[i];
        const struct ranked *ranked = &town->ranking.rows[row];

        if (groups_of(town->groups, i) != index || ranked->group != measure)
            continue;
        count++;
        scores += ranked->score;
        above += ranked->score >= threshold;
        worst = row < worst ? row : worst;
    }
    assert_int_equal(found->count, count);
    assert_true(found->scores == scores);
    assert_int_equal(found->above, above);
    if (count)
        assert_int_equal(found->worst[0], worst);
}

/* 11 of 57 ranked roofs have a rating: the first three of these and the first ten of the
 * other 46 are their upper fifths. */
static void test_no_number_mixes_measures(void **state)
{
    const struct groups_settings settings = {GROUPS_BY_COLUMN, 0, 0};
    static struct town town;

    (void)state;
    make_town(&town, -80);
    settle(&town, &settings, 1);
    assert_int_equal(groups_count(town.groups), 3);
    for (size_t i = 0; i < 3; i++)
        for (int k = 0; k < GROUP_MEASURES; k++)
            check_measure(&town, i, k);
    for (int k = 0; k < GROUP_MEASURES; k++) {
        size_t start = k == RANK_RATED ? 0 : town.ranking.counts[RANK_RATED];
        size_t fifth = (town.ranking.counts[k] + 4) / 5;

        assert_int_equal(groups_threshold(town.groups, k),
                         town.ranking.rows[start + fifth - 1].score);
    }
    release(&town);
}

static void test_districts_by_name_and_what_has_none(void **state)
{
    const struct groups_settings settings = {GROUPS_BY_COLUMN, 0, 0};
    static struct town town;
    struct box box;

    (void)state;
    make_town(&town, -80);
    town.roofs[2].group = ""; /* is no name either */
    settle(&town, &settings, 1);
    assert_int_equal(groups_count(town.groups), 3);
    assert_string_equal(groups_at(town.groups, 0)->name, "north");
    assert_string_equal(groups_at(town.groups, 1)->name, "south");
    assert_null(groups_at(town.groups, 2)->name);
    box = ring_box(groups_shape(town.groups, 1, NULL));
    assert_true(fabs(box.min_x - (-80 + 0.0012)) < 1e-12);
    assert_true(fabs(box.max_x - (-80 + 0.0012 * 58 + 0.001)) < 1e-12);
    assert_int_equal(groups_shape(town.groups, 1, NULL).count, 4);
    release(&town);
}

/* The hull of outlines on both sides of 180 degrees is as narrow as they are. */
static void test_hulls_cross_the_antimeridian(void **state)
{
    const struct groups_settings settings = {GROUPS_BY_COLUMN, 0, 0};
    static struct town town;
    struct box box;

    (void)state;
    make_town(&town, 179.97);
    for (size_t i = 0; i < ROOFS; i++)
        for (size_t k = 0; k < 4; k++)
            town.points[i][k].x -= town.points[i][k].x > 180 ? 360 : 0;
    settle(&town, &settings, 1);
    box = ring_box(groups_shape(town.groups, 0, NULL));
    assert_true(fabs(box.max_x - box.min_x - (0.0012 * 57 + 0.001)) < 1e-9);
    release(&town);
}

/* The same squares with the same figures, whichever roof comes first. */
static void test_order_of_the_roofs_changes_nothing(void **state)
{
    static const struct groups_settings settings[] = {{GROUPS_BY_SQUARE, 500, 0},
                                                      {GROUPS_FITTED, 100, 7}};
    static struct town one, other;

    (void)state;
    for (size_t k = 0; k < 2; k++) {
        make_town(&one, -80);
        make_town(&other, -80);
        settle(&one, &settings[k], 1);
        settle(&other, &settings[k], ROOFS - 1);
        assert_int_equal(groups_count(one.groups), groups_count(other.groups));
        for (size_t i = 0; i < groups_count(one.groups); i++) {
            const struct group *a = groups_at(one.groups, i);
            const struct group *b = groups_at(other.groups, i);

            assert_true((a->name && b->name && strcmp(a->name, b->name) == 0) ||
                        (!a->name && !b->name));
            assert_memory_equal(&a->measures, &b->measures, sizeof a->measures);
            assert_true(fabs(a->area - b->area) < 1e-9);
        }
        release(&one);
        release(&other);
    }
}

/* The row of roofs is 6.1 km long: 62 squares of 100 m are too many, and 13 of 500 m; of
 * 1 km there are 7 at most. */
static void test_fitted_squares_are_few(void **state)
{
    const struct groups_settings settings = {GROUPS_FITTED, 1000, 7};
    static struct town town;

    (void)state;
    make_town(&town, -80);
    settle(&town, &settings, 1);
    assert_true(fabs(groups_side(town.groups) - 1000) < 1e-9);
    assert_true(groups_count(town.groups) <= 8); /* and no outline */
    assert_null(groups_at(town.groups, groups_count(town.groups) - 1)->name);
    release(&town);
}

/* More names than the first table of them has room for. */
static void test_many_groups(void **state)
{
    const struct groups_settings settings = {GROUPS_BY_COLUMN, 0, 0};
    struct portfolio *portfolio = portfolio_new(false);
    struct rank_settings rank = rank_defaults();
    struct groups *groups = NULL;
    struct ranking ranking;

    (void)state;
    assert_int_equal(groups_new(&settings, &groups, NULL), OUTLAY_OK);
    for (int i = 0; i < 3000; i++) {
        char name[16];
        struct roof roof;
        struct building building = {.roofs = &roof, .roof_count = 1};

        snprintf(name, sizeof name, "g%d", i % 1500);
        roof_sample(&roof, "a");
        roof.group = name;
        roof_add(portfolio, &roof);
        assert_int_equal(groups_add(groups, &building, NULL), OUTLAY_OK);
    }
    assert_int_equal(ranking_make(portfolio, &rank, &ranking, NULL), OUTLAY_OK);
    assert_int_equal(groups_settle(groups, &ranking, 0.1, NULL), OUTLAY_OK);
    assert_int_equal(groups_count(groups), 1500);
    for (size_t i = 0; i < 1500; i++)
        assert_int_equal(groups_at(groups, i)->roofs, 2);
    groups_free(groups);
    ranking_release(&ranking);
    portfolio_free(portfolio);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_groups_add_up),
        cmocka_unit_test(test_no_number_mixes_measures),
        cmocka_unit_test(test_districts_by_name_and_what_has_none),
        cmocka_unit_test(test_hulls_cross_the_antimeridian),
        cmocka_unit_test(test_order_of_the_roofs_changes_nothing),
        cmocka_unit_test(test_fitted_squares_are_few),
        cmocka_unit_test(test_many_groups),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
