/* Problems by kind: each once, with its roofs; what all share, once. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "flow/tally.h"
#include "write/tables.h"

struct fixture {
    struct arena *arena;
    struct tally *tally;
    struct write_settings set;
    size_t count;         /* roofs so far */
    struct text messages; /* a line each */
    struct text withdrawn;
    struct grid *rows;
};

static int open_fixture(void **state)
{
    static struct fixture fixture;
    fixture = (struct fixture){.arena = arena_new(), .tally = tally_new()};
    fixture.set.units = &unit_system_us;
    fixture.rows = grid_new(&problems_sheet, &fixture.set);
    *state = &fixture;
    return fixture.arena && fixture.tally && fixture.rows ? 0 : -1;
}

static int close_fixture(void **state)
{
    struct fixture *fixture = *state;
    arena_free(fixture->arena);
    tally_free(fixture->tally);
    text_release(&fixture->messages);
    text_release(&fixture->withdrawn);
    grid_free(fixture->rows);
    return 0;
}

static struct roof new_roof(struct fixture *fixture, const char *id, bool zoned)
{
    return (struct roof){.id = id, .zoned = zoned, .position = fixture->count++};
}

static void add(struct fixture *fixture, const struct roof *roof)
{
    assert_int_equal(tally_roof(fixture->tally, roof, NULL), OUTLAY_OK);
}

/* A roof with one problem, or with none for NULL. */
static void add_one(struct fixture *fixture, const char *id, bool zoned,
                    enum problem_code code, const char *what)
{
    struct roof roof = new_roof(fixture, id, zoned);
    if (what)
        roof_problem(fixture->arena, &roof, code, "kept", "%s", what);
    add(fixture, &roof);
}

static void see(void *user, const struct outlay_message *message)
{
    static const char *const kinds[] = {"note", "warning", "error"};
    struct fixture *fixture = user;
    text_printf(&fixture->messages, "%s: %s: %s: %s\n", kinds[message->kind],
                message->what, message->where, message->todo);
}

static enum outlay_status withdraw(void *self, const struct grid *row,
                                   struct outlay_error *err)
{
    struct fixture *fixture = self;
    (void)err;
    grid_csv_rows(&fixture->withdrawn, row);
    return OUTLAY_OK;
}

static void expect(struct fixture *fixture, const char *messages, const char *withdrawn,
                   const char *shared)
{
    struct sink sink = {.self = fixture, .withdraw = withdraw};
    struct messages to = {.show = see, .show_user = fixture};
    struct text rows = TEXT_INIT;
    tally_send(fixture->tally, "in.gpkg", &to);
    assert_string_equal(fixture->messages.data ? fixture->messages.data : "", messages);
    assert_int_equal(
        tally_share(fixture->tally, &sink, &fixture->set, fixture->rows, NULL),
        OUTLAY_OK);
    grid_csv_rows(&rows, fixture->rows);
    assert_string_equal(fixture->withdrawn.data ? fixture->withdrawn.data : "",
                        withdrawn);
    assert_string_equal(rows.data ? rows.data : "", shared);
    text_release(&rows);
}

static void each_kind_is_said_once(void **state)
{
    struct fixture *fixture = *state;
    add_one(fixture, "a", true, PROBLEM_OVERLAP, "with b");
    add_one(fixture, "b", true, PROBLEM_OVERLAP, "with c");
    add_one(fixture, "c", true, PROBLEM_LOW_SPEED, "slow");
    add_one(fixture, "d", true, PROBLEM_LOW_SPEED, "slow");
    add_one(fixture, "e", false, PROBLEM_ZERO_AREA, "nothing");
    add_one(fixture, "f", true, PROBLEM_ROUNDED_AWAY, "thin");
    add_one(fixture, "g", true, PROBLEM_UNBOARDED, "strip");
    add_one(fixture, "h", true, PROBLEM_UNBOARDED, "strip");
    expect(fixture,
           "error: zero-area: nothing: in.gpkg, roof e: kept\n"
           "warning: roofs-overlap: with b: in.gpkg, roof a and 1 more like it: kept\n"
           "warning: wind-speed-low: slow: in.gpkg, roof c and 1 more: kept\n"
           "note: notes on roofs: strips-without-board (2), zone-rounded-away (1): "
           "in.gpkg: \n",
           "", "");
}

