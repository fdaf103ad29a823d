/* What a user's table of prices says that is hardly meant. The built-in prices are
 * invented, but of the usual order; the median ratio to them takes out the currency. */

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/print.h"
#include "base/units.h"
#include "catalog/prices_private.h"

#define FAR 20.0      /* times; ours */
#define OLD_MONTHS 36 /* ours */

/* A new roof all in, hundredths a m2; invented, of the usual order. */
static const double usual_roof = 1500 / M2_PER_FT2;

static enum outlay_status doubt(struct arena *arena, const struct cell *cell,
                                const char *what, const char *todo,
                                struct price_list *list, struct outlay_error *err)
{
    char where[200];
    struct price_doubt *out = &list->doubts[list->doubt_count++];

    snprintf(where, sizeof where, "%.120s, row %d, column %s", cell->table, cell->row,
             cell->column);
    out->what = arena_text(arena, what, strlen(what));
    out->where = arena_text(arena, where, strlen(where));
    out->todo = todo;
    return out->what && out->where
               ? OUTLAY_OK
               : outlay_fail(err, OUTLAY_E_MEMORY, "checking the prices");
}

/* How many times the usual price it is; NAN where they can't be compared. */
static double ratio_of(const struct price_row *row, const struct price_list *usual)
{
    bool by_volume = item_use_is_board((enum item_use)row->use) &&
                     (row->unit == UNIT_BOARD_FOOT || row->unit == UNIT_M3);
    const struct price *price = NULL;

    if (row->roof)
        return row->amount / usual_roof;
    if (row->term >= 0 || !(row->amount > 0))
        return NAN;
    price = price_find(usual, (enum item_use)row->use, row->cells[COLUMN_ITEM].text);
    if (!price || price->by_pack != (row->unit == UNIT_PACK) ||
        price->by_volume != by_volume)
        return NAN;
    return row->amount / price->amount;
}

static int rising(const void *a, const void *b)
{
    const double *x = a;
    const double *y = b;

    return (*x > *y) - (*x < *y);
}

/* @param room  of as many as rows */
static double median_ratio(const struct price_rows *rows, const struct price_list *usual,
                           double *room)
{
    size_t count = 0;

    for (size_t i = 0; i < rows->count; i++) {
        double ratio = ratio_of(&rows->rows[i], usual);

        if (!rows->rows[i].roof && isfinite(ratio))
            room[count++] = ratio;
    }
    qsort(room, count, sizeof *room, rising);
    return count > 0 ? room[count / 2] : NAN;
}

static enum outlay_status doubt_price(struct arena *arena, const struct price_row *row,
                                      double times, struct price_list *list,
                                      struct outlay_error *err)
{
    const struct cell *cell = &row->cells[COLUMN_PRICE];
    bool area = row->unit == UNIT_FT2 || row->unit == UNIT_M2;
    char what[200];

    if (row->term < 0 && !(row->value > 0))
        return doubt(arena, cell, "a price of 0: it is counted as free",
                     "give a price, unless nothing is paid for it", list, err);
    if (!(times >= FAR || times <= 1 / FAR))
        return OUTLAY_OK;
    print_into(what, sizeof what,
               "price %.60s is some %.2f times what the other prices suggest", cell->text,
               times);
    return doubt(arena, cell, what,
                 area && times > 1
                     ? "if it is for a square (100 ft2), divide it by 100; else check it"
                     : "check the number and its unit",
                 list, err);
}

static enum outlay_status doubt_share(struct arena *arena, const struct price_row *row,
                                      const struct price_list *usual,
                                      struct price_list *list, struct outlay_error *err)
{
    char what[200];

    if (row->term < 0 || row->unit != UNIT_PERCENT || !(row->value > 0) ||
        row->value * FAR > 100 * usual->terms[row->term])
        return OUTLAY_OK;
    print_into(
        what, sizeof what,
        "%.60s percent is little: a cell formatted as per cent holds 0.12 for 12 %%",
        row->cells[COLUMN_PRICE].text);
    return doubt(arena, &row->cells[COLUMN_PRICE], what,
                 "write 12 for 12 percent, as a number", list, err);
}

static enum outlay_status doubt_date(struct arena *arena, const struct price_row *row,
                                     int latest, struct price_list *list,
                                     struct outlay_error *err)
{
    char what[200];

    if (latest - row->months < OLD_MONTHS)
        return OUTLAY_OK;
    snprintf(what, sizeof what, "a price of %.20s is %d years older than the latest",
             row->cells[COLUMN_YEAR].text, (latest - row->months) / 12);
    return doubt(arena, &row->cells[COLUMN_YEAR], what,
                 "bring it up to date: it is taken as a price of the table's date", list,
                 err);
}

static enum outlay_status usual_prices(struct price_list *usual, struct catalog *catalog,
                                       struct outlay_error *err)
{
    struct item_list items;
    enum outlay_status status = catalog_builtin(catalog, err);

    if (status == OUTLAY_OK)
        status = items_load(catalog->arena, NULL, &items, err);
    if (status == OUTLAY_OK)
        status = prices_load(catalog->arena, NULL, &items, catalog, usual, err);
    return status;
}

static enum outlay_status doubt_rows(struct arena *arena, const struct price_rows *rows,
                                     const struct price_list *usual, double *room,
                                     struct price_list *list, struct outlay_error *err)
{
    double median = median_ratio(rows, usual, room);
    enum outlay_status status = OUTLAY_OK;
    int latest = 0;

    for (size_t i = 0; i < rows->count; i++)
        latest = rows->rows[i].months > latest ? rows->rows[i].months : latest;
    for (size_t i = 0; status == OUTLAY_OK && i < rows->count; i++) {
        const struct price_row *row = &rows->rows[i];

        status = doubt_price(arena, row, ratio_of(row, usual) / median, list, err);
        if (status == OUTLAY_OK)
            status = doubt_share(arena, row, usual, list, err);
        if (status == OUTLAY_OK)
            status = doubt_date(arena, row, latest, list, err);
    }
    return status;
}

enum outlay_status prices_doubt(struct arena *arena, const struct price_rows *rows,
                                struct price_list *list, struct outlay_error *err)
{
    struct catalog catalog = {0};
    struct price_list usual;
    double *room = arena_array(arena, rows->count + 1, sizeof *room);
    enum outlay_status status;

    /* At most two of a row: a price or a share, and a date. */
    list->doubts = arena_array(arena, 2 * rows->count + 1, sizeof *list->doubts);
    if (!room || !list->doubts)
        return outlay_fail(err, OUTLAY_E_MEMORY, "checking the prices");
    status = usual_prices(&usual, &catalog, err);
    if (status == OUTLAY_OK)
        status = doubt_rows(arena, rows, &usual, room, list, err);
    catalog_release(&catalog);
    return status;
}
