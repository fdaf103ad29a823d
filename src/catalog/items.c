#include "catalog/items.h"

#include <math.h>
#include <string.h>

#include "base/ascii.h"
#include "base/units.h"
#include "catalog/assemblies_private.h"

const char catalog_items_csv[] = {
#include "catalog/items_csv.inc"
    0,
};

enum item_column {
    COLUMN_USE,
    COLUMN_ITEM,
    COLUMN_DECKS,
    COLUMN_LENGTH,
    COLUMN_HOLDS,
    COLUMN_PACK,
    COLUMN_SPARE,
    COLUMN_HOURS,
    COLUMN_NOTE,
    COLUMN_BUNDLE, /* may be left away */
    COLUMNS
};

static const char *const names[COLUMNS] = {
    "use",  "item",          "decks",         "length_in", "holds",
    "pack", "spare_percent", "hours_per_100", "note",      "bundle"};

static bool is_work(enum item_use use)
{
    return use >= USE_WELD_SIDE;
}

static bool is_screw(enum item_use use)
{
    return use == USE_SEAM_SCREW || use == USE_BOARD_SCREW;
}

static bool is_sheet(enum item_use use)
{
    return use == USE_FIELD_SHEET || use == USE_HALF_SHEET;
}

/* Whether the cell of a column is filled for that use. */
static bool is_needed(enum item_use use, enum item_column column)
{
    switch (column) {
    case COLUMN_ITEM:
        return !is_work(use) && !is_sheet(use) && !item_use_is_board(use);
    case COLUMN_LENGTH:
        return is_screw(use);
    case COLUMN_HOLDS:
        return !is_work(use) && !item_use_is_board(use);
    case COLUMN_PACK:
        return !is_work(use);
    case COLUMN_SPARE:
    case COLUMN_HOURS:
    case COLUMN_USE:
        return true;
    case COLUMN_DECKS:
    case COLUMN_NOTE:
    case COLUMN_BUNDLE:
    case COLUMNS:
        break;
    }
    return false;
}

static double unit_of(enum item_use use)
{
    switch (is_sheet(use) ? BILL_LENGTH : item_use_measure(use)) {
    case BILL_LENGTH:
        return M_PER_FT;
    case BILL_AREA:
        return M2_PER_FT2;
    case BILL_EACH:
    case BILL_WEIGHT:
    case BILL_VOLUME:
    case BILL_HOURS:
        break;
    }
    return 1;
}

static enum outlay_status decks_read(const struct cell *cell, unsigned *out,
                                     struct outlay_error *err)
{
    char part[40];

    *out = cell->text[0] ? 0 : ~0u;
    for (const char *at = cell->text; *at; at += *at == '|') {
        size_t length = strcspn(at, "|");
        int deck = 0;

        if (length < sizeof part) {
            memcpy(part, at, length);
            part[length] = '\0';
            deck = name_find(part, deck_name);
        }
        if (deck <= DECK_NOT_GIVEN)
            return cell_refuse(cell, "names of decks separated by |", err);
        *out |= 1u << deck;
        at += length;
    }
    return OUTLAY_OK;
}

static enum outlay_status use_read(const struct cell *cell, enum item_use *out,
                                   struct outlay_error *err)
{
    for (int use = 0; use < ITEM_USES; use++)
        if (ascii_same(cell->text, item_use_name(use))) {
            *out = (enum item_use)use;
            return OUTLAY_OK;
        }
    return cell_refuse(cell, "a use that the built-in table has", err);
}

static enum outlay_status cell_read(const struct cell *cell, enum item_column column,
                                    struct item *out, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    double value = NAN;

    if (column == COLUMN_USE)
        return use_read(cell, &out->use, err);
    if (column == COLUMN_DECKS)
        return decks_read(cell, &out->decks, err);
    if (column == COLUMN_NOTE) {
        out->note = cell->text;
        return OUTLAY_OK;
    }
    if (column == COLUMN_BUNDLE && cell->text[0] && !is_work(out->use))
        return cell_number(cell, 1, 100000, &out->bundle, err);
    if (is_needed(out->use, column) != (cell->text[0] != '\0'))
        return cell_refuse(cell, cell->text[0] ? "nothing for this use" : "a value", err);
    if (column == COLUMN_ITEM)
        out->name = cell->text;
    else if (column == COLUMN_PACK)
        out->pack = cell->text;
    else if (column == COLUMN_LENGTH && cell->text[0])
        status = cell_number(cell, 0.5, 36, &value, err);
    else if (column == COLUMN_HOLDS && cell->text[0])
        status = cell_number(cell, is_sheet(out->use) ? 30 : 1, 100000, &value, err);
    else if (column == COLUMN_SPARE)
        status = cell_number(cell, 0, 50, &value, err);
    else if (column == COLUMN_HOURS)
        status = cell_number(cell, 0, 10000, &value, err);
    if (column == COLUMN_LENGTH)
        out->length = value * M_PER_IN;
    if (column == COLUMN_HOLDS)
        out->holds = value * unit_of(out->use);
    if (column == COLUMN_SPARE)
        out->spare = value / 100;
    if (column == COLUMN_HOURS) /* hours for sheets go by their area, not their length */
        out->hours = value / 100 / (is_sheet(out->use) ? M2_PER_FT2 : unit_of(out->use));
    return status;
}

