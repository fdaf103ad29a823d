#ifndef OUTLAY_DRAW_PLAN_PAGE_H
#define OUTLAY_DRAW_PLAN_PAGE_H

/**
 * @file draw/plan_page.h
 * One page while it is drawn, and the parts that fill it. Private to the room.
 *
 * A roof has two. First the plan on the left with its legend below, tables and remarks in
 * a column on the right; then an enlarged corner on the left and the order list on the
 * right. After all roofs comes a page of what the edges take. Each has the caution and
 * the title block along the foot. Pages of site sheets (site_sheet.h) share the plan and
 * its signs.
 */

#include <stdbool.h>

#include "base/text.h"
#include "catalog/details.h"
#include "draw/canvas.h"
#include "draw/scale.h"
#include "roof/bill.h"
#include "roof/fixtures.h"
#include "roof/layout.h"
#include "roof/roof.h"
#include "write/columns.h"

/* What a plan shows beside outline and zones: code, what the legend calls it. */
#define LAYER_MAP(X)                    \
    X(METAL, "edge metal")              \
    X(GUTTER, "gutter")                 \
    X(PARAPET, "parapet")               \
    X(WALL, "wall")                     \
    X(CURB, "curb")                     \
    X(JOINT, "joint")                   \
    X(SHARED, "shared edge")            \
    X(OUTLINE, "outline")               \
    X(SHEETS, "sheet edge")             \
    X(HALF_SHEETS, "half-sheet edge")   \
    X(COVER_STRIPS, "cover strip")      \
    X(ROLL_ENDS, "end lap")             \
    X(ROWS, "row of fasteners")         \
    X(BASE, "base securement")          \
    X(BOARDS, "board joint")            \
    X(PLATES, "plate or fastener")      \
    X(BOARD_PLATES, "insulation plate") \
    X(WALKWAYS, "walkway")              \
    X(CROWDED, "near a seam or row")    \
    X(CONTOURS, "contour of taper")     \
    X(NEIGHBOURS, "neighbouring roof")

enum layer {
#define X(code, name) LAYER_##code,
    LAYER_MAP(X)
#undef X
        LAYERS
};

/** The least and the most of some values; of none, INFINITY and -INFINITY. */
struct range {
    double least, most;
};

/** What the roofs of a set have of a kind of edge. */
struct edge_use {
    double length; /**< m; 0: none has it */
    size_t roofs;
    struct range up;        /**< how high the flashing goes, m */
    struct range thickness; /**< of parapets, m */
    struct range stack;     /**< of the new boards, m */
    /* of the longest alike stretches, which are drawn */
    double drawn_length, drawn_up, drawn_thickness, drawn_stack, drawn_courses;
    int layers;   /**< of boards */
    bool tapered; /**< tapered insulation lies on them */
};

enum page_kind { PAGE_PLAN, PAGE_ORDER, PAGE_DETAILS, PAGE_SITE };

struct plan_page {
    enum page_kind kind;
    struct canvas *canvas;
    const struct write_settings *set;
    const struct building *building; /**< NULL on the page of details, as the next */
    const struct roof *roof;
    const struct layout *layout; /**< the roof's own; NULL: nothing laid out */
    const struct bill *bill;     /**< NULL likewise */
    struct row row;              /**< of the roof, for columns */
    const struct edge_use *uses; /**< by kind, on the page of details, as the next */
    const struct detail_list *details;
    const char *revision;
    long long number, of; /**< of: -1 while unknown */

    struct paper paper;
    struct area frame, plan, legend, side, caution, title; /**< pt */
    const struct scale *scale; /**< NULL: no outline to draw */
    double points;             /**< on paper for a metre */
    struct point origin;       /**< on paper, of the frame's origin */
    struct point turn;         /**< unit vector: where the frame's east goes, y up */
    unsigned drawn;            /**< bits 1u << LAYER_... */
    unsigned dropped;          /**< there, but too dense for this scale */
    unsigned fixtures;         /**< drawn, bits 1u << FIXTURE_... */
    size_t lengths_left_out;   /**< edge lengths without a place */
    size_t numbers_left_out;   /**< of sheets, likewise */
    bool zones_left_out;       /**< a zone's width, likewise */
    struct text scratch;       /**< for one text at a time; failed: the page lacks one */
};

