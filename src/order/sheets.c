/* Sheets: net, laps, and what they are cut from. */

#include <math.h>

#include "base/units.h"
#include "order/bill_private.h"
#include "order/cutting.h"

/* The sheets of one kind. */
struct kind_sum {
    double laid;   /* m2 */
    double pieces; /* boxes, m2 */
    double width;  /* of the roll, m */
    double length; /* m */
    size_t count;
};

static struct kind_sum sum_kind(const struct layout *layout, enum sheet_kind kind,
                                double *lengths)
{
    struct kind_sum sum = {0};

    for (size_t i = 0; i < layout->sheet_count; i++) {
        const struct sheet *sheet = &layout->sheets[i];

        if (sheet->kind != kind || !(sheet->length > 0))
            continue;
        sum.laid += sheet->area;
        sum.pieces += sheet->length * sheet->width;
        sum.width = fmax(sum.width, sheet->width);
        sum.length += sheet->length;
        lengths[sum.count++] = sheet->length;
    }
    return sum;
}

static enum outlay_status add_kind(struct count *count, enum item_use use,
                                   const struct kind_sum *sum, const double *lengths,
                                   double net)
{
    const struct order_settings *settings = count->settings;
    const struct item *roll = item_find(settings->items, use, count->deck);
    struct roll_cuts cuts;
    struct bill_item *item = count_item(count, use, net);
    enum outlay_status status = OUTLAY_OK;
    double ordered = 0;

    if (!item || !roll)
        return OUTLAY_OK;
    status = rolls_cut(count->arena, lengths, sum->count, roll->holds, settings->end_lap,
                       settings->offcut, &cuts, count->err);
    if (status != OUTLAY_OK)
        return status;
    item->holds = roll->holds * sum->width;
    item->laps = fmax(sum->laid - net, 0) + (cuts.used - sum->length) * sum->width;
    /* The rest of one roll is good for the next roof, or is what rounding adds. */
    ordered = (double)cuts.rolls * item->holds - cuts.rest * sum->width;
    item->cuts = fmax(cuts.used * sum->width - net - item->laps, 0);
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
    return count_name(
        count, &item->note,
        "%zu sheet%s, %zu end lap%s, %s; %zu roll%s, no cutting needs fewer "
        "than %zu",
        sum->count, PLURAL(sum->count), cuts.joints, PLURAL(cuts.joints),
        cuts.run_on ? "run on from roll to roll" : "cut longest first", cuts.rolls,
        PLURAL(cuts.rolls), cuts.bound);
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

enum outlay_status count_sheets(struct count *count)
{
    const struct layout *layout = count->layout;
    double *lengths = arena_array(count->arena, layout->sheet_count, sizeof *lengths);
    struct kind_sum full = {0};
    struct kind_sum half = {0};
    struct bill_item *strip = NULL;
    enum outlay_status status = OUTLAY_OK;
    double net = count->roof->area;
    double half_net = 0;

    if (!lengths && layout->sheet_count > 0)
        return outlay_fail(count->err, OUTLAY_E_MEMORY, "counting sheets");
    full = sum_kind(layout, SHEET_FULL, lengths);
    half = sum_kind(layout, SHEET_HALF, lengths);
    if (!(full.laid + half.laid > 0))
        return OUTLAY_OK;
    net = fmin(net, full.laid + half.laid); /* rounding of the shapes */
    half.laid += full.laid > 0 ? 0 : count->openings;
    full.laid += full.laid > 0 ? count->openings : 0;
    net += count->openings;
    half_net = net_of_halves(count->assembly->lap, net, &full, &half);
    status = add_kind(count, USE_HALF_SHEET, &half, lengths, half_net);
    if (status != OUTLAY_OK)
        return status;
    full.count = sum_kind(layout, SHEET_FULL, lengths).count;
    status = add_kind(count, USE_FIELD_SHEET, &full, lengths, net - half_net);
    if (status != OUTLAY_OK)
        return status;
    strip = count_item(count, USE_COVER_STRIP,
                       sum_kind(layout, SHEET_COVER_STRIP, lengths).length);
    if (strip)
        count_close(count, strip);
    return OUTLAY_OK;
}
