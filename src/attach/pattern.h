#ifndef OUTLAY_ATTACH_PATTERN_H
#define OUTLAY_ATTACH_PATTERN_H

/**
 * @file attach/pattern.h
 * What one assembly would do on one roof, method by method. Private to attach/.
 *
 * Every method works alike: from the tested assembly follows what one fastener, plate
 * or ribbon may carry, and that is held constant ("rational extrapolation", ANSI/SPRI
 * WD-1, from memory). Only towards denser attachment than tested, and only up to the
 * assembly's own limit; a sparser pattern than the tested one is never used.
 *
 *  - Pressures here are allowable ones, Pa: zone.uplift.allowable is compared with the
 *    rating divided once by the safety factor (ultimate) or as it is (allowable).
 *  - No function allocates or fails. Threads: any.
 */

#include <math.h>

#include "attach/attach.h"

/* Takes the noise of unit conversion off a comparison or a ceiling, relative. */
#define ROUNDING 1e-9

/** A roof as the methods see it. */
struct site {
    const struct roof *roof;
    const struct attach_settings *settings;
    enum method method;
    enum deck deck;
    double pullout;       /**< ultimate, N; NAN untested */
    enum edge_rule rule;  /**< one that the method knows */
    int rule_half_sheets; /**< of the storey rule */
    bool known;           /**< uplift is known; else every demand is 0 */
};

enum verdict {
    VERDICT_FITS,
    VERDICT_WEAK,    /**< needed and given: allowable pressure, Pa */
    VERDICT_ROW,     /**< the row between narrow and wide sheets; N per fastener */
    VERDICT_REACH,   /**< half sheets end inside the zone, the rest is too weak; Pa */
    VERDICT_COUNT,   /**< the rule asks for more a board than is allowed; counts */
    VERDICT_REFUSED, /**< percentage rule: field rating limit and value, ultimate, Pa */
    VERDICT_OFF_RIBS /**< no allowed spacing falls on the ribs; nothing to compare */
};

/** What one zone gets. */
struct pattern {
    double row_spacing;      /**< m; NAN */
    double fastener_spacing; /**< m; NAN */
    double ribbon_spacing;   /**< m; 0 full cover; NAN */
    int per_board;           /**< MISSING */
    double capacity;         /**< allowable, Pa */
    double density;          /**< fasteners or plates a m2; adhered: see adhered.c */
    enum verdict verdict;
    double needed, given; /**< as the verdict says */
    bool by_pullout;      /**< the deck's pull-out governs */
};

/** What one assembly would do on the whole roof, in one of its ways. */
struct fit {
    const struct assembly *assembly;
    unsigned half_rows; /**< bits 1u << ZONE_...: edge zones in half sheets, by the
                             calculated rule; which is best is found by trying all */
    struct pattern patterns[ZONE_ROLES]; /**< one per zone of the roof */
};

/* Each fills fit->patterns. */
void seam_fit(const struct site *site, struct fit *fit);
void board_fit(const struct site *site, struct fit *fit);
void adhered_fit(const struct site *site, struct fit *fit);

/** Half sheets along each edge of a seam-fastened roof, see attach.h. */
int seam_half_sheets(const struct site *site, const struct fit *fit);

/** Allowable pressure that zone i asks for, Pa; 0 while uplift isn't known. */
static inline double demand_at(const struct site *site, size_t i)
{
    return site->known ? site->roof->zones[i].uplift.allowable : 0;
}

/** Allowable share of the assembly's rating, Pa: the only place that divides a rating
 *  by the safety factor. */
double rating_allowable(const struct site *site, const struct assembly *assembly);

/**
 * What one fastener may carry, N: the tested load on it, made allowable, or the deck's
 * pull-out divided by the safety factor if that is less.
 * @param tested_area  roof area of one fastener in the test, m2
 */
double fastener_allowable(const struct site *site, const struct assembly *assembly,
                          double tested_area, bool *by_pullout);

/** How much denser than tested strength may be counted: 1 where not at all. */
double density_limit(const struct assembly *assembly);

#endif
