#ifndef OUTLAY_CATALOG_ITEMS_H
#define OUTLAY_CATALOG_ITEMS_H

/**
 * @file catalog/items.h
 * The catalogue of items: what is ordered, in which packs, and how long the work takes.
 * Built in as items.csv, whose packs and rates are invented unless the note says
 * otherwise; written by `outlay catalog`, replaceable like the assemblies.
 *
 * Columns, in any order, all but one there; units end the names:
 *   use            as roof/bill.h names it; each that is packed at least once,
 *                  though a scupper may be left away
 *   item           as ordered; empty for sheets and boards, whose names follow from the
 *                  assembly, and for work
 *   decks          that it suits, separated by |; empty: all
 *   length_in      of screws; other uses leave it empty
 *   holds          of one pack, in ft, ft2 or pieces; of sheets the roll's length in ft;
 *                  empty for boards, which are counted, and for work
 *   pack           "roll", "box"; empty for work
 *   spare_percent  ordered on top
 *   hours_per_100  ft, ft2 or pieces, as the use is measured
 *   bundle         how many packs, or pieces, are shipped as one; empty: no bundles.
 *                  Shown, never rounded up to. The column may be left away
 *   note           may be empty
 */

#include "base/arena.h"
#include "catalog/table.h"
#include "outlay/status.h"
#include "roof/bill.h"
#include "roof/roof.h"

struct item {
    enum item_use use;
    const char *name; /**< "" for sheets, boards and work */
    unsigned decks;   /**< bits 1u << DECK_... */
    double length;    /**< of a screw, m; else NAN */
    double holds;     /**< m, m2 or pieces; of sheets the roll's length, m; else NAN */
    const char *pack; /**< "" for work */
    double bundle;    /**< packs that are shipped as one; NAN: no bundles */
    double spare;     /**< share on top, 0.03 */
    double hours;     /**< for one m, m2 or piece */
    const char *note;
};

struct item_list {
    struct item *items;
    size_t count;
};

/** The built-in table as CSV text, static storage. */
extern const char catalog_items_csv[];

/**
 * Reads all rows, strictly; texts are the table's, the list is in the arena.
 * @return OUTLAY_E_USAGE with table, row and column in err->where; OUTLAY_E_MEMORY
 */
enum outlay_status items_read(struct arena *arena, const struct table *table,
                              struct item_list *out,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Reads the built-in table, or the user's where path isn't NULL. */
enum outlay_status items_load(struct arena *arena, const char *path,
                              struct item_list *out,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/** The first item of that use for the deck; NULL for none. */
const struct item *item_find(const struct item_list *list, enum item_use use,
                             enum deck deck);

/** The shortest screw of that use and deck that is at least that long, else the longest
 *  there is; NULL where the deck has none. */
const struct item *item_screw(const struct item_list *list, enum item_use use,
                              enum deck deck, double length);

/** A walkway pad, m. */
struct pad_size {
    double width, length;
};

/** The least and the greatest of the sizes in whole inches that a pad's name has,
 *  "walkway pad, 30 in x 60 in"; these where it has none (ours). */
struct pad_size pad_size_of(const char *name);

#endif