static void a_value_is_a_kind_a_role(void **state)
{
    struct fixture *fixture = *state;
    static const char wet[] = "wet_share", slope[] = "slope";
    for (int i = 0; i < 3; i++) {
        struct roof roof = new_roof(fixture, i ? "b" : "a", true);
        roof_problem(fixture->arena, &roof, PROBLEM_VALUE_RANGE, "ignored", "wet %d", i)
            ->field = wet;
        if (i == 1)
            roof_problem(fixture->arena, &roof, PROBLEM_VALUE_RANGE, "ignored", "steep")
                ->field = slope;
        add(fixture, &roof);
    }
    expect(fixture,
           "warning: value-out-of-range: wet 0: in.gpkg, roof a and 2 more like it: "
           "ignored\n"
           "warning: value-out-of-range: steep: in.gpkg, roof b: ignored\n",
           "", "");
}

/* What no roof has is no roof "like it". */
static void features_of_no_roof(void **state)
{
    add_one(*state, "", false, PROBLEM_FEATURE_UNUSED, "D1, drain: no roof contains it");
    add_one(*state, "", false, PROBLEM_FEATURE_UNUSED, "W, wall: no outline runs near");
    add_one(*state, "", false, PROBLEM_FEATURE_TWICE, "S1, scupper: two roofs have it");
    expect(
        *state,
        "warning: feature-unused: D1, drain: no roof contains it: the first of 2 of its "
        "kind; the list of problems has all: kept\n"
        "warning: feature-twice: S1, scupper: two roofs have it: a file beside the "
        "outlines: kept\n",
        "", "");
}

static void a_roof_counts_once(void **state)
{
    struct fixture *fixture = *state;
    struct roof roof = new_roof(fixture, "a", true);
    roof_problem(fixture->arena, &roof, PROBLEM_REPAIRED, "kept", "one ring");
    roof_problem(fixture->arena, &roof, PROBLEM_REPAIRED, "kept", "another");
    add(fixture, &roof);
    expect(fixture, "warning: outline-repaired: one ring: in.gpkg, roof a: kept\n", "",
           "");
}

static void what_all_share_is_one_row(void **state)
{
    struct fixture *fixture = *state;
    add_one(fixture, "a", true, PROBLEM_LOW_SPEED, "slow");
    add_one(fixture, "b", true, PROBLEM_LOW_SPEED, "slow");
    expect(fixture, "warning: wind-speed-low: slow: in.gpkg, all 2 roofs: kept\n",
           ",warning,wind-speed-low,slow,kept,\n",
           ",warning,wind-speed-low,each of the 2 roofs: slow,kept,\n");
}

static void roofs_left_out_do_not_part_the_others(void **state)
{
    struct fixture *fixture = *state;
    add_one(fixture, "a", true, PROBLEM_LOW_SPEED, "slow");
    add_one(fixture, "b", false, PROBLEM_HEIGHT_MISSING, "no height");
    add_one(fixture, "c", true, PROBLEM_LOW_SPEED, "slow");
    expect(fixture,
           "error: height-missing: no height: in.gpkg, roof b: kept\n"
           "warning: wind-speed-low: slow: in.gpkg, all 2 zoned roofs: kept\n",
           ",warning,wind-speed-low,slow,kept,\n",
           ",warning,wind-speed-low,each of the 2 zoned roofs: slow,kept,\n");
}

static void other_words_keep_their_rows(void **state)
{
    struct fixture *fixture = *state;
    add_one(fixture, "a", true, PROBLEM_LOW_SPEED, "slow");
    add_one(fixture, "b", true, PROBLEM_LOW_SPEED, "slower");
    expect(fixture,
           "warning: wind-speed-low: slow: in.gpkg, roof a and 1 more like it: kept\n",
           "", "");
}

static void one_roof_without_it_keeps_all_rows(void **state)
{
    struct fixture *fixture = *state;
    add_one(fixture, "a", true, PROBLEM_LOW_SPEED, "slow");
    add_one(fixture, "b", true, PROBLEM_LOW_SPEED, "slow");
    add_one(fixture, "c", true, PROBLEM_LOW_SPEED, NULL);
    expect(fixture, "warning: wind-speed-low: slow: in.gpkg, roof a and 1 more: kept\n",
           "", "");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, open_fixture, close_fixture)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(each_kind_is_said_once),      TEST(a_value_is_a_kind_a_role),
        TEST(features_of_no_roof),         TEST(a_roof_counts_once),
        TEST(what_all_share_is_one_row),   TEST(roofs_left_out_do_not_part_the_others),
        TEST(other_words_keep_their_rows), TEST(one_roof_without_it_keeps_all_rows),
    };
    return cmocka_run_group_tests_name("flow/tally", tests, NULL, NULL);
}
