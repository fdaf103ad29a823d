/* The score against its closed form, the two groups, and an order that depends on nothing
 * but the roofs. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <cmocka.h>

#include "roofs.h"

#include "portfolio/rank.h"

static struct rank_score score_of(struct roof *roof, const struct rank_settings *settings)
{
    struct portfolio *portfolio = portfolio_new(false);
    struct rank_score score;

    assert_non_null(portfolio);
    roof_add(portfolio, roof);
    score = rank_score(portfolio_roof(portfolio, 0), settings);
    portfolio_free(portfolio);
    return score;
}

static void near(double value, double expected)
{
    assert_true(fabs(value - expected) < 1e-6 * fmax(1, fabs(expected)));
}

/* An ultimate rating meets the required one, 2 x 0.6 x 3000 Pa = 3600; an allowable
 * rating 1800. The same strength given either way gives the same demand over capacity:
 * the factor of safety is never divided by twice. */
static void test_demand_is_at_the_level_of_the_rating(void **state)
{
    struct rank_settings settings = rank_defaults();
    struct roof roof;
    struct rank_score ultimate, allowable, unknown;

    (void)state;
    roof_sample(&roof, "a");
    roof.given.rating = 2400;
    roof.given.rating_basis = RATING_ULTIMATE;
    ultimate = score_of(&roof, &settings);
    roof.given.rating_basis = RATING_NOT_GIVEN;
    unknown = score_of(&roof, &settings);
    roof.given.rating = 1200;
    roof.given.rating_basis = RATING_ALLOWABLE;
    allowable = score_of(&roof, &settings);
    assert_int_equal(ultimate.group, RANK_RATED);
    near(ultimate.load, 1.5);
    near(allowable.load, 1.5);
    near(unknown.load, 1.5);
}

/* Nothing known but the wind: the load alone is the score. */
static void test_unknown_parts_change_nothing(void **state)
{
    struct rank_settings settings = rank_defaults();
    struct roof roof;
    struct rank_score score;

    (void)state;
    roof_sample(&roof, "a");
    score = score_of(&roof, &settings);
    assert_int_equal(score.group, RANK_EXPOSED);
    near(score.load, 3);
    assert_true(isnan(score.factors[RANK_EDGE]) && isnan(score.factors[RANK_AGE]));
    near(score.score, 3);
}

static void test_parts_multiply(void **state)
{
    struct rank_settings settings = rank_defaults();
    struct roof roof;
    struct rank_score score;

    (void)state;
    settings.year = 2027;
    roof_sample(&roof, "a");
    roof.given.edge_condition = 30;
    roof.given.condition = 90;
    roof.given.installed = 2017;
    roof.given.risk = 4;
    score = score_of(&roof, &settings);
    near(score.factors[RANK_EDGE], 1 + 0.6 * (0.7 - 0.5));
    near(score.factors[RANK_CONDITION], 1 + 0.4 * (0.1 - 0.5));
    near(score.factors[RANK_AGE], 1);
    near(score.factors[RANK_CONSEQUENCE], 1.3);
    near(score.score, 3.669); /* 3 x 1.12 x 0.84 x 1.3, in thousandths */
    roof.given.installed = 1900;
    near(score_of(&roof, &settings).parts[RANK_AGE], 1);
}

/* Neither the age nor anything else but the rating is in demand over capacity. */
static void test_age_never_changes_capacity(void **state)
{
    struct rank_settings settings = rank_defaults();
    struct roof roof;

    (void)state;
    settings.year = 2027;
    roof_sample(&roof, "a");
    roof.given.rating = 3600;
    roof.given.installed = 1950;
    near(score_of(&roof, &settings).load, 1);
}

static void test_without_uplift_a_roof_is_kept_and_last(void **state)
{
    static const char *const expected[] = {"rated", "high", "low", "dry", "still"};
    struct rank_settings settings = rank_defaults();
    struct portfolio *portfolio = portfolio_new(false);
    struct ranking ranking;
    struct roof roof;

    (void)state;
    roof_sample(&roof, "still");
    roof.zones[0].uplift.known = roof.zones[1].uplift.known = false;
    roof_add(portfolio, &roof);
    roof_sample(&roof, "dry");
    roof.zoned = false;
    roof.zone_count = 0;
    roof_add(portfolio, &roof);
    roof_sample(&roof, "low");
    roof.zones[0].uplift.uplift = 2999;
    roof_add(portfolio, &roof);
    roof_sample(&roof, "high");
    roof_add(portfolio, &roof);
    roof_sample(&roof, "rated");
    roof.given.rating = 1e6;
    roof_add(portfolio, &roof);
    assert_int_equal(ranking_make(portfolio, &settings, &ranking, NULL), OUTLAY_OK);
    for (size_t i = 0; i < 5; i++)
        assert_string_equal(portfolio_id(ranking.rows[i].roof), expected[i]);
    assert_int_equal(ranking.counts[RANK_RATED], 1);
    assert_int_equal(ranking.counts[RANK_EXPOSED], 2);
    assert_int_equal(ranking.counts[RANK_UNKNOWN], 2);
    ranking_release(&ranking);
    portfolio_free(portfolio);
}