static enum outlay_status uses_check(const struct table *table,
                                     const struct item_list *list,
                                     struct outlay_error *err)
{
    for (int use = 0; use < USE_WELD_SIDE; use++) {
        size_t i = 0;

        while (i < list->count && list->items[i].use != (enum item_use)use)
            i++;
        if (i < list->count || use == USE_SCUPPER) /* tables of before it have none */
            continue;
        outlay_fail(err, OUTLAY_E_USAGE, "no row has the use \"%s\"", item_use_name(use));
        outlay_fail_where(err, "%s", table->name);
        outlay_fail_todo(err, "start from the table that `outlay catalog` writes");
        return OUTLAY_E_USAGE;
    }
    return OUTLAY_OK;
}

enum outlay_status items_read(struct arena *arena, const struct table *table,
                              struct item_list *out, struct outlay_error *err)
{
    size_t place[COLUMNS] = {0};
    enum outlay_status status =
        table_header(table, names, COLUMNS, COLUMN_BUNDLE, place, err);

    *out = (struct item_list){NULL, 0};
    if (status != OUTLAY_OK)
        return status;
    out->items = arena_array(arena, table->row_count, sizeof *out->items);
    if (!out->items)
        return outlay_fail(err, OUTLAY_E_MEMORY, "reading the catalogue of items");
    for (size_t row = 1; row < table->row_count; row++) {
        struct item *item = &out->items[out->count++];
        struct cell cells[COLUMNS];

        cells_of(table, row, names, place, COLUMNS, cells);
        *item = (struct item){.name = "", .pack = "", .bundle = NAN, .note = ""};
        for (int column = 0; column < COLUMNS; column++) {
            status = cell_read(&cells[column], (enum item_column)column, item, err);
            if (status != OUTLAY_OK)
                return status;
        }
    }
    return uses_check(table, out, err);
}

enum outlay_status items_load(struct arena *arena, const char *path,
                              struct item_list *out, struct outlay_error *err)
{
    struct table table;
    enum outlay_status status;

    *out = (struct item_list){NULL, 0};
    if (path)
        status = table_read(arena, path, &table, err);
    else
        status = table_parse(arena, "items.csv", catalog_items_csv, &table, err);
    if (status != OUTLAY_OK)
        return status;
    return items_read(arena, &table, out, err);
}

static bool suits(const struct item *item, enum item_use use, enum deck deck)
{
    return item->use == use && (item->decks & 1u << deck) != 0;
}

const struct item *item_find(const struct item_list *list, enum item_use use,
                             enum deck deck)
{
    for (size_t i = 0; i < list->count; i++)
        if (suits(&list->items[i], use, deck))
            return &list->items[i];
    return NULL;
}

const struct item *item_screw(const struct item_list *list, enum item_use use,
                              enum deck deck, double length)
{
    const struct item *best = NULL;

    for (size_t i = 0; i < list->count; i++) {
        const struct item *item = &list->items[i];
        bool enough = item->length >= length - 1e-9;
        bool best_enough = best && best->length >= length - 1e-9;

        if (!suits(item, use, deck))
            continue;
        if (!best || (enough && (!best_enough || item->length < best->length)) ||
            (!enough && !best_enough && item->length > best->length))
            best = item;
    }
    return best;
}

struct pad_size pad_size_of(const char *name)
{
    double least = INFINITY, most = 0, value = 0;

    for (const char *at = name; *at; at++) {
        if (*at >= '0' && *at <= '9') {
            value = 10 * value + (*at - '0');
            continue;
        }
        if (value > 0 && strncmp(at, " in", 3) == 0) {
            least = fmin(least, value);
            most = fmax(most, value);
        }
        value = 0;
    }
    if (most > 0)
        return (struct pad_size){least * M_PER_IN, most * M_PER_IN};
    return (struct pad_size){30 * M_PER_IN, 60 * M_PER_IN};
}
