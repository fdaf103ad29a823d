#ifndef OUTLAY_ROOF_ROOF_H
#define OUTLAY_ROOF_ROOF_H

/**
 * @file roof/roof.h
 * The roof record: the interface between all stages. Reading fills identity,
 * attributes and outline; each stage adds the facet that bears its name and reads the
 * facets before it. Stages never include one another.
 *
 *  - Owned: the record and all that it points to live in the building's arena.
 *  - Units: SI, metres in the building's frame; degrees where a field says lon/lat.
 *  - Missing: a number is NAN, a count or year MISSING, a text NULL, an enum value 0.
 *  - Lacking: what one roof lacks is a problem (roof/problem.h), never a failed run;
 *    the roof goes on without the facet.
 *  - Threads: a building is worked on by one thread at a time.
 */

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/units.h"
#include "geo/frame.h"
#include "geo/shape.h"
#include "roof/assumption.h"
#include "roof/cost.h"
#include "roof/problem.h"
#include "roof/spread_inputs.h"

#define MISSING (-1)

/* ---- What the input says ---------------------------------------------------- */

enum exposure { EXPOSURE_NOT_GIVEN, EXPOSURE_B, EXPOSURE_C, EXPOSURE_D };

enum enclosure {
    ENCLOSURE_NOT_GIVEN,
    ENCLOSURE_ENCLOSED,
    ENCLOSURE_PARTIALLY_ENCLOSED,
    ENCLOSURE_PARTIALLY_OPEN,
    ENCLOSURE_OPEN
};

enum deck {
    DECK_NOT_GIVEN,
    DECK_STEEL,
    DECK_WOOD,
    DECK_CONCRETE,
    DECK_GYPSUM,
    DECK_WOOD_FIBRE,     /**< cementitious wood fibre */
    DECK_LIGHT_CONCRETE, /**< lightweight insulating concrete */
    DECK_KINDS
};

enum method {
    METHOD_NOT_GIVEN,
    METHOD_SEAM_FASTENED,
    METHOD_INDUCTION_WELDED,
    METHOD_ADHERED_FASTENED,
    METHOD_ADHERED,
    METHOD_KINDS
};

enum hole_kind { HOLES_NOT_GIVEN, HOLES_COURT, HOLES_PENTHOUSE };

/* What is at a stretch of a roof's boundary. A roof's own edge, of which its columns
 * tell, is one of the first four. */
enum edge_kind {
    EDGE_NOT_GIVEN,
    EDGE_METAL,      /**< the roof ends; edge metal on a nailer */
    EDGE_GUTTER,     /**< the same with a gutter */
    EDGE_PARAPET,    /**< a wall that ends above the roof */
    EDGE_WALL,       /**< a wall that goes on: a higher section, a penthouse */
    EDGE_CURB,       /**< the upstand around an opening */
    EDGE_JOINT,      /**< two sections meet and move apart */
    EDGE_CONTINUOUS, /**< the level goes on behind it */
    EDGE_KINDS
};

enum existing_kind {
    EXISTING_NOT_GIVEN,
    EXISTING_GRAVEL_SURFACED,
    EXISTING_SMOOTH,
    EXISTING_SINGLE_PLY,
    EXISTING_BALLASTED,
    EXISTING_KINDS
};

/* What a building is for: code, name, the risk category that its use counts like where
 * waiting is weighed (ours: by what a leak spoils or stops, not by who may be hurt). */
#define BUILDING_USE_MAP(X)      \
    X(WAREHOUSE, "warehouse", 1) \
    X(INDUSTRY, "industry", 2)   \
    X(OFFICE, "office", 2)       \
    X(SHOP, "shop", 2)           \
    X(DWELLING, "dwelling", 2)   \
    X(SCHOOL, "school", 3)       \
    X(HOSPITAL, "hospital", 4)   \
    X(DATA_CENTRE, "data-centre", 4)

enum building_use {
    BUILDING_USE_NOT_GIVEN,
#define X(code, name, category) BUILDING_##code,
    BUILDING_USE_MAP(X)
#undef X
        BUILDING_USES
};

/** Whose least horizontal dimension counts where a building has several levels. */
enum dimension_of { DIMENSION_NOT_GIVEN, DIMENSION_BUILDING, DIMENSION_LEVEL };

enum rating_basis { RATING_NOT_GIVEN, RATING_ULTIMATE, RATING_ALLOWABLE };

