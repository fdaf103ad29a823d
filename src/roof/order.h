#ifndef OUTLAY_ROOF_ORDER_H
#define OUTLAY_ROOF_ORDER_H

/**
 * @file roof/order.h
 * Goods that some roofs buy together, by their own methods: sums of their bills, rounded
 * up to whole packs once.
 *
 * Of each line ordered = laid + cuts + spare + rounding, and packs x holds = ordered.
 * Owned: in the arena of whoever makes it.
 */

#include <stddef.h>
#include <stdint.h>

#include "roof/bill.h"
#include "roof/roof.h"

struct order_line {
    enum method method;
    struct bill_item item; /**< sums over roofs, net and laps left NAN; all of them NAN
                                where nobody gave any count; note: why it isn't counted on
                                the first roof that says so */
    size_t roofs;          /**< that take it */
    size_t uncounted;      /**< of them, those of which nobody gave the count */
};

struct order {
    const char *id;           /**< unique among orders but for equal names in the input */
    const char *building;     /**< NULL: one roof alone, or more than one building */
    int year;                 /**< of the visit; MISSING */
    size_t roofs;             /**< laid out */
    enum zone_state state;    /**< the worst of them */
    uint64_t assumed;         /**< of any of them, bits of enum assumption */
    struct order_line *lines; /**< by method and use once it is closed */
    size_t count, room;
};

/** What the goods of one method cost, but for lines without a price. */
money order_material(const struct order *order, enum method method);

#endif
