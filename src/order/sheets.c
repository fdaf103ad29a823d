/* Sheets: net, laps, and what they are cut from. */

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/units.h"
#include "order/bill_private.h"
#include "order/cutting.h"

/* The sheets of one kind. */
struct kind_sum {
    double laid;   /* m2 */
    double width;  /* of the roll, m */
    double length; /* m */
    double moved;  /* from sheets that other sections cut, less what they get of those cut
                      here, m2 of roll */
    size_t count;
    size_t shared; /* sheets that other sections cut */
    size_t ripped; /* half sheets that are cut from these rolls, two side by side */
};

static struct kind_sum sum_kind(const struct layout *layout, enum sheet_kind kind,
                                struct roll_sheet *sheets)
{
    struct kind_sum sum = {0};

    for (size_t i = 0; i < layout->sheet_count; i++) {
        const struct sheet *sheet = &layout->sheets[i];

        if (sheet->kind != kind || !(sheet->length > 0))
            continue;
        sum.laid += sheet->area;
        sum.width = fmax(sum.width, sheet->width);
        if (sheet->cut_elsewhere) {
            sum.moved += (1 - sheet->elsewhere) * sheet->length * sheet->width;
            sum.shared++;
            continue;
        }
        sum.moved -= sheet->elsewhere * sheet->length * sheet->width;
        sum.length += sheet->length;
        sheets[sum.count++] = (struct roll_sheet){sheet->number, 0, sheet->length, NAN};
    }
    return sum;
}

static size_t pairs_of(size_t sheets)
{
    return (sheets + 1) / 2;
}

static enum outlay_status note_rolls(struct count *count, struct bill_item *item,
                                     const struct kind_sum *sum,
                                     const struct roll_cuts *cuts)
{
    size_t sheets = sum->count - pairs_of(sum->ripped) + sum->ripped;
    const char *ripped = "";
    const char *shared = "";

    if (sum->shared > 0) {
        enum outlay_status status = count_name(
            count, &shared, "; its share of %zu cut by other sections", sum->shared);

        if (status != OUTLAY_OK)
            return status;
    }
    if (sum->ripped > 0) {
        enum outlay_status status = count_name(
            count, &ripped, ", of them %zu half, two side by side", sum->ripped);

        if (status != OUTLAY_OK)
            return status;
    }
    return count_name(count, &item->note,
                      "%zu sheet%s%s, %zu end lap%s, %s; %zu roll%s, no cutting needs "
                      "fewer than %zu%s",
                      sheets, PLURAL(sheets), ripped, cuts->joints, PLURAL(cuts->joints),
                      cuts->run_on ? "run on from roll to roll" : "cut longest first",
                      cuts->rolls, PLURAL(cuts->rolls), cuts->bound, shared);
}

/* The rolls that are cut join those of the other kind. */
static enum outlay_status note_pieces(struct count *count, enum item_use use,
                                      double width, const struct roll_cuts *cuts)
{
    struct bill *bill = count->bill;
    size_t all = bill->piece_count + cuts->piece_count;
    struct roll_piece *pieces = arena_array(count->arena, all, sizeof *pieces);

    if (!pieces)
        return outlay_fail(count->err, OUTLAY_E_MEMORY, "counting sheets");
    if (bill->piece_count > 0)
        memcpy(pieces, bill->pieces, bill->piece_count * sizeof *pieces);
    for (size_t i = 0; i < cuts->piece_count; i++) {
        struct roll_piece *piece = &pieces[bill->piece_count++];

        *piece = cuts->pieces[i];
        piece->use = use;
        piece->width = width;
    }
    bill->pieces = pieces;
    return OUTLAY_OK;
}

static enum outlay_status add_kind(struct count *count, enum item_use use,
                                   const struct kind_sum *sum,
                                   const struct roll_sheet *sheets, double net)
{
    const struct order_settings *settings = count->settings;
    const struct item *roll = item_find(settings->items, use, count->deck);
    struct roll_cuts cuts;
    struct bill_item *item = count_item(count, use, net);
    enum outlay_status status = OUTLAY_OK;
    double ordered = 0;

    if (!item || !roll)
        return OUTLAY_OK;
    status = rolls_cut(count->arena, sheets, sum->count, roll->holds, settings->end_lap,
                       settings->offcut, &cuts, count->err);
    if (status != OUTLAY_OK)
        return status;
    item->holds = roll->holds * sum->width;
    item->laps = fmax(sum->laid - net, 0) + (cuts.used - sum->length) * sum->width;
    /* The rest of one roll is good for the next roof, or is what rounding adds. */
    ordered = (double)cuts.rolls * item->holds - cuts.rest * sum->width + sum->moved;
    item->cuts = fmax(cuts.used * sum->width + sum->moved - net - item->laps, 0);
    item->rounding = fmax(ordered - net - item->laps - item->cuts, 0);
    count->end_laps += (double)cuts.joints * sum->width;
    count->t_joints += 2.0 * (double)cuts.joints;
    count_close(count, item);
    status =
        count_name(count, &item->item, "%s, roll %g ft x %g ft",
                   count->assembly->membrane, round(sum->width / M_PER_FT * 100) / 100,
                   round(roll->holds / M_PER_FT * 100) / 100);
    if (status != OUTLAY_OK)
        return status;
    status = note_pieces(count, use, sum->width, &cuts);
    return status == OUTLAY_OK ? note_rolls(count, item, sum, &cuts) : status;
}

/* The half sheets' share of what is covered: each sheet covers its width less a lap, and
 * none covers more than is laid of it. */
