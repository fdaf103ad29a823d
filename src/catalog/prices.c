#include "catalog/prices_private.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/ascii.h"
#include "base/number.h"
#include "base/units.h"

const char catalog_prices_csv[] = {
#include "catalog/prices_csv.inc"
    0,
};

static const char *const names[PRICE_COLUMNS] = {"use",      "item", "price", "unit",
                                                 "currency", "year", "month", "note"};

/* What a unit measures and how much SI one of it is. Packs, shares and factors measure
 * nothing of a bill. */
struct unit_row {
    const char *name;
    enum bill_measure measure;
    double factor;
};

static const struct unit_row units[PRICE_UNITS] = {
    [UNIT_PACK] = {"pack", BILL_EACH, 1},
    [UNIT_EACH] = {"each", BILL_EACH, 1},
    [UNIT_FT] = {"ft", BILL_LENGTH, M_PER_FT},
    [UNIT_M] = {"m", BILL_LENGTH, 1},
    [UNIT_FT2] = {"ft2", BILL_AREA, M2_PER_FT2},
    [UNIT_M2] = {"m2", BILL_AREA, 1},
    [UNIT_BOARD_FOOT] = {"board-foot", BILL_VOLUME, M2_PER_FT2 *M_PER_IN},
    [UNIT_M3] = {"m3", BILL_VOLUME, 1},
    [UNIT_YD3] = {"yd3", BILL_VOLUME, M3_PER_YD3},
    [UNIT_TON] = {"ton", BILL_WEIGHT, 2000 * KG_PER_LB},
    [UNIT_T] = {"t", BILL_WEIGHT, 1000},
    [UNIT_LB] = {"lb", BILL_WEIGHT, KG_PER_LB},
    [UNIT_KG] = {"kg", BILL_WEIGHT, 1},
    [UNIT_H] = {"h", BILL_HOURS, 1},
    [UNIT_PERCENT] = {"percent", BILL_EACH, 0.01},
    [UNIT_FACTOR] = {"factor", BILL_EACH, 1},
};

static const char *term_name(int term)
{
    static const char *const all[] = {
#define X(code, name, unit) name,
        PRICE_TERM_MAP(X)
#undef X
    };
    return all[term];
}

static enum price_unit term_unit(int term)
{
    static const enum price_unit all[] = {
#define X(code, name, unit) unit,
        PRICE_TERM_MAP(X)
#undef X
    };
    return all[term];
}

static bool is_money(enum price_unit unit, int term)
{
    return term < 0 || unit == UNIT_EACH;
}

/* Work with a price of its own: tearing off, getting rid of debris, and crews. */
static bool is_priced(int use)
{
    return use < USE_WELD_SIDE || use == USE_TEAR_OFF || use == USE_DEBRIS_WEIGHT ||
           use == USE_DEBRIS_VOLUME || use == USE_CREW;
}

static int use_find(const char *text)
{
    for (int use = 0; use < ITEM_USES; use++)
        if (ascii_same(text, item_use_name(use)))
            return use;
    return -1;
}

/* ---- One row ---- */

static enum outlay_status use_read(struct price_row *row, struct outlay_error *err)
{
    const struct cell *cell = &row->cells[COLUMN_USE];

    row->use = use_find(cell->text);
    row->term = -1;
    for (int term = 0; row->use < 0 && term < PRICE_TERMS; term++)
        if (ascii_same(cell->text, term_name(term)))
            row->term = term;
    row->roof = ascii_same(cell->text, "roof");
    if (!row->roof && row->term < 0 && (row->use < 0 || !is_priced(row->use)))
        return cell_refuse(cell, "a use or a rate that the built-in table has", err);
    return OUTLAY_OK;
}

static bool unit_suits(const struct price_row *row, int unit)
{
    if (row->roof)
        return unit == UNIT_FT2 || unit == UNIT_M2;
    if (row->term >= 0)
        return unit == (int)term_unit(row->term);
    if (unit >= UNIT_PERCENT)
        return false;
    if (unit == UNIT_PACK)
        return row->use < USE_WELD_SIDE && !item_use_is_board((enum item_use)row->use);
    if (item_use_is_board((enum item_use)row->use) &&
        (unit == UNIT_BOARD_FOOT || unit == UNIT_M3))
        return true;
    return unit != UNIT_BOARD_FOOT &&
           units[unit].measure == item_use_measure((enum item_use)row->use);
}

static enum outlay_status unit_read(struct price_row *row, struct outlay_error *err)
{
    char accepted[120] = "";

