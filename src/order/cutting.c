#include "order/cutting.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/grow.h"

/* Lengths that differ by less are equal, m. */
#define SAME 1e-6

/* ---- Rolls ---- */

struct rules {
    double roll, lap, offcut;
};

/* A way of cutting as it grows. */
struct cutter {
    struct arena *arena;
    struct rules rules;
    struct roll_cuts cuts;
    size_t capacity;
    bool failed; /* out of memory */
};

static void add_piece(struct cutter *cutter, const struct roll_sheet *sheet, size_t roll,
                      int part, double length, double rest)
{
    struct roll_cuts *cuts = &cutter->cuts;
    struct roll_piece *pieces = grow_in(cutter->arena, cuts->pieces, cuts->piece_count, 1,
                                        &cutter->capacity, sizeof *pieces);

    cutter->failed = cutter->failed || !pieces;
    cuts->used += length;
    if (!pieces)
        return;
    cuts->pieces = pieces;
    pieces[cuts->piece_count++] =
        (struct roll_piece){.roll = (int)roll,
                            .sheet = sheet->number,
                            .beside = sheet->beside,
                            .beside_length = sheet->beside_length,
                            .part = part,
                            .parts = part,
                            .length = length,
                            .rest = rest};
}

/* All parts of a sheet know how many they are. */
static void close_parts(struct cutter *cutter, size_t from, int parts)
{
    for (size_t i = from; i < cutter->cuts.piece_count; i++)
        cutter->cuts.pieces[i].parts = parts;
}

/* The last piece of a sheet, cut whole. */
struct last {
    const struct roll_sheet *sheet;
    double length;
    int part;
};

static int longest_first(const void *a, const void *b)
{
    const struct last *x = a;
    const struct last *y = b;

    if (x->length < y->length || x->length > y->length)
        return (x->length < y->length) - (x->length > y->length);
    return (x->sheet->number > y->sheet->number) - (x->sheet->number < y->sheet->number);
}

/* Rolls for the whole ones of a sheet, and what its last piece is: each roll but the
 * first brings an end lap, and no piece is shorter than the offcut. */
static struct last split_long(struct cutter *cutter, const struct roll_sheet *sheet)
{
    const struct rules *rules = &cutter->rules;
    struct last last = {sheet, sheet->length, 1};
    size_t from = cutter->cuts.piece_count;

    while (last.length > rules->roll + SAME) {
        double piece = rules->roll;

        if (last.length - piece + rules->lap < rules->offcut)
            piece = last.length + rules->lap - rules->offcut;
        last.length += rules->lap - piece;
        add_piece(cutter, sheet, ++cutter->cuts.rolls, last.part++, piece,
                  rules->roll - piece);
        cutter->cuts.joints++;
    }
    close_parts(cutter, from, last.part);
    return last;
}

/* A roll that was begun. */
struct open_roll {
    size_t roll;
    double rest;
};

/* rolls: room for one a sheet. */
static void cut_lasts(struct cutter *cutter, struct open_roll *rolls,
                      const struct last *lasts, size_t count)
{
    size_t open = 0;

    for (size_t i = 0; i < count; i++) {
        double piece = lasts[i].length;
        size_t at = 0;

        while (at < open && rolls[at].rest < piece - SAME)
            at++;
        if (at == open)
            rolls[open++] = (struct open_roll){++cutter->cuts.rolls, cutter->rules.roll};
        rolls[at].rest -= piece;
        add_piece(cutter, lasts[i].sheet, rolls[at].roll, lasts[i].part, piece,
                  rolls[at].rest);
        if (rolls[at].rest < cutter->rules.offcut - SAME) {
            memmove(&rolls[at], &rolls[at + 1], (open - at - 1) * sizeof *rolls);
            open--;
        }
    }
    for (size_t i = 0; i < open; i++)
        cutter->cuts.rest = fmax(cutter->cuts.rest, rolls[i].rest);
}

static void cut_whole(struct cutter *cutter, const struct roll_sheet *sheets,
                      size_t count)
{
    struct last *lasts = arena_array(cutter->arena, count, sizeof *lasts);
    struct open_roll *rolls = arena_array(cutter->arena, count + 1, sizeof *rolls);

    cutter->failed = !lasts || !rolls;
    if (cutter->failed || count == 0)
        return;
    for (size_t i = 0; i < count; i++)
        lasts[i] = split_long(cutter, &sheets[i]);
    qsort(lasts, count, sizeof *lasts, longest_first);
    cut_lasts(cutter, rolls, lasts, count);
}

/* How much of a sheet the rest of a roll gives; 0: too little to begin with. */
static double next_piece(const struct rules *rules, double rest, double left)
{
    double piece = fmin(rest, left);

    if (piece < left - SAME && left - piece + rules->lap < rules->offcut)
        piece = fmax(left + rules->lap - rules->offcut, 0);
    return piece < fmin(left, rules->offcut) - SAME ? 0 : piece;
}

static void cut_run_on(struct cutter *cutter, const struct roll_sheet *sheets,
                       size_t count)
{
    const struct rules *rules = &cutter->rules;
    struct roll_cuts *cuts = &cutter->cuts;
    double rest = 0;

    cuts->run_on = true;
    for (size_t i = 0; i < count; i++) {
        double left = sheets[i].length;
        size_t from = cuts->piece_count;
        int part = 0;

        while (left > SAME) {
            if (rest < rules->offcut - SAME) {
                rest = rules->roll;
                cuts->rolls++;
            }
            double piece = next_piece(rules, rest, left);

            rest = piece > 0 ? rest - piece : 0;
            if (!(piece > 0))
                continue;
            add_piece(cutter, &sheets[i], cuts->rolls, ++part, piece, rest);
            if (piece > left - SAME)
                break;
            left += rules->lap - piece;
            cuts->joints++;
        }
        close_parts(cutter, from, part);
    }
    cuts->rest = rest < rules->offcut - SAME ? 0 : rest;
}

static int by_roll(const void *a, const void *b)
{
    const struct roll_piece *x = a;
    const struct roll_piece *y = b;

    if (x->roll != y->roll)
        return (x->roll > y->roll) - (x->roll < y->roll);
    return (x->rest < y->rest) - (x->rest > y->rest);
}

enum outlay_status rolls_cut(struct arena *arena, const struct roll_sheet *sheets,
                             size_t count, double roll, double lap, double offcut,
                             struct roll_cuts *out, struct outlay_error *err)
{
    struct cutter whole = {.arena = arena, .rules = {roll, lap, offcut}};
    struct cutter run_on = whole;
    double sum = 0;

    *out = whole.cuts;
    for (size_t i = 0; i < count; i++)
        sum += sheets[i].length;
    cut_whole(&whole, sheets, count);
    cut_run_on(&run_on, sheets, count);
    if (whole.failed || run_on.failed)
        return outlay_fail(err, OUTLAY_E_MEMORY, "cutting rolls");
    *out = run_on.cuts.rolls < whole.cuts.rolls ? run_on.cuts : whole.cuts;
    out->bound = (size_t)ceil(sum / roll - SAME);
    if (out->piece_count > 0)
        qsort(out->pieces, out->piece_count, sizeof *out->pieces, by_roll);
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
