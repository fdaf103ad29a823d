#include "order/cutting.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Lengths that differ by less are equal, m. */
#define SAME 1e-6

static int falling(const void *a, const void *b)
{
    const double *x = a;
    const double *y = b;

    return (*x < *y) - (*x > *y);
}

/* Rolls for the whole ones of a sheet, and what the last piece of it measures: each
 * roll but the first brings an end lap, and no piece is shorter than the offcut. */
static double split_long(double length, double roll, double lap, double offcut,
                         struct roll_cuts *out)
{
    while (length > roll + SAME) {
        double piece = roll;

        if (length - piece + lap < offcut)
            piece = length + lap - offcut;
        length += lap - piece;
        out->used += piece;
        out->rolls++;
        out->joints++;
    }
    return length;
}

/* rests: room for a rest a sheet. */
static void cut_whole(double *rests, const double *sorted, size_t count, double roll,
                      double offcut, struct roll_cuts *out)
{
    size_t open = 0;

    for (size_t i = 0; i < count; i++) {
        double piece = sorted[i];
        size_t at = 0;

        while (at < open && rests[at] < piece - SAME)
            at++;
        if (at == open) {
            rests[open++] = roll;
            out->rolls++;
        }
        rests[at] -= piece;
        out->used += piece;
        if (rests[at] < offcut - SAME) {
            memmove(&rests[at], &rests[at + 1], (open - at - 1) * sizeof *rests);
            open--;
        }
    }
    for (size_t i = 0; i < open; i++)
        out->rest = fmax(out->rest, rests[i]);
}

static void cut_run_on(const double *lengths, size_t count, double roll, double lap,
                       double offcut, struct roll_cuts *out)
{
    double rest = 0;

    for (size_t i = 0; i < count; i++) {
        double left = lengths[i];

        while (left > SAME) {
            double piece = 0;

            if (rest < offcut - SAME) {
                rest = roll;
                out->rolls++;
            }
            piece = fmin(rest, left);
            if (piece < left - SAME && left - piece + lap < offcut)
                piece = fmax(left + lap - offcut, 0);
            if (piece < fmin(left, offcut) - SAME) {
                rest = 0; /* too short to start a sheet of this length */
                continue;
            }
            rest -= piece;
            out->used += piece;
            if (piece > left - SAME)
                break;
            left += lap - piece;
            out->joints++;
        }
    }
    out->rest = rest < offcut - SAME ? 0 : rest;
}

enum outlay_status rolls_cut(struct arena *arena, const double *lengths, size_t count,
                             double roll, double lap, double offcut,
                             struct roll_cuts *out, struct outlay_error *err)
{
    struct roll_cuts whole = {0};
    struct roll_cuts run_on = {.run_on = true};
    double *lasts = arena_array(arena, count, sizeof *lasts);
    double *rests = arena_array(arena, count + 1, sizeof *rests);
    double sum = 0;

    *out = whole;
    if (!lasts || !rests)
        return outlay_fail(err, OUTLAY_E_MEMORY, "cutting rolls");
    for (size_t i = 0; i < count; i++) {
        lasts[i] = split_long(lengths[i], roll, lap, offcut, &whole);
        sum += lengths[i];
    }
    if (count > 0)
        qsort(lasts, count, sizeof *lasts, falling);
    cut_whole(rests, lasts, count, roll, offcut, &whole);
    cut_run_on(lengths, count, roll, lap, offcut, &run_on);
    *out = run_on.rolls < whole.rolls ? run_on : whole;
    out->bound = (size_t)ceil(sum / roll - SAME);
    return OUTLAY_OK;
}

/* ---- Boards ---- */

/* Offcuts that are looked through; older ones are given up, which keeps the cost of a
 * large roof linear. */
#define OFFCUTS 256

struct offcuts {
    struct cut_piece pieces[OFFCUTS];
    size_t count;
};

static int larger_first(const void *a, const void *b)
{
    const struct cut_piece *x = a;
    const struct cut_piece *y = b;
    double p = x->length * x->width;
    double q = y->length * y->width;

    if (p < q || p > q)
        return (p < q) - (p > q);
    return (x->length < y->length) - (x->length > y->length);
}

static bool fits(struct cut_piece offcut, struct cut_piece piece)
{
    return piece.length <= offcut.length + SAME && piece.width <= offcut.width + SAME;
}

static void offcut_add(struct offcuts *offcuts, double length, double width)
{
    if (length < 0.05 || width < 0.05) /* dust, not boards (ours) */
        return;
    if (offcuts->count == OFFCUTS) {
        memmove(&offcuts->pieces[0], &offcuts->pieces[1],
                (OFFCUTS - 1) * sizeof offcuts->pieces[0]);
        offcuts->count--;
    }
    offcuts->pieces[offcuts->count++] = (struct cut_piece){length, width};
}

static void cut_from(struct offcuts *offcuts, struct cut_piece from,
                     struct cut_piece piece)
{
    offcut_add(offcuts, from.length - piece.length, from.width);
    offcut_add(offcuts, piece.length, from.width - piece.width);
}

static bool cut_offcut(struct offcuts *offcuts, struct cut_piece piece)
{
    struct cut_piece turned = {piece.width, piece.length};

    for (size_t i = 0; i < offcuts->count; i++) {
        struct cut_piece from = offcuts->pieces[i];
        bool straight = fits(from, piece);

        if (!straight && !fits(from, turned))
            continue;
        memmove(&offcuts->pieces[i], &offcuts->pieces[i + 1],
                (offcuts->count - i - 1) * sizeof from);
        offcuts->count--;
        cut_from(offcuts, from, straight ? piece : turned);
        return true;
    }
    return false;
}

enum outlay_status boards_cut(struct arena *arena, struct cut_piece *pieces, size_t count,
                              double length, double width, struct board_cuts *out,
                              struct outlay_error *err)
{
    struct cut_piece board = {length, width};
    struct offcuts *offcuts = arena_alloc(arena, sizeof *offcuts);
    double area = 0;

    *out = (struct board_cuts){0};
    if (!offcuts)
        return outlay_fail(err, OUTLAY_E_MEMORY, "cutting boards");
    offcuts->count = 0;
    for (size_t i = 0; i < count; i++) {
        pieces[i].length = fmin(pieces[i].length - BOARD_JOINT, length);
        pieces[i].width = fmin(pieces[i].width - BOARD_JOINT, width);
        area += pieces[i].length * pieces[i].width;
    }
    if (count > 0)
        qsort(pieces, count, sizeof *pieces, larger_first);
    for (size_t i = 0; i < count; i++) {
        if (cut_offcut(offcuts, pieces[i]))
            continue;
        out->boards++;
        cut_from(offcuts, board, pieces[i]);
    }
    out->bound = (size_t)ceil(area / (length * width) - SAME);
    return OUTLAY_OK;
}
