#include "catalog/details.h"

#include "base/ascii.h"
#include "base/units.h"
#include "catalog/assemblies_private.h"

const char catalog_details_csv[] = {
#include "catalog/details_csv.inc"
    0,
};

enum detail_column {
    COLUMN_KIND,
    COLUMN_ITEM,
    COLUMN_PER,
    COLUMN_AMOUNT,
    COLUMN_ADD,
    COLUMN_NOTE,
    COLUMNS
};

static const char *const names[COLUMNS] = {"kind",   "item",   "per",
                                           "amount", "add_in", "note"};

const char *detail_per_name(int per)
{
    static const char *const all[] = {
#define X(code, name, one, others) name,
        DETAIL_PER_MAP(X)
#undef X
    };

    return per >= 0 && per < DETAIL_PERS ? all[per] : NULL;
}

const char *detail_per_words(enum detail_per per, bool single)
{
    static const char *const all[][2] = {
#define X(code, name, one, others) {others, one},
        DETAIL_PER_MAP(X)
#undef X
            {"", ""}
    };

    return all[per][single];
}

/* A word of a list, from `first` on; MISSING for another one. */
static int word_find(const struct cell *cell, const char *(*name_of)(int), int first,
                     int end)
{
    for (int value = first; value < end; value++)
        if (ascii_same(cell->text, name_of(value)))
            return value;
    return MISSING;
}

/* Which items can be counted by what. */
static bool is_countable(enum item_use use, enum detail_per per)
{
    enum bill_measure measure = item_use_measure(use);

    switch (per) {
    case PER_LENGTH:
    case PER_HALF_LENGTH:
    case PER_COURSE:
        return measure == BILL_LENGTH || measure == BILL_EACH;
    case PER_GIRTH:
        return measure == BILL_AREA;
    case PER_CONVEX:
    case PER_REENTRANT:
    case PER_SEAM:
    case PER_AREA:
    case DETAIL_PERS:
        break;
    }
    return measure == BILL_EACH;
}

/* For each m or m2 rather than foot or 1,000 ft2. */
static double amount_of(const struct detail *detail, double value)
{
    bool pieces = item_use_measure(detail->use) == BILL_EACH;

    if (detail->per == PER_AREA)
        return value / (1000 * M2_PER_FT2);
    if (pieces && (detail->per == PER_LENGTH || detail->per == PER_HALF_LENGTH ||
                   detail->per == PER_COURSE))
        return value / M_PER_FT;
    return value;
}

static enum outlay_status words_read(const struct cell cells[COLUMNS], struct detail *out,
                                     struct outlay_error *err)
{
    int kind =
        word_find(&cells[COLUMN_KIND], edge_kind_name, EDGE_METAL, EDGE_CONTINUOUS);
    int use = word_find(&cells[COLUMN_ITEM], item_use_name, 0, USE_WELD_SIDE);
    int per = word_find(&cells[COLUMN_PER], detail_per_name, 0, DETAIL_PERS);

    if (kind == MISSING)
        return cell_refuse(&cells[COLUMN_KIND],
                           "metal, gutter, parapet, wall, curb or joint", err);
    if (use == MISSING)
        return cell_refuse(&cells[COLUMN_ITEM], "a use of items.csv, of goods", err);
    if (per == MISSING)
        return cell_refuse(&cells[COLUMN_PER],
                           "length, half length, course, girth, convex, reentrant, seam "
                           "or area",
                           err);
    if (!is_countable((enum item_use)use, (enum detail_per)per))
        return cell_refuse(
            &cells[COLUMN_PER],
            "length, half length or course for items by length, girth for items by "
            "area, all but girth for pieces",
            err);
    *out = (struct detail){.kind = (enum edge_kind)kind,
                           .use = (enum item_use)use,
                           .per = (enum detail_per)per,
                           .note = cells[COLUMN_NOTE].text};
    return OUTLAY_OK;
}

static enum outlay_status row_read(const struct cell cells[COLUMNS], struct detail *out,
                                   struct outlay_error *err)
{
    enum outlay_status status = words_read(cells, out, err);
    double value = 0;

    if (status == OUTLAY_OK)
        status = cell_number(&cells[COLUMN_AMOUNT], 0, 1000, &value, err);
    if (status != OUTLAY_OK)
        return status;
    out->amount = amount_of(out, value);
    if (!cells[COLUMN_ADD].text[0])
        return OUTLAY_OK;
    if (out->per != PER_GIRTH)
        return cell_refuse(&cells[COLUMN_ADD], "nothing but for girth", err);
    status = cell_number(&cells[COLUMN_ADD], 0, 120, &value, err);
    out->add = value * M_PER_IN;
    return status;
}

enum outlay_status details_read(struct arena *arena, const struct table *table,
                                struct detail_list *out, struct outlay_error *err)
{
    size_t place[COLUMNS] = {0};
    enum outlay_status status = table_header(table, names, COLUMNS, COLUMNS, place, err);

    *out = (struct detail_list){NULL, 0};
    if (status != OUTLAY_OK)
        return status;
    out->details = arena_array(arena, table->row_count, sizeof *out->details);
    if (!out->details)
        return outlay_fail(err, OUTLAY_E_MEMORY, "reading the table of details");
    for (size_t row = 1; row < table->row_count && status == OUTLAY_OK; row++) {
        struct cell cells[COLUMNS];

        cells_of(table, row, names, place, COLUMNS, cells);
        status = row_read(cells, &out->details[out->count++], err);
    }
    return status;
}

enum outlay_status details_load(struct arena *arena, const char *path,
                                struct detail_list *out, struct outlay_error *err)
{
    struct table table;
    enum outlay_status status;

    *out = (struct detail_list){NULL, 0};
    if (path)
        status = table_read(arena, path, &table, err);
    else
        status = table_parse(arena, "details.csv", catalog_details_csv, &table, err);
    if (status != OUTLAY_OK)
        return status;
    return details_read(arena, &table, out, err);
}
