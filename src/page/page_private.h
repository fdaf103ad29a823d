#ifndef OUTLAY_PAGE_PAGE_PRIVATE_H
#define OUTLAY_PAGE_PAGE_PRIVATE_H

/**
 * @file page/page_private.h
 * A page inside: its template, and one roof as JSON.
 */

#include "base/best.h"
#include "page/page.h"

/** Classes of the distribution of exposure pressures; the last one is open. */
#define PAGE_CLASSES 64

/** One roof that may be shown, ready to be printed. */
struct page_entry {
    struct portfolio_roof roof;
    struct ranked ranked; /**< of it */
    size_t index;         /**< in the portfolio */
    size_t position;
    struct text json; /**< owned */
};

/* The groups of the ranking that have room of their own; roofs whose exposure isn't
 * known, and those apart, stand behind those of the second. */
enum { PAGE_RATED, PAGE_OTHERS, PAGE_GROUPS };

struct page {
    const struct write_settings *set;
    const struct rank_settings *rank_settings;
    struct best groups[PAGE_GROUPS];        /**< of struct page_entry, owned */
    struct arena *sheets;                   /**< owned */
    struct grid *summary, *facts, *methods; /**< owned; one roof at a time */
    double class_width;                     /**< Pa */
    size_t roofs[PAGE_CLASSES];             /**< all that were added */
    double areas[PAGE_CLASSES];             /**< m2 */
};

/** Negative: a is shown before b. A total order of struct page_entry. */
int page_entry_order(const void *a, const void *b);

/** Gives all roofs that are kept the place that they have in the whole ranking, and
 *  sorts them by it. */
void page_settle(struct page *page, const struct ranking *ranking);

/** What the plan says of one roof. */
extern const struct grid_sheet page_plan_sheet;

/** Appends the plan as JSON members: a row for each roof shown, in their order; the
 *  budget, the visits, and other caps where there are any. The groups are sorted. */
void page_plan_json(struct text *out, const struct page *page, const struct plan *plan,
                    const size_t shown[PAGE_GROUPS]);

/** Appends the groups as a JSON member: their sums, worst roofs and shapes, and the group
 *  of each roof shown. */
void page_groups_json(struct text *out, const struct page *page,
                      const struct groups *groups, const struct ranking *ranking,
                      const size_t shown[PAGE_GROUPS]);

/** The HTML with its style and script; "<!--caution-->" and "<!--data-->" stand where
 *  these go, once each and in this order. */
extern const char page_template[];

/** A method that was laid out and priced on a roof. */
extern const struct grid_sheet page_methods_sheet;

/** What the page tells of a roof beside the columns of summary.csv. */
extern const struct grid_sheet page_facts_sheet;

/**
 * Appends the roof as a JSON object: "s" its row of summary.csv, "f" its facts, "e" its
 * edges as kind, source and length, "m" its methods, "o" the origin of its coordinates
 * (longitude, latitude), "p" the polygons of its outline, "z" its zones as role and
 * polygons. A roof without an outline has no "o", "p", "z", one without layouts no "m".
 *
 * A ring is an array of whole centimetres, east and north by turns: the first point from
 * the origin, each further one from the point before. Uses the page's grids.
 */
void page_roof_json(struct text *out, struct page *page, const struct building *building,
                    const struct roof *roof);

#endif
