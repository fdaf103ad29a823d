/* Ranks of draws: each group for itself, over blocks of the temporary file, with P10, P90
 * and the share among the first. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

#include "roofs.h"

#include "portfolio/rank_draws.h"

enum { DRAWS = 10 };

/* A portfolio that is ranked, and the draws of its roofs. */
struct ranked_draws {
    struct portfolio *portfolio;
    struct rank_settings settings;
    struct ranking ranking;
    struct rank_draws *ranks;
};

static void start(struct ranked_draws *r, size_t draws, uint32_t first)
{
    r->portfolio = portfolio_new(false);
    r->settings = rank_defaults();
    assert_non_null(r->portfolio);
    assert_int_equal(rank_draws_new(draws, first, &r->ranks, NULL), OUTLAY_OK);
}

static void add(struct ranked_draws *r, struct roof *roof, const uint32_t *scores)
{
    struct roof_spread spread = {.scores = scores};
    struct building building = {.roofs = roof, .roof_count = 1};

    roof->spread = scores ? &spread : NULL;
    assert_int_equal(portfolio_add(r->portfolio, &building, NULL), OUTLAY_OK);
    assert_int_equal(rank_draws_add(r->ranks, &building, NULL), OUTLAY_OK);
    roof->spread = NULL;
}

static void settle(struct ranked_draws *r)
{
    assert_int_equal(ranking_make(r->portfolio, &r->settings, &r->ranking, NULL),
                     OUTLAY_OK);
    assert_int_equal(rank_draws_settle(r->ranks, &r->ranking, NULL), OUTLAY_OK);
}

static void end(struct ranked_draws *r)
{
    ranking_release(&r->ranking);
    rank_draws_free(r->ranks);
    portfolio_free(r->portfolio);
}

static void expect(const struct ranked_draws *r, size_t roof, double low, double high,
                   double first)
{
    struct drawn_rank drawn = rank_draws_of(r->ranks, roof);

    assert_float_equal(drawn.low, (float)low, 1e-6f);
    assert_float_equal(drawn.high, (float)high, 1e-6f);
    assert_float_equal(drawn.first, (float)first, 1e-6f);
}

/* By hand: `a` is first in draws 0 to 6 and second in the last three; equal scores share
 * a rank; the rated roof is alone in its group; one without draws has no rank. */
static void ranks_are_those_of_each_draw(void **state)
{
    uint32_t a[DRAWS], b[DRAWS], c[DRAWS], rated[DRAWS];
    struct ranked_draws r;
    struct roof roof;

    (void)state;
    for (uint32_t i = 0; i < DRAWS; i++) {
        a[i] = i < 7 ? 900 : 400;
        b[i] = 500;
        c[i] = i < 7 ? 500 : 100;
        rated[i] = 5;
    }
    start(&r, DRAWS, 1);
    roof_sample(&roof, "a");
    add(&r, &roof, a);
    roof_sample(&roof, "b");
    add(&r, &roof, b);
    roof_sample(&roof, "c");
    add(&r, &roof, c);
    roof_sample(&roof, "d");
    roof.given.rating = 2400;
    add(&r, &roof, rated);
    roof_sample(&roof, "e");
    add(&r, &roof, NULL);
    settle(&r);
    expect(&r, 0, 1, 2, 0.7);
    expect(&r, 1, 1, 2, 0.3);
    expect(&r, 2, 2, 3, 0);
    expect(&r, 3, 1, 1, 1);
    assert_true(isnan(rank_draws_of(r.ranks, 4).low));
    assert_true(isnan(rank_draws_of(r.ranks, 4).first));
    assert_int_equal(rank_draws_first(r.ranks), 1);
    end(&r);
}

/* With many draws blocks are short, so that these roofs take several; each draw ranks
 * them by another order, of which the ranks are known. */
static void blocks_make_no_difference(void **state)
{
    enum { MANY = 10000, ROOFS = 1000 };
    uint32_t *scores = calloc(MANY, sizeof *scores);
    struct ranked_draws r;
    struct roof roof;

    (void)state;
    assert_non_null(scores);
    start(&r, MANY, 10);
    for (uint32_t i = 0; i < ROOFS; i++) {
        for (uint32_t draw = 0; draw < MANY; draw++)
            scores[draw] = 1 + (i + draw) % ROOFS;
        roof_sample(&roof, "a");
        add(&r, &roof, scores);
    }
    settle(&r);
    for (size_t i = 0; i < ROOFS; i += 37)
        expect(&r, i, 100.9, 900.1, 0.01);
    end(&r);
    free(scores);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ranks_are_those_of_each_draw),
        cmocka_unit_test(blocks_make_no_difference),
    };

    return cmocka_run_group_tests_name("portfolio/rank_draws", tests, NULL, NULL);
}
