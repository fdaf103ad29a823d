#define _DEFAULT_SOURCE /* mkstemps */

/* The form of findings: what is read, what is refused and where, what roofs get. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "../temporary.h"
#include "base/units.h"
#include "findings/findings.h"

#define HEAD "roof_id,place,kind,value,unit,who,when\n"
#define BY ",N. N.,2026-11-20\n"

static char path[TEMPORARY_MOST];

static struct findings *read_text(const char *text)
{
    struct outlay_error err = {0};
    struct findings *findings = NULL;
    int file = mkstemps(temporary_name(path, "findings-XXXXXX.csv"), 4);
    size_t length = strlen(text);

    assert_true(file >= 0);
    assert_int_equal(write(file, text, length), length);
    close(file);
    assert_int_equal(findings_open(path, &findings, &err), OUTLAY_OK);
    unlink(path);
    return findings;
}

static struct roof roof_of(const char *id)
{
    return (struct roof){.id = id, .given = attributes_missing()};
}

static void values_take_units_of_their_own_or_their_column(void **state)
{
    struct findings *findings = read_text(
        HEAD "7,H1,height,31.5,ft" BY "7,C1,stack,4 1/2 in," BY "7,D1,deck,Metal deck," BY
             "7,M1,wet_share,6,%" BY "7,,drains,3," BY "7,P1,pullout,412 lbf," BY
             "7,P2,pullout,,lbf,,\n"
             "8,H1,height,9,m" BY);
    struct roof roof = roof_of("7");
    struct arena *arena = arena_new();

    (void)state;
    assert_null(findings->doubts);
    assert_int_equal(findings->count, 7);
    assert_int_equal(findings_apply(arena, &roof, findings), OUTLAY_OK);
    assert_int_equal(roof.finding_count, 6);
    assert_true(fabs(roof.given.height - 31.5 * M_PER_FT) < 1e-9);
    assert_true(fabs(roof.given.stack - 4.5 * M_PER_IN) < 1e-9);
    assert_int_equal(roof.given.deck, DECK_STEEL);
    assert_true(fabs(roof.given.wet_share - 0.06) < 1e-9);
    assert_int_equal(roof.given.drains, 3);
    assert_true(isnan(roof.given.pullout)); /* the deck's tests decide together */
    assert_int_equal(roof.verified, 1u << FINDING_HEIGHT | 1u << FINDING_STACK |
                                        1u << FINDING_DECK | 1u << FINDING_WET_SHARE |
                                        1u << FINDING_DRAINS);
    assert_string_equal(roof.findings[0]->text, "31.5 ft");
    assert_string_equal(roof.findings[0]->when, "2026-11-20");
    arena_free(arena);
    findings_close(findings);
}

struct mistake {
    const char *row;
    const char *column;
    const char *what;
};

static void mistakes_name_row_and_column(void **state)
{
    static const struct mistake mistakes[] = {
        {"7,X9,height,30,ft" BY, "column place", "\"X9\" isn't a place for height"},
        {"7,P1,height,30,ft" BY, "column place", "\"P1\" isn't a place for height"},
        {"7,H1,hight,30,ft" BY, "column kind", "\"hight\" isn't a kind"},
        {"7,H1,height,30,lbf" BY, "column unit", "\"lbf\" is no unit of height: ft|in"},
        {"7,H1,height,30," BY, "column unit", "the unit of \"30\" is missing"},
        {"7,P1,pullout,380/420,lbf" BY, "column value", "looks like two values"},
        {"7,P1,pullout,4.2,psf" BY, "column unit", "\"psf\" is no unit of pullout"},
        {"7,D1,deck,cheese," BY, "column value", "isn't one of steel"},
        {"7,C1,wet,perhaps," BY, "column value", "neither yes nor no"},
        {"7,H1,height,4000,m" BY, "column value", "outside"},
        {",H1,height,30,ft" BY, "column roof_id", "the row has no point"},
        {"7,H1,height,30,ft,,2026-11-20\n", "column who", "empty"},
        {"7,H1,height,30,ft,N. N.,\n", "column when", "empty"},
        {"7,H1,height,30,ft,N. N.,1900-01-00\n", "column when", "\"1900-01-00\""},
        {"7,H1,height,30,ft,N. N.,1900-01-01\n", "column when", "\"1900-01-01\""},
        {"7,H1,height,30,ft,N. N.,2026-02-30\n", "column when", "\"2026-02-30\""},
        {"7,H1,height,30,ft,N. N.,46346\n", "column when", "\"46346\""},
    };

    (void)state;
    for (size_t i = 0; i < sizeof mistakes / sizeof mistakes[0]; i++) {
        char text[200];
        struct findings *findings = NULL;

        snprintf(text, sizeof text, HEAD "%s", mistakes[i].row);
        findings = read_text(text);
        assert_non_null(findings->doubts);
        assert_null(findings->doubts->next);
        assert_non_null(strstr(findings->doubts->what, ".csv, row 2, "));
        assert_non_null(strstr(findings->doubts->what, mistakes[i].column));
        assert_non_null(strstr(findings->doubts->what, mistakes[i].what));
        findings_close(findings);
    }
}