    for (int unit = 0; unit < PRICE_UNITS; unit++) {
        size_t length = strlen(accepted);

        if (!unit_suits(row, unit))
            continue;
        if (ascii_same(row->cells[COLUMN_UNIT].text, units[unit].name)) {
            row->unit = (enum price_unit)unit;
            return OUTLAY_OK;
        }
        snprintf(accepted + length, sizeof accepted - length, "%s%s",
                 length > 0 ? ", " : "", units[unit].name);
    }
    cell_refuse(&row->cells[COLUMN_UNIT], accepted, err);
    if (ascii_same_start(row->cells[COLUMN_UNIT].text, "sq", 2))
        outlay_fail_todo(err, "a square is 100 ft2: write ft2, and a 100th of the price");
    return OUTLAY_E_USAGE;
}

static enum outlay_status value_read(struct price_row *row, struct outlay_error *err)
{
    const struct cell *cell = &row->cells[COLUMN_PRICE];
    bool share = row->unit == UNIT_PERCENT;
    double least = row->unit == UNIT_FACTOR ? 0.1
                   : row->roof              ? 0.01
                                            : row->unit == UNIT_FT2 && row->term >= 0;
    /* A size effect of 100 % would make crews on small roofs cost infinitely much. */
    double most = row->term == TERM_SIZE_SHARE ? 50
                  : share                      ? 100
                  : row->unit == UNIT_FACTOR   ? 10
                                               : 1e9;

    if (share && strchr(cell->text, '%'))
        return cell_refuse(cell, "a number alone: 12 stands for 12 percent", err);
    return cell_number(cell, least, most, &row->value, err);
}

/* One currency for all rows. */
static enum outlay_status currency_read(const struct price_row *row,
                                        struct price_list *out, struct outlay_error *err)
{
    const struct cell *cell = &row->cells[COLUMN_CURRENCY];
    char accepted[80] = "three letters, as USD";
    char code[4] = "";

    if (!cell->text[0] && !is_money(row->unit, row->term))
        return OUTLAY_OK;
    if (strlen(cell->text) == 3)
        for (size_t i = 0; i < 3; i++)
            code[i] = ascii_lower(cell->text[i]);
    if (strspn(code, "abcdefghijklmnopqrstuvwxyz") != 3)
        return cell_refuse(cell, accepted, err);
    if (!out->currency[0])
        memcpy(out->currency, code, sizeof code);
    if (strcmp(out->currency, code) == 0)
        return OUTLAY_OK;
    snprintf(accepted, sizeof accepted, "%s, the currency of the rows above",
             out->currency);
    return cell_refuse(cell, accepted, err);
}

static enum outlay_status whole_read(const struct cell *cell, int least, int most,
                                     int *out, struct outlay_error *err)
{
    char accepted[60];

    if (number_parse_int(cell->text, out) && *out >= least && *out <= most)
        return OUTLAY_OK;
    snprintf(accepted, sizeof accepted, "a whole number from %d to %d", least, most);
    return cell_refuse(cell, accepted, err);
}

static enum outlay_status date_read(struct price_row *row, struct price_list *out,
                                    struct outlay_error *err)
{
    int year = 0;
    int month = 0;
    char date[sizeof out->date];
    enum outlay_status status =
        whole_read(&row->cells[COLUMN_YEAR], 1950, 2200, &year, err);

    if (status == OUTLAY_OK)
        status = whole_read(&row->cells[COLUMN_MONTH], 1, 12, &month, err);
    if (status != OUTLAY_OK)
        return status;
    row->months = 12 * year + month;
    snprintf(date, sizeof date, "%04u-%02u", (unsigned)year % 10000u,
             (unsigned)month % 100u);
    if (strcmp(date, out->date) > 0)
        memcpy(out->date, date, sizeof date);
    return OUTLAY_OK;
}

/* ---- What an item's name fits ---- */

/* How much of the name the cell takes: all of it, or up to a comma or blank. 0: doesn't
 * fit; an empty cell fits all by 1. */
static size_t fit(const char *cell, const char *name)
{
    size_t length = strlen(cell);

    if (length > strlen(name) || !ascii_same_start(cell, name, length))
        return 0;
    if (length > 0 && name[length] != '\0' && name[length] != ',' && name[length] != ' ')
        return 0;
    return length + 1;
}

static bool is_known(int use, const char *cell, const struct item_list *items,
                     const struct catalog *catalog)
{
    bool sheet = use == USE_FIELD_SHEET || use == USE_HALF_SHEET;

    if (!cell[0])
        return true;
    if (use == USE_BOARD)
        return fit(cell, "insulation board") > 0 || fit(cell, "recover board") > 0;
    if (use > USE_BOARD && item_use_is_board((enum item_use)use))
        return fit(item_use_name(use), cell) > 0; /* "tapered panel G" */
    if (use == USE_CREW)
        return use_find(cell) >= 0 && use_find(cell) != USE_CREW;
    for (size_t i = 0; sheet && i < catalog->assembly_count; i++)
        if (fit(cell, catalog->assemblies[i].membrane) > 0)
            return true;
    for (size_t i = 0; i < items->count; i++)
        if ((int)items->items[i].use == use && fit(cell, items->items[i].name) > 0)
            return true;
    return false;
}

