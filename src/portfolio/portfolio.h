#ifndef OUTLAY_PORTFOLIO_PORTFOLIO_H
#define OUTLAY_PORTFOLIO_PORTFOLIO_H

/**
 * @file portfolio/portfolio.h
 * What ranking and budget need of each roof, small enough that a million of them are
 * held at once: 104 bytes and the texts; with money 40 more, and what a visit needs of
 * each: some 120 bytes, and 16 for each of the goods that it shares packs of.
 *
 * Roofs are kept in the order in which they were added; nothing that is made from them
 * depends on it. Units: SI; money in hundredths (roof/cost.h). Missing as in
 * roof/roof.h. Threads: one a portfolio.
 */

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "outlay/status.h"
#include "portfolio/duplicates.h"
#include "price/visit.h"
#include "roof/roof.h"

struct portfolio_roof {
    const char *texts;        /**< id, name, building, each ended by NUL */
    const char *duplicate;    /**< why another roof ranks in its place; NULL: none does */
    const char *outside;      /**< why the standard's figures don't cover the worst zone;
                                       static storage; NULL: they do */
    uint64_t assumed;         /**< of ASSUMPTION_BIT() */
    double area;              /**< m2 */
    float share[ZONE_ROLES];  /**< of the area; 0 for a zone that it doesn't have */
    float uplift[ZONE_ROLES]; /**< strength level, Pa; NAN while unknown or without
                                       such a zone */
    float demand;             /**< of the worst zone, at the level of the rating (an
                                       ultimate one where none is given), Pa; NAN */
    float capacity;           /**< the rating of the present roof, Pa; NAN */
    float height;             /**< m; NAN */
    float edge_condition;     /**< 0 to 100; NAN */
    float condition;          /**< 0 to 100; NAN */
    float slope;              /**< rise over run; NAN */
    uint32_t position;        /**< in the input, from 0 */
    uint32_t sections;        /**< the same of one of the sections that are laid out as
                                       one with it; its own: none is */
    int16_t installed;        /**< year; MISSING */
    uint8_t estimated;        /**< bits 1u << ESTIMATE_... */
    uint8_t exposure;         /**< enum exposure */
    uint8_t worst;            /**< enum zone_role of the highest uplift; ZONE_ROLES */
    uint8_t rating_basis;     /**< enum rating_basis as given */
    int8_t risk;              /**< category 1 to 4; MISSING */
    uint8_t use;              /**< enum building_use */
    bool whole;               /**< its outline is usable */
    bool zoned;
    float topographic; /**< Kzt; 0 while uplift is unknown */
};

/** What one roof costs and when it may be done. */
struct portfolio_money {
    const struct quote *quote;       /**< of its own method, in the portfolio; NULL
                                            unless priced */
    double replacement;              /**< value of the building part, money units; NAN */
    int16_t earliest, latest, fixed; /**< years; MISSING */
    float wet_share;                 /**< 0 to 1; NAN */
    int16_t covers;                  /**< MISSING */
    uint8_t method;                  /**< enum method */
    uint8_t state;                   /**< enum zone_state of that method */
    uint8_t scope;                   /**< enum scope */
    uint8_t price;                   /**< enum price_basis */
    bool priced;
};

struct portfolio;

/** What is kept of a roof, but for its texts. */
struct portfolio_roof portfolio_record(const struct roof *roof);

/** @param with_money  what roofs cost is kept too
 *  @return owned, NULL when out of memory */
struct portfolio *portfolio_new(bool with_money);

/** NULL is ignored. */
void portfolio_free(struct portfolio *portfolio);

/** Adds a building's roofs; copies all that is needed. @return OUTLAY_E_MEMORY */
enum outlay_status portfolio_add(struct portfolio *portfolio,
                                 const struct building *building,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Marks the roofs of the list as duplicates. @return OUTLAY_E_MEMORY */
enum outlay_status portfolio_set_apart(struct portfolio *portfolio,
                                       const struct duplicate_list *list,
                                       struct outlay_error *err) OUTLAY_MUST_CHECK;

size_t portfolio_count(const struct portfolio *portfolio);

/** A roof by number, from 0. Borrowed until the next roof is added. */
const struct portfolio_roof *portfolio_roof(const struct portfolio *portfolio,
                                            size_t index);

/** NULL when the portfolio is without money. Borrowed likewise. */
const struct portfolio_money *portfolio_money(const struct portfolio *portfolio,
                                              size_t index);

/** Never NULL; "" for no name, for a roof that is a building of its own. */
const char *portfolio_id(const struct portfolio_roof *roof);
const char *portfolio_name(const struct portfolio_roof *roof);
const char *portfolio_building(const struct portfolio_roof *roof);

/** Total force of the strength-level uplift on a zone, N; 0 for a zone that a zoned roof
 *  doesn't have, NAN while unknown. */
double portfolio_force(const struct portfolio_roof *roof, enum zone_role role);

/** The same of all zones, N; NAN while one isn't known. */
double portfolio_force_in_all(const struct portfolio_roof *roof);

/** The order in which results name roofs of equal merit: by id, then building, name and
 *  what else can tell two roofs apart; 0 only for roofs that nothing tells apart. */
int portfolio_compare(const struct portfolio_roof *a, const struct portfolio_roof *b);

#endif
