/* Boards, the screws through them, and what glues them. */

#include <math.h>

#include "base/units.h"
#include "order/bill_private.h"
#include "order/cutting.h"

double embedment(enum deck deck)
{
    switch (deck) {
    case DECK_NOT_GIVEN:
    case DECK_STEEL:
        return 0.75 * M_PER_IN;
    case DECK_WOOD:
        return 1.0 * M_PER_IN;
    case DECK_CONCRETE:
        return 1.25 * M_PER_IN;
    case DECK_GYPSUM:
    case DECK_WOOD_FIBRE:
    case DECK_LIGHT_CONCRETE:
    case DECK_KINDS:
        break;
    }
    return 2.0 * M_PER_IN;
}

int layers_of(double stack)
{
    return stack > 2.7 * M_PER_IN ? 2 : stack > 0 ? 1 : 0;
}

static enum outlay_status add_screws(struct count *count, enum item_use use, double net)
{
    double through = count->stack + count->under;
    double need = through + embedment(count->deck);
    const struct item *screw = item_screw(count->settings->items, use, count->deck, need);
    struct bill_item *item = count_item(count, use, net);

    if (!item)
        return OUTLAY_OK;
    if (screw) {
        item->item = screw->name;
        item->pack = screw->pack;
        item->holds = screw->holds;
        item->bundle = screw->bundle;
    }
    count_close(count, item);
    if (!screw)
        return count_name(count, &item->note, "the catalogue has none for this deck");
    if (screw->length < need - 1e-9) {
        item->too_short = item->net;
        item->need = need;
        return count_name(count, &item->note,
                          "needs %.2f in (%.0f mm), longer than the catalogue's longest",
                          need / M_PER_IN, need * 1000);
    }
    return count_name(
        count, &item->note, "stack %.2f in (%.0f mm) + embedment %.2f in (%.0f mm)%s%s",
        through / M_PER_IN, through * 1000, (need - through) / M_PER_IN,
        (need - through) * 1000, count->stack_given ? "" : "; stack assumed",
        count->roof->taper ? WITHOUT_TAPER : "");
}

/* Of rows and base securement: a piece between two screws has none. */
static double row_fasteners(const struct layout *layout)
{
    double counted = 0;

    for (size_t i = 0; i < layout->row_count; i++)
        counted += layout->rows[i].fasteners;
    return counted;
}

/* Ribbons, m. Full cover is counted as ribbons 4 in apart (ours). */
static double ribbons(const struct layout *layout)
{
    return layout->ribbon_length + layout->full_cover / (4 * M_PER_IN);
}

static enum outlay_status add_fasteners(struct count *count, double in_boards)
{
    const struct layout *layout = count->layout;
    bool welded = layout->method == METHOD_INDUCTION_WELDED;
    double rows = row_fasteners(layout);
    struct bill_item *plates = count_item(count, USE_SEAM_PLATE, rows);
    enum outlay_status status = OUTLAY_OK;

    if (plates)
        count_close(count, plates);
    if (is_tapered(count))
        status = count_tapered_screws(count, USE_SEAM_SCREW, true, welded);
    else
        status = add_screws(count, USE_SEAM_SCREW, rows + (welded ? in_boards : 0));
    if (status != OUTLAY_OK)
        return status;
    plates = count_item(count, welded ? USE_WELD_PLATE : USE_BOARD_PLATE, in_boards);
    if (plates)
        count_close(count, plates);
    if (welded)
        return OUTLAY_OK;
    return is_tapered(count) ? count_tapered_screws(count, USE_BOARD_SCREW, false, true)
                             : add_screws(count, USE_BOARD_SCREW, in_boards);
}

/* What the boards of one layer come to. */
struct layer_sum {
    double area;  /* of the boards themselves, without the joints that tracing adds, m2 */
    double moved; /* from boards that other sections cut, less what they get of those cut
                     here, m2 of board */
    double plates;
    size_t whole;
    size_t pieces;
};

static struct layer_sum sum_layer(const struct count *count, struct cut_piece *pieces)
{
    const struct layout *layout = count->layout;
    double whole = count->assembly->board_length * count->assembly->board_width;
    struct layer_sum sum = {0};

    for (size_t i = 0; i < layout->board_count; i++) {
        const struct board *board = &layout->boards[i];
        double box = board->whole ? whole : board->cut_length * board->cut_width;

        sum.plates += board->plates;
        if (board->whole)
            sum.area += whole * (1 - board->elsewhere);
        else
            sum.area += board->area * (1 - BOARD_JOINT / board->cut_length) *
                        (1 - BOARD_JOINT / board->cut_width);
        sum.moved += box * (board->cut_elsewhere - board->elsewhere);
        if (board->cut_elsewhere)
            continue;
        if (board->whole)
            sum.whole++;
        else
            pieces[sum.pieces++] =
                (struct cut_piece){board->cut_length, board->cut_width};
    }
    return sum;
}

