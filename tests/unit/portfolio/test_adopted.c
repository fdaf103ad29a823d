#define _DEFAULT_SOURCE /* mkstemps */

/* An earlier plan: kept where it ties, its price of change, and what is wrong in it. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include <cmocka.h>

#include "plans.h"

static void write_adopted(const char *path, const char *rows)
{
    FILE *file = fopen(path, "w");

    assert_non_null(file);
    fputs("action,roof_id,year,building,why\n", file);
    fputs(rows, file);
    fclose(file);
}

/* Two equal roofs under a cap that holds one a year: which is first is a tie that an
 * adopted plan decides, and a change of it has its price. */
static void test_an_adopted_plan_is_kept(void **state)
{
    static const struct {
        const char *rows, *what, *where;
    } bad[] = {
        {"replace,a,20x8,,\n", "not a year", "row 2, column year"},
        {"replace,a,,,\n", "go together", "row 2, column action"},
        {"replace,a,2028,,\nreplace,a,2027,,\n", "stands there twice",
         "row 3, column roof_id"},
    };
    struct budget_settings settings = settings_for(2, "100000,104000");
    struct portfolio *portfolio = portfolio_new(true);
    struct outlay_error err = {0};
    struct plan *plan = NULL;
    char path[] = "/tmp/adopted-XXXXXX.csv";
    int file = mkstemps(path, 4);

    (void)state;
    assert_true(file >= 0);
    close(file);
    for (int i = 0; i < 2; i++) {
        struct roof roof;

        roof_sample(&roof, i ? "b" : "a");
        roof.given.condition = 15;
        add_priced(portfolio, &roof, 90000);
    }
    settings.adopted = path;
    for (int first = 0; first < 2; first++) {
        write_adopted(path,
                      first ? "replace,a,2028,,\nreplace,b,2027,,\n"
                            : "replace,a,2027,,\nreplace,b,2028,,\nrepair,c,2027,,\n");
        assert_int_equal(plan_make(portfolio, &settings, &never, &plan, NULL), OUTLAY_OK);
        assert_int_equal(found(plan, "a")->year, 2027 + first);
        assert_int_equal(found(plan, "b")->year, 2028 - first);
        assert_int_equal(plan->best.sums.change, 0);
        assert_true(plan->adopted.possible);
        assert_int_equal(plan_total(&plan->best), plan_total(&plan->adopted));
        assert_int_equal(plan->gone, 1 - first);
        plan_free(plan);
    }
    /* what can't be any more is shown as such; 2 % of 90,000.00 for the change of it */
    write_adopted(path, "replace,a,2027,,\nreplace,b,2027,,\n");
    assert_int_equal(plan_make(portfolio, &settings, &never, &plan, NULL), OUTLAY_OK);
    assert_false(plan->adopted.possible);
    assert_int_equal(plan->adopted.over, 1);
    assert_int_equal(plan->best.sums.change, 180000);
    /* it was read once: scenarios have the same price of change without the file */
    unlink(path);
    assert_int_equal(plan_scenarios(plan, portfolio, &never, NULL), OUTLAY_OK);
    assert_string_equal(plan->scenarios[2].name, "caps +10 %");
    assert_int_equal(plan->scenarios[2].course.sums.change, 180000);
    plan_free(plan);
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        write_adopted(path, bad[i].rows);
        assert_int_equal(plan_make(portfolio, &settings, &never, &plan, &err),
                         OUTLAY_E_USAGE);
        assert_non_null(strstr(err.what, bad[i].what));
        assert_non_null(strstr(err.where, bad[i].where));
    }
    unlink(path);
    portfolio_free(portfolio);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_an_adopted_plan_is_kept),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