static enum outlay_status kind_read(struct price_row *row, const struct price_list *list,
                                    struct outlay_error *err)
{
    const struct cell *cell = &row->cells[COLUMN_ITEM];

    row->kind = name_find(cell->text, existing_kind_name);
    if (row->kind < 0)
        return cell_refuse(
            cell, "nothing, gravel-surfaced, smooth, single-ply or ballasted", err);
    if (!isnan(list->roof_rates[row->kind]))
        return cell_refuse(cell, "each kind of roof once", err);
    return OUTLAY_OK;
}

static enum outlay_status item_read(struct price_row *row, const struct item_list *items,
                                    const struct catalog *catalog,
                                    const struct price_list *list,
                                    struct outlay_error *err)
{
    const struct cell *cell = &row->cells[COLUMN_ITEM];

    if (row->roof)
        return kind_read(row, list, err);
    if (row->term >= 0)
        return cell->text[0] ? cell_refuse(cell, "nothing for this rate", err)
                             : OUTLAY_OK;
    if (!is_known(row->use, cell->text, items, catalog))
        return cell_refuse(cell, "nothing, or an item of that use in the catalogue", err);
    for (size_t i = 0; i < list->count; i++)
        if ((int)list->prices[i].use == row->use &&
            ascii_same(list->prices[i].item, cell->text))
            return cell_refuse(cell, "each item of a use once", err);
    return OUTLAY_OK;
}

/* ---- The table ---- */

static enum outlay_status term_add(const struct price_row *row, struct price_list *out,
                                   struct outlay_error *err)
{
    double hundredths = is_money(row->unit, row->term) ? 100 : 1;

    if (!isnan(out->terms[row->term]))
        return cell_refuse(&row->cells[COLUMN_USE], "each rate once", err);
    out->terms[row->term] = row->value * units[row->unit].factor * hundredths;
    return OUTLAY_OK;
}

static void price_add(struct price_row *row, struct price_list *out)
{
    const char *item = row->cells[COLUMN_ITEM].text;
    bool crew = row->use == USE_CREW;

    row->amount = row->value * 100 / units[row->unit].factor;
    if (row->roof) {
        out->roof_rates[row->kind] = row->amount;
        return;
    }
    out->prices[out->count++] = (struct price){
        .use = (enum item_use)row->use,
        .item = item,
        .labour = crew && item[0] ? (enum item_use)use_find(item) : ITEM_USES,
        .by_pack = row->unit == UNIT_PACK,
        .by_volume = item_use_is_board((enum item_use)row->use) &&
                     units[row->unit].measure == BILL_VOLUME,
        .amount = row->amount,
    };
}

static enum outlay_status row_read(struct price_row *row, const struct item_list *items,
                                   const struct catalog *catalog, struct price_list *out,
                                   struct outlay_error *err)
{
    enum outlay_status status = use_read(row, err);

    if (status == OUTLAY_OK)
        status = unit_read(row, err);
    if (status == OUTLAY_OK)
        status = value_read(row, err);
    if (status == OUTLAY_OK)
        status = currency_read(row, out, err);
    if (status == OUTLAY_OK)
        status = date_read(row, out, err);
    if (status == OUTLAY_OK)
        status = item_read(row, items, catalog, out, err);
    if (status != OUTLAY_OK)
        return status;
    if (row->term >= 0)
        return term_add(row, out, err);
    price_add(row, out);
    return OUTLAY_OK;
}

static enum outlay_status lack(const struct table *table, const char *what,
                               const char *name, struct outlay_error *err)
{
    outlay_fail(err, OUTLAY_E_USAGE, "no row has a price for %s \"%s\"", what, name);
    outlay_fail_where(err, "%s, columns use and item", table->name);
    outlay_fail_todo(err, "add a row; an empty item stands for all others of its use");
    return OUTLAY_E_USAGE;
}

/* Every item finds its price: with an empty cell, or one for each that there is. A
 * scupper may have none, since tables of before it have no row for it. */
