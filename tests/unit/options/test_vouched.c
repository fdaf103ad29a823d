/* Decisions and confirmations: what they close, and what is refused and where. */

#define _DEFAULT_SOURCE /* mkstemps */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "../temporary.h"
#include "options/settings.h"

#define DECISION "assumption,decision,who,when,roof_id,building\n"
#define SOURCE "assumption,name,value,unit,source,who,when\n"
#define RATING "ratings,\"seam-fastened, 10 ft sheet, steel deck, 60 psf\","

static enum outlay_status resolve(struct settings *settings, const char *decisions,
                                  const char *confirmed, struct outlay_error *err)
{
    char paths[2][TEMPORARY_MOST];
    const char *texts[2] = {decisions, confirmed};
    enum outlay_status status;

    settings_init(settings);
    for (int i = 0; i < 2; i++) {
        int file = mkstemps(temporary_name(paths[i], "vouched-XXXXXX.csv"), 4);

        assert_true(file >= 0);
        assert_int_equal(write(file, texts[i], strlen(texts[i])), strlen(texts[i]));
        close(file);
    }
    settings->decisions_path = paths[0];
    settings->confirmed_path = paths[1];
    status = settings_resolve(settings, err);
    unlink(paths[0]);
    unlink(paths[1]);
    return status;
}

static uint64_t closed_on(const struct settings *settings, const char *id,
                          const char *building, struct roof *roof)
{
    struct arena *arena = arena_new();
    uint64_t closed = 0;

    *roof = (struct roof){.id = id, .building = building};
    assert_int_equal(closings_apply(arena, roof, &settings->closings), OUTLAY_OK);
    closed = roof->closed;
    arena_free(arena);
    return closed;
}

static void they_close_what_they_name_where_they_hold(void **state)
{
    struct outlay_error err = {0};
    struct settings settings;
    struct roof roof;

    (void)state;
    assert_int_equal(resolve(&settings,
                             DECISION "step,free edge,N. N.,2026-11-20,,\n"
                                      "reentrant,no,N. N.,2026-11-20,7,\n"
                                      "mid-rise,tall,N. N.,2026-11-20,,Tower\n",
                             SOURCE "coefficients,asce7-22,,,the print,N. N.,2026-11-20\n"
                                    "coefficients,asce7-16,,,the print,N. N.,2026-11-20\n"
                                    "prices,,,,price lists,N. N.,2026-11-20\n",
                             &err),
                     OUTLAY_OK);
    assert_int_equal(closed_on(&settings, "7", NULL, &roof),
                     ASSUMPTION_BIT(ASSUME_STEP) | ASSUMPTION_BIT(ASSUME_REENTRANT) |
                         ASSUMPTION_BIT(ASSUME_COEFFICIENTS) |
                         ASSUMPTION_BIT(ASSUME_PRICES));
    assert_int_equal(closed_on(&settings, "8", "Tower", &roof),
                     ASSUMPTION_BIT(ASSUME_STEP) | ASSUMPTION_BIT(ASSUME_MID_RISE) |
                         ASSUMPTION_BIT(ASSUME_COEFFICIENTS) |
                         ASSUMPTION_BIT(ASSUME_PRICES));
    settings_release(&settings);
}

static void a_closed_assumption_acts_but_isnt_open(void **state)
{
    struct roof roof = {.closed = ASSUMPTION_BIT(ASSUME_STEP)};

    (void)state;
    roof_assume(&roof, ASSUME_STEP);
    roof_assume(&roof, ASSUME_PULLOUT);
    assert_int_equal(roof.assumed, ASSUMPTION_BIT(ASSUME_PULLOUT));
    assert_int_equal(roof.settled, ASSUMPTION_BIT(ASSUME_STEP));
    assert_int_equal(roof_open(&roof), ASSUMPTION_BIT(ASSUME_PULLOUT) << ESTIMATES);
}