static void two_values_of_one_place_are_none(void **state)
{
    struct findings *findings = read_text(
        HEAD "7,H1,height,30,ft" BY "7,H1,height,32,ft" BY "8,H1,height,30,ft" BY
             "8,H1,height,30,ft" BY "9,P1,pullout,400,lbf" BY "9,P1,pullout,500,lbf" BY);
    struct roof roof = roof_of("7");
    struct arena *arena = arena_new();

    (void)state;
    assert_non_null(strstr(findings->doubts->what, "row 3, column value: 32 ft at H1"));
    assert_non_null(strstr(findings->doubts->what, "row 2 says 30 ft"));
    assert_non_null(findings->doubts->next);
    assert_int_equal(findings_apply(arena, &roof, findings), OUTLAY_OK);
    assert_int_equal(roof.verified, 0);
    roof = roof_of("8");
    assert_int_equal(findings_apply(arena, &roof, findings), OUTLAY_OK);
    assert_int_equal(roof.finding_count, 1);
    roof = roof_of("9"); /* the test is there, without a value: the deck is unknown */
    assert_int_equal(findings_apply(arena, &roof, findings), OUTLAY_OK);
    assert_int_equal(roof.finding_count, 1);
    assert_true(isnan(roof.findings[0]->value));
    arena_free(arena);
    findings_close(findings);
}

/* An unreadable test may have been the weakest. */
static void a_pullout_that_cant_be_read_isnt_dropped(void **state)
{
    struct findings *findings =
        read_text(HEAD "7,P1,pullout,410,lbf" BY "7,P2,pullout,410,pounds" BY
                       "7,P3,pull test,210,lbf" BY);
    struct roof roof = roof_of("7");
    struct arena *arena = arena_new();

    (void)state;
    assert_int_equal(findings_apply(arena, &roof, findings), OUTLAY_OK);
    assert_int_equal(roof.finding_count, 3);
    assert_true(isnan(roof.findings[1]->value));
    assert_true(isnan(roof.findings[2]->value)); /* its place says what it was */
    arena_free(arena);
    findings_close(findings);
}

static void a_place_may_have_several_pictures(void **state)
{
    struct findings *findings =
        read_text(HEAD "7,F1,photo,a.jpg," BY "7,F1,photo,b.jpg," BY);

    (void)state;
    assert_null(findings->doubts);
    assert_int_equal(findings->count, 2);
    findings_close(findings);
}

static void several_come_to_the_worse_or_to_none(void **state)
{
    struct findings *findings =
        read_text(HEAD "7,C1,stack,4,in" BY "7,C2,stack,5,in" BY "7,E1,parapet,36,in" BY
                       "7,E2,parapet,30,in" BY "7,E1,edge,parapet," BY
                       "7,E2,edge,metal," BY "7,C1,wet,yes," BY "7,C2,wet,no," BY
                       "7,D1,deck_bearing,5," BY "7,D2,deck_bearing,184," BY);
    struct roof roof = roof_of("7");
    struct arena *arena = arena_new();

    (void)state;
    assert_int_equal(findings_apply(arena, &roof, findings), OUTLAY_OK);
    assert_true(fabs(roof.given.stack - 5 * M_PER_IN) < 1e-9);
    assert_true(fabs(roof.given.parapet - 30 * M_PER_IN) < 1e-9);
    assert_true(fabs(roof.given.wet_share - 0.5) < 1e-9);
    assert_true(fabs(roof.given.deck_bearing - 5) < 1e-9);
    assert_int_equal(roof.given.edge, EDGE_NOT_GIVEN);
    assert_false(roof.verified & 1u << FINDING_EDGE);
    assert_int_equal(roof.problems->code, PROBLEM_FINDINGS_DIFFER);
    assert_non_null(strstr(roof.problems->what, "metal"));
    arena_free(arena);
    findings_close(findings);
}

static void lines_above_the_header_and_other_columns_are_passed_over(void **state)
{
    struct findings *findings =
        read_text("Planning figures,,,,,,,\n,,,,,,,\n"
                  "fid,Roof_ID,Place,KIND,Value,unit,Who,When\n"
                  "1,7,H1,height,30,ft,N. N.,2026/11/20 00:00:00\n");

    (void)state;
    assert_null(findings->doubts);
    assert_int_equal(findings->count, 1);
    assert_string_equal(findings->items[0].when, "2026-11-20");
    assert_non_null(strstr(findings->items[0].where, ", row 4"));
    findings_close(findings);
}

static void a_file_without_the_columns_is_refused(void **state)
{
    struct outlay_error err = {0};
    struct findings *findings = NULL;

    (void)state;
    assert_int_equal(findings_open("/nowhere/findings.csv", &findings, &err),
                     OUTLAY_E_USAGE);
    findings_close(findings);
    assert_int_equal(findings_open(TESTDATA "/catalogs/small.csv", &findings, &err),
                     OUTLAY_E_USAGE);
    assert_non_null(strstr(err.what, "kind"));
    findings_close(findings);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(values_take_units_of_their_own_or_their_column),
        cmocka_unit_test(mistakes_name_row_and_column),
        cmocka_unit_test(two_values_of_one_place_are_none),
        cmocka_unit_test(a_pullout_that_cant_be_read_isnt_dropped),
        cmocka_unit_test(a_place_may_have_several_pictures),
        cmocka_unit_test(several_come_to_the_worse_or_to_none),
        cmocka_unit_test(lines_above_the_header_and_other_columns_are_passed_over),
        cmocka_unit_test(a_file_without_the_columns_is_refused),
    };

    return cmocka_run_group_tests_name("findings", tests, NULL, NULL);
}
