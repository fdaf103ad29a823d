#ifndef OUTLAY_CATALOG_DETAILS_H
#define OUTLAY_CATALOG_DETAILS_H

/**
 * @file catalog/details.h
 * What each kind of edge takes. Built in as details.csv, whose rates are invented where
 * the note says so; written by `outlay catalog`, replaceable like the other tables.
 *
 * Columns, in any order, all of them there:
 *   kind    of edge: metal, gutter, parapet, wall, curb or joint; curb is also what
 *           stands on the roof by a layer of fixtures, each around its footprint
 *   item    a use of the catalogue of items (roof/bill.h), of goods
 *   per     what it is counted by:
 *             length     feet of edge
 *             half length  half the feet of edge: what two sections share, each
 *                        counting its half
 *             course     feet of edge, once for each course of nailers
 *             girth      feet of edge x (up-turn + add_in; of a parapet also its
 *                        thickness); for items by area
 *             convex     a corner into which the roof runs out
 *             reentrant  a corner that runs into the roof
 *             seam       a seam that ends at the edge
 *             area       1,000 ft2 of the roof, rounded up to whole pieces
 *   amount  of the item, in feet, ft2 or pieces, for each of these
 *   add_in  of girth, in; empty: 0; empty for all others
 *   note    may be empty
 */

#include "base/arena.h"
#include "catalog/table.h"
#include "outlay/status.h"
#include "roof/bill.h"
#include "roof/roof.h"

/* Code, name, and what a measure is of, for people: one of it, and others. */
#define DETAIL_PER_MAP(X)                                                 \
    X(LENGTH, "length", "of edge", "of edge")                             \
    X(HALF_LENGTH, "half length", "of edge, half its length",             \
      "of edge, half its length")                                         \
    X(COURSE, "course", "of nailers in courses", "of nailers in courses") \
    X(GIRTH, "girth", "of girth", "of girth")                             \
    X(CONVEX, "convex", "convex corner", "convex corners")                \
    X(REENTRANT, "reentrant", "re-entrant corner", "re-entrant corners")  \
    X(SEAM, "seam", "seam that ends there", "seams that end there")       \
    X(AREA, "area", "of roof", "of roof")

enum detail_per {
#define X(code, name, one, others) PER_##code,
    DETAIL_PER_MAP(X)
#undef X
        DETAIL_PERS
};

/** NULL past the end. */
const char *detail_per_name(int per);

/** "of girth", "convex corners"; of one "convex corner". */
const char *detail_per_words(enum detail_per per, bool single);

struct detail {
    enum edge_kind kind;
    enum item_use use;
    enum detail_per per;
    double amount; /**< m, m2 or pieces for each m, m2, corner, seam */
    double add;    /**< of girth, m */
    const char *note;
};

struct detail_list {
    struct detail *details;
    size_t count;
};

/** The built-in table as CSV text, static storage. */
extern const char catalog_details_csv[];

/**
 * Reads all rows, strictly; texts are the table's, the list is in the arena.
 * @return OUTLAY_E_USAGE with table, row and column in err->where; OUTLAY_E_MEMORY
 */
enum outlay_status details_read(struct arena *arena, const struct table *table,
                                struct detail_list *out,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Reads the built-in table, or the user's where path isn't NULL; all is the arena's.
 * @return as details_read(), and OUTLAY_E_USAGE for a file that can't be read
 */
enum outlay_status details_load(struct arena *arena, const char *path,
                                struct detail_list *out,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
