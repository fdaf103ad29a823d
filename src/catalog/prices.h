#ifndef OUTLAY_CATALOG_PRICES_H
#define OUTLAY_CATALOG_PRICES_H

/**
 * @file catalog/prices.h
 * What goods, crews, tearing off and the rest cost. Built in as prices.csv, all of whose
 * values are invented; written by `outlay catalog`, replaceable like the assemblies.
 * Hours are the items' (catalog/items.h), their prices are here.
 *
 * Columns, in any order, all of them there:
 *   use       as roof/bill.h names it, one of PRICE_TERM_MAP, or "roof": what a new roof
 *             costs all in, which beats what the bill comes to; may be left away
 *   item      which of that use: an item of the catalogue, a membrane, or the start of
 *             their names up to a comma or blank; the longest that fits is taken; empty:
 *             all others. Of "crew hours" the use that the hours are for, of "roof" the
 *             kind of the present one; empty: others
 *   price     0 or more, for one unit
 *   unit      pack, each, ft, m, ft2, m2, board-foot, m3, yd3, ton (2,000 lb), t, lb, kg,
 *             h, percent or factor, as fits the use
 *   currency  three letters, the same in each row; empty for percent, factor and ft
 *   year, month  that the price is of, as two numbers, since spreadsheets write dates
 *             anew in their own fashion; the latest is the table's
 *   note      may be empty
 *
 * Doubted (ours), though it is read: a price of 0; a price 20 times, or a 20th, of what
 * the built-in one times the median ratio of all prices to theirs suggests; a share that
 * is a 20th of the built-in one, as from a cell formatted as per cent; a date three years
 * before the latest.
 *
 * Every item of the catalogue but scuppers must find its price, and every term be there
 * once.
 */

#include "base/arena.h"
#include "catalog/catalog.h"
#include "catalog/items.h"
#include "catalog/table.h"
#include "outlay/status.h"
#include "roof/bill.h"
#include "roof/roof.h"

enum price_unit {
    UNIT_PACK,
    UNIT_EACH,
    UNIT_FT,
    UNIT_M,
    UNIT_FT2,
    UNIT_M2,
    UNIT_BOARD_FOOT,
    UNIT_M3,
    UNIT_YD3,
    UNIT_TON,
    UNIT_T,
    UNIT_LB,
    UNIT_KG,
    UNIT_H,
    UNIT_PERCENT,
    UNIT_FACTOR,
    PRICE_UNITS
};

/* What isn't bought by the item: code, name, unit. Shares are kept as shares, money in
 * hundredths, lengths and areas in SI. */
#define PRICE_TERM_MAP(X)                              \
    X(MOBILISATION, "mobilisation", UNIT_EACH)         \
    X(PERMIT, "permit", UNIT_EACH)                     \
    X(PERMIT_SHARE, "permit fee", UNIT_PERCENT)        \
    X(OVERHEAD, "overhead", UNIT_PERCENT)              \
    X(PROFIT, "profit", UNIT_PERCENT)                  \
    X(CONTINGENCY, "contingency", UNIT_PERCENT)        \
    X(TAX, "sales tax", UNIT_PERCENT)                  \
    X(REGION, "regional factor", UNIT_FACTOR)          \
    X(HEIGHT_FROM, "height without effect", UNIT_FT)   \
    X(HEIGHT_SHARE, "height effect", UNIT_PERCENT)     \
    X(SIZE_AREA, "area without size effect", UNIT_FT2) \
    X(SIZE_SHARE, "size effect", UNIT_PERCENT)

enum price_term {
#define X(code, name, unit) TERM_##code,
    PRICE_TERM_MAP(X)
#undef X
        PRICE_TERMS
};

struct price {
    enum item_use use;
    const char *item;     /**< "": all that no other row names */
    enum item_use labour; /**< of USE_CREW: whose hours; ITEM_USES: all others */
    bool by_pack;
    bool by_volume; /**< of boards: for a m3 */
    double amount; /**< hundredths for a pack, a m3 or one SI unit of the use's measure */
};

/** What is read as it stands and yet looks wrong. All owned by the arena. */
struct price_doubt {
    const char *what, *where, *todo;
};

struct price_list {
    struct price *prices;
    size_t count;
    double terms[PRICE_TERMS];
    double roof_rates[EXISTING_KINDS]; /**< hundredths a m2 of roof by the kind of the
                                            present one; NAN: none; 0: all others */
    char currency[4];                  /**< small letters */
    char date[8];                      /**< of the latest price: "2026-07" */
    bool built_in;                     /**< values are invented; outputs say so */
    struct price_doubt *doubts;        /**< of a user's table */
    size_t doubt_count;
};

/** The built-in table as CSV text, static storage. */
extern const char catalog_prices_csv[];

/**
 * Reads all rows, strictly; texts are the table's, the list is in the arena.
 * @return OUTLAY_E_USAGE with table, row and column in err->where; OUTLAY_E_MEMORY
 */
enum outlay_status prices_read(struct arena *arena, const struct table *table,
                               const struct item_list *items,
                               const struct catalog *catalog, struct price_list *out,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Reads the built-in table, or the user's where path isn't NULL. */
enum outlay_status prices_load(struct arena *arena, const char *path,
                               const struct item_list *items,
                               const struct catalog *catalog, struct price_list *out,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** The price of an item by its name as ordered; NULL for none. */
const struct price *price_find(const struct price_list *list, enum item_use use,
                               const char *item);

/** Hundredths for an hour of the work that goes with a use. */
double price_hour(const struct price_list *list, enum item_use use);

#endif
