#ifndef OUTLAY_PRICE_VISIT_H
#define OUTLAY_PRICE_VISIT_H

/**
 * @file price/visit.h
 * What a visit costs: work on some roofs of one building at one time.
 *
 * A visit costs what its roofs cost, part by part as price.h says. What depends on which
 * roofs are in it is put together here: the largest of them (of equal ones that whose id
 * comes first) pays what the visit costs once, that is mobilisation, permit and the hours
 * of the set-up; the largest by a method pays for rounding its goods up to packs; crew
 * cost falls with the area of all of them.
 *
 * Units: hundredths, m2, hours. Pure functions; any thread.
 */

#include <stddef.h>

#include "catalog/items.h"
#include "catalog/prices.h"
#include "roof/roof.h"

/** Goods that a building's roofs buy in the same packs. */
struct good_kind {
    enum method method;
    double holds; /**< units in a pack; NAN: nothing is packed */
    double price; /**< of a unit, region included */
};

struct good_list {
    struct good_kind *kinds;
    size_t count;
};

/** Goods of one roof. */
struct quote_good {
    size_t kind; /**< of the list */
    double ordered;
};

/** What one roof brings to a visit, whichever roofs go with it. */
struct quote {
    double area;
    enum method method;
    enum price_basis basis;
    money flat; /**< what the work costs in all; then there are no sums and no goods */
    money material; /**< region included, each line in whole hundredths */
    /** Before region and size; labour without set-up, tearing off without machines. */
    double labour, tear_off, machines, disposal;
    double hours;                 /**< of the crew, likewise */
    double height;                /**< factor of hours, which the set-up takes too */
    const struct good_list *list; /**< borrowed; NULL: packs aren't shared */
    const struct quote_good *goods;
    size_t good_count;
};

/** What a visit costs once, before region, shares and size. */
struct visit_once {
    double mobilisation, permit;
    double labour, hours; /**< of the set-up */
};

struct visit_prices {
    struct visit_once once;
    double terms[PRICE_TERMS];
};

struct visit {
    /** The quote of member i, in the order in which roofs pay; NULL: isn't in it. */
    const struct quote *(*quote)(const void *context, size_t i);
    const void *context;
    size_t count;
    double area;   /**< that the size effect goes by */
    size_t set_up; /**< member that pays what the visit costs once; count: nobody */
};

struct visit_prices visit_prices_of(const struct price_list *prices,
                                    const struct item_list *items);

/** What member i pays. */
struct cost visit_share(const struct visit *visit, size_t i,
                        const struct visit_prices *prices);

/** A visit of all that have a quote: area, and who pays. */
struct visit visit_of(const struct quote *(*quote)(const void *context, size_t i),
                      const void *context, size_t count);

/** All that it costs. @param[out] fixed  the part that it costs once, with its shares;
 *  NULL: not wanted */
money visit_total(const struct visit *visit, const struct visit_prices *prices,
                  money *fixed);

#endif