/** The constant of the velocity pressure as a form of the standard prints it: half the
 *  density of air, in either system rounded, 0.05 % apart. */
enum velocity_constant {
    VELOCITY_OF_UNITS, /**< that of the unit system of the run */
    VELOCITY_US,       /**< 0.00256, psf and mph */
    VELOCITY_SI        /**< 0.613, Pa and m/s */
};

/* Names as users write them in fields, options and tables. NULL past the end of a
 * kind's list; index 0 is "". All name functions of this file take their enum as an
 * int, so that name_find() can walk any list. */
const char *exposure_name(int value);
const char *enclosure_name(int value);
const char *deck_name(int value);
const char *method_name(int value);
const char *hole_kind_name(int value);
const char *edge_kind_name(int value);
const char *own_edge_name(int value); /**< of those that a roof's columns may tell */
const char *existing_kind_name(int value);
const char *building_use_name(int value);
const char *dimension_of_name(int value);
const char *rating_basis_name(int value);
const char *velocity_constant_name(int value);

/** Finds a name in one of the lists of this file, ignoring case; runs of blanks,
 *  underscores and hyphens are alike; some usual other words are known ("plywood").
 *  @return its value (0 for an empty text), or -1; -1 for NULL.
 *  Example: name_find("Seam_Fastened", method_name) */
int name_find(const char *text, const char *(*name_of)(int value));

/** True where name_find() would take text for that name. */
bool name_same(const char *text, const char *name);

/** The risk category that a use counts like (ours); MISSING where it isn't given. */
int building_use_category(enum building_use use);

struct attributes {
    double height;            /**< mean roof height above grade, m */
    double storeys;           /**< count; may be a half */
    double parapet;           /**< height, m */
    double parapet_thickness; /**< m */
    double overhang;          /**< beyond the walls, m */
    double slope;             /**< rise over run; INFINITY: given, but not believed */
    enum deck deck;
    double deck_bearing; /**< direction of the ribs, degrees clockwise from north */
    double wind_speed;   /**< 3-second gust, strength level, m/s */
    enum exposure exposure;
    int risk; /**< category 1 to 4 */
    enum building_use use;
    double elevation;   /**< of the ground above sea level, m */
    double topographic; /**< Kzt */
    enum enclosure enclosure;
    int covers; /**< existing roof covers */
    enum existing_kind existing;
    double wet_share; /**< 0 to 1 */
    int installed;    /**< year */
    double condition; /**< 0 to 100 */
    double rating;    /**< of the present roof, Pa */
    enum rating_basis rating_basis;
    double pullout; /**< ultimate, N per fastener */
    enum method method;
    enum edge_kind edge;
    double edge_condition; /**< 0 to 100 */
    double wall_length;    /**< m */
    enum hole_kind holes;
    int penetrations;
    int drains;
    double stack; /**< thickness of insulation and boards, m */
    double taper; /**< slope of tapered insulation, rise over run; NAN: flat */
    int earliest, latest, fixed_year;
    double replacement_value;      /**< money */
    double cost;                   /**< of the roof, all in, money */
    double cost_per_area;          /**< the same, money a m2 */
    double spreads[SPREAD_INPUTS]; /**< of the inputs that may have a column for it */
};

/** All attributes missing. */
struct attributes attributes_missing(void);

/* ---- What was sampled ---------------------------------------------------------- */

/** What a plane fit says about a roof. */
enum flatness {
    FLATNESS_NONE, /**< nothing was fitted */
    FLATNESS_LOW,
    FLATNESS_STEPPED, /**< low-slope, on several levels */
    FLATNESS_PITCHED,
    FLATNESS_UNCERTAIN
};

/** "", "low-slope", "stepped", "pitched", "uncertain". */
const char *flatness_name(int value);

/** Where an attribute is from that a raster or a layer has at the roof (sample/). */
struct sampled {
    const char *role;      /**< static storage */
    const char *source;    /**< as given but for passwords; borrowed for the run, as the
                                next */
    const char *statistic; /**< "p50", "largest overlap" */
    const char *weak;      /**< why it is doubtful; static storage; NULL: it isn't */
    const char *finding;   /**< what the ground around it says, lines for people; the
                                roof's own; NULL */
    enum quantity quantity;
    enum flatness flatness;
    double value;     /**< SI; NAN: a name */
    double spread;    /**< of a raster P90 - P10, of features their range, of a slope the
                        range that it is in; SI; NAN */
    size_t count;     /**< pixels, cells of a slope, features, sectors or directions that
                        say it */
    uint64_t assumed; /**< of ASSUMPTION_BIT(): what the value rests on */
};