/* A rating closes nothing for other assemblies. */
static void a_rating_is_one_assemblys(void **state)
{
    struct outlay_error err = {0};
    struct settings settings;
    struct roof roof;
    const struct assembly *assembly = NULL;
    char text[300];

    (void)state;
    settings_init(&settings);
    assert_int_equal(settings_resolve(&settings, &err), OUTLAY_OK);
    assembly = &settings.catalog.assemblies[0];
    snprintf(text, sizeof text, SOURCE "ratings,\"%s\",%.1f,psf,report 7,N. N.,%s\n",
             assembly->name, assembly->rating / PA_PER_PSF, "2026-11-20");
    settings_release(&settings);
    assert_int_equal(resolve(&settings, DECISION, text, &err), OUTLAY_OK);
    assert_int_equal(settings.closings.count, 1);
    assert_false(settings.closings.rows[0].idle);
    roof = (struct roof){.id = "7"};
    assert_int_equal(closings_apply(settings.catalog.arena, &roof, &settings.closings),
                     OUTLAY_OK);
    assert_int_equal(roof.closed, 0);
    assert_non_null(
        roof_closing(&roof, ASSUME_RATINGS, settings.catalog.assemblies[0].name));
    assert_null(roof_closing(&roof, ASSUME_RATINGS, settings.catalog.assemblies[1].name));
    settings_release(&settings);
}

struct refusal {
    const char *decisions, *confirmed;
    const char *what, *column;
};

static void what_cant_be_closed_so_is_refused(void **state)
{
    static const struct refusal refusals[] = {
        {DECISION "stepp,x,N. N.,2026-11-20,,\n", SOURCE, "no assumption has this name",
         "row 2, column assumption"},
        {DECISION "pullout-untested,x,N. N.,2026-11-20,,\n", SOURCE, "site visit",
         "column assumption"},
        {DECISION "prices,x,N. N.,2026-11-20,,\n", SOURCE, "takes a source",
         "column assumption"},
        {DECISION "layout,x,N. N.,2026-11-20,,\n", SOURCE, "nobody can vouch",
         "column assumption"},
        {DECISION "step,,N. N.,2026-11-20,,\n", SOURCE, "empty", "column decision"},
        {DECISION "step,x,,2026-11-20,,\n", SOURCE, "empty", "column who"},
        {DECISION "step,x,N. N.,1900-01-01,,\n", SOURCE, "not a day", "column when"},
        {DECISION "reentrant,yes,N. N.,2026-11-20,,\n", SOURCE,
         "this run goes by another one", "column decision"},
        {DECISION "mid-rise,low,N. N.,2026-11-20,,\n", SOURCE,
         "this run goes by another one", "column decision"},
        {DECISION "stepped,level,N. N.,2026-11-20,,\n", SOURCE,
         "this run goes by another one", "column decision"},
        {DECISION, SOURCE "step,,,,x,N. N.,2026-11-20\n", "takes a decision",
         "column assumption"},
        {DECISION, SOURCE "coefficients,,,,x,N. N.,2026-11-20\n", "no wind standard",
         "column name"},
        {DECISION, SOURCE "ratings,Best,60,psf,x,N. N.,2026-11-20\n", "no assembly",
         "column name"},
        {DECISION, SOURCE RATING "60,lbf,x,N. N.,2026-11-20\n", "value and unit",
         "column value"},
        {DECISION, SOURCE RATING "600,psf,x,N. N.,2026-11-20\n", "another rating",
         "column value"},
        {"assumption,decision,when\nstep,x,2026-11-20\n", SOURCE, "no column \"who\"",
         ".csv"},
    };

    (void)state;
    for (size_t i = 0; i < sizeof refusals / sizeof refusals[0]; i++) {
        const struct refusal *refusal = &refusals[i];
        struct outlay_error err = {0};
        struct settings settings;

        assert_int_equal(resolve(&settings, refusal->decisions, refusal->confirmed, &err),
                         OUTLAY_E_USAGE);
        if (!strstr(err.what, refusal->what) || !strstr(err.where, refusal->column))
            fail_msg("%s: %s: %s", refusal->what, err.where, err.what);
        settings_release(&settings);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(they_close_what_they_name_where_they_hold),
        cmocka_unit_test(a_closed_assumption_acts_but_isnt_open),
        cmocka_unit_test(a_rating_is_one_assemblys),
        cmocka_unit_test(what_cant_be_closed_so_is_refused),
    };

    return cmocka_run_group_tests_name("vouched", tests, NULL, NULL);
}
