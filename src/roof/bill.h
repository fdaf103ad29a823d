#ifndef OUTLAY_ROOF_BILL_H
#define OUTLAY_ROOF_BILL_H

/**
 * @file roof/bill.h
 * The facet that order/ gives: what one roof needs for one method, item by item.
 *
 * Every item adds up: laid = net + laps, ordered = laid + cuts + spare + rounding, and
 * none of the parts is negative. Units: m, m2, counts, kg, m3, hours, by the measure.
 * Owned: all in the building's arena.
 */

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "roof/cost.h"
#include "roof/roof.h"

enum bill_measure {
    BILL_EACH,
    BILL_LENGTH,
    BILL_AREA,
    BILL_WEIGHT,
    BILL_VOLUME,
    BILL_HOURS
};

/* What an item is for: code, name as in the catalogue, measure. Those from WELD_SIDE on
 * are work, not goods: nothing is packed. */
#define ITEM_USE_MAP(X)                                   \
    X(FIELD_SHEET, "field sheet", BILL_AREA)              \
    X(HALF_SHEET, "half sheet", BILL_AREA)                \
    X(COVER_STRIP, "cover strip", BILL_LENGTH)            \
    X(SEAM_PLATE, "seam plate", BILL_EACH)                \
    X(SEAM_SCREW, "membrane screw", BILL_EACH)            \
    X(WELD_PLATE, "induction-welded plate", BILL_EACH)    \
    X(BOARD, "board", BILL_AREA)                          \
    X(TAPERED_PANEL, "tapered panel", BILL_AREA)          \
    X(TAPER_FILL, "taper fill board", BILL_AREA)          \
    X(CRICKET_PANEL, "cricket panel", BILL_AREA)          \
    X(BOARD_PLATE, "insulation plate", BILL_EACH)         \
    X(BOARD_SCREW, "insulation screw", BILL_EACH)         \
    X(RIBBON, "ribbon adhesive", BILL_LENGTH)             \
    X(BONDING, "bonding adhesive", BILL_AREA)             \
    X(T_JOINT, "T-joint patch", BILL_EACH)                \
    X(CUT_EDGE, "cut-edge sealant", BILL_LENGTH)          \
    X(MASTIC, "water cut-off mastic", BILL_LENGTH)        \
    X(BAR, "termination bar", BILL_LENGTH)                \
    X(BAR_SCREW, "termination bar fastener", BILL_EACH)   \
    X(CAULK, "caulk", BILL_LENGTH)                        \
    X(COUNTERFLASHING, "counterflashing", BILL_LENGTH)    \
    X(FLASHING, "flashing membrane", BILL_AREA)           \
    X(FLASHING_GLUE, "flashing adhesive", BILL_AREA)      \
    X(CORNER_IN, "inside corner", BILL_EACH)              \
    X(CORNER_OUT, "outside corner", BILL_EACH)            \
    X(PRIMER, "primer", BILL_AREA)                        \
    X(COPING, "coping", BILL_LENGTH)                      \
    X(COPING_CORNER, "coping corner", BILL_EACH)          \
    X(EDGE_METAL, "edge metal", BILL_LENGTH)              \
    X(EDGE_CORNER, "edge metal corner", BILL_EACH)        \
    X(EDGE_SCREW, "edge metal fastener", BILL_EACH)       \
    X(STRIP_IN, "strip-in membrane", BILL_LENGTH)         \
    X(NAILER, "wood nailer", BILL_LENGTH)                 \
    X(NAILER_SCREW, "nailer fastener", BILL_EACH)         \
    X(GUTTER, "gutter", BILL_LENGTH)                      \
    X(HANGER, "gutter hanger", BILL_EACH)                 \
    X(DOWNSPOUT, "downspout", BILL_EACH)                  \
    X(JOINT_COVER, "joint cover", BILL_LENGTH)            \
    X(BOOT, "pipe boot", BILL_EACH)                       \
    X(TARGET, "target patch", BILL_EACH)                  \
    X(SUMP, "drain sump", BILL_EACH)                      \
    X(SCUPPER, "scupper", BILL_EACH)                      \
    X(WALKWAY, "walkway pad", BILL_EACH)                  \
    X(WELD_SIDE, "side-lap weld", BILL_LENGTH)            \
    X(WELD_END, "end-lap weld", BILL_LENGTH)              \
    X(TEAR_OFF, "tear-off", BILL_AREA)                    \
    X(DEBRIS_WEIGHT, "debris, weight", BILL_WEIGHT)       \
    X(DEBRIS_VOLUME, "debris, loose volume", BILL_VOLUME) \
    X(SET_UP, "set-up", BILL_EACH)                        \
    X(CREW, "crew hours", BILL_HOURS)

