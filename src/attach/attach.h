#ifndef OUTLAY_ATTACH_ATTACH_H
#define OUTLAY_ATTACH_ATTACH_H

/**
 * @file attach/attach.h
 * Stage `attach`: picks, for a roof's method, the assembly and the pattern of each zone
 * so that no fastener, plate or ribbon carries more than it may, and counts by area.
 * Needs roof.level, roof.zones, roof.basis, zone.uplift (may be unknown) and, for the
 * storey rule, roof.storeys; gives zone.attachment, roof.state, roof.half_sheets,
 * roof.method, roof.assembly, roof.fastener_load, roof.others.
 *
 * Choice. One assembly per roof, for sections that are laid out as one (roof/sections.h)
 * the same, of those that the method and the deck allow: the
 * setting's if it is among them, else the one with the least failing area, then the
 * smallest shortfall, then the fewest fasteners, then the first of the catalogue. While
 * uplift is unknown the catalogue's order decides, and every zone has the tested pattern
 * (edges by the rule).
 *
 * Strength. What a fastener carried in the test is held constant; never sparser than
 * tested, and strength is counted no further than the assembly's extrapolation. Ultimate
 * ratings are divided by the safety factor once, allowable ones never; the deck's
 * pull-out, divided by it, limits both.
 *
 * State. `not met` is computed from strength whatever the edge rule. `unknown`: no
 * uplift, a zone that the standard's figures don't cover, or a gypsum, wood fibre or
 * light concrete deck without a pull-out value. What
 * holds is `met assumed` while an estimate or assumption weakens it (roof/roof.h says
 * which do), else `met`. The roof has the worst of its zones.
 *
 * Attachment fields. rule is the rule that acted: one that doesn't fit the method gives
 * way to the calculated one, and reason says so even where the zone is met. By the
 * storey rule, a zone deeper than its half sheets is judged by the full sheets beyond
 * and counted as the mixture; row_spacing is that of the half sheets. Without an
 * assembly all numbers are missing. board_fasteners are the preliminary ones, the screws
 * of adhered-fastened boards are fasteners. adhesive_area counts the zone once, however
 * many layers are glued.
 *
 * half_sheets, along each edge: by the calculated rule as many as cover the deepest zone
 * that needs them, at least 1 and at most 4 (ours); by the storey rule what it says; 0
 * by row fractions, whose rows cross full sheets; MISSING for other methods.
 *
 * Threads: any, one building each; settings and catalogue are only read.
 */

#include "catalog/catalog.h"
#include "roof/roof.h"

enum percentage_edition { PERCENTAGE_2003, PERCENTAGE_2006 };

struct attach_settings {
    const struct catalog *catalog;   /**< borrowed */
    const struct assembly *assembly; /**< of the catalogue: taken wherever method and
                                          deck allow it; NULL: chosen */
    enum method method; /**< for roofs without their own; NOT_GIVEN: seam-fastened */
    unsigned methods;   /**< bits 1u << METHOD_...: attached beside the own */
    enum edge_rule edge_rule;
    enum percentage_edition percentage_edition;
    double safety_factor; /**< of ultimate ratings and pull-out; 2.0 */
    double long_side;     /**< m; storey rule adds a half sheet above it; 300 ft */
};

struct attach_settings attach_defaults(void);

/** Attaches each zoned roof of the building. @return OUTLAY_E_MEMORY only */
enum outlay_status attach_run(struct building *building,
                              const struct attach_settings *settings,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