static double net_of_halves(double lap, double net, const struct kind_sum *full,
                            const struct kind_sum *half)
{
    double full_covers = full->laid > 0 ? full->laid * (1 - lap / full->width) : 0;
    double half_covers = half->laid > 0 ? half->laid * (1 - lap / half->width) : 0;
    double share = net * half_covers / (full_covers + half_covers);

    return fmin(fmax(share, net - full->laid), half->laid);
}

static int longest_first(const void *a, const void *b)
{
    const struct roll_sheet *x = a;
    const struct roll_sheet *y = b;

    if (x->length < y->length || x->length > y->length)
        return (x->length < y->length) - (x->length > y->length);
    return (x->number > y->number) - (x->number < y->number);
}

/* Half sheets cut from full rolls, two side by side: pairs, each as long as its longer
 * one, behind the full sheets. */
static struct kind_sum rip(const struct kind_sum *full, const struct kind_sum *half,
                           const struct roll_sheet *halves, struct roll_sheet *sheets)
{
    struct kind_sum sum = *full;

    sum.laid += half->laid;
    sum.moved += half->moved;
    sum.shared += half->shared;
    sum.ripped = half->count;
    for (size_t k = 0; k < half->count; k += 2) {
        struct roll_sheet pair = halves[k];

        if (k + 1 < half->count) {
            pair.beside = halves[k + 1].number;
            pair.beside_length = halves[k + 1].length;
        }
        sum.length += pair.length;
        sheets[sum.count++] = pair;
    }
    return sum;
}

/* Square metres of whole rolls. */
static enum outlay_status rolls_area(struct count *count, enum item_use use,
                                     const struct kind_sum *sum,
                                     const struct roll_sheet *sheets, double *area)
{
    const struct order_settings *settings = count->settings;
    const struct item *roll = item_find(settings->items, use, count->deck);
    struct roll_cuts cuts = {0};
    enum outlay_status status = OUTLAY_OK;

    *area = 0;
    if (!roll)
        return OUTLAY_OK;
    status = rolls_cut(count->arena, sheets, sum->count, roll->holds, settings->end_lap,
                       settings->offcut, &cuts, count->err);
    *area = (double)cuts.rolls * roll->holds * sum->width;
    return status;
}

/* Whether half sheets come out of full rolls, two side by side: where whole rolls of both
 * widths would be more membrane, as on small roofs (ours). Those that lie on two sections
 * don't, for one section can't know how another cuts. */
static enum outlay_status rip_judge(struct count *count, const struct kind_sum sums[3],
                                    struct roll_sheet *const sheets[3], bool *better)
{
    double area[3] = {0, 0, 0};
    enum outlay_status status =
        rolls_area(count, USE_FIELD_SHEET, &sums[0], sheets[0], &area[0]);

    *better = false;
    if (status == OUTLAY_OK)
        status = rolls_area(count, USE_HALF_SHEET, &sums[1], sheets[1], &area[1]);
    if (status == OUTLAY_OK)
        status = rolls_area(count, USE_FIELD_SHEET, &sums[2], sheets[2], &area[2]);
    *better = area[2] < (area[0] + area[1]) * (1 - 1e-9);
    return status;
}

static enum outlay_status add_sheets(struct count *count, struct kind_sum sums[3],
                                     struct roll_sheet *const sheets[3])
{
    double net = count->field.area;
    double half_net;
    bool ripped = false;
    enum outlay_status status = OUTLAY_OK;

    net = fmin(net, sums[0].laid + sums[1].laid); /* rounding of the shapes */
    sums[sums[0].laid > 0 ? 0 : 1].laid += count->openings;
    net += count->openings;
    sums[2] = rip(&sums[0], &sums[1], sheets[1], sheets[2]);
    if (sums[0].count > 0 && sums[1].count > 0 && sums[1].moved == 0)
        status = rip_judge(count, sums, sheets, &ripped);
    if (status == OUTLAY_OK && ripped)
        return add_kind(count, USE_FIELD_SHEET, &sums[2], sheets[2], net);
    half_net = net_of_halves(count->assembly->lap, net, &sums[0], &sums[1]);
    if (status == OUTLAY_OK)
        status = add_kind(count, USE_HALF_SHEET, &sums[1], sheets[1], half_net);
    if (status == OUTLAY_OK)
        status = add_kind(count, USE_FIELD_SHEET, &sums[0], sheets[0], net - half_net);
    return status;
}

enum outlay_status count_sheets(struct count *count)
{
    const struct layout *layout = count->layout;
    struct roll_sheet *sheets[3]; /* full, half, full with ripped halves */
    struct kind_sum sums[3];
    struct bill_item *strip = NULL;
    enum outlay_status status = OUTLAY_OK;

    for (int k = 0; k < 3; k++) {
        sheets[k] = arena_array(count->arena, layout->sheet_count + 1, sizeof *sheets[k]);
        if (!sheets[k])
            return outlay_fail(count->err, OUTLAY_E_MEMORY, "counting sheets");
    }
    sums[0] = sum_kind(layout, SHEET_FULL, sheets[0]);
    sums[1] = sum_kind(layout, SHEET_HALF, sheets[1]);
    if (!(sums[0].laid + sums[1].laid > 0))
        return OUTLAY_OK;
    memcpy(sheets[2], sheets[0], sums[0].count * sizeof *sheets[0]);
    qsort(sheets[1], sums[1].count, sizeof *sheets[1], longest_first);
    status = add_sheets(count, sums, sheets);
    if (status != OUTLAY_OK)
        return status;
    strip = count_item(count, USE_COVER_STRIP,
                       sum_kind(layout, SHEET_COVER_STRIP, sheets[0]).length);
    if (strip)
        count_close(count, strip);
    return OUTLAY_OK;
}
