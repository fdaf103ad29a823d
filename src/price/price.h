#ifndef OUTLAY_PRICE_PRICE_H
#define OUTLAY_PRICE_PRICE_H

/**
 * @file price/price.h
 * Stage `price`: what each bill costs. Needs roof.bills and roof.scope; gives roof.costs,
 * roof.quotes and the prices of the bills' goods. A building's roofs that are laid out by
 * one method are priced as one visit (price/visit.h).
 *
 *     material     goods as ordered, each line in whole cents
 *     labour       hours of all work but tearing off, at the rate of their use
 *     tear-off     hours and machines
 *     disposal     debris by weight and by loose volume
 *     mobilisation once a building, on the roof that carries its set-up
 *     permit       once a building, and a share of the five parts above
 *     overhead     a share of the six above
 *     profit       a share of the seven above
 *     contingency  a share of the eight above
 *     tax          a share of material
 *     given        the roof's own work, where its cost isn't built up; the parts above
 *                  are then only those of what a visit costs once
 *
 * Hours grow with height (order/order.h); crew cost falls with the size of the visit: by
 * a share for each doubling of its roofs' area, at most three doublings up or down.
 * The regional factor multiplies the first five parts. Each part is rounded to the cent
 * before a share of it is taken, so that a reader can repeat the sum.
 *
 * Where packs are rounded up for the building, the largest of its roofs with a bill by
 * that method pays for the rounding (of equal ones that whose id comes first), and the
 * cent by which the lines of the order differ from the sum of the roofs' own; where they
 * are rounded up for the portfolio, price_material() of both is a cost without a roof.
 *
 * A cost of the roof's own (given.cost, else given.cost_per_area x area), or else the
 * table's rate for the kind of the present roof, beats what the bill of its own method
 * comes to: managers have bids. Nothing is added to it but what a visit costs once, where
 * the roof pays for that.
 *
 * What a bill doesn't count, since nobody gave it, costs nothing here.
 */

#include "catalog/prices.h"
#include "roof/roof.h"

struct price_settings {
    const struct price_list *prices; /**< borrowed, as the next */
    const struct item_list *items;   /**< hours */
};

/** Threads: any, one building each. @return OUTLAY_E_MEMORY */
enum outlay_status price_run(struct building *building,
                             const struct price_settings *settings,
                             struct outlay_error *err) OUTLAY_MUST_CHECK;

/** What of a roof's cost goes with what, as shares of its parts before permit's share,
 *  overhead and profit; the rest goes with its area. 0 each where it isn't built up. */
struct cost_shares {
    double fasteners; /**< screws and plates that hold the membrane, and their labour */
    double fixed;     /**< what a visit costs once */
};

/** Of the roof's own method; it is priced. */
struct cost_shares price_shares(const struct roof *roof,
                                const struct price_settings *settings);

/** What goods without work cost: a visit of nothing else, without what a visit costs
 *  once; permit fee, overhead, profit, contingency and tax are shares of it, as above.
 *  @param material  hundredths, with the regional factor as lines of orders have it.
 *                   Negative where an order comes to cents less than its roofs pay: then
 *                   so are the shares, and the cost takes off that much. */
struct cost price_material(money material, const struct price_settings *settings);

#endif