/* 1000 m2 with 3 kPa on a quarter of them and 1 kPa on the rest: 1.5 kPa in the mean,
 * 1500 kN. A rating is always held against the worst zone. */
static void test_three_measures_of_uplift(void **state)
{
    static const double expected[] = {3, 1.5, 1500};
    struct rank_settings settings = rank_defaults();
    struct roof roof;

    (void)state;
    roof_sample(&roof, "a");
    for (int by = RANK_BY_WORST; by <= RANK_BY_FORCE; by++) {
        settings.by = (enum rank_by)by;
        near(score_of(&roof, &settings).load, expected[by]);
        near(score_of(&roof, &settings).force, 1500000);
    }
    roof.given.rating = 3600;
    near(score_of(&roof, &settings).load, 1);
}

/* The order by each measure follows the uplift: a speed 10 % higher, q 21 %. */
static void test_scores_rise_with_the_wind(void **state)
{
    struct rank_settings settings = rank_defaults();

    (void)state;
    for (int by = RANK_BY_WORST; by <= RANK_BY_FORCE; by++) {
        double last = 0;

        settings.by = (enum rank_by)by;
        for (double speed = 80; speed < 200; speed *= 1.1) {
            struct roof roof;

            roof_sample(&roof, "a");
            for (size_t i = 0; i < roof.zone_count; i++)
                roof.zones[i].uplift.uplift *= speed * speed / 10000;
            assert_true(score_of(&roof, &settings).score > last);
            last = score_of(&roof, &settings).score;
        }
    }
}

static void test_what_is_no_low_slope_roof_is_apart(void **state)
{
    struct rank_settings settings = rank_defaults();
    struct roof roof;

    (void)state;
    roof_sample(&roof, "a");
    roof.given.slope = tan(7 * 0.017453292519943295);
    assert_int_equal(score_of(&roof, &settings).group, RANK_EXPOSED);
    roof.given.slope *= 1.001;
    assert_int_equal(score_of(&roof, &settings).apart, APART_STEEP);
    settings.slope_max = 7.1;
    assert_int_equal(score_of(&roof, &settings).apart, APART_NOT);
    roof.area = 20;
    assert_int_equal(score_of(&roof, &settings).apart, APART_NOT);
    roof.area = 19.9;
    assert_int_equal(score_of(&roof, &settings).apart, APART_SMALL);
    roof.given.rating = 1; /* however bad */
    assert_int_equal(score_of(&roof, &settings).group, RANK_APART);
    assert_true(isnan(score_of(&roof, &settings).score));
    roof.whole = false;
    assert_int_equal(score_of(&roof, &settings).apart, APART_OUTLINE);
}

/* 1, 2, 2, 4; within a rank the larger force first, then the id. What the table doesn't
 * show, thousandths of a score and single newtons, tells nothing apart. */
static void test_equal_scores_share_a_rank(void **state)
{
    static const struct {
        const char *id;
        double uplift, area;
        uint32_t rank;
    } roofs[] = {{"d", 4000, 100, 1},  {"c", 3000.3, 2000, 2}, {"a", 2999.8, 1000, 2},
                 {"b", 3000, 1000, 2}, {"e", 2000, 9000, 5},   {"f", 1999, 9000, 6}};
    struct rank_settings settings = rank_defaults();
    struct portfolio *portfolio = portfolio_new(false);
    struct ranking ranking;

    (void)state;
    for (size_t i = 6; i-- > 0;) {
        struct roof roof;

        roof_sample(&roof, roofs[i].id);
        roof.area = roofs[i].area;
        roof.zone_count = 1;
        roof.zones[0].area = roof.area;
        roof.zones[0].uplift.uplift = roofs[i].uplift;
        roof_add(portfolio, &roof);
    }
    assert_int_equal(ranking_make(portfolio, &settings, &ranking, NULL), OUTLAY_OK);
    assert_string_equal(portfolio_id(ranking.rows[1].roof), "c");
    for (size_t i = 0; i < 6; i++) {
        const char *id = portfolio_id(ranking.rows[i].roof);

        for (size_t k = 0; k < 6; k++)
            if (strcmp(id, roofs[k].id) == 0)
                assert_int_equal(ranking.rows[i].rank, roofs[k].rank);
        assert_ptr_equal(ranking.rows[ranking.places[i]].roof,
                         portfolio_roof(portfolio, i));
    }
    ranking_release(&ranking);
    portfolio_free(portfolio);
}

