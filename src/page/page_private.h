#ifndef OUTLAY_PAGE_PAGE_PRIVATE_H
#define OUTLAY_PAGE_PAGE_PRIVATE_H

/**
 * @file page/page_private.h
 * A page inside: its template, and one roof as JSON.
 */

#include "page/page.h"

/** The HTML with its style and script; "<!--caution-->" and "<!--data-->" stand where
 *  these go, once each and in this order. */
extern const char page_template[];

/** Exposure pressure of a roof: the uplift on its worst zone, strength level, Pa; NAN
 *  while unknown. */
double roof_exposure(const struct roof *roof);

/** What the page tells of a roof beside the columns of summary.csv. */
extern const struct grid_sheet page_facts_sheet;

/** Adds the roof's row to a grid of page_facts_sheet. */
void page_facts_row(struct grid *facts, const struct roof *roof);

/**
 * Appends the roof as a JSON object: "s" its row of summary.csv, "f" its facts, "o" the
 * origin of its coordinates (longitude, latitude), "p" the polygons of its outline, "z"
 * its zones as role and polygons. A roof without an outline has the first two alone.
 *
 * A ring is an array of whole centimetres, east and north by turns: the first point from
 * the origin, each further one from the point before.
 * @param facts_row  a grid that holds the roof's facts and nothing else
 */
void page_roof_json(struct text *out, const struct building *building,
                    const struct roof *roof, const struct write_settings *set,
                    const struct grid *facts_row);

#endif