static enum outlay_status name_boards(struct count *count, struct bill_item *item,
                                      const char *kind)
{
    const struct assembly *assembly = count->assembly;

    return count_name(count, &item->item, "%s board %g ft x %g ft x %g in", kind,
                      assembly->board_width / M_PER_FT, assembly->board_length / M_PER_FT,
                      round(item->thickness / M_PER_IN * 100) / 100);
}

static enum outlay_status add_boards(struct count *count, const struct layer_sum *sum,
                                     struct cut_piece *pieces)
{
    const struct assembly *assembly = count->assembly;
    bool recover = count->roof->scope == SCOPE_RECOVER;
    double one = assembly->board_length * assembly->board_width;
    double used = (double)sum->whole * one; /* whole boards and the sides of pieces */
    double moved = sum->moved * count->layers;
    double boards = 0;
    double ordered = 0;
    struct board_cuts cuts;
    struct bill_item *item = count_item(
        count, USE_BOARD, (count->field.area + count->openings) * count->layers);
    enum outlay_status status =
        boards_cut(count->arena, pieces, sum->pieces, assembly->board_length,
                   assembly->board_width, &cuts, count->err);

    if (status != OUTLAY_OK || !item)
        return status;
    for (size_t i = 0; i < sum->pieces; i++)
        used += pieces[i].length * pieces[i].width;
    used = fmax(used + sum->moved, sum->area + count->openings) * count->layers;
    boards = fmax(ceil(used / one - moved / one - 1e-9),
                  (double)(sum->whole + cuts.boards) * count->layers);
    ordered = boards * one + moved;
    item->net = fmin(item->net, ordered); /* tracing, which boards forgive */
    item->holds = one;
    item->pack = "board";
    item->thickness = count->stack / count->layers;
    item->cuts = fmax(used - item->net, 0);
    item->rounding = fmax(ordered - item->net - item->cuts, 0);
    item->packs = moved == 0 ? boards : NAN;
    count_close(count, item);
    status = name_boards(count, item, recover ? "recover" : "insulation");
    if (status != OUTLAY_OK)
        return status;
    return count_name(count, &item->note,
                      "%d layer%s; %zu whole and %zu cut piece%s a layer, these from %zu "
                      "board%s, no cutting needs fewer than %zu%s",
                      count->layers, PLURAL(count->layers), sum->whole, sum->pieces,
                      PLURAL(sum->pieces), cuts.boards, PLURAL(cuts.boards), cuts.bound,
                      count->stack_given || recover ? "" : "; stack assumed");
}

/* Where wet boards come out of a cover that stays, new ones as thick fill the place. */
static enum outlay_status add_filling(struct count *count)
{
    const struct assembly *assembly = count->assembly;
    double one = assembly->board_length * assembly->board_width;
    int layers = layers_of(count->under);
    double wet = count->field.area * fmax(count->roof->given.wet_share, 0);
    struct bill_item *item = count_item(count, USE_BOARD, wet * layers);

    if (!item)
        return OUTLAY_OK;
    item->holds = one;
    item->pack = "board";
    item->thickness = count->under / layers;
    item->packs = bill_packs(item->net, one);
    item->rounding = item->packs * one - item->net;
    count_close(count, item);
    item->fills = true;
    item->note = "in place of wet boards";
    return name_boards(count, item, "insulation");
}

enum outlay_status count_boards(struct count *count)
{
    const struct layout *layout = count->layout;
    struct cut_piece *pieces =
        arena_array(count->arena, layout->board_count, sizeof *pieces);
    struct layer_sum sum = {0};
    struct bill_item *glue = NULL;
    enum outlay_status status = OUTLAY_OK;

    if (!pieces && layout->board_count > 0)
        return outlay_fail(count->err, OUTLAY_E_MEMORY, "counting boards");
    if (count->layers > 0)
        sum = sum_layer(count, pieces);
    status = add_fasteners(count, sum.plates);
    if (status == OUTLAY_OK && count->layers > 0 && layout->board_count > 0)
        status = add_boards(count, &sum, pieces);
    if (status == OUTLAY_OK && count->under > 0)
        status = add_filling(count);
    glue = count_item(count, USE_RIBBON, ribbons(layout) * count->layers);
    if (glue)
        count_close(count, glue);
    glue = count_item(count, USE_BONDING, 2 * layout->glued_area);
    if (glue)
        count_close(count, glue);
    return status;
}