/* By id from a table of another layer, by position from the layer itself. */
static void test_a_duplicate_gives_way(void **state)
{
    struct duplicate_roof roofs[] = {{1, "b", "by id"}, {0, "c", "by position"}};
    const struct duplicate_list by_id = {roofs, 1, true};
    const struct duplicate_list by_position = {roofs + 1, 1, false};
    struct rank_settings settings = rank_defaults();
    struct portfolio *portfolio = portfolio_new(false);
    struct roof roof;

    (void)state;
    for (size_t i = 0; i < 3; i++) {
        roof_sample(&roof, (const char *[]){"a", "b", "c"}[i]);
        roof.position = i;
        roof_add(portfolio, &roof);
    }
    assert_int_equal(portfolio_set_apart(portfolio, &by_id, NULL), OUTLAY_OK);
    assert_int_equal(portfolio_set_apart(portfolio, &by_position, NULL), OUTLAY_OK);
    assert_string_equal(portfolio_roof(portfolio, 0)->duplicate, "by position");
    assert_string_equal(portfolio_roof(portfolio, 1)->duplicate, "by id");
    assert_null(portfolio_roof(portfolio, 2)->duplicate);
    assert_int_equal(rank_apart(portfolio_roof(portfolio, 1), &settings),
                     APART_DUPLICATE);
    portfolio_free(portfolio);
}

/* 300 roofs with many ties, also of ids, added in three orders. */
static void test_input_order_changes_nothing(void **state)
{
    enum { COUNT = 300 };
    struct rank_settings settings = rank_defaults();
    char first[COUNT][80];

    (void)state;
    for (size_t step = 1; step < 200; step = step == 1 ? 7 : step == 7 ? 199 : 200) {
        struct portfolio *portfolio = portfolio_new(false);
        struct ranking ranking;

        for (size_t k = 0; k < COUNT; k++) {
            size_t i = k * step % COUNT;
            char id[16], name[16];
            struct roof roof;

            snprintf(id, sizeof id, "r%zu", i % 40);
            snprintf(name, sizeof name, "n%zu", i % 3);
            roof_sample(&roof, id);
            roof.name = name;
            roof.height = 5 + (double)(i % 5);
            roof.given.edge_condition = (double)(i % 4) * 25;
            roof_add(portfolio, &roof);
        }
        assert_int_equal(ranking_make(portfolio, &settings, &ranking, NULL), OUTLAY_OK);
        for (size_t k = 0; k < COUNT; k++) {
            const struct portfolio_roof *roof = ranking.rows[k].roof;
            char row[80];

            snprintf(row, sizeof row, "%s %s %.0f %.0f", portfolio_id(roof),
                     portfolio_name(roof), (double)roof->height,
                     (double)roof->edge_condition);
            if (step == 1)
                memcpy(first[k], row, sizeof row);
            assert_string_equal(row, first[k]);
        }
        ranking_release(&ranking);
        portfolio_free(portfolio);
    }
}

/* Texts of any length, across the blocks that hold them. */
static void test_texts_are_kept(void **state)
{
    struct portfolio *portfolio = portfolio_new(true);
    char text[70001];
    struct roof roof;

    (void)state;
    memset(text, 'x', sizeof text - 1);
    text[sizeof text - 1] = '\0';
    for (size_t i = 0; i < 3; i++) {
        roof_sample(&roof, i == 1 ? text : "short");
        roof.name = i == 2 ? NULL : "name";
        roof.building = i == 0 ? "building" : NULL;
        roof_add(portfolio, &roof);
    }
    assert_int_equal(portfolio_count(portfolio), 3);
    assert_string_equal(portfolio_id(portfolio_roof(portfolio, 1)), text);
    assert_string_equal(portfolio_name(portfolio_roof(portfolio, 1)), "name");
    assert_string_equal(portfolio_building(portfolio_roof(portfolio, 0)), "building");
    assert_string_equal(portfolio_name(portfolio_roof(portfolio, 2)), "");
    assert_false(portfolio_money(portfolio, 2)->priced);
    portfolio_free(portfolio);
}

static void test_forces_are_uplift_times_area(void **state)
{
    struct portfolio *portfolio = portfolio_new(false);
    struct roof roof;

    (void)state;
    roof_sample(&roof, "a");
    roof_add(portfolio, &roof);
    near(portfolio_force(portfolio_roof(portfolio, 0), ZONE_CORNER), 750000);
    near(portfolio_force(portfolio_roof(portfolio, 0), ZONE_FIELD), 750000);
    near(portfolio_force(portfolio_roof(portfolio, 0), ZONE_INTERIOR), 0);
    roof.zones[0].uplift.known = roof.zones[1].uplift.known = false;
    roof_add(portfolio, &roof);
    assert_true(isnan(portfolio_force(portfolio_roof(portfolio, 1), ZONE_FIELD)));
    portfolio_free(portfolio);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_demand_is_at_the_level_of_the_rating),
        cmocka_unit_test(test_unknown_parts_change_nothing),
        cmocka_unit_test(test_parts_multiply),
        cmocka_unit_test(test_age_never_changes_capacity),
        cmocka_unit_test(test_without_uplift_a_roof_is_kept_and_last),
        cmocka_unit_test(test_three_measures_of_uplift),
        cmocka_unit_test(test_scores_rise_with_the_wind),
        cmocka_unit_test(test_what_is_no_low_slope_roof_is_apart),
        cmocka_unit_test(test_equal_scores_share_a_rank),
        cmocka_unit_test(test_a_duplicate_gives_way),
        cmocka_unit_test(test_input_order_changes_nothing),
        cmocka_unit_test(test_texts_are_kept),
        cmocka_unit_test(test_forces_are_uplift_times_area),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