/* ---- Facets ------------------------------------------------------------------ */

enum zone_role { ZONE_CORNER, ZONE_PERIMETER, ZONE_FIELD, ZONE_INTERIOR, ZONE_ROLES };

/** "corner", "perimeter", "field", "interior": in order of precedence. */
const char *zone_role_name(int value);

enum zone_state { STATE_UNKNOWN, STATE_MET, STATE_MET_ASSUMED, STATE_NOT_MET };

/** "unknown", "met", "met assumed", "not met". */
const char *zone_state_name(int value);

/** The worse of two: not met, unknown, met assumed, met. */
enum zone_state zone_state_worse(enum zone_state a, enum zone_state b);

/* How a coefficient was come by, the surest first. Recovered: by turning round a printed
 * table of results. */
enum coefficient_basis {
    BASIS_NOT_GIVEN,
    BASIS_PRINT,
    BASIS_TRANSCRIBED,
    BASIS_RECOVERED,
    BASIS_MEMORY
};

/** "", "print", "transcribed", "recovered", "from memory". */
const char *coefficient_basis_name(int value);

/** Filled by uplift/. Pressures in Pa, positive away from the roof. */
struct zone_uplift {
    bool known;
    double gcp;       /**< external coefficient, negative is suction */
    double net;       /**< net suction before the minimum, strength level */
    double uplift;    /**< max(net, minimum), strength level */
    double allowable; /**< 0.6 uplift */
    double required;  /**< safety factor x allowable, for ultimate ratings */
    enum coefficient_basis basis;
    const char *source;  /**< figure of the coefficient, static storage */
    const char *outside; /**< why the standard's figures don't cover the zone, and what to
                              do: its state can't be met; static storage; NULL: they do */
    bool parapet_relief; /**< corner taken as perimeter for a parapet all around */
};

enum edge_rule {
    RULE_CALCULATED,
    RULE_PERCENTAGE,
    RULE_ROW_FRACTION,
    RULE_STOREY,
    EDGE_RULES
};

/** "calculated", "percentage", "row-fraction", "storey-rule". */
const char *edge_rule_name(int value);

/** Filled by attach/. */
struct zone_attachment {
    enum zone_state state;
    const char *reason;   /**< why not met or unknown, with numbers, or why another rule
                                acted; NULL when there is nothing to say */
    const char *assembly; /**< the catalogue's plain-word name; NULL for none */
    enum edge_rule rule;
    double row_spacing;      /**< m; NAN where there are no rows */
    double fastener_spacing; /**< along the row, m; NAN */
    int per_board;           /**< fasteners or plates a board; MISSING */
    double ribbon_spacing;   /**< of adhesive, m; 0 for full cover; NAN */
    double capacity;         /**< resistance of this pattern, allowable, Pa; NAN */
    double fasteners;        /**< count by area: membrane fasteners or plates */
    double board_fasteners;  /**< count by area of screws that only hold boards */
    double adhesive_area;    /**< m2 glued; 0 */
};

struct zone {
    enum zone_role role;
    const char *label;    /**< the standard's own, static storage: "1'" */
    struct region region; /**< m, in the frame */
    struct region lonlat; /**< the same, degrees rounded to 1e-8; valid; may be empty
                                where the zone is thinner than the rounding */
    double area;          /**< m2 */
    struct zone_uplift uplift;
    struct zone_attachment attachment;
};

/** Filled by zoning/ for the roof's level. */
struct level {
    int index;              /**< within the building */
    double height;          /**< h, m */
    double least_dimension; /**< LHD that the zones go by, m */
    enum dimension_of
        whose;              /**< LHD of a stepped building; NOT_GIVEN: it has one level */
    double short_side;      /**< of the smallest rectangle around the level's outline */
    double long_side;       /**< the other side of that rectangle, m */
    bool tall;              /**< the standard's rules for h > 60 ft apply */
    double perimeter_depth; /**< m */
    double field_depth;     /**< far side of the field strip, m; INFINITY: no interior */
    double leg_length, leg_depth; /**< of corner zones, m */
    bool step;      /**< another level adjoins, or a roof of unknown height */
    double parapet; /**< the lowest of all its roofs, m; 0 where one has a metal edge;
                              NAN: one doesn't tell */
    bool parapet_around;          /**< all its roofs tell that their edge is a parapet */
    const struct region *outline; /**< of all its roofs, gaps of up to 0.3 m closed: what
                                       lies on its boundary is no shared edge; NULL: the
                                       level is this roof alone */
    const struct region *zones;   /**< of that outline, by role; NULL as outline */
};

