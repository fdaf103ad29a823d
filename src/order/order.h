#ifndef OUTLAY_ORDER_ORDER_H
#define OUTLAY_ORDER_ORDER_H

/**
 * @file order/order.h
 * Stage `quantities`: counts layouts into bills. Needs roof.outline, roof.given,
 * roof.edges, roof.edge_sums, roof.basis, roof.taper and roof.layouts; gives roof.bills,
 * building.shares_packs and what is assumed about stack and cover. Stage `orders`, once
 * goods have prices: puts bills together into building.orders.
 *
 * Net is what the roof needs, laps are what the sheets lie double, cuts what falls off
 * rolls and boards, spare what is ordered on top, rounding the rest of the last packs.
 * Openings smaller than the limit aren't deducted, since the sheet runs over them and is
 * cut there (30 ft2: a published estimating text, seen second-hand).
 *
 * Half sheets come off rolls of their own width, but out of full rolls, two side by side,
 * where whole rolls of both widths would be more membrane, as on small roofs (ours).
 *
 * Tapered insulation (roof.taper) is counted by letter; its thickness is added to that of
 * the boards for screws, each where it stands, and for nailers, and its R-values are
 * completed with theirs.
 *
 * Screws: stack + embedment (from memory: steel 3/4 in, wood 1 in, concrete 1-1/4 in,
 * others 2 in), up to the next stock length. Where the old cover stays (roof.scope) the
 * stack below it stays too and one recover board goes on top; where it goes, new boards
 * are as thick as the old, or as the energy code asks (order/insulation.h). Layers: two
 * where the stack is over 2.7 in (ours). Flashing goes at least 8 in up (published
 * specifications). Dead loads and densities of debris: order/debris.h.
 *
 * Threads: any, one building each; settings are only read.
 */

#include "catalog/catalog.h"
#include "catalog/details.h"
#include "catalog/items.h"
#include "roof/layout.h"
#include "roof/order.h"

/* By visit: where there is no plan, settings make it by building. */
enum order_by { ORDER_BY_VISIT, ORDER_BY_BUILDING, ORDER_BY_ROOF, ORDER_BY_PORTFOLIO };

/** "visit", "building", "roof", "portfolio". NULL past the end. */
const char *order_by_name(int value);

struct order_settings {
    const struct item_list *items;     /**< borrowed */
    const struct detail_list *details; /**< borrowed */
    enum order_by order_by;            /**< what is bought together, in whole packs */
    double opening_area;          /**< smaller openings aren't deducted, m2; 30 ft2 */
    int climate_zone;             /**< 1 to 8: insulation of a new roof; 0: as it was */
    double flashing_height;       /**< at least, m; 8 in */
    double high_from, high_share; /**< share more hours for each m above, m */
    double end_lap;               /**< m; 3 in */
    double offcut;                /**< least rest of a roll that is used, m; 10 ft */
};

struct order_settings order_defaults(void);

/** A bill for each layout of the building, in whole packs where the roof is an order of
 *  its own. @return OUTLAY_E_MEMORY */
enum outlay_status order_run(struct building *building,
                             const struct order_settings *settings,
                             struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Counts one layout.
 * @param set_up    this roof carries the building's set-up
 * @param[out] out  empty where nothing was laid. Packs are rounded up only by
 *                  order_packs().
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status order_bill(struct arena *arena, const struct roof *roof,
                              const struct layout *layout,
                              const struct order_settings *settings, bool set_up,
                              struct bill *out,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Fills up an item's last pack; nothing where it isn't packed or not counted. */
void order_round(struct bill_item *item);

/** Rounds every item up to whole packs. */
void order_packs(struct bill *bill);

/** Counts the packs of items that come out whole; others stay open, to be rounded up with
 *  those of other bills. */
void order_whole_packs(struct bill *bill);

/* ---- Orders ---- */

/** Puts the building's orders together by building or by roof, as settings->order_by
 *  says; by visit or for the portfolio that is done later, and there are none.
 *  @return OUTLAY_E_MEMORY */
enum outlay_status orders_run(struct building *building,
                              const struct order_settings *settings,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Adds the goods of a bill; all is copied. @return false when out of memory */
bool order_add(struct arena *arena, struct order *order, enum method method,
               const struct bill *bill);

/** Adds those of a roof's own method, and what they rest on. Nothing for a roof that
 *  isn't laid out. @return false when out of memory */
bool order_add_roof(struct arena *arena, struct order *order, const struct roof *roof);

/** Rounds all lines up to whole packs and sorts them; once, when all is added. */
void order_close(struct order *order);

/** Goods of a whole portfolio, summed in output order; owns its texts. */
struct order_total;

/** @param[out] out  owned; ends with order_total_free() @return OUTLAY_E_MEMORY */
enum outlay_status order_total_new(struct order_total **out,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

enum outlay_status order_total_add(struct order_total *total,
                                   const struct building *building,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

/** To be called once, when all is added. */
void order_total_close(struct order_total *total);

/** Of all layouts by all methods. Borrowed. */
const struct order *order_total_methods(const struct order_total *total);

/** Of each roof by its own method: the portfolio's order. Borrowed. */
const struct order *order_total_own(const struct order_total *total);

/** NULL is ignored. */
void order_total_free(struct order_total *total);

#endif
