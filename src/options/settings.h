#ifndef OUTLAY_OPTIONS_SETTINGS_H
#define OUTLAY_OPTIONS_SETTINGS_H

/**
 * @file options/settings.h
 * All settings of one run: the sum of the rooms' own and what belongs to the run as a
 * whole. Options (options/options.h) write into it; settings_resolve() then hands the
 * shared choices to every room that needs them. A room sees its own part only.
 *
 * Texts are borrowed: from static storage, or from an arena that outlives the settings.
 */

#include <stdbool.h>

#include "attach/attach.h"
#include "base/units.h"
#include "catalog/actions.h"
#include "catalog/catalog.h"
#include "catalog/details.h"
#include "catalog/items.h"
#include "catalog/panels.h"
#include "catalog/prices.h"
#include "findings/closings.h"
#include "findings/findings.h"
#include "options/part.h"
#include "order/order.h"
#include "outlay/status.h"
#include "portfolio/duplicates.h"
#include "portfolio/plan.h"
#include "portfolio/rank.h"
#include "price/price.h"
#include "price/scope.h"
#include "read/read.h"
#include "roof/basis.h"
#include "roof/pullout.h"
#include "sample/sample.h"
#include "spread/inputs.h"
#include "survey/rules.h"
#include "takeoff/takeoff.h"
#include "taper/taper.h"
#include "uplift/uplift.h"
#include "write/write.h"
#include "zoning/zoning.h"

struct settings {
    struct read_settings read;
    struct sample_settings sample;
    struct attributes given; /**< for roofs without their own; all others are missing */
    struct zoning_settings zoning;
    struct uplift_settings uplift;
    struct basis_settings basis;
    struct attach_settings attach;
    struct takeoff_settings takeoff;
    struct taper_settings taper;
    struct order_settings order;
    struct scope_settings scope;
    struct price_settings price;
    struct rank_settings rank;
    struct budget_settings plan;
    struct spread_settings spread;
    struct write_settings write;

    int standard;    /**< row of the offered standards, standard_offered_name() */
    int unit_system; /**< 0 us, 1 si, unit_system_name() */
    enum velocity_constant velocity_constant; /**< settings_resolve() puts the unit
                                                   system's in place of OF_UNITS */
    double grid; /**< side of the squares that roofs are summed up by, m; NAN: none */
    double safety_factor;        /**< of uplift and attach alike */
    const char *assembly;        /**< name in the catalogue; NULL: chosen by strength */
    const char *catalog_path;    /**< NULL: built in */
    const char *items_path;      /**< NULL: built in */
    const char *details_path;    /**< NULL: built in */
    const char *panels_path;     /**< NULL: built in */
    const char *prices_path;     /**< NULL: built in */
    const char *actions_path;    /**< NULL: built in */
    const char *duplicates_path; /**< NULL: decided from the layer itself */
    const char *fixtures_path;   /**< layer of what stands on the roofs; NULL */
    const char *edges_path;      /**< layer of what is along the edges; NULL */
    const char *findings_path;   /**< the filled-in form of the survey; NULL */
    const char *decisions_path;  /**< how readings were decided; NULL */
    const char *confirmed_path;  /**< sources of tables; NULL */
    const char *rules_path;      /**< of the survey; NULL: built in */
    const char *output;          /**< folder, file or "-"; NULL: not given */
    const char *roof;            /**< id of the one roof to explain or draw; NULL */
    const char *set;             /**< ids of roofs to draw, joined by commas; NULL */
    const char *job;             /**< job file; NULL */
    unsigned parts;              /**< bits 1u << PART_... */
    int threads;                 /**< workers; 0: one per processor */
    bool strict;                 /**< a roof left out stops the run */
    bool overwrite;
    bool quiet;
    bool help;
    bool version;

    struct marks *fixtures;    /**< owned; filled by settings_resolve(); NULL: no layer */
    struct marks *edges;       /**< likewise */
    struct findings *findings; /**< likewise; NULL: none */
    struct closing_list closings; /**< in the catalogue's arena */
    enum pullout_by pullout_by;   /**< what the tests of a deck come to */
    struct catalog catalog;       /**< owned; filled by settings_resolve() */
    struct item_list items;       /**< in the catalogue's arena, as the next */
    struct detail_list details;
    struct panel_list panels;
    struct price_list prices;
    struct action_list actions;
    struct survey_rules rules;
    bool surveys;                     /**< what to check on site is worked out */
    struct duplicate_list duplicates; /**< of the layer that this one is a part of */
};

/** The documented defaults: the rooms' own, US units, everything written. */
void settings_init(struct settings *settings);

/**
 * Hands the shared choices to the rooms, loads the catalogue and the layers that are
 * read beside the outlines.
 * @return OUTLAY_E_USAGE for a catalogue that can't be used, OUTLAY_E_INPUT for a layer,
 *         OUTLAY_E_MEMORY
 */
enum outlay_status settings_resolve(struct settings *settings,
                                    struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Frees the catalogue and the layers. Twice is fine. */
void settings_release(struct settings *settings);

/** Whether roofs are summed up by a column or by squares. */
bool settings_group(const struct settings *settings);

/** What the files need of a run, all settings considered: bits NEEDS_...
 *  @param parts  bits 1u << PART_... */
unsigned settings_need(const struct settings *settings, unsigned parts);

/** The unit system chosen so far. */
const struct unit_system *settings_units(const struct settings *settings);

/* Names of choices that no other room names. NULL past the end. */
const char *standard_offered_name(int index);
const char *unit_system_name(int index);
const char *mid_rise_name(int value);
const char *edge_style_name(int value);
const char *percentage_edition_name(int value);

#endif