/** Filled by uplift/: the chain that explain prints, in the order of the hand check. */
struct velocity {
    bool known;
    double speed; /**< m/s */
    enum velocity_constant constant;
    enum exposure exposure;
    double height;    /**< z used, m, after the floors */
    double alpha, zg; /**< power law, zg in m */
    double kz, kzt, kd, ke;
    bool kz_floored;   /**< kz is the floor of exposure B, not the formula's value */
    double elevation;  /**< of the ground behind ke, m; NAN: ke is 1, not given */
    double pressure;   /**< qh as the edition defines it, Pa */
    double kd_outside; /**< factor outside qh: Kd from 7-22 on, else 1 */
    double gcpi;       /**< internal coefficient, positive size */
    enum enclosure enclosure;
    double wind_area;  /**< effective, m2 */
    double minimum;    /**< of net pressure, Pa */
    double importance; /**< 1 but for editions before 7-10 */
    double safety_factor;
};

/** Filled by the stage `basis` (roof/basis.h): given, else the setting, else assumed. */
struct basis {
    enum deck deck;
    double rib_pitch; /**< between ribs that screws stand on, m; 0: no steel deck */
    double pullout;   /**< ultimate, N a fastener; NAN: untested */
    const char *pullout_unknown; /**< why tests that were made give no value; NULL */
    bool pullout_few;            /**< fewer were made than the survey's rules ask for */
    double stack;                /**< old insulation and boards, m */
};

struct edge;        /* roof/edges.h */
struct edge_line;   /* roof/edges.h */
struct edge_sum;    /* roof/edges.h */
struct field;       /* roof/field.h */
struct finding;     /* roof/finding.h */
struct fixture;     /* roof/fixtures.h */
struct pullout;     /* roof/pullout.h */
struct site_survey; /* survey/survey.h */
struct walkway;     /* roof/fixtures.h */
struct layout;      /* roof/layout.h */
struct roof_spread; /* roof/spread.h */
struct spread_sums; /* spread/sums.h */
struct taper;       /* roof/taper.h */
struct bill;        /* roof/bill.h */
struct quote;       /* price/visit.h */
struct assembly;    /* catalog/catalog.h */

struct roof {
    /* identity */
    size_t position; /**< in the input, from 0 */
    const char *id;  /**< never NULL; the position + 1 when the input has none */
    const char *name;
    const char *building;   /**< NULL: the roof is a building of its own */
    const char *group;      /**< district or the like that it is counted to; NULL */
    const char *properties; /**< the input's own fields as JSON members without the
                                 braces: `"HGT":12,"name":"a"`; "" for none */

    struct attributes given; /**< from the stage `given` on, completed by options */
    struct sampled *samples; /**< what of it was sampled, and how */
    size_t sample_count;
    const struct finding **findings; /**< of it, in the order of their file */
    size_t finding_count;
    unsigned verified;             /**< what findings gave: bits 1u << FINDING_... */
    unsigned changed;              /**< likewise: gave, and no column said the same */
    const struct pullout *pullout; /**< tests of its deck in its building; NULL: none */
    struct closing *closings;      /**< decisions and confirmations that hold for it */
    size_t closing_count;
    uint64_t closed; /**< of ASSUMPTION_BIT(): what these close */

    /* normalise: geo/ */
    struct region lonlat;  /**< the outline as read (repaired), degrees WGS 84 */
    struct region outline; /**< the same in the building's frame, m; valid */
    bool whole;            /**< outline is usable: later stages may run */
    double area;           /**< m2, true */
    double edge_length;    /**< free edge, m */
    double inner_length;   /**< edge of openings and penthouses, m */
    int corners;           /**< corner vertices */
    double height;         /**< h used, m; NAN: can't be zoned */
    double storeys;        /**< used; NAN */
    enum method method;    /**< used */
    unsigned estimated;    /**< bits 1u << ESTIMATE_... */
    uint64_t assumed;      /**< of ASSUMPTION_BIT(): open, nobody vouches for it */
    uint64_t settled; /**< likewise: acts on the roof, but was decided or confirmed */

    struct fixture *fixtures; /**< what stands on it by the layer of fixtures, in the
                                   layer's order */
    size_t fixture_count;

