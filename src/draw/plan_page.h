#ifndef OUTLAY_DRAW_PLAN_PAGE_H
#define OUTLAY_DRAW_PLAN_PAGE_H

/**
 * @file draw/plan_page.h
 * One page while it is drawn, and the parts that fill it. Private to the room.
 *
 * A page: the plan on the left with its legend below, tables and notes in a column on the
 * right, the caution and the title block along the foot.
 */

#include <stdbool.h>

#include "base/text.h"
#include "draw/canvas.h"
#include "draw/scale.h"
#include "roof/bill.h"
#include "roof/layout.h"
#include "roof/roof.h"
#include "write/columns.h"

/* What a plan shows beside outline and zones: code, what the legend calls it. */
#define LAYER_MAP(X)                  \
    X(METAL, "edge metal")            \
    X(GUTTER, "gutter")               \
    X(PARAPET, "parapet")             \
    X(WALL, "wall")                   \
    X(CURB, "curb")                   \
    X(JOINT, "joint")                 \
    X(SHARED, "shared edge")          \
    X(OUTLINE, "outline")             \
    X(SHEETS, "sheet edge")           \
    X(HALF_SHEETS, "half-sheet edge") \
    X(COVER_STRIPS, "cover strip")    \
    X(ROWS, "row of fasteners")       \
    X(BASE, "base securement")        \
    X(BOARDS, "board joint")          \
    X(PLATES, "plate or fastener")    \
    X(CONTOURS, "contour of taper")   \
    X(NEIGHBOURS, "neighbouring roof")

enum layer {
#define X(code, name) LAYER_##code,
    LAYER_MAP(X)
#undef X
        LAYERS
};

struct plan_page {
    struct canvas *canvas;
    const struct write_settings *set;
    const struct building *building;
    const struct roof *roof;
    const struct layout *layout; /**< the roof's own; NULL: nothing laid out */
    const struct bill *bill;     /**< NULL likewise */
    struct row row;              /**< of the roof, for columns */
    const char *revision;
    long long number, of; /**< of: -1 while unknown */

    struct area paper, frame, plan, legend, side, caution, title; /**< pt */
    const struct scale *scale; /**< NULL: no outline to draw */
    double points;             /**< on paper for a metre */
    struct point origin;       /**< on paper, of the frame's origin */
    unsigned drawn;            /**< bits 1u << LAYER_... */
    unsigned dropped;          /**< there, but too dense for this scale */
    size_t lengths_left_out;   /**< edge lengths without a place */
    size_t numbers_left_out;   /**< of sheets, likewise */
    struct text scratch;       /**< for one text at a time; failed: the page lacks one */
};

/* Letterings of all pages. */
#define PLAIN ((struct lettering){6.9, false, INK_DARK})
#define STRONG ((struct lettering){6.9, true, INK_DARK})
#define SMALL_PRINT ((struct lettering){6.2, false, INK_MIDDLE})
#define HEADING ((struct lettering){7.6, true, INK_DARK})

/** Height of a line of tables, pt. */
#define LINE 9.6

static inline struct point plan_point(const struct plan_page *page, struct point metres)
{
    return (struct point){page->origin.x + metres.x * page->points,
                          page->origin.y - metres.y * page->points};
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

/** "ft²" for "ft2". */
const char *figure_unit(const char *suffix);

/* plan.c: scale and the drawing itself, but for its texts. */
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

/* lengths.c: the length of each edge, where there is room. */
void lengths_draw(struct plan_page *page);

/* labels.c: the standard's label in each zone, the number of each sheet. */
void labels_draw(struct plan_page *page);

/* legend.c: signs, notes, scale bar and north arrow below the plan. */
void legend_draw(struct plan_page *page);

/** The sign of a zone: its tone and, for corners, the hatch. */
void legend_tone(struct plan_page *page, enum zone_role role);

/* tables.c, order_list.c, remarks.c: parts of the side column; each starts at y and
 * gives back where it ended. */
double tables_draw(struct plan_page *page, double y);
double order_list_draw(struct plan_page *page, double y);
void remarks_draw(struct plan_page *page, double y);

/** The heading of a part, with a rule below. @return y of what follows */
double side_heading(struct plan_page *page, double y, const char *text);

/** The sign that goes before a state's word, by shape: UTF-8. */
const char *state_sign(enum zone_state state);

/* border.c: frame, caution, title block. */
void border_draw(struct plan_page *page);

#endif
