/* Cutting rolls and boards, counted by hand. Lengths in ft where they are whole. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <stdlib.h>

#include "order/cutting.h"

/* What a sheet was cut into: its length and a lap for each part but the last. */
static void check_sheet(const struct roll_cuts *cuts, int number, double length)
{
    double sum = 0;
    int parts = 0, said = 0;

    for (size_t i = 0; i < cuts->piece_count; i++)
        if (cuts->pieces[i].sheet == number) {
            sum += cuts->pieces[i].length;
            parts++;
            said = cuts->pieces[i].parts;
        }
    assert_int_equal(parts, said);
    assert_true(fabs(sum - length - 0.25 * (parts - 1)) < 1e-6);
}

/* Rolls come one after the other, and nothing is cut from one that isn't left of it. */
static void check_rolls(const struct roll_cuts *cuts)
{
    double rest = 0;
    int roll = 0;

    for (size_t i = 0; i < cuts->piece_count; i++) {
        const struct roll_piece *piece = &cuts->pieces[i];

        assert_in_range(piece->roll - roll, 0, 1);
        rest = piece->roll == roll ? rest : 100;
        roll = piece->roll;
        assert_true(piece->length > 0);
        rest -= piece->length;
        assert_true(rest > -1e-6);
        assert_true(fabs(rest - piece->rest) < 1e-6);
    }
    assert_int_equal(roll, cuts->rolls);
}

/* Sheets are numbered from 1. */
static struct roll_cuts cut(const double *lengths, size_t count)
{
    struct outlay_error err = {0};
    struct roll_cuts out;
    struct roll_sheet sheets[60];
    struct arena *arena = arena_new();

    assert_non_null(arena);
    for (size_t i = 0; i < count; i++)
        sheets[i] = (struct roll_sheet){(int)i + 1, 0, lengths[i], NAN};
    assert_int_equal(rolls_cut(arena, sheets, count, 100, 0.25, 10, &out, &err),
                     OUTLAY_OK);
    for (size_t i = 0; i < count; i++)
        check_sheet(&out, (int)i + 1, lengths[i]);
    check_rolls(&out);
    out.pieces = NULL; /* the arena's */
    arena_free(arena);
    return out;
}

/* 60 + 40 and 70 + 30 fill two rolls, in whatever order they come. */
static void test_rests_are_used(void **state)
{
    const double lengths[] = {30, 60, 40, 70};
    struct roll_cuts cuts = cut(lengths, 4);

    (void)state;
    assert_int_equal(cuts.rolls, 2);
    assert_int_equal(cuts.bound, 2);
    assert_int_equal(cuts.joints, 0);
    assert_false(cuts.run_on);
    assert_true(fabs(cuts.used - 200) < 1e-9);
}

/* Ten sheets of 60 ft: whole ones need ten rolls; run on, 600 ft and the laps between
 * need seven: 60, 40 + 20.25, 60, 19.75 + 40.5, 59.5 + ... */
static void test_sheets_run_on(void **state)
{
    double lengths[10];
    struct roll_cuts cuts;

    (void)state;
    for (size_t i = 0; i < 10; i++)
        lengths[i] = 60;
    cuts = cut(lengths, 10);
    assert_true(cuts.run_on);
    assert_int_equal(cuts.bound, 6);
    assert_int_equal(cuts.rolls, 7);
    assert_true(fabs(cuts.used - 600 - 0.25 * (double)cuts.joints) < 1e-9);
}

/* 250 ft: 100 + 100 + 50.5 with two end laps of 0.25. */
static void test_long_sheet(void **state)
{
    const double length = 250;
    struct roll_cuts cuts = cut(&length, 1);

    (void)state;
    assert_int_equal(cuts.rolls, 3);
    assert_int_equal(cuts.joints, 2);
    assert_true(fabs(cuts.used - 250.5) < 1e-9);
    assert_true(fabs(cuts.rest - 49.5) < 1e-9);
}

/* 105 ft: 100 + 5.25 would leave a tail under 10 ft, so the first piece is 95.25. */
static void test_no_short_tail(void **state)
{
    const double length = 105;
    struct roll_cuts cuts = cut(&length, 1);

    (void)state;
    assert_int_equal(cuts.rolls, 2);
    assert_int_equal(cuts.joints, 1);
    assert_true(fabs(cuts.used - 105.25) < 1e-9);
}