/* Letterings of all pages. The least has capitals 2.0 mm high at half size: those of
 * DejaVu Sans are 0.729 of its size. */
#define TEXT_LEAST 7.8
#define PLAIN ((struct lettering){TEXT_LEAST, false, INK_DARK})
#define STRONG ((struct lettering){TEXT_LEAST, true, INK_DARK})
#define SMALL_PRINT ((struct lettering){TEXT_LEAST, false, INK_MIDDLE})
#define HEADING ((struct lettering){8.8, true, INK_DARK})

/** Height of a line of tables, pt. */
#define LINE 10.6

static inline struct point plan_point(const struct plan_page *page, struct point metres)
{
    double east = metres.x * page->turn.x - metres.y * page->turn.y;
    double north = metres.x * page->turn.y + metres.y * page->turn.x;
    return (struct point){page->origin.x + east * page->points,
                          page->origin.y - north * page->points};
}

/** The point at some distance from another in a direction, which is a unit vector. */
static inline struct point point_along(struct point from, struct point direction,
                                       double distance)
{
    return (struct point){from.x + direction.x * distance,
                          from.y + direction.y * distance};
}

/** Empties and gives back the page's scratch. */
struct text *plan_scratch(struct plan_page *page);

/** What the scratch holds; "" when memory ran out. */
const char *plan_text(const struct plan_page *page);

/** A cell of a line of a table in the side column. */
void plan_cell(struct plan_page *page, struct lettering lettering, double x, double y,
               double width, enum align align, const char *text);

/** Draws everything of a page whose first fields are set. @return false when out of
 *  memory: the page lacks something */
bool plan_page_draw(struct plan_page *page);

/* ---- The parts, each in its file ---- */

/* figures.c: numbers as the tables print them, with thousands set apart. */

/** Appends a column's number with its unit; "-" when unknown. The column is named as
 *  with US units: "area_ft2". */
void figure_put(struct text *out, const struct column *columns, size_t count,
                const char *name, const struct row *row, bool unit);

/** Appends a length as builders write it: 12'-4 1/2" to the nearest half inch, or
 *  millimetres without their unit. @param metres  >= 0 */
void figure_length(struct text *out, double metres, const struct write_settings *set);

/** "ft²" for "ft2". */
const char *figure_unit(const char *suffix);

/* plan.c */

/** Chooses the scale at which the outline fits. @param aside, above  on each
 *  side of it, pt */
void plan_scale(struct plan_page *page, double aside, double above);

/** All that is drawn of the roof at the page's scale, but for texts. */
void plan_draw(struct plan_page *page);

/** How the lines of a layer look. */
struct look {
    enum ink ink;
    double width; /**< pt */
    enum dash dash;
};

struct look layer_look(enum layer layer);

/** Adds a region's rings to the path. */
void plan_path(struct plan_page *page, const struct region *region);

/* edges.c: the outline. */
void edges_draw(struct plan_page *page);

/* taper.c: contours of tapered insulation, and their numbers. */
void taper_draw(struct plan_page *page);
void taper_numbers_draw(struct plan_page *page);

/* fixtures.c: what stands on the roof, and its signs. */
void fixtures_draw(struct plan_page *page);

/** The sign of a kind around a middle, on its footprint where that has points. */
void fixture_sign(struct plan_page *page, enum fixture_kind kind, struct point middle,
                  const struct ring *footprint);

/* dimension.c */

/** A straight line on paper and how things stand beside it. */
struct heading {
    struct point along, away; /**< unit vectors; away: to the right of along on the roof,
                                   which is outside of a stretch of its outline */
    double length;            /**< pt */
    double angle;             /**< of a text that is read from below or from the right */
};

struct heading heading_of(struct point from, struct point to);

/**
 * Draws a dimension line beside a stretch, with a slanted tick at each end. The text
 * stands in the line, else outside of it, else behind either end.
 * @param from, to  on paper, at least 1 pt apart
 * @param away      from the stretch to the line, pt
 * @return false without a free place on the plan: nothing is drawn
 */
