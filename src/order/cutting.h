#ifndef OUTLAY_ORDER_CUTTING_H
#define OUTLAY_ORDER_CUTTING_H

/**
 * @file order/cutting.h
 * How many rolls and boards the pieces of a layout are cut from. Private to order/.
 *
 * Rolls, two ways, of which the one with fewer rolls is taken, the first when equal:
 *  - whole: each sheet in one piece (longer ones end to end with an end lap), longest
 *    first, into the first roll whose rest is long enough: first-fit decreasing, never
 *    more than 11/9 of the best such cutting + 6/9 (Dosa 2007, from memory).
 *  - run on: each sheet begins with the rest of the last roll, joined by an end lap, as
 *    crews do. No rest under the least offcut is used and no piece of a sheet is shorter,
 *    so a roll loses less than two: rolls <= used / (roll - 2 offcut) + 1.
 * No way needs fewer than sum / roll: `bound`.
 *
 * Boards: pieces by their boxes, largest first, into the first offcut that holds them,
 * either way round; what is left of an offcut is cut straight through into two. No way
 * needs fewer than the pieces' area / board.
 */

#include <stdbool.h>
#include <stddef.h>

#include "base/arena.h"
#include "outlay/status.h"
#include "roof/bill.h"

/** Pieces of boards are cut this much short: a joint, m (ours). */
#define BOARD_JOINT 2e-3

/** What is cut from rolls: a sheet, or two half sheets side by side. */
struct roll_sheet {
    int number;
    int beside;           /**< 0: none */
    double length;        /**< m, > 0 */
    double beside_length; /**< at most length; NAN: none */
};

struct roll_cuts {
    double used; /**< pieces with their end laps, m */
    size_t rolls;
    size_t bound;  /**< least number of rolls */
    size_t joints; /**< end laps */
    double rest;   /**< longest that is left of one roll and long enough for use, m; 0 */
    bool run_on;
    struct roll_piece *pieces; /**< roll by roll; use and width are left to the caller */
    size_t piece_count;
};

/**
 * @param roll     length, m, > 2 x offcut
 * @param lap      of an end lap, m, < offcut
 * @param offcut   least length that is used again, m
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status rolls_cut(struct arena *arena, const struct roll_sheet *sheets,
                             size_t count, double roll, double lap, double offcut,
                             struct roll_cuts *out,
                             struct outlay_error *err) OUTLAY_MUST_CHECK;

/** A piece of a board, m. */
struct cut_piece {
    double length, width;
};

struct board_cuts {
    size_t boards;
    size_t bound;
};

/** @param pieces  at least 5 mm each way, none larger than a board but for a joint of
 *                 2 mm, less which each is cut; shortened and sorted by the call */
enum outlay_status boards_cut(struct arena *arena, struct cut_piece *pieces, size_t count,
                              double length, double width, struct board_cuts *out,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