static enum outlay_status check_all(const struct table *table,
                                    const struct item_list *items,
                                    const struct price_list *list,
                                    struct outlay_error *err)
{
    for (int term = 0; term < PRICE_TERMS; term++)
        if (isnan(list->terms[term]))
            return lack(table, "the rate", term_name(term), err);
    for (size_t i = 0; i < items->count; i++) {
        const struct item *item = &items->items[i];

        if (item->use < USE_WELD_SIDE && item->use != USE_SCUPPER && item->name[0] &&
            !price_find(list, item->use, item->name))
            return lack(table, item_use_name((int)item->use), item->name, err);
    }
    /* Their names follow from the assembly. */
    for (int use = 0; use < ITEM_USES; use++)
        if ((use == USE_FIELD_SHEET || use == USE_HALF_SHEET ||
             item_use_is_board((enum item_use)use) || use >= USE_WELD_SIDE) &&
            is_priced(use) && !price_find(list, (enum item_use)use, ""))
            return lack(table, "the use", item_use_name(use), err);
    return OUTLAY_OK;
}

static struct price_row row_of(const struct table *table, size_t i, const size_t *place)
{
    struct price_row row = {.use = -1};

    cells_of(table, i, names, place, PRICE_COLUMNS, row.cells);
    return row;
}

/* Reads the rows, which the arena keeps for doubts about them. */
static enum outlay_status rows_read(struct arena *arena, const struct table *table,
                                    const struct item_list *items,
                                    const struct catalog *catalog, struct price_list *out,
                                    struct price_rows *rows, struct outlay_error *err)
{
    size_t place[PRICE_COLUMNS] = {0};
    enum outlay_status status =
        table_header(table, names, PRICE_COLUMNS, PRICE_COLUMNS, place, err);

    *rows = (struct price_rows){NULL, 0};
    *out = (struct price_list){.count = 0};
    for (int term = 0; term < PRICE_TERMS; term++)
        out->terms[term] = NAN;
    for (int kind = 0; kind < EXISTING_KINDS; kind++)
        out->roof_rates[kind] = NAN;
    if (status != OUTLAY_OK)
        return status;
    out->prices = arena_array(arena, table->row_count, sizeof *out->prices);
    rows->rows = arena_array(arena, table->row_count, sizeof *rows->rows);
    if (!out->prices || !rows->rows)
        return outlay_fail(err, OUTLAY_E_MEMORY, "reading the prices");
    for (size_t i = 1; status == OUTLAY_OK && i < table->row_count; i++) {
        rows->rows[rows->count] = row_of(table, i, place);
        status = row_read(&rows->rows[rows->count++], items, catalog, out, err);
    }
    return status == OUTLAY_OK ? check_all(table, items, out, err) : status;
}

enum outlay_status prices_read(struct arena *arena, const struct table *table,
                               const struct item_list *items,
                               const struct catalog *catalog, struct price_list *out,
                               struct outlay_error *err)
{
    struct price_rows rows;
    enum outlay_status status = rows_read(arena, table, items, catalog, out, &rows, err);

    return status == OUTLAY_OK ? prices_doubt(arena, &rows, out, err) : status;
}

static enum outlay_status builtin_load(struct arena *arena, const struct item_list *items,
                                       const struct catalog *catalog,
                                       struct price_list *out, struct outlay_error *err)
{
    struct table table;
    struct price_rows rows;
    enum outlay_status status =
        table_parse(arena, "prices.csv", catalog_prices_csv, &table, err);

    if (status == OUTLAY_OK)
        status = rows_read(arena, &table, items, catalog, out, &rows, err);
    out->built_in = true;
    return status;
}

enum outlay_status prices_load(struct arena *arena, const char *path,
                               const struct item_list *items,
                               const struct catalog *catalog, struct price_list *out,
                               struct outlay_error *err)
{
    struct table table;
    enum outlay_status status;

    *out = (struct price_list){.count = 0};
    if (!path)
        return builtin_load(arena, items, catalog, out, err);
    status = table_read(arena, path, &table, err);
    if (status == OUTLAY_OK)
        status = prices_read(arena, &table, items, catalog, out, err);
    return status;
}

const struct price *price_find(const struct price_list *list, enum item_use use,
                               const char *item)
{
    const struct price *best = NULL;
    size_t longest = 0;

    for (size_t i = 0; i < list->count; i++) {
        size_t length = list->prices[i].use == use ? fit(list->prices[i].item, item) : 0;

        if (length <= longest)
            continue;
        best = &list->prices[i];
        longest = length;
    }
    return best;
}

double price_hour(const struct price_list *list, enum item_use use)
{
    double others = NAN;

    for (size_t i = 0; i < list->count; i++) {
        if (list->prices[i].use != USE_CREW)
            continue;
        if (list->prices[i].labour == use)
            return list->prices[i].amount;
        if (list->prices[i].labour == ITEM_USES)
            others = list->prices[i].amount;
    }
    return others;
}
