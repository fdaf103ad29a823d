#ifndef OUTLAY_PAGE_PAGE_PRIVATE_H
#define OUTLAY_PAGE_PAGE_PRIVATE_H

/**
 * @file page/page_private.h
 * A page inside: its template, and one roof as JSON.
 */

#include "page/page.h"

/** Classes of the distribution of exposure pressures; the last one is open. */
#define PAGE_CLASSES 64

/** One roof that may be shown, ready to be printed. */
struct page_entry {
    double exposure; /**< Pa; -1 while unknown, below all others */
    double area;     /**< m2 */
    size_t position;
    char *id;         /**< owned */
    struct text json; /**< owned */
};

struct page {
    const struct write_settings *set;
    struct page_entry **heap; /**< owned; the one shown last on top */
    size_t count, most;
    struct arena *sheets;         /**< owned */
    struct grid *summary, *facts; /**< owned; one row at a time */
    double class_width;           /**< Pa */
    size_t roofs[PAGE_CLASSES];   /**< all that were added */
    double areas[PAGE_CLASSES];   /**< m2 */
};

/** Negative: a is shown before b. A total order. */
int page_entry_order(const struct page_entry *a, const struct page_entry *b);

/** The HTML with its style and script; "<!--caution-->" and "<!--data-->" stand where
 *  these go, once each and in this order. */
extern const char page_template[];

/** Exposure pressure of a roof: the uplift on its worst zone, strength level, Pa; NAN
 *  while unknown. */
double roof_exposure(const struct roof *roof);

/** What the page tells of a roof beside the columns of summary.csv. */
extern const struct grid_sheet page_facts_sheet;

/**
 * Appends the roof as a JSON object: "s" its row of summary.csv, "f" its facts, "o" the
 * origin of its coordinates (longitude, latitude), "p" the polygons of its outline, "z"
 * its zones as role and polygons. A roof without an outline has the first two alone.
 *
 * A ring is an array of whole centimetres, east and north by turns: the first point from
 * the origin, each further one from the point before. Uses the page's grids.
 */
void page_roof_json(struct text *out, struct page *page, const struct building *building,
                    const struct roof *roof);

#endif