/* A rest of 9 ft isn't used, one of 10 ft is. */
static void test_least_offcut(void **state)
{
    const double short_rest[] = {91, 9};
    const double usable[] = {90, 10};

    (void)state;
    assert_int_equal(cut(short_rest, 2).rolls, 2);
    assert_int_equal(cut(usable, 2).rolls, 1);
}

static void test_nothing(void **state)
{
    (void)state;
    assert_int_equal(cut(NULL, 0).rolls, 0);
}

/* By chance: never under the bound, never over what the header promises. */
static void test_bounds(void **state)
{
    uint32_t seed = 7;

    (void)state;
    for (int round = 0; round < 300; round++) {
        double lengths[60];
        double sum = 0;
        size_t count = 1 + (size_t)round % 60;
        struct roll_cuts cuts;

        for (size_t i = 0; i < count; i++) {
            seed = seed * 1664525u + 1013904223u;
            lengths[i] = 0.5 + (double)(seed >> 8) / (1 << 24) * 260;
            sum += lengths[i];
        }
        cuts = cut(lengths, count);
        assert_true(cuts.rolls >= cuts.bound);
        assert_true((double)cuts.rolls * 100 >= cuts.used - 1e-6);
        assert_true((double)cuts.rolls <= cuts.used / 80 + 1);
        assert_true(fabs(cuts.used - sum - 0.25 * (double)cuts.joints) < 1e-6);
    }
}

static struct board_cuts boards(struct cut_piece *pieces, size_t count)
{
    struct outlay_error err = {0};
    struct board_cuts out;
    struct arena *arena = arena_new();

    assert_non_null(arena);
    assert_int_equal(boards_cut(arena, pieces, count, 8, 4, &out, &err), OUTLAY_OK);
    arena_free(arena);
    return out;
}

/* The 3 ft that a row ends with come from the 5 ft that are left of another's 3. */
static void test_offcut_starts_next_row(void **state)
{
    struct cut_piece pieces[] = {{3, 4}, {5, 4}, {3, 4}, {5, 4}};

    (void)state;
    assert_int_equal(boards(pieces, 4).boards, 2);
}

/* Ripped to 2 ft, a board gives two strips; turned, a 4 x 2 fits beside a 6 x 4. */
static void test_ripped_and_turned(void **state)
{
    struct cut_piece strips[] = {{8, 2}, {8, 2}, {8, 2}};
    struct cut_piece turned[] = {{6, 4}, {4, 2}};

    (void)state;
    assert_int_equal(boards(strips, 3).boards, 2);
    assert_int_equal(boards(turned, 2).boards, 1);
    assert_int_equal(boards(NULL, 0).boards, 0);
}

/* By chance: between the area bound and a board a piece. */
static void test_board_bounds(void **state)
{
    uint32_t seed = 11;

    (void)state;
    for (int round = 0; round < 200; round++) {
        struct cut_piece pieces[80];
        size_t count = 1 + (size_t)round % 80;
        struct board_cuts cuts;

        for (size_t i = 0; i < count; i++) {
            seed = seed * 1664525u + 1013904223u;
            pieces[i].length = 0.1 + (double)(seed >> 20) / 4096 * 7.9;
            pieces[i].width = 0.1 + (double)(seed >> 8 & 4095) / 4096 * 3.9;
        }
        cuts = boards(pieces, count);
        assert_true(cuts.boards >= cuts.bound);
        assert_true(cuts.boards <= count);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_rests_are_used),
        cmocka_unit_test(test_sheets_run_on),
        cmocka_unit_test(test_long_sheet),
        cmocka_unit_test(test_no_short_tail),
        cmocka_unit_test(test_least_offcut),
        cmocka_unit_test(test_nothing),
        cmocka_unit_test(test_bounds),
        cmocka_unit_test(test_offcut_starts_next_row),
        cmocka_unit_test(test_ripped_and_turned),
        cmocka_unit_test(test_board_bounds),
    };

    return cmocka_run_group_tests_name("order/cutting", tests, NULL, NULL);
}
