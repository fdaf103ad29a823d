#ifndef OUTLAY_ATTACH_ATTACH_H
#define OUTLAY_ATTACH_ATTACH_H

/**
 * @file attach/attach.h
 * Stage `attach`: picks, for a roof's method, the assembly and the pattern of each zone
 * so that no fastener, plate or ribbon carries more than it may, and counts by area.
 * Needs zone.uplift (may be unknown); gives zone.attachment, roof.state,
 * roof.half_sheets, roof.method.
 */

#include "catalog/catalog.h"
#include "roof/roof.h"

enum percentage_edition { PERCENTAGE_2003, PERCENTAGE_2006 };

struct attach_settings {
    const struct catalog *catalog; /**< borrowed */
    enum method method;        /**< for roofs that don't tell; UNTOLD: seam-fastened */
    enum edge_rule edge_rule;
    enum percentage_edition percentage_edition;
    double safety_factor;      /**< of ultimate ratings and pull-out; 2.0 */
    double rib_pitch;          /**< of steel deck, m; 6 in */
    double pullout;            /**< ultimate, N; NAN untested */
    enum deck deck;            /**< for roofs that don't tell; UNTOLD: steel, assumed */
    double long_side;          /**< m; storey rule adds a half sheet above it; 300 ft */
};

struct attach_settings attach_defaults(void);

/** Attaches each zoned roof of the building. @return OUTLAY_E_MEMORY only */
enum outlay_status attach_run(struct building *building,
                              const struct attach_settings *settings,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