enum item_use {
#define X(code, name, measure) USE_##code,
    ITEM_USE_MAP(X)
#undef X
        ITEM_USES
};

/** NULL past the end. */
const char *item_use_name(int use);

enum bill_measure item_use_measure(enum item_use use);

/** Whether it is boards, whose names follow from what they are cut to and whose price may
 *  go by their volume. */
bool item_use_is_board(enum item_use use);

struct bill_item {
    enum item_use use;
    const char *item; /**< as ordered: "TPO 60 mil, roll 10 ft x 100 ft" */
    const char *pack; /**< "roll"; NULL: of work, and of what the catalogue has none of */
    const char *note; /**< what was assumed or doesn't fit; NULL */
    bool fills;       /**< boards in place of wet ones: no layer of the roof */
    bool paid;        /**< goods that a cost of the roof's own pays for */
    double too_short; /**< screws that don't reach the deck, of `net`: this one is the
                           catalogue's longest; 0 of all else */
    double need;      /**< how long the longest of them must be, m; 0: none */
    double holds;     /**< one pack; NAN where nothing is packed */
    double bundle;    /**< packs that are shipped as one; NAN: no bundles */
    double thickness; /**< of one layer of boards, of tapered ones its mean, m; 0 for all
                           else */
    double net, laps, cuts, spare, rounding;
    double laid, ordered;
    double packs; /**< NAN: rounded up for an order of which this roof is a part */
    double price; /**< of one unit, region included, hundredths, by price/; NAN: of work,
                       of goods that are paid, and where the table has no price */
};

/** A piece of a roll: a sheet, a part of one, or two half sheets side by side. */
struct roll_piece {
    enum item_use use;    /**< USE_FIELD_SHEET, USE_HALF_SHEET: whose roll */
    int roll;             /**< from 1, of the use */
    int sheet;            /**< number of the sheet */
    int beside;           /**< half sheet ripped beside it; 0: none */
    double beside_length; /**< of all of that sheet, m; NAN: none */
    int part, parts;      /**< of the sheet, joined by end laps; 1 of 1: whole */
    double width;         /**< of the roll, m */
    double length;        /**< of the piece, end laps counted in it, m */
    double rest;          /**< of the roll behind it, m */
};

/** What a row of the table of details comes to: items of its use are the sum of its
 *  takings, pieces rounded up. */
struct edge_taking {
    enum edge_kind kind;
    enum item_use use;
    const char *per;      /**< "of girth", "convex corners", "convex corner"; static
                               storage */
    double measure;       /**< how many of these */
    enum bill_measure in; /**< what that is: m, m2 or a count */
    double needed;
};

/** Never holds an item of which nothing is needed. */
struct bill {
    struct bill_item *items; /**< in the order of enum item_use */
    size_t count;
    struct edge_taking *takings; /**< in the order of the table of details */
    size_t taking_count;
    struct roll_piece *pieces; /**< roll by roll, in the order in which they are cut */
    size_t piece_count;
};

/** Whether they are bought together: goods of one use and name at one price, or both paid
 *  for by costs of the roofs' own. */
bool bill_same_goods(const struct bill_item *a, const struct bill_item *b);

/** How many packs so many units take, in whole packs; what rounding adds opens none. */
double bill_packs(double ordered, double holds);

/** What so many units cost, in whole hundredths; 0 where one of both is NAN. */
money bill_money(double ordered, double price);

#endif
