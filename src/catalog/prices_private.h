#ifndef OUTLAY_CATALOG_PRICES_PRIVATE_H
#define OUTLAY_CATALOG_PRICES_PRIVATE_H

/* Shared by prices.c and prices_doubts.c only. */

#include "catalog/assemblies_private.h"
#include "catalog/prices.h"

enum price_column {
    COLUMN_USE,
    COLUMN_ITEM,
    COLUMN_PRICE,
    COLUMN_UNIT,
    COLUMN_CURRENCY,
    COLUMN_YEAR,
    COLUMN_MONTH,
    COLUMN_NOTE,
    PRICE_COLUMNS
};

/* A row that was read. */
struct price_row {
    struct cell cells[PRICE_COLUMNS];
    int use;   /* enum item_use, or -1 */
    int term;  /* enum price_term, or -1 */
    bool roof; /* a rate for whole roofs */
    int kind;  /* enum existing_kind, of such a rate */
    enum price_unit unit;
    double value;
    double amount; /* as struct price has it; 0 for a term */
    int months;    /* of the date, since year 0 */
};

struct price_rows {
    struct price_row *rows;
    size_t count;
};

/** What may be wrong in a user's table: fills list->doubts. @return OUTLAY_E_MEMORY */
enum outlay_status prices_doubt(struct arena *arena, const struct price_rows *rows,
                                struct price_list *list,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