    bool zoned;
    struct level level;
    struct zone zones[ZONE_ROLES]; /**< in order of precedence; only those with area */
    size_t zone_count;

    struct velocity velocity;

    struct edge *edges; /**< ring by ring; none: not zoned */
    size_t edge_count;
    struct edge_sum *edge_sums;
    size_t edge_sum_count;
    bool edge_by_option; /**< an option gave the kind of its own edge */

    struct basis basis; /**< all zero: not zoned */

    /* sections: roof/sections.h */
    int section_group;  /**< from 1: sections of the building that share a number are laid
                             out as one roof; 0: alone */
    const char *parted; /**< what keeps sections apart that it runs on to, static storage:
                             "differ in deck"; NULL: nothing */

    /* attach: for the whole roof */
    const struct assembly *assembly; /**< of the catalogue, borrowed; NULL: none suits */
    double fastener_load;  /**< that a fastener in a row may carry, allowable, N; NAN */
    int half_sheets;       /**< along each edge; MISSING */
    enum zone_state state; /**< the worst of its zones */
    struct roof *others;   /**< the same roof attached by other methods that were asked
                                for, in the order of enum method; without problems */
    size_t other_count;

    /* takeoff and order: the roof's own method first, then others that were asked for */
    struct field *field; /**< what sheets and boards cover; NULL: all of the outline */
    struct walkway *walkways; /**< from hatches to units; none: no hatch or no unit */
    size_t walkway_count;
    struct layout *layouts;
    struct bill *bills;
    size_t layout_count; /**< 0: nothing laid out */
    struct taper *taper; /**< tapered insulation under all layouts; NULL: none */

    /* price: recover or tear off, and what each layout costs */
    enum scope scope;
    const char *scope_reason; /**< NULL while not known */
    struct cost *costs;       /**< as many as layouts; NULL: not priced */
    struct quote *quotes;     /**< what each brings to a visit; as many, likewise */

    const struct roof_spread *spread; /**< draws: NULL: none were made */

    struct problem *problems;      /**< newest last, linked */
    struct problem **problems_end; /**< NULL: none yet */
};

struct building {
    struct arena *arena; /**< owned by the worker, not by the building */
    const char *name;    /**< NULL: one roof alone */
    struct roof *roofs;
    size_t roof_count;
    struct frame frame;      /**< origin: middle of the box around all its roofs */
    struct edge_line *lines; /**< of the layer of edges that are near its roofs */
    size_t line_count;
    bool shares_packs;    /**< its roofs' goods are bought in the same packs */
    struct order *orders; /**< what its roofs buy by their own methods (roof/order.h) */
    struct site_survey *surveys; /**< of each roof (survey/survey.h); NULL: none made */
    struct spread_sums *sums; /**< what draws add to, of all buildings of a batch; NULL:
                                      nothing is drawn */
    size_t order_count;       /**< 0 too where more than a building, or a plan, decides */
};

/** Adds a problem to the roof: `what` is formatted into the arena, done is static
 *  text. Out of memory loses the problem, which arena_failed() tells.
 *  @return in arena, for a caller that has more to say; NULL when out of memory */
struct problem *roof_problem(struct arena *arena, struct roof *roof,
                             enum problem_code code, const char *done, const char *format,
                             ...) OUTLAY_PRINTF(5, 6);

/** What a zone of the roof that holds is called: STATE_MET, or STATE_MET_ASSUMED while
 *  something estimated or assumed weakens it. */
enum zone_state roof_state_held(const struct roof *roof);

/** Something acts on the roof that isn't given: assumed, unless somebody closed it.
 *  @param bits  of ASSUMPTION_BIT() */
static inline void roof_assume_all(struct roof *roof, uint64_t bits)
{
    roof->assumed |= bits & ~roof->closed;
    roof->settled |= bits & roof->closed;
}

static inline void roof_assume(struct roof *roof, enum assumption what)
{
    roof_assume_all(roof, ASSUMPTION_BIT(what));
}

/** It doesn't act any more. */
static inline void roof_unassume(struct roof *roof, uint64_t bits)
{
    roof->assumed &= ~bits;
    roof->settled &= ~bits;
}

/** The closing that holds for an assumption of the roof; NULL.
 *  @param name  of an assembly; NULL */
const struct closing *roof_closing(const struct roof *roof, enum assumption what,
                                   const char *name);

/** What is open on the roof: bits UINT64_C(1) << item, as open_item_name() names them. */
uint64_t roof_open(const struct roof *roof);

#endif