bool dimension_draw(struct plan_page *page, struct point from, struct point to,
                    double away, const char *text);

/** Whether a box lies on the plan and meets nothing there. */
bool place_is_free(struct plan_page *page, struct quad quad);

/** Paper below a text that lies on lines. */
void place_clear(struct plan_page *page, struct quad quad);

/** Writes the scratch's text over lines, on paper of its own; nothing where another text
 *  stands or the plan ends. */
void place_text(struct plan_page *page, struct point middle, double angle);

/* Distances of dimension lines from the outline, pt: zones and rows, lengths of edges. */
#define NEAR_LINE 12.0
#define FAR_LINE 25.0

/* lengths.c: the length of each edge, where there is room. */
void lengths_draw(struct plan_page *page);

/* corner.c */

/** A corner of the outline as the standard zones one: its edges are straight. */
struct corner {
    struct point at;            /**< m */
    struct point back, on;      /**< unit vectors from it along the outline */
    double back_length, length; /**< of these edges, m */
    bool zoned;                 /**< a corner zone begins there */
    bool square;                /**< within 1 degree */
};

/** A corner of 45 to 135 degrees: one that is zoned as a corner before others, a square
 *  one before others, then the one with the longest edges.
 *  @return false: there is none */
bool corner_find(const struct roof *roof, struct corner *out);

/** Zone widths and the corner's leg along the outline.
 *  @return false where one found no place */
bool corner_dimension(struct plan_page *page, const struct corner *corner);

/* enlarged.c: the second page's drawing, a corner enlarged and turned. */
void enlarged_draw(struct plan_page *page);

/* labels.c: the standard's label in each zone, the number of each sheet. */
void labels_draw(struct plan_page *page);

/* legend.c: signs, notes, scale bar and north arrow below the plan. */
void legend_draw(struct plan_page *page);

/** Where the next entry of a legend goes: a sign, then its name. */
struct legend_cursor {
    double left, x, y, right;
    double entry; /**< width of an entry, pt */
};

/** Width of a sign, pt. */
#define LEGEND_SIGN 18.0

/** Entries of what was drawn: zones, lines, fixtures. */
void legend_signs(struct plan_page *page, struct legend_cursor *cursor);

/** The name of the sign that was drawn at the cursor, which goes on to the next. */
void legend_name(struct plan_page *page, struct legend_cursor *cursor, const char *name);

/** A scale bar of `most` points at the most, the scale above it. */
void legend_bar(struct plan_page *page, double x, double y, double most);

void legend_north(struct plan_page *page, struct point middle);

/** The sign of a zone: its tone and, for corners, the hatch. */
void legend_tone(struct plan_page *page, enum zone_role role);

/* tables.c, remarks.c: parts of the plan's side column, one below the other.
 * @return y of what follows */
double tables_draw(struct plan_page *page, double y);
void remarks_draw(struct plan_page *page, double y);

/* order_list.c: all of the second page's side column. */
void order_list_draw(struct plan_page *page);

/** Appends the deck that the roof was attached to, whoever gave it: "steel, assumed";
 *  "not given". */
void deck_put(struct text *out, const struct roof *roof);

/** The heading of a part, with a rule below. @return y of what follows */
double side_heading(struct plan_page *page, double y, const char *text);

/** The sign that goes before a state's word, by shape: UTF-8. */
const char *state_sign(enum zone_state state);

/* details.c: the page of what the edges take. */
void details_draw(struct plan_page *page);

/** Adds a roof's edges.
 *  @param least  how high flashing goes at the least, m */
void edge_uses_add(struct edge_use uses[EDGE_KINDS], const struct detail_list *details,
                   double least, const struct roof *roof);

/* section.c: a section through an edge of a kind, within page->plan. */
void section_draw(struct plan_page *page, enum edge_kind kind, const struct edge_use *use,
                  double lap);

/* border.c: frame, caution, title block. */
void border_draw(struct plan_page *page);

#endif
