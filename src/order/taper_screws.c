/* Screws through tapered insulation: each long enough for where it stands. */

#include <math.h>

#include "base/units.h"
#include "order/bill_private.h"
#include "roof/taper.h"

/* How many of each item of the catalogue, and through how much, m. */
struct tally {
    double *counts; /* by item */
    double none;    /* for which the catalogue has no screw */
    double least, most;
    double too_short; /* for which its longest is */
    size_t longest;   /* that one */
    double need;      /* how long the longest of them must be, m */
};

/* @param taper  how thick it is there, m */
static void tally_through(const struct count *count, enum item_use use, double taper,
                          double screws, struct tally *tally)
{
    const struct item_list *items = count->settings->items;
    double through = count->stack + count->under + taper;
    double need = through + embedment(count->deck);
    const struct item *screw = item_screw(items, use, count->deck, need);

    tally->least = fmin(tally->least, through);
    tally->most = fmax(tally->most, through);
    if (screw && screw->length < need - 1e-9) {
        tally->too_short += screws;
        tally->need = fmax(tally->need, need);
        tally->longest = (size_t)(screw - items->items);
    }
    if (screw)
        tally->counts[screw - items->items] += screws;
    else
        tally->none += screws;
}

/* Evenly along each piece of a row. */
static void tally_rows(const struct count *count, enum item_use use, struct tally *tally)
{
    for (size_t i = 0; i < count->layout->row_count; i++) {
        const struct row_piece *row = &count->layout->rows[i];

        for (int k = 0; k < row->fasteners; k++) {
            double share = (k + 0.5) / row->fasteners;
            struct point at = {row->from.x + share * (row->to.x - row->from.x),
                               row->from.y + share * (row->to.y - row->from.y)};

            tally_through(count, use, taper_at(count->roof->taper, at), 1, tally);
        }
    }
}

/* All screws of a board are as long as its thickest place asks (ours): one that is too
 * short holds nothing. */
static void tally_boards(const struct count *count, enum item_use use,
                         struct tally *tally)
{
    for (size_t i = 0; i < count->layout->board_count; i++) {
        const struct board *board = &count->layout->boards[i];
        double most = 0;

        for (size_t k = 0; k < board->region.polygon_count; k++)
            most = fmax(most, taper_most_under(count->roof->taper,
                                               board->region.polygons[k].rings[0]));
        if (board->plates > 0)
            tally_through(count, use, most, board->plates, tally);
    }
}

static enum outlay_status note(struct count *count, struct bill_item *item,
                               const struct tally *tally)
{
    double anchorage = embedment(count->deck);

    return count_name(
        count, &item->note,
        "%.2f to %.2f in (%.0f to %.0f mm) thick where they stand, with the taper; + "
        "embedment %.2f in (%.0f mm)%s%s",
        tally->least / M_PER_IN, tally->most / M_PER_IN, tally->least * 1000,
        tally->most * 1000, anchorage / M_PER_IN, anchorage * 1000,
        count->stack_given ? "" : "; stack assumed",
        tally->too_short > 0 ? "; some need more than the catalogue's longest" : "");
}

static enum outlay_status add_all(struct count *count, enum item_use use,
                                  const struct tally *tally)
{
    const struct item_list *items = count->settings->items;
    struct bill_item *item = count_item(count, use, tally->none);
    enum outlay_status status = OUTLAY_OK;

    if (item) {
        count_close(count, item);
        item->note = "the catalogue has none for this deck";
    }
    for (size_t i = 0; i < items->count && status == OUTLAY_OK; i++) {
        item = count_item(count, use, tally->counts[i]);
        if (!item)
            continue;
        item->item = items->items[i].name;
        item->pack = items->items[i].pack;
        item->holds = items->items[i].holds;
        item->bundle = items->items[i].bundle;
        if (i == tally->longest) {
            item->too_short = tally->too_short;
            item->need = tally->need;
        }
        count_close(count, item);
        status = note(count, item, tally);
    }
    return status;
}

enum outlay_status count_tapered_screws(struct count *count, enum item_use use, bool rows,
                                        bool boards)
{
    size_t kinds = count->settings->items->count;
    struct tally tally = {.counts =
                              arena_array(count->arena, kinds, sizeof *tally.counts),
                          .least = INFINITY,
                          .most = 0};

    if (!tally.counts)
        return outlay_fail(count->err, OUTLAY_E_MEMORY, "counting screws");
    if (rows)
        tally_rows(count, use, &tally);
    if (boards)
        tally_boards(count, use, &tally);
    return add_all(count, use, &tally);
}
