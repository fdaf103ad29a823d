#ifndef OUTLAY_SURROUNDINGS_EXPOSURE_H
#define OUTLAY_SURROUNDINGS_EXPOSURE_H

/**
 * @file surroundings/exposure.h
 * The exposure category of a building by the roughness of the ground upwind, in eight
 * sectors; the worst one governs. ASCE 7-10 to 7-22, sec. 26.7.3 (lengths from memory):
 *
 *  - B where roughness B prevails over 1,500 ft (h up to 30 ft), else over 2,600 ft or
 *    20 h, whichever is greater;
 *  - D where roughness D prevails over 5,000 ft or 20 h, whichever is greater, or where
 *    such ground begins within 600 ft or 20 h, whichever is greater, of the building;
 *  - C otherwise.
 *
 * The standard doesn't put "prevails" into figures. Ours: on 80 % of the sector's area to
 * that length, a setting; and ground D begins where it has half of the sector's width.
 *
 * Missing ground is taken as the mildest and as the severest: where that changes the
 * answer there is none.
 *
 * Threads: any.
 */

#include <stdbool.h>

#include "base/text.h"
#include "base/units.h"
#include "roof/roof.h"
#include "surroundings/roughness.h"

/** What covers the ground around a building. */
struct land {
    /** @param x, y  m east and north of the building's middle */
    enum roughness (*at)(const void *context, double x, double y);
    const void *context;
};

enum { EXPOSURE_SECTORS = 8 };

/** "north", "north-east", ... clockwise; the middle of a sector of 45 degrees. */
const char *exposure_sector_name(int sector);

struct exposure_sector {
    enum exposure mildest, severest; /**< with missing ground as B and as D */
    double built;                    /**< share of B to `built_length` */
    double water;                    /**< the largest share of D over `water_length` */
    double begins;                   /**< where that begins, m */
    double missing;                  /**< share of all ground looked at */
};

struct exposure_finding {
    enum exposure exposure; /**< NOT_GIVEN: it depends on ground that is missing */
    enum exposure mildest, severest; /**< with missing ground as B and as D */
    int governs;                     /**< the first of the sectors that are `severest` */
    double missing;                  /**< the largest share of a sector */
    double height;                   /**< h, m */
    double prevails;                 /**< the share asked for */
    double built_length, water_length, shore_length; /**< m */
    struct exposure_sector sectors[EXPOSURE_SECTORS];
};

/** How far from the building ground is looked at, m. @param height  h, m */
double exposure_reach(double height);

/**
 * @param height    mean roof height, m, above 0
 * @param prevails  share of a sector's area from which on a roughness prevails, above
 *                  0.5 to 1
 */
void exposure_find(const struct land *land, double height, double prevails,
                   struct exposure_finding *out);

/** The share from which on a roughness prevails (ours). */
#define EXPOSURE_PREVAILS 0.8

/** Appends what governs, and a line for each sector. */
void exposure_explain(struct text *out, const struct exposure_finding *finding,
                      const struct unit_system *units);

#endif
